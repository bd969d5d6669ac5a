//! The full pull of a tool: what a gauge stands under while it reads a mere difference at it.

use calc::units::Unit;

use super::{BenchTest, BenchTestKind, Feature, Gauge, ToolModel};

impl ToolModel {
    /// The most that the tool may pull, kN: its rating, or what the limits of its pull to stall allow, if that is more.
    pub fn full_pull_kn(&self) -> f64 {
        let pulls = self.bench_tests.iter();
        let pulls = pulls.filter(|test| test.feature == Some(Feature::Peak));
        let allowed = pulls.filter_map(|test| match &test.kind {
            BenchTestKind::Measured { unit, limits, .. } => {
                let most = limits.upper().or(limits.lower())?;
                unit.convert(most, Unit::Kilonewton)
            }
            BenchTestKind::Looked { .. } => None,
        });
        allowed.fold(self.rated_pull_kn, f64::max)
    }

    /// The force that the gauge of `test` stands under beside what is read, in the unit of the test: a loss in a hold is
    /// small, and read at the full pull. `None` where a gauge reads all that it stands under.
    pub fn force_behind(&self, test: &BenchTest) -> Option<f64> {
        match (&test.kind, test.feature) {
            (BenchTestKind::Measured { unit, .. }, Some(Feature::HoldLoss)) => {
                Unit::Kilonewton.convert(self.full_pull_kn(), *unit)
            }
            _ => None,
        }
    }
}

impl Gauge {
    /// Whether its range goes up to `value` in `unit`: what stands under more could break it, and whoever stands by.
    pub fn reaches(&self, value: f64, unit: Unit) -> bool {
        let most = self.unit.convert(self.range.1, unit);
        // Converted to and fro, the end of the range may lie a rounding away.
        most.is_some_and(|most| value <= most + 1e-9 * most.abs())
    }
}
