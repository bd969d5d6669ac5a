//! What the record says about the warranty: a proposal that the technician confirms.

use calc::Message;
use jiff::ToSpan;
use jiff::civil::Date;

use crate::entry::Cover;
use crate::job::Job;
use crate::sheet::{Cause, FaultModel, Part, ToolModel, UNLISTED};

/// A proposed verdict: the term that decides and the evidence that it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// Verdict.
    pub cover: Cover,
    /// Term.
    pub term: Message,
    /// Evidence.
    pub evidence: Message,
}

fn proposal(cover: Cover, term: Message, evidence: Message) -> Proposal {
    Proposal {
        cover,
        term,
        evidence,
    }
}

/// Weighs dates, counter, completeness and cause against the model's terms, most decisive first.
pub fn propose(job: &Job, model: &ToolModel, faults: &FaultModel, received: Date) -> Proposal {
    let terms = &model.warranty;
    let visit = &job.received.body;
    let missing: Vec<&str> = visit
        .came
        .iter()
        .filter(|c| c.internal && c.count < c.of)
        .map(|c| c.item.as_str())
        .collect();
    if !missing.is_empty() {
        return proposal(
            Cover::NotCovered,
            Message::new("term-complete"),
            Message::new("evidence-missing").with("items", missing.join(", ")),
        );
    }
    if let Some(limit) = terms.pulls
        && let Some(counter) = visit.counter
        && counter > limit
    {
        return proposal(
            Cover::NotCovered,
            Message::new("term-pulls").with("limit", limit),
            Message::new("evidence-counter").with("counter", counter),
        );
    }
    let term_months = Message::new("term-months").with("months", terms.months);
    match visit.sold {
        None => {
            return proposal(
                Cover::CannotTell,
                term_months,
                Message::new("evidence-no-sale"),
            );
        }
        Some(sold) => {
            let until = sold
                .checked_add(i64::from(terms.months).months())
                .unwrap_or(Date::MAX);
            if received > until {
                let evidence = Message::new("evidence-sold")
                    .with("sold", sold.to_string())
                    .with("until", until.to_string());
                return proposal(Cover::NotCovered, term_months, evidence);
            }
        }
    }
    let proposed = by_cause(job, model, faults);
    match (terms.pulls, visit.counter) {
        // Nobody can say that the pulls were kept to.
        (Some(limit), None) if proposed.cover == Cover::Covered => proposal(
            Cover::CannotTell,
            Message::new("term-pulls").with("limit", limit),
            Message::new("evidence-no-counter"),
        ),
        _ => proposed,
    }
}

fn by_cause(job: &Job, model: &ToolModel, faults: &FaultModel) -> Proposal {
    let Some(cause) = &job.cause else {
        return proposal(
            Cover::CannotTell,
            Message::new("term-cause"),
            Message::new("evidence-no-cause"),
        );
    };
    let causes = || cause.body.causes.iter().filter_map(|id| faults.cause(id));
    let is_unlisted = cause.body.causes.iter().any(|id| id == UNLISTED);
    if !is_unlisted && causes().all(|c| c.parts.is_empty()) {
        return proposal(
            Cover::NotCovered,
            Message::new("term-defect"),
            Message::new("evidence-no-part"),
        );
    }
    let worn: Vec<&str> = model
        .parts
        .iter()
        .filter(|p| causes().any(|c| lies_in(c, p)))
        .filter(|p| model.warranty.excluded_parts.contains(&p.id))
        .map(|p| p.name.as_str())
        .collect();
    if !worn.is_empty() {
        return proposal(
            Cover::NotCovered,
            Message::new("term-wear"),
            Message::new("evidence-wear").with("parts", worn.join(", ")),
        );
    }
    if is_unlisted {
        // What it was stands in a remark, which no rule can read.
        return proposal(
            Cover::CannotTell,
            Message::new("term-cause"),
            Message::new("evidence-cause-unlisted"),
        );
    }
    let unlisted = |c: &Cause| !c.parts.is_empty() && !model.parts.iter().any(|p| lies_in(c, p));
    if causes().any(unlisted) {
        // Whether such a part wears, this sheet does not say.
        return proposal(
            Cover::CannotTell,
            Message::new("term-defect"),
            Message::new("evidence-part-unlisted"),
        );
    }
    proposal(
        Cover::Covered,
        Message::new("term-defect"),
        Message::new("evidence-in-time"),
    )
}

/// Whether `cause` lies in `part`, by the part's id or another name of it.
fn lies_in(cause: &Cause, part: &Part) -> bool {
    cause
        .parts
        .iter()
        .any(|name| part.id == *name || part.also_called.iter().any(|a| a == name))
}
