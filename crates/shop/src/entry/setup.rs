//! Setting the tool up for a fastener.

use serde::{Deserialize, Serialize};

use super::{Outcome, PinRecord, Reading, StackRead};
use crate::trial::own::LeftOut;

/// Fastener and nose set that the tool is set up for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Fitted {
    /// Fastener family.
    pub fastener: PinRecord,
    /// Grip code; empty where the family has none.
    pub code: String,
    /// Nose set.
    pub nose_set: PinRecord,
    /// Collet length as measured, mm, against look-alikes.
    pub collet_mm: Option<Reading>,
    /// Make-safe ticks before hands went into the nose, by id.
    #[serde(default)]
    pub made_safe: Vec<String>,
    /// The stack that the code was chosen for or held against.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stack: Option<StackRead>,
}

/// Stick-out (or, for rivet nuts, the wanted stroke) and the setting that follows.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StickOutRead {
    /// Readings; empty where the setting is by stroke.
    pub readings: Vec<Reading>,
    /// Wanted stroke, mm, where the setting is by stroke.
    pub stroke_mm: Option<f64>,
    /// Mean stick-out, mm.
    pub mean_mm: Option<f64>,
    /// Its expanded uncertainty, mm.
    pub expanded_mm: Option<f64>,
    /// Turns from the sheet, exact; `None` when refused or at full stroke.
    pub turns: Option<f64>,
    /// Turns to set by hand.
    pub set_turns: Option<f64>,
    /// Expanded uncertainty of the turns.
    pub expanded_turns: Option<f64>,
    /// What the tool's own past set-ups say; `None` where it has none with this nose set and fastener.
    #[serde(default)]
    pub own: Option<OwnAdjuster>,
    /// Past set-ups that say nothing any more of this adjuster.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub past_left_out: usize,
    /// Of those, whose stick-out or stroke is not in the table, or the band, any more.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub past_not_in_table: usize,
    /// Of those, which lie further from the table than a tool can.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub past_odd: usize,
    /// Whether a setting follows; if not, the stick-out lies outside the code's band, or so near
    /// its end that the doubt reaches over it, or it contradicts the stack.
    pub in_band: bool,
    /// The stack under these pins, where it was entered with them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stack: Option<StackRead>,
    /// Whether the sheets were clamped tight while the pins were measured; false in older entries, which
    /// did not ask.
    #[serde(default)]
    pub clamped: bool,
    /// Method and version.
    pub method: String,
}

impl StickOutRead {
    /// The past set-ups that say nothing, and why.
    pub fn left_out(&self) -> LeftOut {
        let apart = self.past_not_in_table + self.past_odd;
        LeftOut {
            renewed: self.past_left_out.saturating_sub(apart),
            not_in_table: self.past_not_in_table,
            odd: self.past_odd,
        }
    }
}

// The signature that serde asks for.
#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_zero(count: &usize) -> bool {
    *count == 0
}

/// A past set-up of the tool, as a point of its own line.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct PastSetUp {
    /// How far from the table's turns its joints were set, on the mean.
    pub turns_off: f64,
    /// How far from the middle of the limits they read, on the mean, mm.
    pub value_off_mm: f64,
    /// How many joints it were.
    pub joints: usize,
}

/// The adjuster of this very tool, from its own past set-ups.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct OwnAdjuster {
    /// How far joints at the table's turns are expected from the middle of the limits, mm.
    pub offset_mm: f64,
    /// Its standard uncertainty, mm.
    pub offset_sd_mm: f64,
    /// Turns for the middle, exact.
    pub turns: f64,
    /// Turns to set by hand.
    pub set_turns: f64,
    /// Expanded uncertainty of the turns.
    pub expanded_turns: f64,
    /// The set-ups that it rests on.
    pub past: Vec<PastSetUp>,
    /// Method and version.
    pub method: String,
}

/// What the eye says of a trial joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Seen {
    /// Nothing wrong.
    Good,
    /// Too little formed.
    Under,
    /// Collar base cut or crushed.
    Cut,
    /// Lock grooves torn.
    LockGroovesTorn,
    /// Pull grooves torn or polished: the collet slipped.
    PullGroovesTorn,
    /// Leaning or lopsided.
    OffAxis,
    /// Sheets apart under the fastener.
    Gap,
    /// Collar scored.
    Marked,
    /// Pin parted low.
    BrokeLow,
    /// Stub stands proud.
    StubProud,
}

/// A criterion of the fastener sheet, read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct JointReading {
    /// Criterion id.
    pub criterion: String,
    /// Reading.
    pub reading: Reading,
    /// Verdict.
    pub outcome: Outcome,
}

/// A trial joint was set and read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct TrialJointRead {
    /// Turns that the adjuster stood at; `None` where it is not turned (full stroke, force).
    pub turns: Option<f64>,
    /// Pressure held at stall, bar, where the force ends the pull.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure_bar: Option<f64>,
    /// How it was read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure: Option<Reading>,
    /// Make-safe ticks before the adjuster was turned, by id; empty where it was left alone.
    #[serde(default)]
    pub made_safe: Vec<String>,
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

/// The setting stands.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SetUpSignedOff {
    /// Turns that the adjuster was locked at; `None` where it is not turned (full stroke, force).
    pub turns: Option<f64>,
    /// Pressure held at stall, bar, that made the good joints, where the force ends the pull.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure_bar: Option<f64>,
    /// Adjuster locked and paint-marked.
    pub locked: bool,
    /// Make-safe ticks before the adjuster was locked, by id; empty where there was none to lock.
    #[serde(default)]
    pub made_safe: Vec<String>,
    /// Why it stands without the joints in a row, or the probability, that the shop asks for.
    pub reason: String,
    /// Probability of a good joint at this setting; `None` where no criterion leads the trial loop.
    #[serde(default)]
    pub inside: Option<f64>,
    /// Method and version of that; empty without it.
    #[serde(default)]
    pub method: String,
}
