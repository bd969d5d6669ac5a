//! Recorded pulls that count.

use serde::{Deserialize, Serialize};

use super::{Outcome, Phase, PinRecord};

/// Pulls of a recording were looked at and taken as evidence. The recording itself is a file of the job; everything
/// that is not kept here is read from it again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PullsRead {
    /// As found or as left.
    pub phase: Phase,
    /// SHA-256 of the recording, as attached to the job.
    pub sha256: String,
    /// Its name.
    pub name: String,
    /// The rig that it was read by; `None` where the file's headings alone decided.
    pub rig: Option<PinRecord>,
    /// What was pulled; `None` for a pull to stall against the load cell.
    pub fastener: Option<PinRecord>,
    /// The rig's load cell and displacement sensor, in this order; empty without a rig.
    pub gauges: Vec<PinRecord>,
    /// The calibrations on the record that corrected it, by gauge; empty where the sheets alone spoke.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub calibrations: Vec<PullsCorrected>,
    /// Ids of the gauges whose calibration gives no curve through its points: nothing was taken off, and nothing is decided.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub no_curve: Vec<String>,
    /// Whether the calibration of both held that day. Without a rig nobody knows: `false`.
    pub in_date: bool,
    /// Pulls found in the recording.
    pub found: u32,
    /// Faults named in it, which whoever took the pulls saw.
    pub faults: u32,
    /// The pulls that count.
    pub pulls: Vec<PullRead>,
    /// The band of good pulls that they were held against.
    pub band: Option<BandUsed>,
    /// The worst verdict of all; `None` where there was nothing to hold them against.
    pub outcome: Option<Outcome>,
    /// Methods and versions that gave the numbers and verdicts.
    pub methods: Vec<String>,
    /// Remark.
    pub note: String,
}

impl PullsRead {
    /// Number of the calibration on the record that corrected what gauge `id` showed; `None` where its sheet alone spoke.
    pub fn corrected_by(&self, id: &str) -> Option<u32> {
        let used = self.calibrations.iter().find(|used| used.gauge == id);
        used.map(|used| used.number)
    }
}

/// A calibration that corrected recorded pulls.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PullsCorrected {
    /// Id of the gauge.
    pub gauge: String,
    /// Number of the calibration at that gauge.
    pub number: u32,
}

/// One pull.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PullRead {
    /// Its number in the recording, from 1.
    pub number: u32,
    /// Line on which it begins.
    pub first_line: u64,
    /// Line on which it ends.
    pub last_line: u64,
    /// The numbers that verdicts rest on, and peak and stroke.
    pub features: Vec<FeatureRead>,
    /// Whether it is like the good ones; `None` where there were too few of them.
    pub like: Option<Outcome>,
    /// A fault in its recording lets its numbers decide nothing.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub spoiled: bool,
    /// Ids of the gauges that it went beyond: outside the points of their calibration, or their range. Its numbers decide
    /// nothing. Older records lack them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub beyond: Vec<String>,
}

/// A number of a pull.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FeatureRead {
    /// Key of the feature, as in sheets.
    pub feature: String,
    /// Value, in the feature's unit.
    pub value: f64,
    /// Expanded uncertainty, k = 2.
    pub expanded: f64,
    /// Lower limit it was held against.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lower: Option<f64>,
    /// Upper limit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub upper: Option<f64>,
    /// Verdict; `None` without limits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outcome: Option<Outcome>,
}

/// A band of good pulls.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BandUsed {
    /// Pulls that it was made of.
    pub pulls: u32,
    /// Share of good pulls that lie wholly inside, about.
    pub share: f64,
    /// Recordings that they stand in, by SHA-256.
    pub recordings: Vec<String>,
    /// Whether what the gauges are wrong by counted, because another calibration corrected some of them. Older records held
    /// every pull against them as if it dropped out.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub counts_gauges: bool,
}
