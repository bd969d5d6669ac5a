//! What a tool is set up for, and how.

use calc::screw_stop::{Effect, Rotation, View, Zero};
use serde::Serialize;

use super::serial;

/// The fastener that the tool is set up for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FastenerChoice {
    /// Family.
    pub family: String,
    /// Grip code; empty where the family has none.
    pub code: String,
}

/// The nose set that is on the tool.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct NoseChoice {
    /// Nose set.
    pub set: String,
    /// Number of the collet or jaws.
    pub collet: String,
    /// What it is easily taken for, and what happens then; empty if nothing is.
    pub look_alike: String,
}

/// Stick-out: what the code asks for and what was measured.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct StickOut {
    /// Band, with unit.
    pub band: String,
    /// Mean with uncertainty and unit.
    pub measured: String,
    /// How it was measured: readings, gauge, due date.
    pub how: String,
}

/// The setting of the stroke.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Setting {
    /// The adjuster stands at so many turns.
    Turns(Adjustment),
    /// The adjuster stands fully open: the fastener parts its own tail.
    FullStroke,
    /// The adjuster stands fully open: the pressure ends the pull.
    Force,
}

/// The pressure that is set for the fastener.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PressureToSet {
    /// Where and how it is measured.
    pub what: String,
    /// Value with unit.
    pub value: String,
    /// Limits that it has to keep.
    pub limits: String,
}

/// Turns of the adjuster. Number, sense, effect, reference and view are never told apart.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Adjustment {
    /// Turns to set.
    #[serde(serialize_with = "serial::turns")]
    pub turns: f64,
    /// Where the exact answer lies with about 95 %, such as "6.3 to 6.7"; empty if not known.
    pub interval: String,
    /// Probability of a good joint by the trial joints, such as "99.85 %"; empty if not known.
    pub inside: String,
    /// The sense of turning away from the reference.
    #[serde(serialize_with = "serial::term")]
    pub rotation: Rotation,
    /// What that does.
    #[serde(serialize_with = "serial::term")]
    pub effect: Effect,
    /// Where turns are counted from.
    #[serde(serialize_with = "serial::term")]
    pub reference: Zero,
    /// From where the adjuster is looked at.
    #[serde(serialize_with = "serial::term")]
    pub view: View,
    /// The effect of the last move, against backlash.
    #[serde(serialize_with = "serial::maybe_term")]
    pub approach: Option<Effect>,
    /// The key that turns it; empty if none.
    pub key: String,
}
