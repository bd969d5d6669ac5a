//! How a command ends when it does not end well.

use std::fmt;
use std::process::ExitCode;

use store::StoreError;
use words::Words;

/// A failure: what to tell, and the exit code.
#[derive(Debug)]
pub struct Failure {
    text: String,
    code: u8,
}

impl Failure {
    /// The input was refused.
    pub fn refused(text: impl fmt::Display) -> Self {
        Self {
            text: text.to_string(),
            code: 1,
        }
    }

    /// The command was not understood.
    pub fn usage(text: impl fmt::Display) -> Self {
        Self {
            text: text.to_string(),
            code: 2,
        }
    }

    /// The disk, the network or the record failed.
    pub fn storage(error: impl fmt::Display) -> Self {
        Self {
            text: error.to_string(),
            code: 3,
        }
    }

    /// The exit code.
    pub fn exit_code(&self) -> ExitCode {
        ExitCode::from(self.code)
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

impl From<StoreError> for Failure {
    fn from(error: StoreError) -> Self {
        Self::storage(Words::english().say(&error.message()))
    }
}
