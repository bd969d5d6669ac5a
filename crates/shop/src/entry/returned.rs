//! The end of a job, its pauses, and corrections.

use serde::{Deserialize, Serialize};

use super::PersonKey;

/// A stage is not needed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StageSkipped {
    /// Stage key.
    pub stage: String,
    /// Why.
    pub reason: String,
}

/// What a job waits for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WaitFor {
    /// Parts.
    Parts,
    /// The customer's yes.
    Yes,
    /// A tool or gauge.
    Tool,
}

/// The job waits.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Waiting {
    /// For what.
    #[serde(rename = "for")]
    pub wait_for: WaitFor,
    /// Remark.
    pub note: String,
}

/// The job goes on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Resumed {}

/// An earlier entry of the same job no longer counts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Struck {
    /// Version of the entry that is struck.
    pub version: u32,
    /// Why.
    pub reason: String,
}

/// The tool was handed back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Returned {
    /// Who took it.
    pub to: PersonKey,
    /// What went with it.
    pub with: Vec<String>,
    /// Report number.
    pub report: String,
    /// Authorised by.
    pub authorised: PersonKey,
    /// Remark.
    pub note: String,
}

/// The bench proof stands.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ProofSignedOff {
    /// The adjuster stands where the set-up left it, and its paint mark is whole: some tests move it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub adjuster_stands: bool,
    /// Why it stands although a test stayed undecided; empty if all were accepted.
    pub reason: String,
}
