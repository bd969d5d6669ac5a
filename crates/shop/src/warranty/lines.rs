//! The warranty line by line: each part that the cause calls for, and the labour.

use calc::Message;
use jiff::Timestamp;
use jiff::civil::Date;

use super::{Proposal, ended, own_repair, proposal, pulls_unknown, start_unknown};
use crate::entry::{Cover, LineJudged};
use crate::estimate::parts_for;
use crate::job::Job;
use crate::sheet::{FaultModel, Part, ShopCard, ToolModel, UNLISTED};

/// The proposed verdict on one line.
#[derive(Clone, Debug, PartialEq)]
pub struct LineProposal<'a> {
    /// The part; `None` for labour.
    pub part: Option<&'a Part>,
    /// Whether the shop's warranty on its own earlier repair decides.
    pub own: bool,
    /// Verdict, term, evidence.
    pub proposal: Proposal,
}

/// A verdict for each part that the confirmed causes call for, and one for the labour; empty where they
/// call for none. `earlier` are the ended jobs of this tool, `day_of` the day of a moment where the shop
/// is.
pub fn propose_lines<'a>(
    job: &Job,
    model: &'a ToolModel,
    faults: &FaultModel,
    earlier: &[Job],
    card: Option<&ShopCard>,
    day_of: impl Fn(Timestamp) -> Date,
) -> Vec<LineProposal<'a>> {
    let received = day_of(job.received.at);
    let parts = parts_for(job, model, faults);
    let mut lines: Vec<LineProposal> = parts
        .into_iter()
        .map(|part| {
            let maker = by_maker(job, model, part, earlier, received);
            let own = card.and_then(|card| own_repair::judge(part, job, earlier, card, &day_of));
            // Either warranty may pay. Where neither does for certain, what may still pay is said.
            let own =
                own.filter(|own| own.cover == Cover::Covered || maker.cover == Cover::NotCovered);
            LineProposal {
                part: Some(part),
                own: own.is_some(),
                proposal: own.unwrap_or(maker),
            }
        })
        .collect();
    let unlisted = |id: &String| id == UNLISTED;
    let causes = job.cause.as_ref().map(|c| &c.body.causes);
    if !lines.is_empty() {
        let more = causes.is_some_and(|causes| causes.iter().any(unlisted));
        lines.push(labour(&lines, more));
    }
    lines
}

/// By the maker's terms: what ends it for certain first, then what nobody can say.
fn by_maker(
    job: &Job,
    model: &ToolModel,
    part: &Part,
    earlier: &[Job],
    received: Date,
) -> Proposal {
    if let Some(ended) = ended(job, model, earlier, received) {
        return ended;
    }
    if model.warranty.excluded_parts.contains(&part.id) {
        return proposal(
            Cover::NotCovered,
            Message::new("term-wear"),
            Message::new("evidence-wear").with("parts", part.name.as_str()),
        )
        .by_cause(job);
    }
    start_unknown(job, model)
        .or_else(|| pulls_unknown(job, model, earlier))
        .unwrap_or_else(|| {
            proposal(
                Cover::Covered,
                Message::new("term-defect"),
                Message::new("evidence-in-time"),
            )
            .by_receipt(job)
        })
}

/// Labour follows the parts; whose it is where they differ, no term says. `more` says that a cause
/// which no sheet lists was found beside them.
fn labour<'a>(parts: &[LineProposal], more: bool) -> LineProposal<'a> {
    let covers = || parts.iter().map(|line| line.proposal.cover);
    let first = parts
        .first()
        .map_or(Cover::CannotTell, |l| l.proposal.cover);
    let is_one = covers().all(|cover| cover == first) && !more;
    let (cover, evidence) = match first {
        Cover::Covered if is_one => (Cover::Covered, "evidence-labour-covered"),
        Cover::NotCovered if is_one => (Cover::NotCovered, "evidence-labour-not-covered"),
        _ => (Cover::CannotTell, "evidence-labour-mixed"),
    };
    let own = parts.iter().all(|line| line.own);
    LineProposal {
        part: None,
        own,
        proposal: proposal(cover, Message::new("term-labour"), Message::new(evidence)),
    }
}

/// The verdict over all lines, with the line that decides it; `None` without lines.
pub fn over_all(lines: &[LineJudged]) -> Option<LineJudged> {
    let has = |cover| lines.iter().find(|line| line.cover == cover);
    let (covered, not, open) = (
        has(Cover::Covered),
        has(Cover::NotCovered),
        has(Cover::CannotTell),
    );
    match (covered, not, open) {
        (Some(line), None, None) | (None, Some(line), None) | (None, _, Some(line)) => {
            Some(line.clone())
        }
        // What is not paid, or not yet, is what the customer must hear.
        (Some(_), Some(line), _) | (Some(_), None, Some(line)) => Some(LineJudged {
            cover: Cover::InPart,
            ..line.clone()
        }),
        (None, None, None) => None,
    }
}
