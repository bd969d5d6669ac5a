//! Recorded pulls: what a rig makes of a file, what a pull's numbers are held against, and which pulls are good
//! ones to compare with.

mod band;
mod judge;
mod numbers;

use calc::CalcError;
use calc::gauge_correction::Corrected;
use calc::pull::reading::{Deviations, Fastener, Filter, Reading, Setup};
use calc::pull::recording;
use calc::repeated;
use calc::units::Unit;

use crate::entry::{GaugeCalibrated, PinRecord};
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
    let known = |id: &str, unit: Unit| {
        let gauge = desk.shelf.gauge_in_force(id)?;
        known(gauge, unit, desk)
    };
    let cell = rig.and_then(|rig| known(&rig.load_cell, Unit::Kilonewton));
    let sensor = rig.and_then(|rig| known(&rig.stroke_sensor, Unit::Millimetre));
    let (cell, sensor) = (cell.unwrap_or_default(), sensor.unwrap_or_default());
    Setup {
        filter: rig.map_or(Filter::Usual, |rig| rig.filter),
        force_u_kn: cell.standard,
        stroke_u_mm: sensor.standard,
        force_deviations: cell.deviations.from_zero(),
        stroke_deviations: sensor.deviations,
        ..Setup::of(sets(fastener))
    }
}

/// How the files of `rig` are read, with what its load cell bears.
pub fn recording_of(rig: &Rig, desk: &Desk) -> recording::Rig {
    let cell = desk.shelf.gauge_in_force(&rig.load_cell);
    recording::Rig {
        cell_bears_kn: cell.and_then(|g| g.unit.convert(g.range.1, Unit::Kilonewton)),
        ..rig.recording.clone()
    }
}

/// What is known of a gauge.
#[derive(Default)]
struct Known {
    /// Standard uncertainty of one reading.
    standard: f64,
    /// What it shows too much.
    deviations: Deviations,
}

/// What is known of `gauge`, in `unit`: by its calibration on the record, else by its sheet.
fn known(gauge: &Gauge, unit: Unit, desk: &Desk) -> Option<Known> {
    let standing = desk.shelf.standing(gauge, desk.today, None);
    let Some(calibration) = standing.calibration else {
        let one = repeated::mean(&[0.0], gauge.doubt()).ok()?;
        return Some(Known {
            standard: gauge.unit.convert(one.standard, unit)?,
            ..Known::default()
        });
    };
    let points = corrected(calibration, gauge, unit)?;
    let standard = points.iter().map(|(_, c)| c.budget.standard);
    Some(Known {
        standard: standard.fold(0.0, f64::max),
        deviations: through(&points),
    })
}

/// What `gauge` shows at each point of `calibration`, in `unit`, and what that is corrected to.
fn corrected(
    calibration: &GaugeCalibrated,
    gauge: &Gauge,
    unit: Unit,
) -> Option<Vec<(f64, Corrected)>> {
    let shown = calibration.shown(unit)?.into_iter();
    let at = |shown: f64| Some((shown, calibration.correct(gauge, unit, &[shown])?));
    shown.map(at).collect()
}

fn through(points: &[(f64, Corrected)]) -> Deviations {
    Deviations::through(points.iter().map(|(s, c)| (*s, c.deviation)).collect())
}

/// What `gauge` of a rig showed, in `unit`, where a pull that `calibration` corrected says `value`.
pub(crate) fn shown(
    calibration: &GaugeCalibrated,
    gauge: &Gauge,
    unit: Unit,
    value: f64,
) -> Option<f64> {
    let taken_off = through(&corrected(calibration, gauge, unit)?);
    Some(match unit {
        Unit::Kilonewton => taken_off.from_zero().shown(value),
        _ => taken_off.shown(value),
    })
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
