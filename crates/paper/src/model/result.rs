//! Readings and looks with their verdicts.

use calc::decision::Verdict;
use serde::Serialize;

use super::serial;
use crate::gauge_bar::GaugeBar;

/// A measured value.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reading {
    /// Value, uncertainty, limits and verdict.
    #[serde(serialize_with = "serial::bar")]
    pub bar: GaugeBar,
    /// Tag of the gauge, as in the list of instruments.
    pub gauge: String,
    /// Whether its calibration held that day. If not, the reading is not evidence.
    pub in_date: bool,
    /// Whether it lies beyond what the gauge was calibrated over. If so, it is not evidence either.
    pub beyond: bool,
    /// Whether it is in doubt: its gauge was found outside its limits, or the calibration that corrected it was struck.
    pub doubted: bool,
}

/// Something looked at.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Looked {
    /// Verdict.
    #[serde(serialize_with = "serial::term")]
    pub verdict: Verdict,
    /// What passing means.
    pub pass: String,
    /// Remark.
    pub note: String,
}

/// What a bench test gave.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum TestResult {
    /// A number.
    Read(Reading),
    /// Passed or not, by looking.
    Looked(Looked),
}

/// A gauge that took readings.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Instrument {
    /// Tag by which readings name it.
    pub tag: String,
    /// Kind and make.
    pub name: String,
    /// Expanded uncertainty from the certificate, with unit.
    pub expanded: String,
    /// When its calibration ends.
    pub due: String,
    /// Whether a reading was taken with it after that.
    pub was_stale: bool,
}

/// A trial joint.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TrialJoint {
    /// Number, in order.
    pub number: u32,
    /// Turns that the adjuster stood at; `None` at full stroke.
    #[serde(serialize_with = "serial::maybe_turns")]
    pub turns: Option<f64>,
    /// What was read of it.
    #[serde(flatten)]
    pub joint: Joint,
}

/// A joint as found.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FoundJoint {
    /// Fastener.
    pub fastener: String,
    /// What was read of it.
    #[serde(flatten)]
    pub joint: Joint,
}

/// A joint, read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Joint {
    /// Measured criteria.
    pub readings: Vec<JointReading>,
    /// What the eye said.
    pub seen: String,
    /// Verdict on the joint.
    #[serde(serialize_with = "serial::term")]
    pub verdict: Verdict,
    /// Remark.
    pub note: String,
}

/// One criterion of a joint.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct JointReading {
    /// What was measured.
    pub what: String,
    /// The reading.
    pub reading: Reading,
}
