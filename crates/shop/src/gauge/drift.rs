//! How far a gauge moved between two calibrations: as left then, as found now.

use calc::interpolation;
use calc::units::Unit;

use crate::entry::{CalibrationPoint, GaugeCalibrated};

/// The largest change of the deviation from the calibration `before` to `points` as found, in `unit`; between the points
/// of the one before, straight from point to point. `None` where nothing was read as found that it reaches, or where the
/// one before was in a unit that does not convert.
pub(super) fn moved(
    before: &GaugeCalibrated,
    points: &[CalibrationPoint],
    unit: Unit,
) -> Option<f64> {
    let own = Unit::parse(&before.unit)?;
    let left = before.points.iter().map(|p| {
        let nominal = own.convert(p.nominal, unit)?;
        Some((nominal, own.convert(p.left, unit)?))
    });
    let left: Vec<(f64, f64)> = left.collect::<Option<_>>()?;
    let moved = points.iter().filter_map(|point| {
        let then = interpolation::linear(&left, point.nominal).ok()?.value;
        Some((point.found? - then).abs())
    });
    moved.reduce(f64::max)
}

/// What `before` says of its own drift, in `unit`; `None` where its unit does not convert.
pub(super) fn stated(before: &GaugeCalibrated, unit: Unit) -> Option<f64> {
    Unit::parse(&before.unit)?.convert(before.drift, unit)
}
