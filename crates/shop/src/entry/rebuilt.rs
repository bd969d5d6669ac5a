//! Stripping and rebuilding.

use serde::{Deserialize, Serialize};

use super::{Outcome, PersonKey, Reading};

/// How far the tool is stripped.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RoutePlanned {
    /// The part that is to be reached, by id.
    pub down_to: String,
    /// Further parts that are to be reached on the same route.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub also: Vec<String>,
    /// Why that far.
    pub note: String,
}

/// A step was done.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
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
    /// The adapter on the wrench; the readings are then of the joint, their `raw` of the wrench.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub adapter: Option<AdapterUsed>,
    /// What was done after a rejected tightening, before this one.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub redone: String,
    /// Who lets a rejected tightening or fit check stand; `reason` says why.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub overridden: Option<PersonKey>,
    /// Minutes by the step's clock, where it was started.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<f64>,
    /// Signs that forbade energy and are mended, or were found whole, by id.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub mended: Vec<String>,
}

/// The clock of a step was started or stopped.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct StepTimed {
    /// Step id of the route.
    pub step: String,
    /// Started, or stopped.
    pub on: bool,
}

/// A wrench with an adapter, as it was used.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct AdapterUsed {
    /// Wrench: middle of its drive to middle of the grip, mm.
    pub arm_mm: f64,
    /// Adapter: middle of the wrench's drive to middle of the fastener, mm.
    pub offset_mm: f64,
    /// Angle between adapter and wrench, degrees.
    pub angle_deg: f64,
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
    /// Where no accepted option of the quote names it: who agreed to it, or why the shop pays.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub unagreed: String,
}
