//! The notice to the owner of a tool that was found setting bad joints.

use serde::Serialize;

use super::{Day, JointReading, RecordHead, Shop, Tool};

/// A notice of joints in doubt.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SuspectNotice {
    /// Who issues it.
    pub shop: Shop,
    /// Job number.
    pub job: String,
    /// The owner.
    pub customer: String,
    /// The tool.
    pub tool: Tool,
    /// What was found, with the tool as it came; oldest first.
    pub findings: Vec<BadFinding>,
    /// The last good check: what, when, at which counter; or that the record has none.
    pub since: String,
    /// How many joints were set since, or why nobody can say.
    pub pulls: String,
    /// What the tool was set up for since; empty if the record does not say.
    pub set_for: Vec<SetUpFor>,
    /// What to look at, fastener by fastener.
    pub inspect: Vec<Inspect>,
    /// Day of issue as printed.
    pub issued_on: String,
    /// The record that stands behind it.
    pub record: RecordHead,
    /// Day of issue.
    #[serde(skip)]
    pub issued: Day,
}

/// Something bad that was found.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BadFinding {
    /// When, as printed.
    pub when: String,
    /// What: a joint, a test, the setting, a crew's report.
    pub what: String,
    /// What the eye said, what passing means; empty if nothing was to be said.
    pub seen: String,
    /// Readings with limits and verdict.
    pub readings: Vec<JointReading>,
    /// Remark.
    pub note: String,
}

/// A set-up of the tool.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SetUpFor {
    /// Fastener.
    pub fastener: String,
    /// Grip code; empty where the family has none.
    pub code: String,
    /// When, as printed.
    pub when: String,
    /// Where it was set up: a job, or by a crew.
    pub whence: String,
}

/// What to look at on the joints of one fastener.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Inspect {
    /// Fastener.
    pub fastener: String,
    /// What is measured, with its limits.
    pub criteria: Vec<(String, String)>,
}
