//! The warranty claim: what is claimed, on which terms and evidence, and what is sent with it.

use serde::Serialize;

use super::{Cover, Day, RecordHead, Shop, Tool, serial};

/// A claim sheet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Claim {
    /// Who claims.
    pub shop: Shop,
    /// Number.
    pub number: String,
    /// Job number.
    pub job: String,
    /// Customer.
    pub customer: String,
    /// The tool.
    pub tool: Tool,
    /// Day of sale as printed, or that no paper shows it.
    pub sold: String,
    /// Day of first use likewise, where the terms count from it; else empty.
    pub first_used: String,
    /// Day of receipt, as printed.
    pub received: String,
    /// Complaint in the customer's words.
    pub complaint: String,
    /// What was found.
    pub found: Vec<String>,
    /// Verdict over all.
    #[serde(serialize_with = "serial::term")]
    pub cover: Cover,
    /// Verdict line by line.
    pub lines: Vec<ClaimLine>,
    /// Conditions that void the warranty and were found.
    pub voided: Vec<String>,
    /// What was required and not at hand when it was judged covered, and why it was; else empty.
    pub without: String,
    /// What must be sent along.
    pub send: Vec<String>,
    /// What is missing, in red.
    pub missing: Vec<String>,
    /// Who decides; empty if the sheet does not say.
    pub decided_by: String,
    /// Where the terms stand.
    pub source: String,
    /// Who judged it here, and when.
    pub judged_by: String,
    /// Where the record stood.
    pub record: RecordHead,
    /// Day of issue.
    #[serde(skip)]
    pub issued: Day,
}

/// The verdict on a part, or on the labour.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ClaimLine {
    /// Part or labour.
    pub what: String,
    /// Part number; empty for labour.
    pub number: String,
    /// Verdict.
    #[serde(serialize_with = "serial::term")]
    pub cover: Cover,
    /// The term that decides.
    pub term: String,
    /// The evidence that it rests on.
    pub evidence: String,
}
