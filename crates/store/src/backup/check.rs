//! A restored record against the manifest of its backup.

use std::path::Path;

use super::{BackupError, Manifest};
use crate::store::Store;
use crate::verify::Difference;

/// Opens the record at `record` and compares what it says with `manifest`: entries, kinds, chain
/// heads. Gives what `verify` finds in it, which is what was wrong with the record that was backed up.
pub(super) async fn check(
    backup: &Path,
    manifest: &Manifest,
    record: &Path,
) -> Result<Vec<Difference>, BackupError> {
    let store = Store::open_to_read(record).await?;
    let compared = compare(backup, manifest, &store).await;
    let verified = store.verify().await;
    store.close().await;
    compared?;
    Ok(verified?.differences)
}

async fn compare(backup: &Path, manifest: &Manifest, store: &Store) -> Result<(), BackupError> {
    let files = manifest.files.clone();
    let found = Manifest::of(&mut *store.reader().await?, manifest.made, files).await?;
    let mut pairs = vec![
        (
            "origin".to_owned(),
            manifest.origin.to_string(),
            found.origin.to_string(),
        ),
        (
            "entries".to_owned(),
            manifest.entries.to_string(),
            found.entries.to_string(),
        ),
    ];
    for kind in manifest.kinds.keys().chain(found.kinds.keys()) {
        let count = |of: &Manifest| of.kinds.get(kind).copied().unwrap_or(0).to_string();
        pairs.push((kind.clone(), count(manifest), count(&found)));
    }
    let heads = |of: &Manifest| {
        let heads = of
            .heads
            .iter()
            .map(|h| format!("{} {} {}", h.origin, h.seq, h.hash));
        heads.collect::<Vec<_>>().join(", ")
    };
    pairs.push(("heads".to_owned(), heads(manifest), heads(&found)));
    match pairs.into_iter().find(|(_, should, is)| should != is) {
        Some((what, should, is)) => Err(BackupError::Differs {
            path: backup.to_owned(),
            what,
            should,
            is,
        }),
        None => Ok(()),
    }
}
