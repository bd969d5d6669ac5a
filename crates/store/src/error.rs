//! What can go wrong with the record, and what is certain afterwards.

use std::fmt;

use calc::Message;
use shop::entry::Entry;

/// Why the record did not do what it was asked.
#[derive(Clone, Debug, PartialEq)]
pub enum StoreError {
    /// Another program has this record open for writing.
    InUse,
    /// A restore of this record broke off and must be finished first.
    HalfRestored,
    /// The file is not a record of this program.
    NotAStore,
    /// The record was written by another version of this program.
    OtherVersion,
    /// The file cannot be opened or made.
    CannotOpen {
        /// What the system says.
        why: String,
    },
    /// The record was opened for reading only.
    ReadOnly,
    /// The disk is full. Nothing was written; the record goes on when there is room.
    Full,
    /// Another program holds the file. Nothing was written.
    Busy,
    /// The commit failed: whether the entries are in the record is not known. Sending the same
    /// submission again is safe.
    Unknown {
        /// What the system says.
        why: String,
    },
    /// Reading or writing failed. Nothing was written.
    Failed {
        /// What the system says.
        why: String,
    },
    /// Something stored does not read as what it should be.
    Damaged {
        /// What, and how.
        what: String,
    },
    /// A sheet to be stored cannot be read, or does not carry its next revision number. Nothing
    /// was written.
    BadSheet {
        /// Sheet id.
        id: String,
        /// Revision number that it came with.
        revision: u32,
    },
    /// A person without a name.
    NoName,
    /// The decision came to an end by a fault of this program. Nothing was written.
    Panicked,
    /// The record was closed.
    Closed,
}

impl StoreError {
    /// The text for the user.
    pub fn message(&self) -> Message {
        match self {
            Self::InUse => Message::new("store-in-use"),
            Self::HalfRestored => Message::new("store-half-restored"),
            Self::NotAStore => Message::new("store-not-a-store"),
            Self::OtherVersion => Message::new("store-other-version"),
            Self::CannotOpen { why } => Message::new("store-cannot-open").with("why", why.as_str()),
            Self::ReadOnly => Message::new("store-read-only"),
            Self::Full => Message::new("store-full"),
            Self::Busy => Message::new("store-busy"),
            Self::Unknown { why } => Message::new("store-unknown").with("why", why.as_str()),
            Self::Failed { why } => Message::new("store-failed").with("why", why.as_str()),
            Self::Damaged { what } => Message::new("store-damaged").with("what", what.as_str()),
            Self::BadSheet { id, revision } => Message::new("store-bad-sheet")
                .with("id", id.as_str())
                .with("revision", *revision),
            Self::NoName => Message::new("store-no-name"),
            Self::Panicked => Message::new("store-panicked"),
            Self::Closed => Message::new("store-closed"),
        }
    }

    /// Whether the connection that gave this can no longer be trusted with its transaction state.
    pub(crate) fn leaves_doubt(&self) -> bool {
        matches!(
            self,
            Self::Full | Self::Busy | Self::Unknown { .. } | Self::Failed { .. }
        )
    }
}

/// For logs; users get [`StoreError::message`].
impl fmt::Display for StoreError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.message().id)?;
        match self {
            Self::CannotOpen { why } | Self::Unknown { why } | Self::Failed { why } => {
                write!(f, ": {why}")
            }
            Self::Damaged { what } => write!(f, ": {what}"),
            Self::BadSheet { id, revision } => write!(f, ": {id} revision {revision}"),
            _ => Ok(()),
        }
    }
}

impl std::error::Error for StoreError {}

/// Why an append stored nothing new, `R` being the refusal of the caller's own decision.
#[derive(Clone, Debug, PartialEq)]
pub enum AppendError<R> {
    /// The decision refused.
    Refused(R),
    /// Others wrote to the subject since the caller looked.
    Conflict {
        /// What they wrote. Empty if the caller expects more than there is.
        since: Vec<Entry>,
    },
    /// The record failed.
    Store(StoreError),
}

impl<R> From<StoreError> for AppendError<R> {
    fn from(error: StoreError) -> Self {
        Self::Store(error)
    }
}
