//! How far a backup or a restore has come.

use calc::Message;

/// What is about to be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// Copy the record.
    Record,
    /// Copy a photo or file.
    File {
        /// Which one, from 1.
        n: usize,
        /// Of how many.
        of: usize,
    },
    /// Write down what was copied.
    Manifest,
    /// Compare the copy with what was written down.
    Check,
    /// Give the copy its name; told for each name.
    Place,
}

/// Who is told.
pub type Tell<'a> = dyn FnMut(Step) + Send + 'a;

impl Step {
    /// The text for the user.
    pub fn message(self) -> Message {
        match self {
            Self::Record => Message::new("backup-step-record"),
            Self::File { n, of } => Message::new("backup-step-file").with("n", n).with("of", of),
            Self::Manifest => Message::new("backup-step-manifest"),
            Self::Check => Message::new("backup-step-check"),
            Self::Place => Message::new("backup-step-place"),
        }
    }
}
