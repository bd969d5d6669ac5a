//! The photos and files against the entries that name them.

use std::collections::BTreeMap;

use super::{Difference, VerifyReport};
use crate::error::StoreError;
use crate::files::{FileHash, Files, KeptFile};
use crate::log;
use crate::sqlite::Connection;

/// Looks at every byte of every file.
pub(super) async fn check(
    c: &mut Connection,
    files: &Files,
    report: &mut VerifyReport,
) -> Result<(), StoreError> {
    let named = log::attached(c).await?;
    let files = files.clone();
    let look = move || -> Result<_, StoreError> {
        let differences = compare(&files, &named);
        let orphans = orphans(&files, &named)?;
        Ok((named.len() as u64, differences, orphans))
    };
    let looked = tokio::task::spawn_blocking(look).await;
    let (count, differences, orphans) = looked.map_err(|_| StoreError::Panicked)??;
    report.files = count;
    report.differences.extend(differences);
    report.orphans = orphans;
    Ok(())
}

fn compare(files: &Files, named: &BTreeMap<String, String>) -> Vec<Difference> {
    let mut differences = Vec::new();
    for (hash, name) in named {
        let opened = FileHash::parse(hash).and_then(|h| KeptFile::open(&files.place(&h)).ok());
        // One that lies there and cannot be read to its end is not what it was.
        let found = opened.map(|mut file| FileHash::of(&mut file).ok());
        let (name, hash) = (name.clone(), hash.clone());
        match found {
            None => differences.push(Difference::FileMissing { name, hash }),
            Some(found) if found.as_ref().is_none_or(|found| found.as_str() != hash) => {
                differences.push(Difference::FileChanged { name, hash });
            }
            Some(_) => {}
        }
    }
    differences
}

/// Files that no entry names: sent, and their entry refused or never written.
fn orphans(files: &Files, named: &BTreeMap<String, String>) -> Result<Vec<String>, StoreError> {
    let is_orphan = |hash: &Option<FileHash>| {
        hash.as_ref()
            .is_none_or(|hash| !named.contains_key(hash.as_str()))
    };
    let listed = files.list()?.into_iter();
    Ok(listed
        .filter(|(_, hash)| is_orphan(hash))
        .map(|(path, _)| path)
        .collect())
}
