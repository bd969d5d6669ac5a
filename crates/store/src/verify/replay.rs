//! The read tables against the logbook.

use std::collections::{BTreeMap, BTreeSet};

use shop::entry::{Entry, SHELF};
use uuid::Uuid;

use super::{Difference, PAGE, VerifyReport};
use crate::error::StoreError;
use crate::log::{self, uuid};
use crate::sqlite::Connection;
use crate::tables::inboxes::{self, StoredInbox};
use crate::tables::job_row::StoredJob;
use crate::tables::lessons::{self, StoredLesson};
use crate::tables::tool_row::StoredTool;
use crate::tables::{Cell, jobs, tools};

/// Compares each row with the one that follows from the logbook.
pub(super) async fn compare(
    c: &mut Connection,
    report: &mut VerifyReport,
) -> Result<(), StoreError> {
    let differences = &mut report.differences;
    let mut jobs_of: BTreeMap<Uuid, Vec<Uuid>> = BTreeMap::new();
    let (mut job_rows, mut tool_rows) = (BTreeSet::new(), BTreeSet::new());
    let (mut inbox_rows, mut lesson_rows) = (BTreeSet::new(), BTreeSet::new());
    let subjects = all_subjects(c).await?;
    for subject in &subjects {
        let entries = readable(c, *subject).await?;
        if let Some(row) = StoredInbox::of(&entries) {
            let stored = inboxes::stored(c, &row.tool).await?.map(|s| s.cells());
            compare_row("inboxes", &row.tool, stored, &row.cells(), differences);
            inbox_rows.insert(row.tool);
            continue;
        }
        let Some(row) = shop::tables::job_row(&entries) else {
            continue;
        };
        jobs_of.entry(row.tool).or_default().push(row.job);
        let row = StoredJob::from(&row);
        let stored = jobs::stored(c, &row.job).await?.map(|s| s.cells());
        compare_row("jobs", &row.job, stored, &row.cells(), differences);
        if let Some(lesson) = StoredLesson::of(&entries) {
            let stored = lessons::stored(c, &row.job).await?.map(|s| s.cells());
            compare_row("lessons", &row.job, stored, &lesson.cells(), differences);
            lesson_rows.insert(row.job.clone());
        }
        job_rows.insert(row.job);
    }
    for tool in &subjects {
        let mut visits = Vec::new();
        for job in jobs_of.get(tool).into_iter().flatten() {
            visits.push(readable(c, *job).await?);
        }
        let Some(row) = shop::tables::tool_row(&readable(c, *tool).await?, &visits) else {
            continue;
        };
        let row = StoredTool::from(&row);
        let stored = tools::stored(c, &row.tool).await?.map(|s| s.cells());
        compare_row("tools", &row.tool, stored, &row.cells(), differences);
        tool_rows.insert(row.tool);
    }
    extra("jobs", jobs::keys(c).await?, &job_rows, differences);
    extra("tools", tools::keys(c).await?, &tool_rows, differences);
    extra("inboxes", inboxes::keys(c).await?, &inbox_rows, differences);
    extra(
        "lessons",
        lessons::keys(c).await?,
        &lesson_rows,
        differences,
    );
    let of_jobs = job_rows.len() + lesson_rows.len();
    report.rows = (of_jobs + tool_rows.len() + inbox_rows.len()) as u64;
    Ok(())
}

/// Every subject but the shelf, which has no rows.
async fn all_subjects(c: &mut Connection) -> Result<Vec<Uuid>, StoreError> {
    let mut subjects = Vec::new();
    let mut after = String::new();
    loop {
        let page = log::subjects(c, &after, PAGE).await?;
        let Some((last, ..)) = page.last() else {
            subjects.retain(|subject| *subject != SHELF);
            return Ok(subjects);
        };
        after.clone_from(last);
        // A subject that is no id is told by the walk along the chain.
        subjects.extend(page.iter().filter_map(|(subject, ..)| uuid(subject).ok()));
    }
}

/// The entries of a subject that read; those that do not are told by the walk along the chain.
async fn readable(c: &mut Connection, subject: Uuid) -> Result<Vec<Entry>, StoreError> {
    let rows = log::of_subject(c, subject).await?;
    Ok(rows.iter().filter_map(|row| row.read().ok()).collect())
}

fn compare_row(
    table: &'static str,
    key: &str,
    stored: Option<Vec<(&'static str, Cell)>>,
    replayed: &[(&'static str, Cell)],
    differences: &mut Vec<Difference>,
) {
    let Some(stored) = stored else {
        let key = key.to_owned();
        differences.push(Difference::RowMissing { table, key });
        return;
    };
    for ((column, stored), (_, replayed)) in stored.iter().zip(replayed) {
        if stored != replayed {
            differences.push(Difference::Column {
                table,
                key: key.to_owned(),
                column,
                stored: stored.shown(),
                replayed: replayed.shown(),
            });
        }
    }
}

fn extra(
    table: &'static str,
    keys: Vec<String>,
    expected: &BTreeSet<String>,
    differences: &mut Vec<Difference>,
) {
    let extra = keys.into_iter().filter(|key| !expected.contains(key));
    differences.extend(extra.map(|key| Difference::RowExtra { table, key }));
}
