//! Stripping and rebuilding.

use serde::{Deserialize, Serialize};

use super::{Outcome, Reading};

/// How far the tool is stripped.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RoutePlanned {
    /// The innermost part that comes off, by id.
    pub down_to: String,
    /// Why that far.
    pub note: String,
}

/// A step was done.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StepDone {
    /// Step id of the route.
    pub step: String,
    /// What was measured, at steps that ask for it.
    pub reading: Option<Reading>,
    /// Further readings at the same step; `reading` is the worst of all.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub others: Vec<Reading>,
    /// Verdict on the reading or the look.
    pub outcome: Option<Outcome>,
    /// Why a hold was passed without a good reading.
    pub reason: String,
    /// Remark.
    pub note: String,
}

/// A part was renewed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PartReplaced {
    /// Part id of the model sheet.
    pub part: String,
    /// Number of the part that went in.
    pub number: String,
    /// Why.
    pub reason: String,
    /// Counter at that moment.
    pub counter: Option<u64>,
}
