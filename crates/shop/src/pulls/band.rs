//! Good pulls to compare with.

use std::f64::consts::SQRT_2;

use calc::pull::envelope::Envelope;
use calc::pull::reading::{Reading, Setup};
use jiff::Timestamp;
use jiff::civil::Date;

use super::KnownBy;
use crate::entry::{Outcome, Phase, PullRead, PullsRead};
use crate::job::{Job, Stamped};
use crate::sheet::{Rig, Shelf};

/// Good pulls below which no band is made.
pub const FEWEST: usize = 10;

/// Share of good pulls that the band is to hold (common practice, no source).
pub const SHARE: f64 = 0.95;

/// A band of good pulls, and what it was made of.
#[derive(Clone, Debug, PartialEq)]
pub struct Good {
    /// The band.
    pub band: Envelope,
    /// The recordings that the pulls stand in.
    pub recordings: Vec<GoodRecording>,
}

/// A recording of good pulls.
#[derive(Clone, Debug, PartialEq)]
pub struct GoodRecording {
    /// The file, by SHA-256.
    pub sha256: String,
    /// By what the gauges behind it were known, load cell first.
    pub known_by: Vec<KnownBy>,
}

impl Good {
    /// Whether something else was known of the gauges behind one of its recordings than `known_by`: what they were wrong by
    /// does not drop out then.
    pub fn counts_gauges(&self, known_by: &[KnownBy]) -> bool {
        self.recordings.iter().any(|r| r.known_by != known_by)
    }
}

/// `setup` beside a band. Where what the gauges are wrong by does not drop out (`counts_gauges`), it is in the pull and in
/// the good ones, here as much as there: the doubt is that of a difference.
pub fn beside(setup: &Setup, counts_gauges: bool) -> Setup {
    let own = setup.among_its_own();
    match counts_gauges {
        false => own,
        true => Setup {
            force_u_share: SQRT_2 * setup.force_u_share,
            force_u_kn: SQRT_2 * setup.force_u_kn,
            stroke_u_mm: SQRT_2 * setup.stroke_u_mm,
            ..own
        },
    }
}

/// The recordings of `job` that can be held beside pulls of `fastener`: as left, on a tool whose proof was signed off and that
/// went back; those alone that the gauges of `rig` recorded.
pub fn comparable<'a>(
    job: &'a Job,
    fastener: &'a str,
    rig: &'a Rig,
) -> impl Iterator<Item = &'a Stamped<PullsRead>> {
    let proved = job.proof.is_some() && job.returned.is_some();
    let of_it = move |read: &&Stamped<PullsRead>| {
        let read = &read.body;
        proved
            && read.phase == Phase::AsLeft
            && read.outcome != Some(Outcome::Reject)
            && !read.pulls.iter().any(|pull| pull.spoiled)
            && read.fastener.as_ref().is_some_and(|f| f.id == fastener)
            && read
                .gauges
                .iter()
                .map(|pin| &pin.id)
                .eq([&rig.load_cell, &rig.stroke_sensor])
    };
    job.pulls.iter().filter(of_it)
}

/// Those of [`comparable`] that are good ones: every number inside its limits, by gauges in date that nothing on `shelf`
/// throws doubt on. `day_of` gives the day of an entry.
pub fn accepted<'a>(
    job: &'a Job,
    fastener: &'a str,
    rig: &'a Rig,
    shelf: &'a Shelf,
    day_of: impl Fn(Timestamp) -> Date + 'a,
) -> impl Iterator<Item = &'a Stamped<PullsRead>> {
    let good = move |read: &&Stamped<PullsRead>| {
        let body = &read.body;
        body.in_date
            && body.pulls.iter().all(is_inside)
            && shelf.doubted_pulls(body, day_of(read.at)).is_empty()
    };
    comparable(job, fastener, rig).filter(good)
}

/// Whether every number that has limits is inside them beyond doubt. One that is undecided beside the band stays: without
/// those, each band would be narrower than the one before.
fn is_inside(pull: &PullRead) -> bool {
    let mut judged = pull.features.iter().filter_map(|f| f.outcome);
    judged.all(|outcome| outcome == Outcome::Accept)
}

/// The band of `readings`; `None` where they are too few, or one of them never got beyond its take-up.
pub fn band(readings: &[&Reading]) -> Option<Envelope> {
    if readings.len() < FEWEST {
        return None;
    }
    Envelope::of(readings, SHARE).ok()
}
