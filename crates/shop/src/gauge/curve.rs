//! A reading corrected by a calibration: the curve through its points, and the uncertainty that comes of it.

use calc::error::CalcError;
use calc::gauge_correction::{self, Corrected, Curve};
use calc::repeated::GaugeDoubt;
use calc::units::Unit;

use crate::entry::{CalibrationUsed, CurveShape, GaugeCalibrated};
use crate::sheet::Gauge;

impl CurveShape {
    /// As the reckoning takes it.
    pub fn curve(self) -> Curve {
        match self {
            Self::Points => Curve::Points,
            Self::Line => Curve::Fitted(1),
            Self::Parabola => Curve::Fitted(2),
        }
    }

    /// Fewest points: a curve of least squares keeps one to judge it by.
    pub fn least_points(self) -> usize {
        match self {
            Self::Points => 2,
            Self::Line => 3,
            Self::Parabola => 4,
        }
    }
}

impl GaugeCalibrated {
    /// What the gauge indicated at each point as left, and its deviation there, in `unit`.
    fn columns(&self, unit: Unit) -> Option<(Vec<f64>, Vec<f64>)> {
        let own = Unit::parse(&self.unit)?;
        let points = self.points.iter().map(|point| {
            let indicated = own.convert(point.nominal + point.left, unit)?;
            let nominal = own.convert(point.nominal, unit)?;
            Some((indicated, indicated - nominal))
        });
        let points: Option<Vec<(f64, f64)>> = points.collect();
        Some(points?.into_iter().unzip())
    }

    /// What the gauge showed at each point as left, in `unit`.
    pub(crate) fn shown(&self, unit: Unit) -> Option<Vec<f64>> {
        Some(self.columns(unit)?.0)
    }

    /// Largest expanded uncertainty of its points, k = 2, in its unit.
    pub fn widest(&self) -> f64 {
        let points = self.points.iter();
        points.map(|p| 2.0 * p.expanded / p.k).fold(0.0, f64::max)
    }

    /// Whether a curve goes through its points: else it corrects nothing that `gauge` indicates.
    pub fn has_curve(&self, gauge: &Gauge) -> bool {
        let point = self.points.first();
        let indicated = point.map(|point| point.nominal + point.left);
        let unit = Unit::parse(&self.unit);
        let corrected = unit.zip(indicated);
        corrected.is_some_and(|(unit, at)| self.correct(gauge, unit, &[at]).is_some())
    }

    /// `indicated` readings of one value by `gauge`, all in `unit`, corrected. `None` outside the points, where nothing
    /// is known of the gauge, and where the points give no curve.
    pub fn correct(&self, gauge: &Gauge, unit: Unit, indicated: &[f64]) -> Option<Corrected> {
        let own = Unit::parse(&self.unit)?;
        let (at, deviations) = self.columns(unit)?;
        let standard = |p: &crate::entry::CalibrationPoint| p.expanded / p.k;
        let certificate = self.points.iter().map(standard).fold(0.0, f64::max);
        let known = gauge_correction::Gauge {
            indicated: &at,
            deviations: &deviations,
            curve: self.shape.curve(),
            certificate: own.convert(certificate, unit)?,
            resolution: gauge.unit.convert(gauge.resolution, unit)?,
            drift: own.convert(self.drift, unit)?,
        };
        let found: Result<Corrected, CalcError> = gauge_correction::correct(&known, indicated);
        let all_inside = |_: &Corrected| {
            let low = at.iter().copied().fold(f64::INFINITY, f64::min);
            let high = at.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            // Converted to and fro, the end of the points may lie a rounding away.
            let slack = 1e-9 * (high - low);
            let inside = |x: &f64| (low - slack..=high + slack).contains(x);
            indicated.iter().all(inside)
        };
        found.ok().filter(all_inside)
    }

    /// What `gauge` indicated, in `unit`, where `value` is the truth: what [`Self::correct`] makes `value` of. Beyond the
    /// points by as much more as at the nearest. Deviations are small beside what is indicated, so that each round comes
    /// nearer by far.
    pub(crate) fn indicated(&self, gauge: &Gauge, unit: Unit, value: f64) -> f64 {
        let at = self.shown(unit).unwrap_or_default();
        let low = at.iter().copied().fold(f64::INFINITY, f64::min);
        let high = at.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let deviation = |indicated: f64| {
            let nearest = indicated.min(high).max(low);
            self.correct(gauge, unit, &[nearest])
                .map_or(0.0, |c| c.deviation)
        };
        (0..8).fold(value, |indicated, _| value + deviation(indicated))
    }

    /// What the calibration makes of one reading: the value, and what stands beside it in the record.
    pub(crate) fn used(&self, gauge: &Gauge, unit: Unit, indicated: f64) -> (f64, CalibrationUsed) {
        let corrected = self.correct(gauge, unit, &[indicated]);
        let used = CalibrationUsed {
            number: self.number,
            indicated,
            deviation: corrected.as_ref().map(|c| c.deviation),
        };
        (corrected.map_or(indicated, |c| c.value), used)
    }
}

/// What the gauge adds to the doubt of a corrected reading: curve, certificate and drift together.
pub fn doubt(corrected: &Corrected, resolution: f64) -> GaugeDoubt {
    // In the order of the budget: readings, curve, certificate, resolution, drift.
    let parts = &corrected.budget.contributions;
    let part = |at: usize| parts.get(at).copied().unwrap_or(0.0);
    let standard = part(1).hypot(part(2)).hypot(part(4));
    GaugeDoubt {
        expanded: 2.0 * standard,
        resolution,
    }
}
