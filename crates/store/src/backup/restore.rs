//! Restoring a backup: never over a record without keeping it.

use std::io;
use std::path::{Path, PathBuf};

use jiff::Timestamp;

use super::check::check;
use super::swap::{self, Ready};
use super::unpack::{plain, unpack};
use super::{BackupError, Manifest, Step, Tell};
use crate::durable::{beside, make_folder, parent};
use crate::files::hash_of;
use crate::lock;
use crate::store::real;
use crate::verify::Difference;

/// A backup that was restored.
#[derive(Clone, Debug, PartialEq)]
pub struct RestoreReport {
    /// What it holds.
    pub manifest: Manifest,
    /// What was wrong with the record when it was backed up.
    pub faults: Vec<Difference>,
    /// Where the record is kept that was in its place.
    pub kept: Option<PathBuf>,
    /// An earlier restore of the same backup had broken off and was finished.
    pub was_finished: bool,
}

/// Restores the backup at `backup` to the record at `record`. A record that is there is refused, or
/// put aside whole if `keep_old`. `at` is now, for the name of what is put aside.
///
/// # Errors
/// See [`BackupError`]: also [`crate::StoreError::InUse`] while a program has the record open. Until
/// the backup is restored beside the record and compared, nothing of the record is touched.
pub async fn restore(
    backup: &Path,
    record: &Path,
    keep_old: bool,
    at: Timestamp,
    tell: &mut Tell<'_>,
) -> Result<RestoreReport, BackupError> {
    let backup = plain(backup);
    let (manifest, bytes) = Manifest::read(&backup)?;
    let manifest_hash = hash_of(&mut bytes.as_slice(), io::sink());
    let (manifest_hash, _) = manifest_hash.map_err(BackupError::at(&backup))?;
    let record = real(&plain(record));
    make_folder(parent(&record)).map_err(BackupError::at(parent(&record)))?;
    let _lock = lock::take(&record)?;

    if let Some(ready) = swap::ready(&record).map_err(BackupError::at(&record))? {
        let kept = swap::finish(&record, &ready, tell).map_err(BackupError::at(&record))?;
        if ready.manifest == manifest_hash.as_str() {
            tell(Step::Check);
            let faults = check(&backup, &manifest, &record).await?;
            return Ok(RestoreReport {
                manifest,
                faults,
                kept,
                was_finished: true,
            });
        }
    }
    swap::clear(&record).map_err(BackupError::at(&record))?;
    if swap::is_taken(&record) && !keep_old {
        return Err(BackupError::StoreExists { path: record });
    }

    let new = swap::new_record(&record);
    unpack(&backup, &manifest, &new, tell).await?;
    tell(Step::Check);
    let faults = check(&backup, &manifest, &new).await?;

    tell(Step::Manifest);
    let ready = Ready {
        keep_as: free_name(&record, at),
        manifest: manifest_hash.to_string(),
    };
    swap::make_ready(&record, &ready).map_err(BackupError::at(&record))?;
    let kept = swap::finish(&record, &ready, tell).map_err(BackupError::at(&record))?;
    Ok(RestoreReport {
        manifest,
        faults,
        kept,
        was_finished: false,
    })
}

/// A name beside the record that nothing has yet.
fn free_name(record: &Path, at: Timestamp) -> String {
    let stamp = at.strftime(".old-%Y%m%dT%H%M%SZ").to_string();
    let mut ending = stamp.clone();
    let mut n = 2;
    while beside(record, &ending).exists() {
        ending = format!("{stamp}-{n}");
        n += 1;
    }
    let path = beside(record, &ending);
    let name = path.file_name().unwrap_or_default();
    name.to_string_lossy().into_owned()
}
