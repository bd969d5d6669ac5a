//! Recorded pulls: what a rig makes of a file, what a pull's numbers are held against, and which pulls are good
//! ones to compare with.

mod band;
mod behind;
mod from_rest;
mod judge;
mod known_by;
mod numbers;

use calc::CalcError;
use calc::pull::reading::{Fastener, Filter, Reading, Setup};
use calc::pull::recording;
use calc::units::Unit;

use crate::entry::{PinRecord, PullsRead};
use crate::job::Desk;
use crate::sheet::{Ending, FastenerFamily, FastenerKind, Gauge, Kind, Pin, Rig, Shelf};

pub use band::{FEWEST, Good, GoodRecording, SHARE, accepted, band, beside, comparable};
pub(crate) use behind::Behind;
pub(crate) use from_rest::FromRest;
pub use judge::{Judged, PRINTED, judge_pull, limits_of, outcome_of};
pub use known_by::{KnownBy, known_by, known_now};
pub use numbers::{budget, numbers};

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
    /// Whether that lets its numbers decide nothing.
    pub spoiled: bool,
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

/// How pulls of `rig` are read on the day of `desk`. A calibration on the record corrects what its gauges show and gives
/// their uncertainty, else their sheets do; without a rig they count as exact, and nothing is decided.
pub fn setup(rig: Option<&Rig>, fastener: Option<&FastenerFamily>, desk: &Desk) -> Setup {
    setup_with(rig, fastener, |id| Behind::now(id, desk))
}

/// How the pulls of `read` were read: by the sheets and the calibrations that it names, whatever was written of them since.
pub fn setup_again(read: &PullsRead, shelf: &Shelf) -> Setup {
    let fastener = read.fastener.as_ref().map(Pin::from);
    let fastener = fastener.as_ref().and_then(|pin| shelf.fastener(pin));
    setup_with(rig_of(read, shelf), fastener, |id| {
        Behind::again(read, id, shelf)
    })
}

fn setup_with<'a>(
    rig: Option<&Rig>,
    fastener: Option<&FastenerFamily>,
    behind: impl Fn(&str) -> Option<Behind<'a>>,
) -> Setup {
    let known = |id: &str, unit: Unit| behind(id).map(|behind| behind.known_or_doubtful(unit));
    let cell = rig.and_then(|rig| known(&rig.load_cell, Unit::Kilonewton));
    let sensor = rig.and_then(|rig| known(&rig.stroke_sensor, Unit::Millimetre));
    let (cell, sensor) = (cell.unwrap_or_default(), sensor.unwrap_or_default());
    Setup {
        filter: rig.map_or(Filter::Usual, |rig| rig.filter),
        force_u_kn: cell.standard,
        stroke_u_mm: sensor.standard,
        force_deviations: cell.deviations.from_zero(),
        // Taken off before home is, so that what it shows too much at home drops out.
        stroke_deviations: sensor.deviations,
        ..Setup::of(sets(fastener))
    }
}

/// How the files of `rig` are read, with what its load cell bears.
pub fn recording_of(rig: &Rig, desk: &Desk) -> recording::Rig {
    recording_with(rig, desk.shelf.gauge_in_force(&rig.load_cell))
}

/// How the file of `read` was read, by the sheets that it names.
pub fn recording_again(read: &PullsRead, shelf: &Shelf) -> recording::Rig {
    let rig = rig_of(read, shelf);
    let again = |rig: &Rig| {
        let cell = Behind::again(read, &rig.load_cell, shelf);
        recording_with(rig, cell.map(|cell| cell.gauge))
    };
    rig.map(again).unwrap_or_default()
}

fn recording_with(rig: &Rig, cell: Option<&Gauge>) -> recording::Rig {
    recording::Rig {
        cell_bears_kn: cell.and_then(|g| g.unit.convert(g.range.1, Unit::Kilonewton)),
        ..rig.recording.clone()
    }
}

fn rig_of<'a>(read: &PullsRead, shelf: &'a Shelf) -> Option<&'a Rig> {
    shelf.rig(&Pin::from(read.rig.as_ref()?))
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
