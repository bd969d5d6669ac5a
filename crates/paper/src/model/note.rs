//! The return note: a tool that left the shop other than mended.

use serde::Serialize;

use super::{Day, RecordHead, Shop, Tool};

/// A return note.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ReturnNote {
    /// Who issues it.
    pub shop: Shop,
    /// Number of the report that tells the rest.
    pub number: String,
    /// Job number.
    pub job: String,
    /// Customer.
    pub customer: String,
    /// The tool.
    pub tool: Tool,
    /// Day of receipt, as printed.
    pub received: String,
    /// Day on which the job ended, as printed.
    pub ended: String,
    /// How it ended.
    pub how: String,
    /// What that means for whoever reads it.
    pub means: String,
    /// What was found.
    pub found: Vec<String>,
    /// Names and values: parcel, witness, what became of the pack.
    pub facts: Vec<(String, String)>,
    /// What went along.
    pub went: Vec<String>,
    /// What is missing, in red.
    pub missing: Vec<String>,
    /// Cautions with their sources.
    pub cautions: Vec<(String, String)>,
    /// Remark.
    pub note: String,
    /// Authorised by.
    pub authorised_by: String,
    /// Where the record stood.
    pub record: RecordHead,
    /// Day of issue.
    #[serde(skip)]
    pub issued: Day,
}
