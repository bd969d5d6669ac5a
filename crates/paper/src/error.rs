//! Why a document could not be made.

use std::fmt;

use calc::Message;

/// A document that could not be made. Nothing was stored or sent.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PaperError {
    /// The day of issue is not in the calendar.
    Day,
    /// There is nothing to print.
    Nothing,
    /// The text is too long for a code that a scanner can read.
    Code,
    /// The view model cannot be written as data.
    Data(String),
    /// The typesetter refused; the text says where, for the log.
    Setting(String),
}

impl PaperError {
    /// What the user is told.
    pub fn message(&self) -> Message {
        Message::new("paper-failed")
    }
}

impl fmt::Display for PaperError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Day => write!(f, "the day of issue is not in the calendar"),
            Self::Nothing => write!(f, "there is nothing to print"),
            Self::Code => write!(f, "the text is too long for a code"),
            Self::Data(why) => write!(f, "document data: {why}"),
            Self::Setting(why) => write!(f, "typesetting: {why}"),
        }
    }
}

impl std::error::Error for PaperError {}
