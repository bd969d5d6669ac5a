//! What a gauge shows counted from rest, as of a recorded pull: the load cell's zero is taken off, the way begins at
//! home. A plain offset of the gauge is in neither.

use calc::pull::reading::Deviations;
use calc::units::Unit;

/// From what is shown, counted from rest, to the truth and back.
#[derive(Clone, Debug)]
pub(crate) enum FromRest {
    /// By a load cell: deviations from that at zero.
    Force(Deviations),
    /// By a displacement sensor: deviations as its calibration has them, and what it shows at home. Where home lay nobody
    /// noted: it is taken to lie at the sensor's zero.
    Way(Deviations, f64),
}

impl FromRest {
    /// By `deviations` as a calibration has them, in `unit`.
    pub(crate) fn new(deviations: Deviations, unit: Unit) -> Self {
        match unit {
            Unit::Kilonewton => Self::Force(deviations.from_zero()),
            _ => {
                let home = deviations.shown(0.0);
                Self::Way(deviations, home)
            }
        }
    }

    /// What is shown where `value` is the truth.
    pub(crate) fn shown(&self, value: f64) -> f64 {
        match self {
            Self::Force(deviations) => deviations.shown(value),
            Self::Way(deviations, home) => deviations.shown(value) - home,
        }
    }

    /// The truth where `shown` is shown.
    pub(crate) fn value(&self, shown: f64) -> f64 {
        match self {
            Self::Force(deviations) => shown - deviations.at(shown),
            Self::Way(deviations, home) => shown + home - deviations.at(shown + home),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_way_is_counted_from_home_there_and_back() {
        // 0.3 too much at 0 and 0.5 at 50 mm, straight between: 0.38 at 20.
        let deviations = Deviations::through(vec![(0.3, 0.3), (50.5, 0.5)]);
        let way = FromRest::new(deviations, Unit::Millimetre);
        assert!((way.shown(20.0) - 20.08).abs() < 1e-6);
        assert!((way.value(20.08) - 20.0).abs() < 1e-6);
    }
}
