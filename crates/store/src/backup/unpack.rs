//! A backup copied to where a record can be opened, every byte compared on the way.

use std::fs::{self, File};
use std::path::{Path, PathBuf};

use super::{BackupError, FILES, Manifest, ManifestFile, RECORD, Step, Tell, on_disk};
use crate::durable::{make_folder, parent, sync_folder};
use crate::files::{FileHash, Files, hash_of};

/// Copies the backup at `backup` to the record at `record`, which is not there yet.
pub(super) async fn unpack(
    backup: &Path,
    manifest: &Manifest,
    record: &Path,
    tell: &mut Tell<'_>,
) -> Result<(), BackupError> {
    let files = Files::of(record);
    make_folder(files.root()).map_err(BackupError::at(files.root()))?;
    let of = manifest.files.iter().filter(|f| f.name != RECORD).count();
    let mut n = 0;
    for file in &manifest.files {
        let to = match file.lies_under() {
            Some(hash) => {
                n += 1;
                tell(Step::File { n, of });
                files.place(&hash)
            }
            None => {
                tell(Step::Record);
                record.to_owned()
            }
        };
        let (backup, file) = (backup.to_owned(), file.clone());
        on_disk(move || copy_compared(&backup, &file, &to)).await?;
    }
    Ok(())
}

fn copy_compared(backup: &Path, file: &ManifestFile, to: &Path) -> Result<(), BackupError> {
    let from = backup.join(&file.name);
    let differs = |should: String, is: String| BackupError::Differs {
        path: backup.to_owned(),
        what: file.name.clone(),
        should,
        is,
    };
    let Some((hash, bytes)) = copy(&from, to)? else {
        return Err(differs(file.sha256.clone(), "–".to_owned()));
    };
    if bytes != file.bytes {
        return Err(differs(
            format!("{} bytes", file.bytes),
            format!("{bytes} bytes"),
        ));
    }
    if hash.as_str() != file.sha256 {
        return Err(differs(file.sha256.clone(), hash.to_string()));
    }
    Ok(())
}

/// Copies a file for good; its hash and length. `None` if there is none.
pub(super) fn copy(from: &Path, to: &Path) -> Result<Option<(FileHash, u64)>, BackupError> {
    let mut source = match File::open(from) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(None),
        opened => opened.map_err(BackupError::at(from))?,
    };
    let copied = make_folder(parent(to)).and_then(|()| {
        let mut target = File::create(to)?;
        let copied = hash_of(&mut source, &mut target)?;
        target.sync_all()?;
        sync_folder(parent(to))?;
        Ok(copied)
    });
    copied.map(Some).map_err(BackupError::at(to))
}

/// Where the file under `hash` lies in a backup.
pub(super) fn name_of(hash: &FileHash) -> String {
    let hash = hash.as_str();
    format!("{FILES}/{}/{}", &hash[..2], &hash[2..])
}

/// Removes a folder of ours; nothing if it is not there.
pub(super) fn remove(folder: &Path) -> Result<(), BackupError> {
    match fs::remove_dir_all(folder) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(()),
        removed => removed.map_err(BackupError::at(folder)),
    }
}

/// `path` without a stroke at its end, so that something can be put after its name.
pub(super) fn plain(path: &Path) -> PathBuf {
    path.components().collect()
}
