//! What is written down of a gauge: its calibrations, checks and studies. Subject: [`crate::gauge::subject_of`].
//!
//! They are numbered within their gauge, from 1: a reading names the calibration that corrected it by that number.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::{Outcome, PersonKey, PinRecord};

/// One point of a calibration, in the gauge's unit. Deviation: indicated less true.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct CalibrationPoint {
    /// True value, by the reference.
    pub nominal: f64,
    /// Deviation as found; `None` where it was not read before the gauge was adjusted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub found: Option<f64>,
    /// Deviation as left.
    pub left: f64,
    /// Expanded uncertainty U.
    pub expanded: f64,
    /// Its coverage factor k.
    pub k: f64,
}

/// How the deviation runs between the points.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum CurveShape {
    /// Straight from point to point.
    Points,
    /// A line of least squares through them.
    Line,
    /// A parabola of least squares through them.
    Parabola,
}

/// Turning direction of a torque wrench.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WrenchWay {
    /// Clockwise: right-hand joints.
    Clockwise,
    /// Counter-clockwise: left-hand joints.
    CounterClockwise,
}

/// A gauge was calibrated.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct GaugeCalibrated {
    /// The gauge's sheet, in the revision of that day.
    pub gauge: PinRecord,
    /// Number among what was written of the gauge.
    pub number: u32,
    /// Day of the calibration.
    pub date: Date,
    /// Unit symbol of the points.
    pub unit: String,
    /// Points, by rising nominal.
    pub points: Vec<CalibrationPoint>,
    /// How the deviation runs between them.
    pub shape: CurveShape,
    /// How far it may move until the next calibration, to either side.
    pub drift: f64,
    /// Whether that is how far it had moved since the calibration before; otherwise it was typed.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub drift_observed: bool,
    /// Largest deviation allowed.
    pub limit: f64,
    /// Verdict as found; `None` where nothing was read as found.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub found: Option<Outcome>,
    /// Verdict as left.
    pub left: Outcome,
    /// Method of the verdicts.
    pub method: String,
    /// Directions that it holds for; empty for what does not turn.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ways: Vec<WrenchWay>,
    /// Who calibrated it.
    pub by: PersonKey,
    /// Number of the certificate.
    pub certificate: String,
    /// SHA-256 of the certificate's file; empty if none was attached.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub file: String,
    /// Months until the next.
    pub months: u32,
    /// First day on which it is no longer in date.
    pub due: Date,
    /// Remark.
    pub note: String,
}

/// What a gauge was checked as.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "as", rename_all = "kebab-case")]
pub enum CheckedAs {
    /// A torque wrench: the wrench stands at each nominal, readings are the reference's.
    Torque {
        /// Direction.
        way: WrenchWay,
        /// Expanded uncertainty of the tester, k = 2, percent of the torque; `None` where nobody entered it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        reference_expanded_pct: Option<f64>,
    },
    /// A force gauge: the reference stands at each nominal, readings are the gauge's.
    Force {
        /// Expanded uncertainty of the reference, k = 2, percent of the force.
        reference_expanded_pct: f64,
    },
}

/// One point of a check.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CheckPoint {
    /// What was set: by the wrench, or by the reference.
    pub nominal: f64,
    /// What was read.
    pub readings: Vec<f64>,
    /// Largest deviation allowed, percent.
    pub limit_pct: f64,
    /// Deviation furthest off, or of the mean for a force, percent.
    pub deviation_pct: f64,
    /// Verdict.
    pub outcome: Outcome,
}

/// A gauge was checked in the shop against a reference.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct GaugeChecked {
    /// The gauge's sheet.
    pub gauge: PinRecord,
    /// Number among what was written of the gauge.
    pub number: u32,
    /// Day.
    pub date: Date,
    /// Unit symbol of the readings.
    pub unit: String,
    /// As what.
    pub check: CheckedAs,
    /// Points.
    pub points: Vec<CheckPoint>,
    /// Verdict: as the worst point.
    pub outcome: Outcome,
    /// What it was held against.
    pub reference: String,
    /// Method.
    pub method: String,
    /// Remark.
    pub note: String,
}

/// Repeatability and reproducibility of a gauge were studied.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct GaugeStudied {
    /// The gauge's sheet.
    pub gauge: PinRecord,
    /// Number among what was written of the gauge.
    pub number: u32,
    /// Day.
    pub date: Date,
    /// Unit symbol of the readings.
    pub unit: String,
    /// What was measured.
    pub what: String,
    /// Who measured, in the order of the readings.
    pub people: Vec<PersonKey>,
    /// Readings by person, trial, part.
    pub readings: Vec<Vec<Vec<f64>>>,
    /// Share of the gauge in all spread by analysis of variance, percent.
    pub anova_pct: f64,
    /// The same by ranges; `None` where there is no factor for so many.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub range_pct: Option<f64>,
    /// Kinds of part that it tells apart; `None` for a gauge without spread.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub categories: Option<f64>,
    /// Verdict on the share by analysis of variance.
    pub outcome: Outcome,
    /// Methods.
    pub method: String,
    /// Remark.
    pub note: String,
}

/// What was written of a gauge under a number counts no more.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct GaugeStruck {
    /// Id of the gauge.
    pub gauge: String,
    /// Number of what counts no more.
    pub number: u32,
    /// Why.
    pub reason: String,
}
