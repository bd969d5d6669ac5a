//! The walk along the chain, entry by entry.

use super::{Difference, PAGE, VerifyReport};
use crate::chain::START;
use crate::error::StoreError;
use crate::log;
use crate::sqlite::Connection;
use crate::stored::StoredEntry;

/// Walks every origin's chain and checks every subject's versions.
pub(super) async fn walk(c: &mut Connection, report: &mut VerifyReport) -> Result<(), StoreError> {
    for origin in log::origins(c).await? {
        let mut last = (0, START.to_owned());
        loop {
            let page = log::page(c, &origin, last.0, PAGE).await?;
            if page.is_empty() {
                break;
            }
            for entry in page {
                report.entries += 1;
                check(&entry, &last, &mut report.differences);
                last = (entry.seq, entry.hash);
            }
        }
    }
    versions(c, &mut report.differences).await
}

fn check(entry: &StoredEntry, last: &(i64, String), differences: &mut Vec<Difference>) {
    let (origin, seq) = (entry.origin.clone(), entry.seq);
    if seq != last.0 + 1 {
        let origin = origin.clone();
        differences.push(Difference::Gap { origin, seq });
    }
    if entry.prev_hash != last.1 {
        let origin = origin.clone();
        differences.push(Difference::Unlinked { origin, seq });
    }
    if entry.hash != entry.hash_now() {
        let origin = origin.clone();
        differences.push(Difference::Changed { origin, seq });
    }
    if let Err(error) = entry.read() {
        let why = match error {
            StoreError::Damaged { what } => what,
            other => other.to_string(),
        };
        differences.push(Difference::Unreadable { origin, seq, why });
    }
}

async fn versions(c: &mut Connection, differences: &mut Vec<Difference>) -> Result<(), StoreError> {
    let mut after = String::new();
    loop {
        let page = log::subjects(c, &after, PAGE).await?;
        let Some((last, ..)) = page.last() else {
            return Ok(());
        };
        after.clone_from(last);
        for (subject, count, lowest, highest) in page {
            if lowest != 1 || highest != count {
                differences.push(Difference::Versions { subject });
            }
        }
    }
}
