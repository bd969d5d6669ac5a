//! Readings as recorded: value, unit, instrument, and whether that was in date.

use calc::decision::Verdict;
use serde::{Deserialize, Serialize};

use super::WrenchWay;
use crate::sheet::Pin;

/// A sheet revision as recorded.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PinRecord {
    /// Sheet id.
    pub id: String,
    /// Revision number.
    pub revision: u32,
}

impl From<&Pin> for PinRecord {
    fn from(pin: &Pin) -> Self {
        Self {
            id: pin.id.clone(),
            revision: pin.revision,
        }
    }
}

impl From<&PinRecord> for Pin {
    fn from(pin: &PinRecord) -> Self {
        Self {
            id: pin.id.clone(),
            revision: pin.revision,
        }
    }
}

/// The calibration that stood behind a reading.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct CalibrationUsed {
    /// Its number at the gauge.
    pub number: u32,
    /// What the gauge indicated, in the reading's unit.
    pub indicated: f64,
    /// Indicated less true by the calibration, taken off; `None` where the reading lies outside its points,
    /// so that nothing is known of the gauge there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub deviation: Option<f64>,
}

/// One measured value.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// Value in `unit`; corrected where a calibration was used.
    pub value: f64,
    /// Unit symbol.
    pub unit: String,
    /// What was typed or sent by the gauge, unchanged.
    pub raw: String,
    /// The gauge that took it.
    pub gauge: PinRecord,
    /// Expanded uncertainty of this reading alone, in `unit`, as it was reckoned then. Older records
    /// lack it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub expanded: Option<f64>,
    /// Whether the gauge's calibration held that day. If not, the value is kept and is not
    /// evidence.
    pub in_date: bool,
    /// The calibration on the record; `None` where only the sheet spoke for the gauge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub calibration: Option<CalibrationUsed>,
    /// Direction in which a torque wrench was turned; `None` for what does not turn, and in older records.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub way: Option<WrenchWay>,
    /// Whether it is the difference of two readings: an offset common to both is not in it, so nothing is taken off, and
    /// its doubt is that of two. Of a recorded pull each of the two was corrected before.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub difference: bool,
    /// Whether it is of a recorded pull, whose zero was taken off at rest: `indicated` is what the gauge shows with the zero of
    /// its calibration. Older records lack it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub from_rest: bool,
    /// Of a difference: whether one of its two readings lay outside the points of the gauge's calibration. Older records
    /// call the gauge of such a one out of date.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub beyond: bool,
}

impl Reading {
    /// Whether it lies outside the points of the gauge's calibration. Where the two readings of a difference lay is known
    /// of a recorded pull only.
    pub fn is_beyond(&self) -> bool {
        let uncorrected = |used: CalibrationUsed| used.deviation.is_none();
        match self.difference {
            true => self.beyond,
            false => self.calibration.is_some_and(uncorrected),
        }
    }

    /// Whether a verdict may rest on it: the gauge in date, the reading among the points of its calibration.
    pub fn is_evidence(&self) -> bool {
        self.in_date && !self.is_beyond()
    }

    /// What the gauge indicated.
    pub fn indicated(&self) -> f64 {
        self.calibration.map_or(self.value, |used| used.indicated)
    }
}

/// A verdict as recorded, with the method that gave it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// Inside the limits beyond doubt.
    Accept,
    /// The limit lies inside the doubt, or the reading is not evidence.
    Undecided,
    /// Outside the limits beyond doubt.
    Reject,
}

impl From<Verdict> for Outcome {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Accept => Self::Accept,
            Verdict::Undecided => Self::Undecided,
            Verdict::Reject => Self::Reject,
        }
    }
}

impl From<Outcome> for Verdict {
    fn from(outcome: Outcome) -> Self {
        match outcome {
            Outcome::Accept => Self::Accept,
            Outcome::Undecided => Self::Undecided,
            Outcome::Reject => Self::Reject,
        }
    }
}
