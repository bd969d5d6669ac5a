//! One append, inside its transaction.

use std::any::Any;
use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};

use shop::entry::{Body, Entry, SHELF};
use shop::learning::Lesson;
use shop::sheet::Shelf;
use uuid::Uuid;

use crate::error::{AppendError, StoreError};
use crate::log::{self, damaged};
use crate::request::{Request, Scene, Written};
use crate::sqlite::Connection;
use crate::stored::{StoredEntry, subject_text, time_text};
use crate::submissions::{self, Submission};
use crate::tables::{jobs, refresh::refresh, tools};

/// The caller's refusal on its way through the queue.
pub(crate) type Refusal = Box<dyn Any + Send>;

/// Entries as a decision drafts them: subject and what it says.
pub(crate) type Drafts = Vec<(Uuid, Body)>;

/// The caller's decision on its way through the queue.
pub(crate) type Decide = Box<dyn FnOnce(&Scene<'_>) -> Result<Drafts, Refusal> + Send>;

/// What an append did.
pub(crate) struct Appended {
    pub written: Written,
    /// The shelf, if the entries changed it.
    pub shelf: Option<Shelf>,
    /// Jobs that teach something else than before, with what.
    pub taught: Vec<(Uuid, Option<Lesson>)>,
}

/// Looks, decides and writes. The caller commits on `Ok` and rolls back otherwise.
pub(crate) async fn append(
    c: &mut Connection,
    origin: Uuid,
    shelf: &Shelf,
    request: &Request,
    decide: Decide,
) -> Result<Appended, AppendError<Refusal>> {
    if let Some(written) = stored_before(c, &request.submission).await? {
        return Ok(Appended {
            written,
            shelf: None,
            taught: Vec::new(),
        });
    }
    let entries = log::read_subject(c, request.subject).await?;
    let version = entries.last().map_or(0, |last| last.version);
    if version != request.expected_version {
        let later = |entry: &Entry| entry.version > request.expected_version;
        return Err(AppendError::Conflict {
            since: entries.into_iter().filter(later).collect(),
        });
    }
    let drafts = decided(c, shelf, request, &entries, decide).await?;
    let shelf = shelf_after(shelf, &drafts)?;
    let written = write(c, origin, request, &drafts).await?;
    let mut subjects: Vec<Uuid> = drafts.iter().map(|(subject, _)| *subject).collect();
    subjects.retain(|subject| *subject != SHELF);
    subjects.sort_unstable();
    subjects.dedup();
    let taught = refresh(c, subjects).await?;
    Ok(Appended {
        written,
        shelf,
        taught,
    })
}

async fn stored_before(c: &mut Connection, key: &str) -> Result<Option<Written>, StoreError> {
    let Some(stored) = submissions::find(c, key).await? else {
        return Ok(None);
    };
    let last = stored.first_seq + stored.count - 1;
    let versions = log::page(c, &stored.origin, stored.first_seq - 1, stored.count).await?;
    let version = versions
        .iter()
        .filter(|entry| entry.subject == stored.subject)
        .map(|entry| entry.version)
        .max();
    Ok(Some(Written {
        subject: log::uuid(&stored.subject)?,
        seq: last.unsigned_abs(),
        version: u32::try_from(version.unwrap_or(0)).map_err(|e| damaged(e.to_string()))?,
        repeated: true,
    }))
}

async fn decided(
    c: &mut Connection,
    shelf: &Shelf,
    request: &Request,
    entries: &[Entry],
    decide: Decide,
) -> Result<Drafts, AppendError<Refusal>> {
    let mut known = Vec::new();
    let mut open = Vec::new();
    if let Some(serial) = &request.serial {
        known = tools::by_serial(c, serial).await?;
        for tool in &known {
            let visits = jobs::of_tool(c, tool.tool).await?;
            open.extend(visits.into_iter().filter(|job| job.closed.is_none()));
        }
    }
    let scene = Scene {
        entries,
        shelf,
        next_number: jobs::next_number(c).await?,
        tools: &known,
        tool_open_jobs: &open,
    };
    // A fault in one decision must not end the writer: everything it could have touched is dropped.
    catch_unwind(AssertUnwindSafe(|| decide(&scene)))
        .map_err(|_| AppendError::Store(StoreError::Panicked))?
        .map_err(AppendError::Refused)
}

/// The shelf as the drafts leave it; `None` if they leave it as it is.
fn shelf_after(shelf: &Shelf, drafts: &[(Uuid, Body)]) -> Result<Option<Shelf>, StoreError> {
    if !drafts.iter().any(|(_, body)| crate::shelf::concerns(body)) {
        return Ok(None);
    }
    let mut next = shelf.clone();
    for (_, body) in drafts {
        crate::shelf::apply(&mut next, body)?;
    }
    Ok(Some(next))
}

async fn write(
    c: &mut Connection,
    origin: Uuid,
    request: &Request,
    drafts: &[(Uuid, Body)],
) -> Result<Written, StoreError> {
    let head = log::head(c, origin).await?;
    let mut versions = BTreeMap::from([(request.subject, request.expected_version)]);
    let mut seq = i64::try_from(head.seq).map_err(|e| damaged(e.to_string()))?;
    let mut prev_hash = head.hash;
    let first_seq = seq + 1;
    for (subject, body) in drafts {
        seq += 1;
        let version = match versions.get(subject) {
            Some(version) => version + 1,
            None => log::last_version(c, *subject).await? + 1,
        };
        versions.insert(*subject, version);
        let mut entry = StoredEntry {
            origin: origin.to_string(),
            seq,
            subject: subject_text(*subject),
            version: version.into(),
            schema: body.schema().into(),
            kind: body.kind().to_owned(),
            at: time_text(request.at),
            by: request.by.0.clone(),
            body: body.to_json(),
            prev_hash,
            hash: String::new(),
        };
        entry.hash = entry.hash_now();
        log::insert(c, &entry).await?;
        prev_hash = entry.hash;
    }
    if !drafts.is_empty() {
        let submission = Submission {
            key: request.submission.clone(),
            origin: origin.to_string(),
            first_seq,
            count: seq + 1 - first_seq,
            subject: subject_text(request.subject),
        };
        submissions::insert(c, &submission).await?;
    }
    Ok(Written {
        subject: request.subject,
        seq: seq.unsigned_abs(),
        version: versions.get(&request.subject).copied().unwrap_or(0),
        repeated: false,
    })
}
