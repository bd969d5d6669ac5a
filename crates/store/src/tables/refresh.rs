//! Rows computed anew from the logbook.

use std::collections::BTreeSet;

use shop::entry::Entry;
use shop::learning::Lesson;
use uuid::Uuid;

use super::inboxes::{self, StoredInbox};
use super::job_row::StoredJob;
use super::lessons::{self, StoredLesson};
use super::tool_row::StoredTool;
use super::{jobs, tools};
use crate::error::StoreError;
use crate::log::{read_subject, uuid};
use crate::sqlite::Connection;
use crate::stored::subject_text;

/// Computes the rows of `subjects` anew, and those of the tools that their jobs are about. Gives the jobs that teach
/// something else than before, with what.
pub(crate) async fn refresh(
    c: &mut Connection,
    subjects: impl IntoIterator<Item = Uuid>,
) -> Result<Vec<(Uuid, Option<Lesson>)>, StoreError> {
    let mut taught = Vec::new();
    let mut touched = BTreeSet::new();
    for subject in subjects {
        let entries = read_subject(c, subject).await?;
        if let Some(row) = StoredInbox::of(&entries) {
            inboxes::put(c, &row).await?;
            continue;
        }
        let key = subject_text(subject);
        let before = jobs::stored(c, &key).await?;
        let now = job_row(&entries);
        match &now {
            Some(row) if before.as_ref() != Some(row) => jobs::put(c, row).await?,
            None if before.is_some() => jobs::remove(c, &key).await?,
            _ => {}
        }
        let is_over = |row: &&StoredJob| row.closed.is_some();
        if before.iter().chain(&now).any(|row| is_over(&row)) {
            let lesson = StoredLesson::of(&entries);
            if lessons::stored(c, &key).await? != lesson {
                match &lesson {
                    Some(row) => lessons::put(c, row).await?,
                    None => lessons::remove(c, &key).await?,
                }
                let lesson = lesson.map(|row| row.read()).transpose()?;
                taught.push((subject, lesson));
            }
        }
        if now.is_none() && before.is_none() {
            touched.insert(subject);
        }
        for row in before.iter().chain(&now) {
            touched.insert(uuid(&row.tool)?);
        }
    }
    for tool in touched {
        match tool_row(c, tool).await? {
            Some(row) => tools::put(c, &row).await?,
            None => tools::remove(c, &subject_text(tool)).await?,
        }
    }
    Ok(taught)
}

/// The row that follows from a job's entries; `None` if they are not a job's.
pub(crate) fn job_row(entries: &[Entry]) -> Option<StoredJob> {
    shop::tables::job_row(entries).map(|row| StoredJob::from(&row))
}

/// The row that follows from a tool's entries and those of its jobs in the table `jobs`.
pub(crate) async fn tool_row(
    c: &mut Connection,
    tool: Uuid,
) -> Result<Option<StoredTool>, StoreError> {
    let own = read_subject(c, tool).await?;
    if own.is_empty() {
        return Ok(None);
    }
    let mut of_jobs = Vec::new();
    for job in jobs::of_tool(c, tool).await?.iter().rev() {
        of_jobs.push(read_subject(c, job.job).await?);
    }
    Ok(shop::tables::tool_row(&own, &of_jobs).map(|row| StoredTool::from(&row)))
}
