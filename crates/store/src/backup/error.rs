//! Why a backup or a restore was not made.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use calc::Message;

use crate::error::StoreError;

/// Why a backup or a restore was not made. What was there before is there still.
#[derive(Clone, Debug, PartialEq)]
pub enum BackupError {
    /// The record.
    Store(StoreError),
    /// Something bears the name that the backup should have.
    Exists {
        /// It.
        path: PathBuf,
    },
    /// No backup.
    NotABackup {
        /// It.
        path: PathBuf,
    },
    /// A backup that broke off.
    Half {
        /// It.
        path: PathBuf,
    },
    /// A backup in a form that this program does not read.
    OtherVersion {
        /// It.
        path: PathBuf,
        /// The program that made it.
        program: String,
    },
    /// The copy is not what was written down.
    Differs {
        /// The backup.
        path: PathBuf,
        /// What of it.
        what: String,
        /// What was written down.
        should: String,
        /// What is there.
        is: String,
    },
    /// A record is where the backup should be restored to.
    StoreExists {
        /// It.
        path: PathBuf,
    },
    /// A file or folder fails.
    Disk {
        /// It.
        path: PathBuf,
        /// What the system says.
        why: String,
    },
}

impl BackupError {
    /// For `map_err`: the disk failed at `path`.
    pub(super) fn at(path: &Path) -> impl FnOnce(io::Error) -> Self + '_ {
        move |error| match error.into() {
            StoreError::Failed { why } => Self::Disk {
                path: path.to_owned(),
                why,
            },
            other => Self::Store(other),
        }
    }

    /// The text for the user.
    pub fn message(&self) -> Message {
        let of = |id, path: &Path| Message::new(id).with("path", path.display().to_string());
        match self {
            Self::Store(error) => error.message(),
            Self::Exists { path } => of("backup-exists", path),
            Self::NotABackup { path } => of("backup-is-none", path),
            Self::Half { path } => of("backup-half", path),
            Self::OtherVersion { path, program } => {
                of("backup-other-version", path).with("program", program.as_str())
            }
            Self::Differs {
                path,
                what,
                should,
                is,
            } => of("backup-differs", path)
                .with("what", what.as_str())
                .with("should", should.as_str())
                .with("is", is.as_str()),
            Self::StoreExists { path } => of("restore-store-exists", path),
            Self::Disk { path, why } => of("backup-disk", path).with("why", why.as_str()),
        }
    }

    /// Whether the input is refused, rather than the disk or the record failing.
    pub fn is_refusal(&self) -> bool {
        !matches!(self, Self::Store(_) | Self::Disk { .. })
    }
}

impl From<StoreError> for BackupError {
    fn from(error: StoreError) -> Self {
        Self::Store(error)
    }
}

/// For logs; users get [`BackupError::message`].
impl fmt::Display for BackupError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self:?}")
    }
}

impl std::error::Error for BackupError {}
