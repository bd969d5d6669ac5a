//! Entries of the job that a warranty verdict can rest on.

use jiff::Timestamp;

use crate::entry::{Body, Phase};
use crate::job::{Job, Stamped};

/// An entry as evidence.
#[derive(Clone, Debug, PartialEq)]
pub struct Evidence {
    /// Version of the entry within the job.
    pub version: u32,
    /// When it was written.
    pub at: Timestamp,
    /// What it says.
    pub body: Body,
    /// Why it no longer tells what is so; `None` where it does.
    pub gone: Option<Gone>,
}

/// Why an entry that was cited no longer tells what is so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gone {
    /// It was struck.
    Struck,
    /// The receipt was put right since.
    PutRight,
}

/// What the tool came with and was found with, oldest first: the receipt with its counter and days, tests,
/// pulls and joints as found, checks, the cause, photos and files.
pub fn offered(job: &Job) -> Vec<Evidence> {
    let mut found = vec![match job.amended.last() {
        Some(amended) => of(amended),
        None => of(&job.received),
    }];
    let as_found = |phase: Phase| phase == Phase::AsFound;
    found.extend(job.tests.iter().filter(|t| as_found(t.body.phase)).map(of));
    found.extend(job.pulls.iter().filter(|p| as_found(p.body.phase)).map(of));
    found.extend(job.found_joints.iter().map(of));
    found.extend(job.checks.iter().map(of));
    found.extend(job.cause.iter().map(of));
    found.extend(job.files.iter().map(of));
    found.sort_by_key(|e| e.version);
    found
}

/// The entry `version` that a verdict of this job names; `None` if it can be none of its evidence.
pub fn cited(job: &Job, version: u32) -> Option<Evidence> {
    if let Some(evidence) = offered(job).into_iter().find(|e| e.version == version) {
        return Some(evidence);
    }
    if let Some((entry, _)) = job.struck.iter().find(|(e, _)| e.version == version) {
        return Some(Evidence {
            version,
            at: entry.at,
            body: entry.body.clone(),
            gone: Some(Gone::Struck),
        });
    }
    let receipts = job.amended.iter().map(of);
    let mut receipts = std::iter::once(of(&job.received)).chain(receipts);
    let receipt = receipts.find(|e| e.version == version)?;
    Some(Evidence {
        gone: Some(Gone::PutRight),
        ..receipt
    })
}

fn of<T: Clone + Into<Body>>(stamped: &Stamped<T>) -> Evidence {
    Evidence {
        version: stamped.version,
        at: stamped.at,
        body: stamped.body.clone().into(),
        gone: None,
    }
}
