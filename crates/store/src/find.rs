//! The find box: one text, whatever it may be.

use std::collections::BTreeSet;

use shop::tables::{JobRow, ToolRow};

use crate::error::StoreError;
use crate::sqlite::Connection;
use crate::tables::{jobs, tools};

/// Most of each that is found.
const MOST: u32 = 20;

/// Something that was found.
#[derive(Clone, Debug, PartialEq)]
pub enum Found {
    /// A job: by its number, or by a part of the customer's name.
    Job(JobRow),
    /// A tool: by the beginning of its serial.
    Tool(ToolRow),
}

/// The job with this number first, then tools whose serial begins so, then jobs of customers with
/// this in their name, the newest first.
pub(crate) async fn find(c: &mut Connection, text: &str) -> Result<Vec<Found>, StoreError> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(Vec::new());
    }
    let mut found = Vec::new();
    let mut seen = BTreeSet::new();
    if let Ok(number) = text.trim_start_matches('#').parse()
        && let Some(job) = jobs::by_number(c, number).await?
    {
        seen.insert(job.job);
        found.push(Found::Job(job));
    }
    let by_serial = tools::by_serial_start(c, text, MOST).await?;
    found.extend(by_serial.into_iter().map(Found::Tool));
    for job in jobs::of_customer_like(c, text, MOST).await? {
        if seen.insert(job.job) {
            found.push(Found::Job(job));
        }
    }
    Ok(found)
}
