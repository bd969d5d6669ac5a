//! Bench tests that recorded pulls to stall answer.

use calc::Message;
use calc::pull::reading::Setup;
use calc::repeated::Estimate;
use calc::units::Unit;

use super::bench_test::conclude;
use super::refusal::{Refusals, refuse};
use super::{Desk, Measured, TypedValue};
use crate::entry::{
    BenchTestRead, CalibrationUsed, FeatureRead, Phase, PinRecord, PullRead, Reading,
};
use crate::pulls::Behind;
use crate::sheet::{BenchTest, BenchTestKind, Feature, Kind, Rig};

/// What pulls give a bench test.
pub(super) struct OfTest<'a> {
    gauge: &'a str,
    feature: Feature,
    unit: Unit,
    values: Vec<f64>,
    /// The forces lie among the points of the cell's calibration, where there is one.
    among_points: bool,
    /// Standard uncertainty that a pull's number has besides its gauge's: zero, noise, filter.
    own: f64,
}

impl<'a> OfTest<'a> {
    /// `None` where the test asks for nothing that pulls have, for more of them, or for another kind of gauge. Pulls with
    /// a fault that spoils them give nothing.
    pub(super) fn of(
        test: &BenchTest,
        rig: &'a Rig,
        setup: &Setup,
        pulls: &[PullRead],
        desk: &Desk<'a>,
    ) -> Option<Self> {
        let feature = test.feature?;
        let BenchTestKind::Measured { count, .. } = &test.kind else {
            return None;
        };
        let unit = feature.unit()?;
        let (gauge, of_gauge) = match unit {
            Unit::Kilonewton => (&rig.load_cell, setup.force_u_kn),
            Unit::Millimetre => (&rig.stroke_sensor, setup.stroke_u_mm),
            _ => return None,
        };
        let sound = pulls.iter().filter(|pull| !pull.spoiled);
        let found =
            sound.filter_map(|pull| pull.features.iter().find(|f| f.feature == feature.key()));
        let found: Vec<&FeatureRead> = found.collect();
        let cell = Behind::now(&rig.load_cell, desk)?;
        let mut sound_pulls = pulls.iter().filter(|pull| !pull.spoiled);
        let among_points =
            cell.has_curve(Unit::Kilonewton) && sound_pulls.all(|pull| pull.beyond.is_empty());
        let widest = found.iter().map(|f| f.expanded / 2.0).fold(0.0, f64::max);
        let own = match feature {
            // A difference of two readings of the cell: what both have in common is not in it.
            Feature::HoldLoss => widest,
            _ => (widest * widest - of_gauge * of_gauge).max(0.0).sqrt(),
        };
        (found.len() >= *count).then(|| Self {
            gauge,
            feature,
            unit,
            values: found.iter().map(|f| f.value).collect(),
            among_points,
            own,
        })
    }

    pub(super) fn read(
        &self,
        test: &BenchTest,
        phase: Phase,
        desk: &Desk,
    ) -> Result<BenchTestRead, Refusals> {
        let (readings, mean) = match self.feature {
            Feature::HoldLoss => self.of_loss(desk),
            _ => self.of_gauge(test, desk)?,
        };
        let mean = mean.ok_or_else(|| vec![refuse("", Message::new("refuse-no-reading"))])?;
        conclude(test, phase, readings, mean, "")
    }

    /// Readings of the gauge, as it shows them with the zero of its calibration: that zero was taken off the pull with its
    /// own, so that the calibration makes the pull's number of them again and takes nothing off twice.
    fn of_gauge(
        &self,
        test: &BenchTest,
        desk: &Desk,
    ) -> Result<(Vec<Reading>, Option<Estimate>), Refusals> {
        let gauge = Behind::now(self.gauge, desk);
        let typed = |value: &f64| {
            let shown = gauge.map_or(*value, |gauge| gauge.indicated(self.unit, *value));
            TypedValue {
                field: "pull".to_owned(),
                raw: self.raw(shown),
                value: shown,
            }
        };
        let measured = Measured {
            gauge: self.gauge.to_owned(),
            gauge_field: "rig".to_owned(),
            values: self.values.iter().map(typed).collect(),
        };
        let kinds = match &test.kind {
            BenchTestKind::Measured { gauges, .. } => &gauges[..],
            BenchTestKind::Looked { .. } => &[],
        };
        let mut readings = desk.readings(&measured, self.unit, kinds)?;
        readings.iter_mut().for_each(|r| r.from_rest = true);
        let mean = desk.mean_of(&readings).map(|mean| Estimate {
            standard: mean.standard.hypot(self.own),
            expanded: mean.expanded.hypot(2.0 * self.own),
            ..mean
        });
        Ok((readings, mean))
    }

    /// A loss is no reading of the cell but the difference of two, both corrected already.
    fn of_loss(&self, desk: &Desk) -> (Vec<Reading>, Option<Estimate>) {
        let pin = desk.shelf.newest(Kind::Gauge, self.gauge);
        let gauge = pin.and_then(|pin| Some((desk.shelf.gauge(&pin)?, PinRecord::from(&pin))));
        let Some((gauge, pin)) = gauge else {
            return (Vec::new(), None);
        };
        let standing = desk.shelf.standing(gauge, desk.today, None);
        let readings = self.values.iter().map(|value| Reading {
            value: *value,
            unit: self.unit.symbol().to_owned(),
            raw: self.raw(*value),
            gauge: pin.clone(),
            expanded: Some(2.0 * self.own),
            in_date: standing.is_in_date(),
            // It falls with the calibration that corrected the two.
            calibration: standing.calibration.map(|calibration| CalibrationUsed {
                number: calibration.number,
                indicated: *value,
                deviation: None,
            }),
            way: None,
            difference: true,
            from_rest: false,
            beyond: !self.among_points,
        });
        let readings: Vec<Reading> = readings.collect();
        let mean = desk.mean_of(&readings);
        (readings, mean)
    }

    fn raw(&self, shown: f64) -> String {
        format!("{shown:.4} {}", self.unit.symbol())
    }
}
