//! The read tables, thrown away and computed anew from the logbook.

use shop::entry::SHELF;

use crate::error::StoreError;
use crate::log::{self, read_subject, uuid};
use crate::sqlite::Connection;
use crate::tables::inboxes::{self, StoredInbox};
use crate::tables::lessons::{self, StoredLesson};
use crate::tables::{jobs, refresh, tools};

/// How many subjects are listed at a time.
const PAGE: i64 = 500;

/// What was rebuilt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RebuildReport {
    /// Rows of the job list.
    pub jobs: u64,
    /// Rows of the tool list.
    pub tools: u64,
}

/// Inside a transaction: either every row is new, or none.
pub(crate) async fn rebuild(c: &mut Connection) -> Result<RebuildReport, StoreError> {
    jobs::remove_all(c).await?;
    tools::remove_all(c).await?;
    inboxes::remove_all(c).await?;
    lessons::remove_all(c).await?;
    let mut report = RebuildReport { jobs: 0, tools: 0 };
    let mut others = Vec::new();
    let mut after = String::new();
    loop {
        let page = log::subjects(c, &after, PAGE).await?;
        let Some((last, ..)) = page.last() else { break };
        after.clone_from(last);
        for (subject, ..) in &page {
            let subject = uuid(subject)?;
            if subject == SHELF {
                continue;
            }
            let entries = read_subject(c, subject).await?;
            if let Some(row) = StoredInbox::of(&entries) {
                inboxes::put(c, &row).await?;
                continue;
            }
            match refresh::job_row(&entries) {
                Some(row) => {
                    jobs::put(c, &row).await?;
                    report.jobs += 1;
                    if let Some(lesson) = StoredLesson::of(&entries) {
                        lessons::put(c, &lesson).await?;
                    }
                }
                None => others.push(subject),
            }
        }
    }
    // Tools come after all jobs: their rows rest on the job list.
    for subject in others {
        if let Some(row) = refresh::tool_row(c, subject).await? {
            tools::put(c, &row).await?;
            report.tools += 1;
        }
    }
    Ok(report)
}
