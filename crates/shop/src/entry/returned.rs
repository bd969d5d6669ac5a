//! The end of a job, its pauses, and corrections.

use serde::{Deserialize, Serialize};

use super::{InDoubt, PersonKey};

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

/// What became of the lithium pack of a tool that was scrapped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PackGone {
    /// Handed to a collector of lithium cells.
    Collected,
    /// Kept apart, in a fire-safe place, until it is collected.
    KeptApart,
    /// Given back to its owner: a sound one alone.
    ToOwner,
}

/// How a job ended other than with a mended tool.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum End {
    /// Nothing is wrong with the tool.
    NoFaultFound,
    /// The customer declined: it went back as it came.
    Unrepaired,
    /// The customer took a new tool; the old one went back as it came.
    NewTool,
    /// Scrapped.
    Scrapped {
        /// Who saw it.
        witness: PersonKey,
        /// What became of the pack; `None` if none came.
        pack: Option<PackGone>,
    },
    /// Sent to the maker.
    SentToMaker {
        /// Number of the parcel.
        parcel: String,
        /// What was sent.
        sent: Vec<String>,
        /// What the claim asks for and was not sent.
        missing: Vec<String>,
    },
}

impl End {
    /// As in lists and at the prompt.
    pub fn key(&self) -> &'static str {
        match self {
            Self::NoFaultFound => "no-fault-found",
            Self::Unrepaired => "unrepaired",
            Self::NewTool => "new-tool",
            Self::Scrapped { .. } => "scrapped",
            Self::SentToMaker { .. } => "sent-to-maker",
        }
    }
}

/// The tool left the shop: the job is over.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Returned {
    /// How it ended; `None` for a mended tool, and for any end from before it was asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub end: Option<End>,
    /// Who took it; of a scrapped tool, who agreed to it for the owner.
    pub to: PersonKey,
    /// What went with it.
    pub with: Vec<String>,
    /// Report number.
    pub report: String,
    /// Authorised by.
    pub authorised: PersonKey,
    /// Remark.
    pub note: String,
    /// Readings of the job that were in doubt then. Older records lack them, and of a tool that was scrapped or sent on none
    /// are asked for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub in_doubt: Vec<InDoubt>,
    /// Why it went back all the same, where some were; `authorised` says it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub doubt_reason: String,
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
