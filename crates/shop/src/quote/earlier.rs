//! An earlier revision of a quote, as it last stood.

use jiff::Timestamp;

use crate::entry::{Body, Entry};
use crate::job::Job;

/// A revision as it last stood, and what replaced it.
#[derive(Clone, Debug, PartialEq)]
pub struct Stood {
    /// The job before the revision was replaced: with the quote, its answer and the warranty of then.
    pub job: Job,
    /// What replaced it; `None` for the revision in force.
    pub replaced: Option<Replaced>,
}

/// What replaced a revision.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Replaced {
    /// The revision that did.
    pub by: u32,
    /// When.
    pub at: Timestamp,
    /// The revision in force.
    pub newest: u32,
}

/// Revision `revision` of the job that `entries` tell; `None` if it has none such, or it was struck.
/// What was struck since does not come back.
pub fn as_it_stood(entries: &[Entry], revision: u32) -> Option<Stood> {
    let job = Job::fold(entries)?;
    let quotes = &job.estimates;
    let at = quotes.iter().position(|q| q.body.revision == revision)?;
    let Some(next) = quotes.get(at + 1) else {
        return Some(Stood {
            job,
            replaced: None,
        });
    };
    let replaced = Replaced {
        by: next.body.revision,
        at: next.at,
        newest: quotes.last()?.body.revision,
    };
    let before = next.version;
    let then = entries.iter();
    let then = then.filter(|e| e.version < before || matches!(e.body, Body::Struck(_)));
    let then: Vec<Entry> = then.cloned().collect();
    Some(Stood {
        job: Job::fold(&then)?,
        replaced: Some(replaced),
    })
}

/// The job at the moment when the quote in force in `stood` was issued, by the entries up to then: what was read,
/// renewed, put right or struck later changes nothing of what the quote says. Who pays goes by the verdict in
/// force, as everywhere on the quote. `None` without a quote, or where `entries` do not tell of it.
pub fn as_issued(entries: &[Entry], stood: &Job) -> Option<Job> {
    let issued = stood.estimate.as_ref()?.version;
    let then = entries.iter().filter(|e| e.version <= issued);
    let then: Vec<Entry> = then.cloned().collect();
    let mut job = Job::fold(&then)?;
    job.warranty.clone_from(&stood.warranty);
    let is_it = job.estimate.as_ref().map(|e| e.version) == Some(issued);
    is_it.then_some(job)
}
