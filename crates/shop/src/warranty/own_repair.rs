//! The shop's warranty on its own repairs: a part that it renewed in an earlier job of this tool.

use calc::Message;
use jiff::civil::Date;
use jiff::{Timestamp, ToSpan};

use super::{Proposal, proposal};
use crate::counter::began_anew;
use crate::entry::Cover;
use crate::job::Job;
use crate::sheet::{Part, ShopCard};

/// The verdict for `part`, of `earlier` jobs that had ended before this one; `None` where the shop did not renew it, or no longer answers for it.
pub(super) fn judge(
    part: &Part,
    job: &Job,
    earlier: &[Job],
    card: &ShopCard,
    day_of: impl Fn(Timestamp) -> Date,
) -> Option<Proposal> {
    let months = card.repair_months?;
    let now = &job.received;
    let renewed =
        |e: &&Job| e.returned.is_some() && e.replaced.iter().any(|r| r.body.part == part.id);
    let before = |e: &&Job| e.received.body.number < now.body.number;
    let last = earlier.iter().filter(before).filter(renewed);
    let last = last.max_by_key(|e| e.received.body.number)?;
    let back = day_of(last.returned.as_ref()?.at);
    let until = back
        .checked_add(i64::from(months).months())
        .unwrap_or(Date::MAX);
    if day_of(now.at) > until {
        return None;
    }
    let term = match card.repair_pulls {
        Some(pulls) => Message::new("term-own-repair-pulls")
            .with("months", months)
            .with("pulls", pulls),
        None => Message::new("term-own-repair").with("months", months),
    };
    let then = last.replaced.iter().rev().find(|r| r.body.part == part.id);
    let then = then
        .and_then(|r| r.body.counter)
        .or(last.received.body.counter);
    let evidence = |id| {
        Message::new(id)
            .with("job", last.received.body.number.to_string())
            .with("day", back.to_string())
    };
    let after = earlier.iter().chain([job]);
    let anew = began_anew(after, Some(last.received.at));
    match (card.repair_pulls, then, now.body.counter) {
        (Some(_), ..) if anew.is_some() => Some(proposal(
            Cover::CannotTell,
            term,
            evidence("evidence-own-counter-anew")
                .with("anew", anew.map_or(0, |anew| anew.job).to_string()),
        )),
        // A counter that went back counts nothing: it was misread.
        (Some(limit), Some(then), Some(now)) if now >= then => {
            let since = now - then;
            (since <= limit).then(|| {
                let evidence = evidence("evidence-own-repair-pulls").with("since", since);
                proposal(Cover::Covered, term, evidence)
            })
        }
        (Some(_), ..) => Some(proposal(
            Cover::CannotTell,
            term,
            evidence("evidence-own-no-counter"),
        )),
        (None, ..) => Some(proposal(
            Cover::Covered,
            term,
            evidence("evidence-own-repair"),
        )),
    }
}
