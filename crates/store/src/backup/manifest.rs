//! The manifest: what a backup holds, in numbers and hashes. Without it a backup is not whole.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::Write;
use std::path::Path;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::{BackupError, FILES, MANIFEST, PARTIAL, RECORD};
use crate::durable::{beside, put};
use crate::error::StoreError;
use crate::files::FileHash;
use crate::log;
use crate::sqlite::Connection;

/// The form of backup that this program writes and reads.
const FORM: u32 = 1;

/// What a backup holds.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Manifest {
    /// Form of the backup.
    pub form: u32,
    /// The program that made it.
    pub program: String,
    /// When it was begun.
    pub made: Timestamp,
    /// The record's origin.
    pub origin: Uuid,
    /// Entries in all.
    pub entries: u64,
    /// Entries of each kind.
    pub kinds: BTreeMap<String, u64>,
    /// Where the chain of each origin ends.
    pub heads: Vec<ManifestHead>,
    /// Every file.
    pub files: Vec<ManifestFile>,
}

/// Where the chain of an origin ends.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ManifestHead {
    /// Origin.
    pub origin: Uuid,
    /// Number of its last entry.
    pub seq: u64,
    /// Hash of its last entry.
    pub hash: String,
}

/// A file of a backup.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ManifestFile {
    /// Path from the backup's folder.
    pub name: String,
    /// Length.
    pub bytes: u64,
    /// SHA-256, lower-case hex.
    pub sha256: String,
}

impl Manifest {
    /// What stands in the record behind `c`, without its files.
    pub(super) async fn of(
        c: &mut Connection,
        made: Timestamp,
        files: Vec<ManifestFile>,
    ) -> Result<Self, StoreError> {
        let origin = log::origin(c).await?.ok_or(StoreError::NotAStore)?;
        let mut heads = Vec::new();
        for of in log::origins(c).await? {
            let head = log::head(c, log::uuid(&of)?).await?;
            heads.push(ManifestHead {
                origin: head.origin,
                seq: head.seq,
                hash: head.hash,
            });
        }
        let kinds = log::kinds(c).await?;
        Ok(Self {
            form: FORM,
            program: env!("CARGO_PKG_VERSION").to_owned(),
            made,
            origin,
            entries: kinds.values().sum(),
            kinds,
            heads,
            files,
        })
    }

    /// The manifest of the backup at `path`, with its bytes.
    ///
    /// # Errors
    /// There is no backup, or one that broke off, or one of another form.
    pub(super) fn read(path: &Path) -> Result<(Self, Vec<u8>), BackupError> {
        let half = |path: &Path| BackupError::Half {
            path: path.to_owned(),
        };
        if path.to_string_lossy().ends_with(PARTIAL) {
            return Err(half(path));
        }
        let partial = beside(path, PARTIAL);
        if !path.exists() && partial.exists() {
            return Err(half(&partial));
        }
        Self::read_any(path).map_err(|error| match error {
            // Somebody took the mark of a broken-off one from its name.
            BackupError::NotABackup { .. } if path.join(RECORD).exists() => half(path),
            other => other,
        })
    }

    /// The same, whatever the folder is called.
    pub(super) fn read_any(path: &Path) -> Result<(Self, Vec<u8>), BackupError> {
        let file = path.join(MANIFEST);
        if !file.is_file() {
            return Err(BackupError::NotABackup {
                path: path.to_owned(),
            });
        }
        let bytes = fs::read(&file).map_err(BackupError::at(&file))?;
        let unread = |why: String| BackupError::Differs {
            path: path.to_owned(),
            what: MANIFEST.to_owned(),
            should: "JSON".to_owned(),
            is: why,
        };
        let json: serde_json::Value =
            serde_json::from_slice(&bytes).map_err(|e| unread(e.to_string()))?;
        if json["form"] != FORM {
            return Err(BackupError::OtherVersion {
                path: path.to_owned(),
                program: json["program"].as_str().unwrap_or("?").to_owned(),
            });
        }
        let manifest: Self = serde_json::from_value(json).map_err(|e| unread(e.to_string()))?;
        match manifest.files.iter().find(|file| !file.is_in_its_place()) {
            Some(file) => Err(unread(file.name.clone())),
            None => Ok((manifest, bytes)),
        }
    }

    /// Writes it into the backup at `path`, whole or not at all.
    pub(super) fn write(&self, path: &Path) -> Result<(), BackupError> {
        let file = path.join(MANIFEST);
        let new = beside(&file, ".new");
        let text = serde_json::to_string_pretty(self).map_err(|e| BackupError::Disk {
            path: file.clone(),
            why: e.to_string(),
        })?;
        let written = File::create(&new).and_then(|mut out| {
            out.write_all(text.as_bytes())?;
            out.write_all(b"\n")?;
            out.sync_all()?;
            put(&new, &file)
        });
        written.map_err(BackupError::at(&file))
    }
}

impl ManifestFile {
    /// The hash that a photo or file lies under; `None` for the record.
    pub(super) fn lies_under(&self) -> Option<FileHash> {
        let rest = self.name.strip_prefix(FILES)?.strip_prefix('/')?;
        let (start, end) = rest.split_once('/')?;
        FileHash::parse(&format!("{start}{end}")).filter(|_| start.len() == 2)
    }

    /// A manifest from elsewhere must not name files outside its folder.
    fn is_in_its_place(&self) -> bool {
        self.name == RECORD || self.lies_under().is_some()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_own_names_are_in_their_place() {
        let file = |name: &str| ManifestFile {
            name: name.to_owned(),
            bytes: 0,
            sha256: String::new(),
        };
        let digits = "0".repeat(62);
        assert!(file(RECORD).is_in_its_place());
        assert!(file(&format!("files/00/{digits}")).is_in_its_place());
        for name in [
            "",
            "../record.setwright",
            "files/../../x",
            "files/00/../x",
            &format!("files/000/{}", &digits[1..]),
            &format!("filez/00/{digits}"),
        ] {
            assert!(!file(name).is_in_its_place(), "{name}");
        }
    }
}
