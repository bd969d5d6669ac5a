//! What stands on a document: plain strings and numbers, filled in by the caller.
//!
//! Names, dates and prices come formatted. Readings come as numbers with their limits, so that
//! the paper shows the same [`GaugeBar`](crate::GaugeBar) as the screen. An empty string or list
//! leaves its place on the paper out.

mod attached;
mod card;
mod care;
mod certificate;
mod claim;
mod gauge_failure;
mod label;
mod note;
mod quote;
mod report;
mod result;
mod serial;
mod setting;
mod suspect;
mod validation;
mod working;

use serde::Serialize;
use words::Term;

pub use attached::{AttachedFile, AttachedPhoto};
pub use card::{JointLimit, SetupCard};
pub use care::{CareCaution, CareLubricant, CareSheet, CareTask, LubricantUse};
pub use certificate::{Certificate, Replaces};
pub use claim::{Claim, ClaimLine};
pub use gauge_failure::{GaugeFailure, JobTouched, Touched};
pub use label::Label;
pub use note::ReturnNote;
pub use quote::{Quote, QuoteLine, QuoteOption};
pub use report::{
    Answer, Change, Check, Cover, Dates, Found, PartRenewed, Price, PriceLine, PullsPrinted,
    ServiceReport, Test, Torque, Unrepaired, Warranty, Wear,
};
pub use result::{
    FoundJoint, Instrument, Joint, JointReading, Looked, Reading, TestResult, TrialJoint,
};
pub use setting::{Adjustment, FastenerChoice, NoseChoice, PressureToSet, Setting, StickOut};
pub use suspect::{BadFinding, Inspect, SetUpFor, SuspectNotice};
pub use validation::{ValidationLine, ValidationReport, ValidationSource};
pub use working::{WorkingGiven, WorkingStep, WorkingView};

/// The shop that issues the document.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Shop {
    /// Name.
    pub name: String,
    /// Address, telephone: one line each.
    pub place: Vec<String>,
}

/// The tool.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Tool {
    /// Model as the trade calls it.
    pub model: String,
    /// Serial.
    pub serial: String,
    /// Drive and rated pull in words.
    pub kind: String,
    /// What must be taken away from it before hands go near.
    #[serde(serialize_with = "serial::term")]
    pub energy: Energy,
    /// Pull counter as read; empty if it has none.
    pub counter: String,
}

/// What moves a tool, and so what makes it safe.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Energy {
    /// A battery pack.
    Battery,
    /// Compressed air.
    Air,
    /// A hydraulic pump.
    Pump,
}

impl Term for Energy {
    fn id(self) -> &'static str {
        match self {
            Self::Battery => "paper-make-safe-battery",
            Self::Air => "paper-make-safe-air",
            Self::Pump => "paper-make-safe-pump",
        }
    }
}

/// Where the record stood when the document was issued.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct RecordHead {
    /// Sequence number of the last entry.
    pub sequence: u64,
    /// Its hash, hexadecimal, whole.
    pub hash: String,
}

/// The day of issue, for the file's own data.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Day {
    /// Year.
    pub year: i32,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month.
    pub day: u8,
}
