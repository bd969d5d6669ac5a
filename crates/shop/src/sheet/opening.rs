//! What a tool model sheet says of opening and closing: from which side a part comes off, what is
//! checked once it is fitted, what is done before the first power-up.

use calc::decision::Limits;
use calc::units::Unit;

use super::{Caution, GaugeKind};

/// The side of the tool on which hands are when a part comes off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The nose end.
    Nose,
    /// The tail end.
    Tail,
    /// Beside the axis: through the shell, at the handle.
    Beside,
}

/// A gap, play or fit that is measured once a part is in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct FitCheck {
    /// Id, unique in the part.
    pub id: String,
    /// What is measured.
    pub what: String,
    /// Unit.
    pub unit: Unit,
    /// Limits.
    pub limits: Limits,
    /// Gauges that can take it; empty for any that fits the unit.
    pub gauges: Vec<GaugeKind>,
}

/// A step before the first power-up, when one of some parts was off: fill, bleed.
#[derive(Clone, Debug, PartialEq)]
pub struct AfterOpening {
    /// Id, unique in the sheet.
    pub id: String,
    /// The parts, by id: when one of them was off, the step is done.
    pub parts: Vec<String>,
    /// What is done.
    pub what: String,
    /// What it must show.
    pub shows: Shows,
    /// Hands-on minutes.
    pub minutes: f64,
    /// Lubricant or fluid that goes in, by id, with the amount.
    pub fills: Option<(String, String)>,
    /// Danger.
    pub caution: Option<Caution>,
}

/// What a step before the first power-up must show.
#[derive(Clone, Debug, PartialEq)]
pub enum Shows {
    /// Nothing: a tick is enough.
    Nothing,
    /// What passing looks like.
    Look(String),
    /// A number against limits.
    Reading {
        /// Unit.
        unit: Unit,
        /// Limits.
        limits: Limits,
        /// Gauges that can take it; empty for any that fits the unit.
        gauges: Vec<GaugeKind>,
    },
}
