//! What a gauge shows too much, taken off each sample.

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

    /// The same with the zero that was taken off as a point: nothing is shown too much there.
    #[must_use]
    pub fn from_zero(mut self) -> Self {
        if self.points.first().is_some_and(|p| p.0 > 0.0) {
            self.points.insert(0, (0.0, 0.0));
        }
        self
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
}
