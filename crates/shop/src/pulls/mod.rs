//! Recorded pulls: what a rig makes of a file, what a pull's numbers are held against, and which pulls are good
//! ones to compare with.

mod band;
mod judge;
mod numbers;

use calc::CalcError;
use calc::pull::reading::{Fastener, Filter, Reading, Setup};
use calc::repeated;
use calc::units::Unit;

use crate::entry::PinRecord;
use crate::job::Desk;
use crate::sheet::{Ending, FastenerFamily, FastenerKind, Gauge, Kind, Rig};

pub use band::{FEWEST, SHARE, accepted, band};
pub use judge::{Judged, judge_pull, limits_of, outcome_of};
pub use numbers::numbers;

/// One pull of a recording, as read.
#[derive(Clone, Debug, PartialEq)]
pub struct OnePull {
    /// Its number in the recording, from 1.
    pub number: u32,
    /// Line on which it begins.
    pub first_line: u64,
    /// Line on which it ends.
    pub last_line: u64,
    /// Whether something is wrong within it.
    pub doubtful: bool,
    /// What it says, or why it cannot be read.
    pub reading: Result<Reading, CalcError>,
}

/// How a fastener sets; to stall against the load cell without one.
pub fn sets(fastener: Option<&FastenerFamily>) -> Fastener {
    let Some(fastener) = fastener else {
        return Fastener::StopLockbolt;
    };
    match (fastener.kind, fastener.ending) {
        (FastenerKind::Lockbolt, Ending::Break) => Fastener::BreakLockbolt,
        (FastenerKind::Lockbolt, Ending::NonBreak) => Fastener::StopLockbolt,
        (FastenerKind::BlindRivet | FastenerKind::BlindBolt, _) => Fastener::BlindRivet,
        (FastenerKind::RivetNut, _) => Fastener::RivetNut,
    }
}

/// How pulls of `rig` are read: the uncertainties of its gauges come from their certificates; without a rig they
/// count as exact, and nothing is decided.
pub fn setup(rig: Option<&Rig>, fastener: Option<&FastenerFamily>, desk: &Desk) -> Setup {
    let alone = |id: &str, unit: Unit| {
        let pin = desk.shelf.newest(Kind::Gauge, id)?;
        let gauge = desk.shelf.gauge(&pin)?;
        standard(gauge, unit)
    };
    Setup {
        filter: rig.map_or(Filter::Usual, |rig| rig.filter),
        force_u_kn: rig
            .and_then(|rig| alone(&rig.load_cell, Unit::Kilonewton))
            .unwrap_or(0.0),
        stroke_u_mm: rig
            .and_then(|rig| alone(&rig.stroke_sensor, Unit::Millimetre))
            .unwrap_or(0.0),
        ..Setup::of(sets(fastener))
    }
}

/// Standard uncertainty of one reading of `gauge`, in `unit`.
fn standard(gauge: &Gauge, unit: Unit) -> Option<f64> {
    let one = repeated::mean(&[0.0], gauge.doubt()).ok()?;
    gauge.unit.convert(one.standard, unit)
}

/// The gauges of a rig in their newest revisions, with whether each is in date and reads up to what was pulled.
pub fn gauges_of<'a>(rig: &Rig, desk: &Desk<'a>) -> Vec<(PinRecord, &'a Gauge)> {
    let ids = [&rig.load_cell, &rig.stroke_sensor];
    let found = ids.into_iter().filter_map(|id| {
        let pin = desk.shelf.newest(Kind::Gauge, id)?;
        Some((PinRecord::from(&pin), desk.shelf.gauge(&pin)?))
    });
    found.collect()
}
