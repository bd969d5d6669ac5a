//! The drawing of recorded pulls as it stands on a certificate.

use calc::pull::reading;
use serde::{Deserialize, Serialize};

/// Recorded pulls that stand on a certificate.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PullsDrawn {
    /// Version of the entry by which they count.
    pub entry: u32,
    /// Their drawing; `None` where the recording was lost before.
    pub drawing: Option<PullDrawing>,
}

/// Force over stroke, kept as drawn: a later program may read the same recording otherwise. Strokes in µm from home,
/// forces in N: whole numbers come back as they were written.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct PullDrawing {
    /// The pulls.
    pub curves: Vec<CurveDrawn>,
    /// Phases of the first pull that counts.
    pub phases: Vec<PhaseDrawn>,
    /// Slips of every pull.
    pub slips: Vec<SlipDrawn>,
    /// The band of good pulls: stroke, lowest and highest good force; empty where there was none.
    pub band: Vec<(i32, i32, i32)>,
}

/// One pull.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct CurveDrawn {
    /// Its number in the recording.
    pub pull: u32,
    /// How it counts.
    pub counts: PullCounts,
    /// Stroke and force.
    pub points: Vec<(i32, i32)>,
}

/// How a pull counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PullCounts {
    /// It counts.
    Counts,
    /// It counts, and is rejected.
    Rejected,
    /// It does not count.
    LeftOut,
}

/// A phase along the stroke.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PhaseDrawn {
    /// Which.
    pub phase: PullPhase,
    /// Stroke at its begin.
    pub from_um: i32,
    /// Stroke at its end.
    pub to_um: i32,
}

/// A slip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SlipDrawn {
    /// Number of the pull.
    pub pull: u32,
    /// Stroke at which the force fell.
    pub stroke_um: i32,
    /// Force there.
    pub force_n: i32,
    /// By how much it fell.
    pub drop_n: i32,
}

/// A phase of a pull, as kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PullPhase {
    /// The jaws bite, play goes out.
    TakeUp,
    /// Sheets close, the fastener stretches.
    PullUp,
    /// The collar is swaged, the body bulbs, the wall buckles.
    Form,
    /// The joint is clamped, up to break or stop.
    Clamp,
    /// The nose is pushed off the collar on the way back.
    Eject,
}

impl From<reading::Phase> for PullPhase {
    fn from(phase: reading::Phase) -> Self {
        match phase {
            reading::Phase::TakeUp => Self::TakeUp,
            reading::Phase::PullUp => Self::PullUp,
            reading::Phase::Form => Self::Form,
            reading::Phase::Clamp => Self::Clamp,
            reading::Phase::Eject => Self::Eject,
        }
    }
}

impl From<PullPhase> for reading::Phase {
    fn from(phase: PullPhase) -> Self {
        match phase {
            PullPhase::TakeUp => Self::TakeUp,
            PullPhase::PullUp => Self::PullUp,
            PullPhase::Form => Self::Form,
            PullPhase::Clamp => Self::Clamp,
            PullPhase::Eject => Self::Eject,
        }
    }
}
