//! What is known of a gauge of a rig: by the calibration that its pulls are read by, else by its sheet.

use calc::gauge_correction::Corrected;
use calc::pull::reading::Deviations;
use calc::repeated;
use calc::units::Unit;

use crate::entry::{GaugeCalibrated, PullsRead};
use crate::job::Desk;
use crate::sheet::{Gauge, Pin, Shelf};

/// A share of a sensor's way about its zero that counts as its zero. Common practice, no source.
const AT_ZERO: f64 = 0.01;

/// A gauge behind recorded pulls.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Behind<'a> {
    pub(crate) gauge: &'a Gauge,
    /// The calibration on the record; `None` where its sheet alone speaks.
    pub(crate) calibration: Option<&'a GaugeCalibrated>,
}

/// What is known of it.
#[derive(Debug, Default)]
pub(crate) struct Known {
    /// Standard uncertainty of one reading.
    pub(crate) standard: f64,
    /// What it shows too much, as its calibration has it.
    pub(crate) deviations: Deviations,
}

impl<'a> Behind<'a> {
    /// The gauge `id` as it stands on the day of `desk`.
    pub(crate) fn now(id: &str, desk: &Desk<'a>) -> Option<Self> {
        let gauge = desk.shelf.gauge_in_force(id)?;
        Some(Self {
            gauge,
            calibration: desk.shelf.standing(gauge, desk.today, None).calibration,
        })
    }

    /// The gauge `id` as it stood behind `read`: in the revision and by the calibration that it names, also one that was
    /// struck since. Where that revision no longer reads, the one in force says what the gauge is.
    pub(crate) fn again(read: &PullsRead, id: &str, shelf: &'a Shelf) -> Option<Self> {
        let pin = read.gauges.iter().find(|pin| pin.id == id);
        let pinned = pin.and_then(|pin| shelf.gauge(&Pin::from(pin)));
        let used = read.corrected_by(id);
        Some(Self {
            gauge: pinned.or_else(|| shelf.gauge_in_force(id))?,
            calibration: used.and_then(|number| shelf.gauge_history(id)?.calibration(number)),
        })
    }

    /// What is known of it, in `unit`; `None` where the points of its calibration give no curve.
    pub(crate) fn known(&self, unit: Unit) -> Option<Known> {
        let Some(calibration) = self.calibration else {
            let one = repeated::mean(&[0.0], self.gauge.doubt()).ok()?;
            return Some(Known {
                standard: self.gauge.unit.convert(one.standard, unit)?,
                ..Known::default()
            });
        };
        let points = corrected(calibration, self.gauge, unit)?;
        let standard = points.iter().map(|(_, c)| c.budget.standard);
        let points = points.iter().map(|(shown, c)| (*shown, c.deviation));
        Some(Known {
            standard: standard.fold(0.0, f64::max),
            deviations: Deviations::through(points.collect()),
        })
    }

    /// The same to read pulls by. Without a curve nothing is taken off and nothing is decided; how far the gauge was off at
    /// its points counts as doubt, so that it never looks exact.
    pub(super) fn known_or_doubtful(&self, unit: Unit) -> Known {
        self.known(unit).unwrap_or_else(|| Known {
            standard: self.doubtful(unit),
            ..Known::default()
        })
    }

    fn doubtful(&self, unit: Unit) -> f64 {
        let own = self.gauge.unit;
        let sheet = own.convert(self.gauge.expanded / 2.0, unit);
        let points = self.calibration.and_then(|calibration| {
            let off = calibration.points.iter().map(|p| p.left.abs());
            let off = off.fold(0.0, f64::max).hypot(calibration.widest() / 2.0);
            Unit::parse(&calibration.unit)?.convert(off, unit)
        });
        sheet.unwrap_or(0.0).hypot(points.unwrap_or(0.0))
    }

    /// Whether what it shows can be corrected: by its sheet alone nothing needs to be.
    pub(crate) fn has_curve(&self, unit: Unit) -> bool {
        self.known(unit).is_some()
    }

    /// What it shows, in `unit`, where `value` is the truth and its zero is that of its calibration: what the calibration
    /// corrects to `value` again.
    pub(crate) fn indicated(&self, unit: Unit, value: f64) -> f64 {
        match self.calibration {
            Some(calibration) => calibration.indicated(self.gauge, unit, value),
            None => value,
        }
    }

    /// Whether its calibration has points on both sides of where `value` is the truth.
    pub(crate) fn has_points_about(&self, unit: Unit, value: f64) -> bool {
        self.ends(unit).is_none_or(|(first, last)| {
            // Converted to and fro, a point may lie a rounding away.
            let near = 1e-9 * last.abs();
            (first - near..=last + near).contains(&self.indicated(unit, value))
        })
    }

    /// The same of a place on the sensor of a way: it was set to zero before it was calibrated, so zero is one of its
    /// points, and what stands there may waver by a little.
    pub(crate) fn has_way_to(&self, unit: Unit, value: f64) -> bool {
        self.ends(unit).is_none_or(|(first, last)| {
            let least = first.min(-AT_ZERO * last.abs());
            (least..=last + 1e-9 * last.abs()).contains(&self.indicated(unit, value))
        })
    }

    /// What it shows at the first and the last point of its calibration; `None` where its sheet alone speaks.
    fn ends(&self, unit: Unit) -> Option<(f64, f64)> {
        let shown = self.calibration?.shown(unit);
        let ends = |(first, last): (f64, f64), at: f64| (first.min(at), last.max(at));
        let shown = shown.into_iter().flatten();
        Some(shown.fold((f64::INFINITY, f64::NEG_INFINITY), ends))
    }

    /// Whether its range goes up to `shown`.
    pub(crate) fn reads_to(&self, unit: Unit, shown: f64) -> bool {
        let most = self.gauge.unit.convert(self.gauge.range.1, unit);
        most.is_some_and(|most| shown <= most)
    }
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
