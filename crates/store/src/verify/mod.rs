//! Whether the record is what it was: the chain, the versions, and the read tables against the
//! logbook.

mod chain;
mod difference;
mod files;
mod replay;

pub use difference::Difference;

use crate::error::StoreError;
use crate::log::{self, Head};
use crate::shared::Shared;
use crate::sqlite::{self, Connection};
use crate::submissions;

/// How many rows are held in memory at a time.
const PAGE: i64 = 500;

/// What a verification found.
#[derive(Clone, Debug, PartialEq)]
pub struct VerifyReport {
    /// Where the logbook ends.
    pub head: Head,
    /// Entries that were looked at.
    pub entries: u64,
    /// Rows of the read tables that were compared.
    pub rows: u64,
    /// Photos and files that were looked at.
    pub files: u64,
    /// Files in the folder that no entry names. They do no harm.
    pub orphans: Vec<String>,
    /// Everything that is not as it should be.
    pub differences: Vec<Difference>,
}

impl VerifyReport {
    /// Whether nothing was found.
    pub fn is_clean(&self) -> bool {
        self.differences.is_empty()
    }
}

/// Verifies the record as it stands at this moment; writing may go on meanwhile.
pub(crate) async fn verify(shared: &Shared) -> Result<VerifyReport, StoreError> {
    // One read transaction: every statement sees the same state.
    let mut c = shared.readers.begin().await?;
    let mut report = VerifyReport {
        head: log::head(&mut c, shared.origin).await?,
        entries: 0,
        rows: 0,
        files: 0,
        orphans: Vec::new(),
        differences: Vec::new(),
    };
    let looked = file(&mut c, &mut report).await;
    or_told(looked, &mut report)?;
    let walked = chain::walk(&mut c, &mut report).await;
    or_told(walked, &mut report)?;
    let submitted = submitted(&mut c, &mut report).await;
    or_told(submitted, &mut report)?;
    let compared = replay::compare(&mut c, &mut report).await;
    or_told(compared, &mut report)?;
    let attached = files::check(&mut c, &shared.files, &mut report).await;
    or_told(attached, &mut report)?;
    Ok(report)
}

async fn file(c: &mut Connection, report: &mut VerifyReport) -> Result<(), StoreError> {
    for what in sqlite::damage(c).await? {
        report.differences.push(Difference::File { what });
    }
    Ok(())
}

async fn submitted(c: &mut Connection, report: &mut VerifyReport) -> Result<(), StoreError> {
    for key in submissions::broken(c).await? {
        report.differences.push(Difference::Submission { key });
    }
    Ok(())
}

/// Where the file is damaged, a step that stumbles over it is a finding, not the end.
fn or_told(done: Result<(), StoreError>, report: &mut VerifyReport) -> Result<(), StoreError> {
    if let Err(StoreError::Damaged { what }) = done {
        report.differences.push(Difference::File { what });
        return Ok(());
    }
    done
}
