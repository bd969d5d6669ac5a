//! What crews send from the work place, and what the bench makes of it. Subject: the inbox of one tool.

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::{Outcome, PinRecord, Seen};

/// A crew set joints with a tool and read them. It counts for nothing until it is accepted; joints that
/// were reported bad count for nothing ever.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CrewJointsSent {
    /// The tool whose link it came over.
    pub tool: Uuid,
    /// Model sheet.
    pub model: PinRecord,
    /// Fastener family.
    pub fastener: PinRecord,
    /// Grip code; empty where the family has none.
    pub code: String,
    /// Nose set.
    pub nose_set: PinRecord,
    /// Turns that the adjuster stood at; `None` where none is turned, or of bad joints nobody read it.
    pub turns: Option<f64>,
    /// What the crew was given for its stick-out; `None` where nothing was.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub given: Option<GivenTurns>,
    /// Mean stick-out of its pins, or the wanted stroke, mm; `None` where nothing was measured: then nobody
    /// knows how far from the table the adjuster stood.
    #[serde(default)]
    pub measured_mm: Option<f64>,
    /// Joints in the order in which they were set; may be empty where they are bad.
    pub joints: Vec<CrewJoint>,
    /// Reported as not good.
    #[serde(default)]
    pub bad: bool,
    /// What the eye says of the bad one; `None` where the joints are good.
    #[serde(default)]
    pub seen: Option<Seen>,
    /// Method and version of the verdicts.
    pub method: String,
    /// Remark.
    pub note: String,
}

/// A setting as a crew was given it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct GivenTurns {
    /// Turns to set by hand.
    pub turns: f64,
    /// Their expanded uncertainty.
    pub expanded: f64,
}

/// A joint that a crew set and read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CrewJoint {
    /// Measured criteria.
    pub readings: Vec<CrewReading>,
}

/// A criterion of the fastener sheet as a crew read it, with a gauge of which nobody knows the
/// certificate.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CrewReading {
    /// Criterion id.
    pub criterion: String,
    /// Value in `unit`.
    pub value: f64,
    /// Unit symbol.
    pub unit: String,
    /// What was typed, unchanged.
    pub raw: String,
    /// Expanded uncertainty that was assumed, in `unit`; `None` where nobody can say.
    pub expanded: Option<f64>,
    /// Verdict.
    pub outcome: Outcome,
}

/// A crew's joints were accepted at the bench: they count as evidence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CrewJointsAccepted {
    /// Version of the entry that is accepted.
    pub version: u32,
    /// Remark.
    pub note: String,
}

/// A crew's joints were declined at the bench: they stay readable and count for nothing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CrewJointsDeclined {
    /// Version of the entry that is declined.
    pub version: u32,
    /// Why.
    pub reason: String,
}

/// The links of a tool's cards were renewed: those printed before open nothing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CrewLinksRenewed {
    /// The tool.
    pub tool: Uuid,
    /// Why.
    pub reason: String,
}
