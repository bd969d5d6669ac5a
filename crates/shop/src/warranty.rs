//! What the record says about the warranty: a proposal that the technician confirms, over all and line
//! by line, and what a claim must be sent with.

mod evidence;
mod lines;
mod own_repair;

use calc::Message;
use jiff::ToSpan;
use jiff::civil::Date;

use crate::counter::{Anew, began_anew};
use crate::entry::{Came, Cover, WarrantyJudged};
use crate::job::Job;
use crate::sheet::{Cause, FaultModel, Part, TermFrom, ToolModel, UNLISTED};

pub use evidence::{Evidence, Gone, cited, offered};
pub use lines::{LineProposal, over_all, propose_lines};

/// A proposed verdict: the term that decides and the evidence that it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// Verdict.
    pub cover: Cover,
    /// Term.
    pub term: Message,
    /// Evidence.
    pub evidence: Message,
    /// Version of the entry of this job that shows it; `None` where none does.
    pub entry: Option<u32>,
}

impl Proposal {
    /// The same, shown by the receipt.
    fn by_receipt(self, job: &Job) -> Self {
        let receipt = job.amended.last().map(|a| a.version);
        Self {
            entry: Some(receipt.unwrap_or(job.received.version)),
            ..self
        }
    }

    /// The same, shown by the receipt of job `number`: one of another job is no entry of this one.
    fn by_receipt_of(self, number: u32, job: &Job) -> Self {
        if number == job.received.body.number {
            self.by_receipt(job)
        } else {
            self
        }
    }

    /// The same, shown by the confirmed cause.
    fn by_cause(self, job: &Job) -> Self {
        Self {
            entry: job.cause.as_ref().map(|c| c.version),
            ..self
        }
    }
}

fn proposal(cover: Cover, term: Message, evidence: Message) -> Proposal {
    Proposal {
        cover,
        term,
        evidence,
        entry: None,
    }
}

/// Weighs dates, counter, completeness and cause against the model's terms, most decisive first.
/// `earlier` are the ended jobs of the tool.
pub fn propose(
    job: &Job,
    model: &ToolModel,
    faults: &FaultModel,
    earlier: &[Job],
    received: Date,
) -> Proposal {
    if let Some(ended) = ended(job, model, earlier, received) {
        return ended;
    }
    if let Some(unknown) = start_unknown(job, model) {
        return unknown;
    }
    let proposed = by_cause(job, model, faults);
    match pulls_unknown(job, model, earlier) {
        // Nobody can say that the pulls were kept to.
        Some(unknown) if proposed.cover == Cover::Covered => unknown,
        _ => proposed,
    }
}

/// Why nobody can tell whether the pulls of the warranty were kept to; `None` where the counter tells, or there
/// is no limit.
fn pulls_unknown(job: &Job, model: &ToolModel, earlier: &[Job]) -> Option<Proposal> {
    let limit = model.warranty.pulls?;
    if job.received.body.counter.is_none() {
        return Some(no_counter(limit).by_receipt(job));
    }
    let anew = began_anew(earlier.iter().chain([job]), None)?;
    let unknown = proposal(
        Cover::CannotTell,
        Message::new("term-pulls").with("limit", limit),
        Message::new("evidence-counter-anew").with("job", anew.job.to_string()),
    );
    Some(unknown.by_receipt_of(anew.job, job))
}

/// What ends the warranty whatever the cause is: a part that is missing, pulls or time that are over.
fn ended(job: &Job, model: &ToolModel, earlier: &[Job], received: Date) -> Option<Proposal> {
    let terms = &model.warranty;
    let visit = &job.received.body;
    let missing: Vec<&str> = missing_internal(job).map(|c| c.item.as_str()).collect();
    if !missing.is_empty() {
        let ended = proposal(
            Cover::NotCovered,
            Message::new("term-complete"),
            Message::new("evidence-missing").with("items", missing.join(", ")),
        );
        return Some(ended.by_receipt(job));
    }
    if let Some(limit) = terms.pulls
        && let Some(counter) = visit.counter
        && counter > limit
    {
        let ended = proposal(
            Cover::NotCovered,
            Message::new("term-pulls").with("limit", limit),
            Message::new("evidence-counter").with("counter", counter),
        );
        return Some(ended.by_receipt(job));
    }
    // What a counter showed before it began anew was pulled all the same.
    let before = earlier.iter().chain([job]).filter_map(Anew::of);
    let before = before.filter_map(|anew| Some((anew.was?, anew.job)));
    if let Some(limit) = terms.pulls
        && let Some((was, number)) = before.max()
        && was > limit
    {
        let ended = proposal(
            Cover::NotCovered,
            Message::new("term-pulls").with("limit", limit),
            Message::new("evidence-counter-was")
                .with("was", was)
                .with("job", number.to_string()),
        );
        return Some(ended.by_receipt_of(number, job));
    }
    let begun = begun(job, model)?;
    let until = begun
        .checked_add(i64::from(terms.months).months())
        .unwrap_or(Date::MAX);
    (received > until).then(|| {
        let evidence = match terms.from {
            TermFrom::Sale => Message::new("evidence-sold").with("sold", begun.to_string()),
            TermFrom::FirstUse => {
                Message::new("evidence-first-used").with("used", begun.to_string())
            }
        };
        let evidence = evidence.with("until", until.to_string());
        proposal(Cover::NotCovered, term_months(model), evidence).by_receipt(job)
    })
}

/// The day from which the months run; `None` where the receipt does not tell it.
fn begun(job: &Job, model: &ToolModel) -> Option<Date> {
    let visit = &job.received.body;
    match model.warranty.from {
        TermFrom::Sale => visit.sold,
        TermFrom::FirstUse => visit.first_used,
    }
}

/// The months of the model's terms, and from when they run.
pub fn term_months(model: &ToolModel) -> Message {
    let term = Message::new(match model.warranty.from {
        TermFrom::Sale => "term-months",
        TermFrom::FirstUse => "term-months-first-use",
    });
    term.with("months", model.warranty.months)
}

/// Why nobody can tell whether the months are over: the day from which they run is not known.
fn start_unknown(job: &Job, model: &ToolModel) -> Option<Proposal> {
    if begun(job, model).is_some() {
        return None;
    }
    let evidence = Message::new(match model.warranty.from {
        TermFrom::Sale => "evidence-no-sale",
        TermFrom::FirstUse => "evidence-no-first-use",
    });
    Some(proposal(Cover::CannotTell, term_months(model), evidence).by_receipt(job))
}

fn no_counter(limit: u64) -> Proposal {
    proposal(
        Cover::CannotTell,
        Message::new("term-pulls").with("limit", limit),
        Message::new("evidence-no-counter"),
    )
}

/// Whether anything is left to claim: what no warranty covers is sent to nobody.
pub fn may_be_claimed(judged: &WarrantyJudged) -> bool {
    let open = |cover: Cover| cover != Cover::NotCovered;
    match judged.lines.as_slice() {
        [] => open(judged.cover),
        lines => lines.iter().any(|line| open(line.cover)),
    }
}

/// Internal parts that did not come, or not all of them: a claim sent without them is refused.
pub fn missing_internal(job: &Job) -> impl Iterator<Item = &Came> {
    let came = job.received.body.came.iter();
    came.filter(|c| c.internal && c.count < c.of)
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
        )
        .by_cause(job);
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
        )
        .by_cause(job);
    }
    if is_unlisted {
        // What it was stands in a remark, which no rule can read.
        return proposal(
            Cover::CannotTell,
            Message::new("term-cause"),
            Message::new("evidence-cause-unlisted"),
        )
        .by_cause(job);
    }
    let unlisted = |c: &Cause| !c.parts.is_empty() && !model.parts.iter().any(|p| lies_in(c, p));
    if causes().any(unlisted) {
        // Whether such a part wears, this sheet does not say.
        return proposal(
            Cover::CannotTell,
            Message::new("term-defect"),
            Message::new("evidence-part-unlisted"),
        )
        .by_cause(job);
    }
    proposal(
        Cover::Covered,
        Message::new("term-defect"),
        Message::new("evidence-in-time"),
    )
    .by_receipt(job)
}

/// Whether `cause` lies in `part`, by the part's id or another name of it.
fn lies_in(cause: &Cause, part: &Part) -> bool {
    cause.parts.iter().any(|name| part.is(name))
}
