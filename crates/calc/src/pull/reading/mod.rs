//! What a recorded pull says: its phases, and numbers with their uncertainty.
//!
//! # Formula
//! Zero and drift: the straight line through the rests before and after. Phases: the force over the stroke, in bins and without
//! the stroke lost to slipping, is cut into straight pieces by exact dynamic programming, each with the sign of
//! slope that the fastener's phase has; then all bends are laid by least squares (a line with free bends), whose
//! covariance gives their uncertainty. Slips: falls of the mean over a short window against the window before, far
//! beyond the noise, after which the force comes back. Peak: the largest filtered force, less what noise alone lifts the
//! largest of so many; the release load likewise, of means over 4 ms. Uncertainty of an energy: what is common to all of
//! its samples (the force gauge's share, the zero) adds up along the stroke before it is combined with the ends' and the noise's.
//! A sudden end, a break or a tool that turns at once, came somewhere between the last sample under load and the next: stroke,
//! energy and force are taken up to the middle of that step, a rectangle over it in their uncertainty. Zero and drift
//! carry the noise of both rests, and what a rest does not stand by; a hold's loss carries the drift's. Of a difference of forces in one
//! pull, such as the size of a slip or a tooth of stick-slip, the zero drops out; the gauge brings as much of its uncertainty as the
//! difference is of the peak. Slips, and teeth a mm, are counts: no uncertainty is reckoned for them.
//!
//! # Validity
//! One pull from rest to rest, at least 24 samples under load. Phases of break-tail and stop-set lockbolts, blind rivets and
//! rivet nuts. Uncertainties are standard ones; gauges' own are given by the caller.
//!
//! # Source
//! Cuts: Bellman, Comm. ACM 4 (1961) 284; free bends: Muggeo, Statistics in Medicine 22 (2003) 3055; largest of normal values: Blom
//! 1958, (n − 0.375)/(n + 0.25) (all from memory). Rectangle over what lies between samples: JCGM 100:2008, 4.3.7; inputs that hang
//! together: 5.2.2. That a gauge's deviation runs straight from rest to the peak: common practice, no source.
//! Phases and their order: common practice, no source.

mod deviations;
mod energies;
mod features;
mod hold;
mod known;
mod peak;
mod phases;
mod pieces;
mod prepare;
mod slips;
mod stick_slip;
mod working;

pub use deviations::Deviations;
pub use features::Features;
pub use hold::Hold;
pub use known::Number;
pub use prepare::{Filter, Told};
pub use slips::Slip;
pub use working::working;

use known::Known;

use crate::CalcError;
use crate::working::Method;

use super::recording::RecordedPull;

/// This method.
pub const METHOD: Method = Method {
    name: "pull-reading",
    version: 6,
    source: "segmentation by dynamic programming (Bellman 1961) and least squares with free bends (Muggeo 2003), from memory; phases: common practice, no source",
};

/// How a fastener sets: which phases its pull has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fastener {
    /// A lockbolt whose tail breaks off.
    BreakLockbolt,
    /// A lockbolt set by stroke or force, without a break.
    StopLockbolt,
    /// A blind rivet or blind bolt: the mandrel parts.
    BlindRivet,
    /// A rivet nut, set by stroke or force.
    RivetNut,
}

impl Fastener {
    /// Whether a whole pull ends with a break.
    pub fn breaks(self) -> bool {
        matches!(self, Self::BreakLockbolt | Self::BlindRivet)
    }

    /// Whether the form begins with a rise (a collar climbed) or a fall (a wall that gives way).
    fn form_rises(self) -> bool {
        matches!(self, Self::BreakLockbolt | Self::StopLockbolt)
    }
}

/// A phase of a pull.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Phase {
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

/// A number with its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Value {
    /// The number.
    pub value: f64,
    /// Its standard uncertainty, same unit.
    pub u: f64,
}

impl Value {
    /// Its expanded uncertainty, k = 2.
    pub fn expanded(&self) -> f64 {
        2.0 * self.u
    }
}

/// A phase as found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// Which.
    pub phase: Phase,
    /// Stroke from home at which it begins, mm.
    pub begin_mm: Value,
    /// Stroke from home at which it ends, mm; for the eject on the way back.
    pub end_mm: Value,
    /// Travel in it, mm, without what slipped.
    pub travel_mm: Value,
    /// Energy, J.
    pub energy_j: Value,
}

/// How a pull ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ending {
    /// The force was gone at once.
    Break,
    /// The force went as the tool let go.
    Stop,
    /// The recording ends under load.
    Unknown,
}

/// What the reader is told.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    /// The fastener.
    pub fastener: Fastener,
    /// The filter; what it is stands in the result.
    pub filter: Filter,
    /// Standard uncertainty of the force, share of the reading.
    pub force_u_share: f64,
    /// Standard uncertainty of the force, kN, besides.
    pub force_u_kn: f64,
    /// Standard uncertainty of the stroke, mm.
    pub stroke_u_mm: f64,
    /// What the load cell shows too much, kN, by its calibration; its zero is taken off at rest.
    pub force_deviations: Deviations,
    /// What the displacement sensor shows too much, mm.
    pub stroke_deviations: Deviations,
}

impl Setup {
    /// For a fastener, with the usual filter, as if the gauges were exact.
    pub fn of(fastener: Fastener) -> Self {
        Self {
            fastener,
            filter: Filter::Usual,
            force_u_share: 0.0,
            force_u_kn: 0.0,
            stroke_u_mm: 0.0,
            force_deviations: Deviations::default(),
            stroke_deviations: Deviations::default(),
        }
    }

    /// As beside pulls that the same gauges recorded: what a gauge is wrong by is the same in all of them, and drops
    /// out.
    #[must_use]
    pub fn among_its_own(&self) -> Self {
        Self {
            force_u_share: 0.0,
            force_u_kn: 0.0,
            stroke_u_mm: 0.0,
            ..self.clone()
        }
    }

    /// Standard uncertainty that the gauge brings to a difference of forces, kN, in a pull of `peak_kn`: its zero is taken off at
    /// rest, so what it is wrong by runs from nothing there to its whole at the peak, and straight between.
    pub(super) fn force_difference_u(&self, difference_kn: f64, peak_kn: f64) -> f64 {
        self.of_difference(Known::new(difference_kn), peak_kn).u()
    }

    /// The same as components of a difference.
    fn of_difference(&self, known: Known, peak_kn: f64) -> Known {
        let size = known.value.abs();
        let share = size / peak_kn.max(size).max(1e-9);
        known
            .by("part-pull-gauge-share", (self.force_u_share, ""), size)
            .by("part-pull-gauge-force", (self.force_u_kn, "kN"), share)
    }

    /// Standard uncertainty of a force read, kN, from the gauge and from what else adds.
    pub(super) fn force_u(&self, force_kn: f64, other: f64) -> f64 {
        let share = self.force_u_share * force_kn;
        (share * share + self.force_u_kn * self.force_u_kn + other * other).sqrt()
    }
}

/// A force-stroke curve: the force over evenly spaced stroke from home, zero and drift off, each point the mean of the unfiltered
/// samples about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Distance of neighbouring points, mm.
    pub step_mm: f64,
    /// Mean force about each point, kN; the first is half a step from home. Where no sample lies the line between its
    /// neighbours.
    pub force_kn: Vec<f64>,
}

/// A pull as read.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// What was done to the force before anything was read from it.
    pub told: Told,
    /// How it ended.
    pub ending: Ending,
    /// Its phases, in order. The last but the eject may be unfinished.
    pub phases: Vec<Found>,
    /// Where the jaws slipped.
    pub slips: Vec<Slip>,
    /// Numbers.
    pub features: Features,
    /// The loading curve, slips and all.
    pub course: Course,
}

/// Reads a pull.
///
/// # Errors
/// Fewer than 24 samples under load, columns of different length, a value that is not finite, no force, a filter
/// that the sampling rate does not allow.
pub fn read_pull(pull: &RecordedPull, setup: &Setup) -> Result<Reading, CalcError> {
    let ready = prepare::prepare(pull, setup)?;
    let mut slips = slips::find(&ready);
    let (course, bins) = pieces::bins(&ready, &slips);
    let fitted = pieces::fit(&bins, setup.fastener, ready.peak.kn.value);
    let phases = phases::phases(&ready, &bins, &fitted, &slips, setup);
    let features = features::features(&ready, &bins, &fitted, &phases, &slips, setup);
    for drop in slips.iter_mut().map(|slip| &mut slip.drop_kn) {
        let gauge = setup.force_difference_u(drop.value, ready.peak.kn.value);
        drop.u = drop.u.hypot(gauge);
    }
    Ok(Reading {
        told: ready.told,
        ending: ready.ending,
        phases,
        slips,
        features,
        course,
    })
}
