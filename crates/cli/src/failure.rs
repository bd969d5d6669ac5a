//! How a command ends when it does not end well.

use std::path::Path;
use std::process::ExitCode;
use std::{fmt, io};

use calc::Message;
use serde_json::Value;
use store::StoreError;

use crate::print::{print_json, say};

/// A failure: what to tell, and the exit code.
#[derive(Debug)]
pub struct Failure {
    text: String,
    code: u8,
    details: Option<Value>,
}

impl Failure {
    /// The input was refused.
    pub fn refused(text: impl fmt::Display) -> Self {
        Self {
            text: text.to_string(),
            code: 1,
            details: None,
        }
    }

    /// The command was not understood.
    pub fn usage(text: impl fmt::Display) -> Self {
        Self {
            text: text.to_string(),
            code: 2,
            details: None,
        }
    }

    /// The disk, the network or the record failed.
    pub fn storage(error: impl fmt::Display) -> Self {
        Self {
            text: error.to_string(),
            code: 3,
            details: None,
        }
    }

    /// For `map_err`: the disk failed at `path`.
    pub fn at(path: &Path) -> impl Fn(io::Error) -> Self + '_ {
        move |error| Self::storage(path_message(path, &error))
    }

    /// For `map_err`: what was named cannot be read.
    pub fn unreadable(path: &Path) -> impl Fn(io::Error) -> Self + '_ {
        move |error| Self::refused(path_message(path, &error))
    }

    /// The same for programs: each thing to mend.
    pub fn with(self, details: Value) -> Self {
        Self {
            details: Some(details),
            ..self
        }
    }

    /// Prints what programs read of it.
    pub fn print_details(&self) -> Result<(), Self> {
        self.details.as_ref().map_or(Ok(()), print_json)
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
        Self::storage(say(&error.message()))
    }
}

fn path_message(path: &Path, error: &io::Error) -> String {
    let message = Message::new("prompt-path")
        .with("path", path.display().to_string())
        .with("why", error.to_string());
    say(&message)
}
