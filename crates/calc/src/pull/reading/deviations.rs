//! What a gauge shows too much, taken off each sample.

/// A point of this share of the largest or less is one at rest: a certificate's least load is far more. Common practice,
/// no source.
const AT_REST: f64 = 0.01;

/// By what a gauge shows too much at what it shows: straight between the points, beyond them as at the nearest.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Deviations {
    /// What it shows, and by how much that is too much, in the order of the first.
    points: Vec<(f64, f64)>,
}

impl Deviations {
    /// Through points of what is shown and the deviation there; none: the gauge is exact.
    pub fn through(mut points: Vec<(f64, f64)>) -> Self {
        points.retain(|p| p.0.is_finite() && p.1.is_finite());
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        Self { points }
    }

    /// The same for what is shown less what was shown at rest, which was taken off before: of each point's deviation
    /// only what it has beyond that at rest is left. Where the points do not reach down to rest, the gauge was zeroed
    /// before it was calibrated, and rest is a point without deviation.
    ///
    /// Uncertainty: a deviation from rest is the difference of two of the certificate. Its uncertainty is taken as
    /// common to its points ([`crate::gauge_correction`]): what is common can only drop out of a difference, so the largest
    /// of all points, that at rest among them, still covers it, and that at rest added again would count twice.
    #[must_use]
    pub fn from_zero(mut self) -> Self {
        if let Some(at_rest) = self.at_rest() {
            for (shown, deviation) in &mut self.points {
                *shown -= at_rest;
                *deviation -= at_rest;
            }
        } else if self.points.first().is_some_and(|p| p.0 > 0.0) {
            self.points.insert(0, (0.0, 0.0));
        }
        self
    }

    /// What is shown where nothing pulls; `None` where the points do not reach down to it. A curve may miss the point
    /// at rest by a little.
    fn at_rest(&self) -> Option<f64> {
        let values = || self.points.iter().map(|p| p.0 - p.1);
        let (least, most) = (
            values().fold(f64::INFINITY, f64::min),
            values().fold(f64::NEG_INFINITY, f64::max),
        );
        let near = AT_REST * least.abs().max(most.abs());
        (least <= near && most >= -near).then(|| self.shown(0.0))
    }

    /// Whether nothing is taken off.
    pub fn is_exact(&self) -> bool {
        self.points.is_empty()
    }

    /// The most that is shown at a point; `None` without points.
    pub fn most(&self) -> Option<f64> {
        self.points.last().map(|p| p.0)
    }

    /// The deviation where `shown` is shown.
    pub fn at(&self, shown: f64) -> f64 {
        let above = self.points.partition_point(|p| p.0 < shown);
        let (Some(low), Some(high)) = (
            self.points.get(above.wrapping_sub(1)).copied(),
            self.points.get(above).copied(),
        ) else {
            let nearest = if above == 0 {
                self.points.first()
            } else {
                self.points.last()
            };
            return nearest.map_or(0.0, |p| p.1);
        };
        let share = (shown - low.0) / (high.0 - low.0);
        low.1 + share * (high.1 - low.1)
    }

    /// What is shown where `value` is the truth: what [`Self::correct`] makes `value` of. Deviations are small beside
    /// what is shown, so that each round comes nearer by far.
    pub fn shown(&self, value: f64) -> f64 {
        (0..8).fold(value, |shown, _| value + self.at(shown))
    }

    /// `shown` with what is too much taken off.
    pub fn correct(&self, shown: &mut [f64]) {
        if self.is_exact() {
            return;
        }
        for value in shown {
            *value -= self.at(*value);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn straight_between_the_points_and_level_beyond() {
        let cell = Deviations::through(vec![(30.0, 0.4), (10.0, 0.2)]);
        for (shown, by) in [
            (10.0, 0.2),
            (20.0, 0.3),
            (30.0, 0.4),
            (0.0, 0.2),
            (45.0, 0.4),
        ] {
            assert!((cell.at(shown) - by).abs() < 1e-12, "{shown}");
        }
        let tared = cell.from_zero();
        for (shown, by) in [(5.0, 0.1), (10.0, 0.2), (-3.0, 0.0)] {
            assert!((tared.at(shown) - by).abs() < 1e-12, "{shown}");
        }
        assert_eq!(Deviations::default().at(7.0), 0.0);
        // Put back, it is what was shown: between the points, at them, beyond them.
        for shown in [5.0, 10.0, 20.5, 30.0, 44.0] {
            let back = tared.shown(shown - tared.at(shown));
            assert!((back - shown).abs() < 1e-12, "{shown}: {back}");
        }
        let mut values = [20.3];
        tared.correct(&mut values);
        assert!((values[0] - 19.997).abs() < 1e-9);
        assert!((tared.shown(values[0]) - 20.3).abs() < 1e-9);
    }
    /// What a pull of `truth` is corrected to where the zero was taken off at rest.
    fn tared(cell: &Deviations, truth: f64) -> f64 {
        let mut value = [cell.shown(truth) - cell.shown(0.0)];
        cell.clone().from_zero().correct(&mut value);
        value[0]
    }

    #[test]
    fn a_zero_that_was_taken_off_is_not_taken_off_again() {
        // 0.3 too much everywhere, also at rest: certificate points 0, 10, 50.
        let offset = Deviations::through(vec![(0.3, 0.3), (10.3, 0.3), (50.3, 0.3)]);
        let mut shown = [10.3 - 0.3];
        offset.clone().from_zero().correct(&mut shown);
        assert!((shown[0] - 10.0).abs() < 1e-12, "{shown:?}");
        // By hand: 50.8 is shown at 50, 50.5 from rest, so the deviation from rest is 0.5 there.
        let cell = Deviations::through(vec![(0.3, 0.3), (10.2, 0.2), (50.8, 0.8)]);
        let from_rest = cell.clone().from_zero();
        for (shown, by) in [(50.5, 0.5), (9.9, -0.1), (0.0, 0.0), (-1.0, 0.0)] {
            assert!((from_rest.at(shown) - by).abs() < 1e-12, "{shown}");
        }
        assert_eq!(from_rest.most(), Some(50.8 - 0.3));
        for truth in [0.0, 4.0, 10.0, 37.0, 50.0] {
            assert!((tared(&cell, truth) - truth).abs() < 1e-9, "{truth}");
            assert!((tared(&offset, truth) - truth).abs() < 1e-9, "{truth}");
        }
        // Shown too little at rest.
        let low = Deviations::through(vec![(-0.3, -0.3), (10.0, 0.0), (50.4, 0.4)]);
        assert!((tared(&low, 25.0) - 25.0).abs() < 1e-9);
    }

    #[test]
    fn rest_may_lie_between_points_and_off_the_curve_and_need_not_be_there() {
        // Pushed and pulled: 0.1 at rest by the line between.
        let both = Deviations::through(vec![(-9.9, 0.1), (10.1, 0.1), (50.5, 0.5)]);
        assert!((tared(&both, 30.0) - 30.0).abs() < 1e-6);
        assert_eq!(both.clone().from_zero().points.len(), 3);
        // A curve of least squares says 0.28 where 0.3 was read at rest.
        let curve = Deviations::through(vec![(0.3, 0.28), (10.3, 0.3), (50.3, 0.38)]);
        let from_rest = curve.from_zero();
        assert!(from_rest.at(0.0).abs() < 1e-12);
        assert!((from_rest.at(50.3 - 0.28) - 0.1).abs() < 1e-12);
        // Zeroed before it was calibrated from 10 on: nothing to take off.
        let zeroed = Deviations::through(vec![(10.2, 0.2), (50.4, 0.4)]).from_zero();
        assert!((zeroed.at(10.2) - 0.2).abs() < 1e-12 && (zeroed.at(5.1) - 0.1).abs() < 1e-12);
        assert_eq!(Deviations::default().from_zero(), Deviations::default());
    }
}
