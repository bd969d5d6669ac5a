//! Making a backup, also while others write.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::path::{Path, PathBuf};

use jiff::Timestamp;

use super::check::check;
use super::unpack::{copy, name_of, plain, remove, unpack};
use super::{
    BackupError, FILES, MANIFEST, Manifest, ManifestFile, PARTIAL, RECORD, Step, Tell, on_disk,
};
use crate::durable::{beside, make_folder, parent, put};
use crate::error::StoreError;
use crate::files::{FileHash, Files, hash_file};
use crate::store::{Store, real};
use crate::verify::Difference;
use crate::{log, sqlite};

/// Where the copy is restored to for its check, within the backup that is not whole yet.
const SCRATCH: &str = "check";

/// A backup that was made.
#[derive(Clone, Debug, PartialEq)]
pub struct BackupReport {
    /// Where it is.
    pub path: PathBuf,
    /// What it holds.
    pub manifest: Manifest,
    /// What is wrong with the record itself. The backup is true to it.
    pub faults: Vec<Difference>,
}

/// Backs the record at `record` up to the new folder `into`, as it stands at one moment; others may
/// read and write meanwhile. `at` is now.
///
/// # Errors
/// See [`BackupError`]. What was begun stays under `into` with `.partial` after its name, and is
/// taken away by the next backup to `into`.
pub async fn backup(
    record: &Path,
    into: &Path,
    at: Timestamp,
    tell: &mut Tell<'_>,
) -> Result<BackupReport, BackupError> {
    let (record, into) = (real(record), plain(into));
    // Before anything is begun: there is a record, and it can be read.
    Store::open_to_read(&record).await?.close().await;
    let partial = begin(&into)?;

    tell(Step::Record);
    let copied = partial.join(RECORD);
    copy_record(&record, &copied).await?;
    let named = attached(&copied).await?;
    let mut files = vec![measured(&copied)?];
    files.extend(copy_files(&Files::of(&record), &partial, named, tell).await?);

    tell(Step::Manifest);
    let store = Store::open_to_read(&copied).await?;
    let manifest = Manifest::of(&mut *store.reader().await?, at, files).await;
    store.close().await;
    let manifest = manifest?;
    manifest.write(&partial)?;

    tell(Step::Check);
    let (written, _) = Manifest::read_any(&partial)?;
    let scratch = partial.join(SCRATCH);
    let restored = scratch.join(RECORD);
    unpack(&partial, &written, &restored, tell).await?;
    tell(Step::Check);
    let faults = check(&partial, &manifest, &restored).await?;
    remove(&scratch)?;

    tell(Step::Place);
    put(&partial, &into).map_err(BackupError::at(&into))?;
    tell(Step::Place);
    Ok(BackupReport {
        path: into,
        manifest,
        faults,
    })
}

/// An empty folder under the name of a backup that is not whole.
fn begin(into: &Path) -> Result<PathBuf, BackupError> {
    let exists = |path: &Path| BackupError::Exists {
        path: path.to_owned(),
    };
    if fs::symlink_metadata(into).is_ok() {
        return Err(exists(into));
    }
    let partial = beside(into, PARTIAL);
    if partial.exists() {
        if !is_ours(&partial) {
            return Err(exists(&partial));
        }
        remove(&partial)?;
    }
    make_folder(parent(into)).map_err(BackupError::at(parent(into)))?;
    fs::create_dir(&partial).map_err(BackupError::at(&partial))?;
    Ok(partial)
}

/// Whether a folder holds nothing but what a backup leaves that broke off.
fn is_ours(partial: &Path) -> bool {
    let begun = [RECORD, FILES, MANIFEST, SCRATCH];
    fs::read_dir(partial).is_ok_and(|inside| {
        inside.flatten().all(|entry| {
            let name = entry.file_name().to_string_lossy().into_owned();
            // SQLite and the manifest have files of their own on the way.
            begun.iter().any(|ours| name.starts_with(ours))
        })
    })
}

/// SQLite's own copy: one state of the record, with nothing in it that was erased.
async fn copy_record(record: &Path, to: &Path) -> Result<(), BackupError> {
    let store = Store::open_to_read(record).await?;
    let copied = match store.reader().await {
        Ok(mut c) => sqlite::copy(&mut c, to).await,
        Err(error) => Err(error),
    };
    store.close().await;
    copied?;
    let synced = File::open(to).and_then(|file| file.sync_all());
    synced.map_err(BackupError::at(to))
}

/// What the entries of the copy name, not of the record: it may have grown since.
async fn attached(copied: &Path) -> Result<BTreeMap<String, String>, StoreError> {
    let store = Store::open_to_read(copied).await?;
    let named = match store.reader().await {
        Ok(mut c) => log::attached(&mut c).await,
        Err(error) => Err(error),
    };
    store.close().await;
    named
}

fn measured(copied: &Path) -> Result<ManifestFile, BackupError> {
    let (hash, bytes) = hash_file(copied).map_err(BackupError::at(copied))?;
    Ok(ManifestFile {
        name: RECORD.to_owned(),
        bytes,
        sha256: hash.to_string(),
    })
}

/// Copies the files as they are; one that is missing or changed is told by the check.
async fn copy_files(
    files: &Files,
    partial: &Path,
    named: BTreeMap<String, String>,
    tell: &mut Tell<'_>,
) -> Result<Vec<ManifestFile>, BackupError> {
    let hashes: Vec<FileHash> = named.keys().filter_map(|h| FileHash::parse(h)).collect();
    let of = hashes.len();
    let mut copied = Vec::new();
    for (n, hash) in (1..).zip(hashes) {
        tell(Step::File { n, of });
        let name = name_of(&hash);
        let (from, to) = (files.place(&hash), partial.join(&name));
        if let Some((hash, bytes)) = on_disk(move || copy(&from, &to)).await? {
            copied.push(ManifestFile {
                name,
                bytes,
                sha256: hash.to_string(),
            });
        }
    }
    Ok(copied)
}
