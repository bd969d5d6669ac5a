//! A gauge that was found outside its limits, and everything that it touched.

use calc::decision::Verdict;
use serde::Serialize;

use super::{Day, RecordHead, Shop, serial};

/// What a gauge touched since it was last known good.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GaugeFailure {
    /// Who issues it.
    pub shop: Shop,
    /// The gauge's name.
    pub gauge: String,
    /// Kind, range and unit.
    pub kind: String,
    /// What found it: calibration or check, with its day.
    pub found_by: String,
    /// Certificate or reference that it was held against.
    pub against: String,
    /// What it was found to be off: a row for each point with nominal or set, found, allowed.
    pub points: Vec<[String; 3]>,
    /// Since when readings are in doubt, as printed.
    pub good: String,
    /// Until when, as printed; that it goes on where nothing has put it right.
    pub again: String,
    /// The jobs, newest first.
    pub jobs: Vec<JobTouched>,
    /// Day of issue as printed.
    pub issued_on: String,
    /// Where the record stood: later jobs are not on it.
    pub record: RecordHead,
    /// Day of issue.
    #[serde(skip)]
    pub issued: Day,
}

/// A job with readings in doubt.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct JobTouched {
    /// Number.
    pub number: String,
    /// Model and serial of the tool.
    pub tool: String,
    /// Its owner.
    pub customer: String,
    /// Where the tool is now: here, or gone back.
    pub place: String,
    /// Certificates in force that rest on these readings.
    pub certificates: Vec<String>,
    /// The readings, oldest first.
    pub readings: Vec<Touched>,
}

/// Readings of one entry.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Touched {
    /// When and by whom, as printed.
    pub when: String,
    /// What was read for.
    pub what: String,
    /// What was read.
    pub read: String,
    /// The verdict that stands; `None` where none was given.
    #[serde(serialize_with = "serial::maybe_term")]
    pub verdict: Option<Verdict>,
    /// Whether that verdict would still stand, as reckoned; `None` where it is left for the hand.
    pub reckoned: Option<bool>,
}
