//! Whether the record is what it was: the chain, the versions, and the read tables against the
//! logbook.

mod chain;
mod difference;
mod replay;

pub use difference::Difference;

use crate::error::StoreError;
use crate::log::{self, Head};
use crate::shared::Shared;
use crate::sqlite;

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
    let mut differences: Vec<Difference> = sqlite::damage(&mut c)
        .await?
        .into_iter()
        .map(|what| Difference::File { what })
        .collect();
    let entries = chain::walk(&mut c, &mut differences).await?;
    let submissions = log::broken_submissions(&mut c).await?;
    differences.extend(
        submissions
            .into_iter()
            .map(|key| Difference::Submission { key }),
    );
    let rows = replay::compare(&mut c, &mut differences).await?;
    Ok(VerifyReport {
        head: log::head(&mut c, shared.origin).await?,
        entries,
        rows,
        differences,
    })
}
