//! Why a file is not taken or not given.

use std::{fmt, io};

use calc::Message;

use crate::error::StoreError;

/// Why a file is not taken or not given.
#[derive(Clone, Debug, PartialEq)]
pub enum FileError {
    /// The file itself: what is wrong, and what to do.
    Refused(Message),
    /// The disk.
    Store(StoreError),
}

impl FileError {
    /// The text for the user.
    pub fn message(&self) -> Message {
        match self {
            Self::Refused(message) => message.clone(),
            Self::Store(error) => error.message(),
        }
    }
}

impl From<io::Error> for FileError {
    fn from(error: io::Error) -> Self {
        Self::Store(error.into())
    }
}

impl From<io::Error> for StoreError {
    fn from(error: io::Error) -> Self {
        use io::ErrorKind::{FileTooLarge, QuotaExceeded, StorageFull};
        match error.kind() {
            StorageFull | QuotaExceeded | FileTooLarge => Self::Full,
            _ => Self::Failed {
                why: error.to_string(),
            },
        }
    }
}

/// For logs; users get [`FileError::message`].
impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Refused(message) => f.write_str(message.id),
            Self::Store(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for FileError {}
