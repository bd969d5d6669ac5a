//! Finding the fault.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{JointReading, Outcome, PinRecord, Reading, Seen};

/// Symptoms seen or ruled out at the bench.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SymptomsNoted {
    /// Seen, by id.
    pub present: Vec<String>,
    /// Looked for and not there, by id.
    pub absent: Vec<String>,
}

/// When a bench test was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Phase {
    /// Before anything was cleaned or changed.
    AsFound,
    /// Before the tool goes back.
    AsLeft,
}

/// A bench test was made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BenchTestRead {
    /// When.
    pub phase: Phase,
    /// Test id of the model sheet.
    pub test: String,
    /// Readings, for measured tests.
    pub readings: Vec<Reading>,
    /// Mean of the readings, in the test's unit.
    pub value: Option<f64>,
    /// Expanded uncertainty of the mean.
    pub expanded: Option<f64>,
    /// How far the readings lie apart, percent of their mean, where the sheet sets a limit to it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spread_percent: Option<f64>,
    /// Passed by looking, for the others.
    pub passed: Option<bool>,
    /// Verdict.
    pub outcome: Outcome,
    /// Method and version that gave the verdict.
    pub method: String,
    /// Remark.
    pub note: String,
}

/// A joint was set with the tool as it came, and read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FoundJointRead {
    /// Fastener family.
    pub fastener: PinRecord,
    /// Measured criteria.
    pub readings: Vec<JointReading>,
    /// What the eye says.
    pub seen: Seen,
    /// Verdict on the joint.
    pub outcome: Outcome,
    /// Method and version.
    pub method: String,
    /// Remark.
    pub note: String,
}

/// As-found tests were not made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct NotSafeToRun {
    /// Why.
    pub reason: String,
}

/// A named person cleared the tool for energised looks: what forbade them until then stands no more in their way. It
/// stays forbidden to prove the tool or hand it back until it passed its first power-up.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct EnergyCleared {
    /// What was looked at or done, so that it is safe.
    pub reason: String,
    /// The signs that it was cleared of, by id.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub signs: Vec<String>,
}

/// A tool that lay open for a look is closed again: every part back and tightened, says who writes it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClosedAgain {
    /// What else is to say; may be empty.
    pub note: String,
}

/// Answer to a check.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Said {
    /// Positive.
    Yes,
    /// Negative.
    No,
    /// Not sure.
    NotSure,
}

/// A check of the fault-finder was made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CheckAnswered {
    /// Check id of the fault model.
    pub check: String,
    /// Answer.
    pub answer: Said,
    /// What was seen.
    pub note: String,
    /// Make-safe ticks before hands came near, by id; empty where the check asks for none.
    #[serde(default)]
    pub made_safe: Vec<String>,
}

/// What was not said but read: symptoms that joints as found showed, checks that readings answered.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct HandedOver {
    /// Symptoms, by id.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub symptoms: Vec<String>,
    /// Checks answered yes, by id.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub yes: Vec<String>,
    /// Checks answered no, by id.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub no: Vec<String>,
    /// How likely parts were beyond their limits, by the cause that this would be.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub worn: BTreeMap<String, f64>,
}

impl HandedOver {
    fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// The cause is known.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CauseConfirmed {
    /// Cause ids of the fault model. Empty: no fault in the tool, the note says what it was.
    pub causes: Vec<String>,
    /// Nothing is complained of: the tool came for a set-up alone.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub set_up_only: bool,
    /// Probability of the first cause at that moment, if it is in the model.
    pub probability: Option<f64>,
    /// What readings said until then; empty in older entries.
    #[serde(default, skip_serializing_if = "HandedOver::is_empty")]
    pub handed: HandedOver,
    /// Remark.
    pub note: String,
}
