//! Good pulls to compare with.

use calc::pull::envelope::Envelope;
use calc::pull::reading::Reading;

use crate::entry::{Outcome, Phase, PullsRead};
use crate::job::{Job, Stamped};
use crate::sheet::Rig;

/// Good pulls below which no band is made.
pub const FEWEST: usize = 10;

/// Share of good pulls that the band is to hold (common practice, no source).
pub const SHARE: f64 = 0.95;

/// The recordings of `job` whose pulls are good ones of `fastener`: as left, not rejected, on a tool whose proof was signed
/// off and that went back; those alone that the gauges of `rig` recorded, so that what these are wrong by drops out.
pub fn accepted<'a>(
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

/// The band of `readings`; `None` where they are too few, or one of them never got beyond its take-up.
pub fn band(readings: &[&Reading]) -> Option<Envelope> {
    if readings.len() < FEWEST {
        return None;
    }
    Envelope::of(readings, SHARE).ok()
}
