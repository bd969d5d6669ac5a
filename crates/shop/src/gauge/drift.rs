//! How far a gauge moved between two calibrations: as left then, as found now.

use calc::interpolation;

use crate::entry::{CalibrationPoint, GaugeCalibrated};

/// The largest change of the deviation from the calibration `before` to `points` as found, in the gauge's unit; between
/// the points of the one before, straight from point to point. `None` where nothing was read as found that it reaches.
pub(super) fn moved(before: &GaugeCalibrated, points: &[CalibrationPoint]) -> Option<f64> {
    let left = before.points.iter().map(|p| (p.nominal, p.left));
    let left: Vec<(f64, f64)> = left.collect();
    let moved = points.iter().filter_map(|point| {
        let then = interpolation::linear(&left, point.nominal).ok()?.value;
        Some((point.found? - then).abs())
    });
    moved.reduce(f64::max)
}
