//! The energy of a recorded pull.
//!
//! # Formula
//! W = ∫ F ds by trapezoids, kN · mm = J. Beside it Simpson's rule, parabolas through three points each: where the two
//! differ by much, the points lie too far apart. Fullness c = W / (F_max · s).
//!
//! # Validity
//! Stroke that goes on; Simpson's rule only where every stroke exceeds the one before.
//!
//! # Source
//! Definition of work; Simpson's rule on uneven spacing, last interval after Cartwright (2017) as in
//! `scipy.integrate.simpson` (from memory).

use crate::Message;
use crate::error::CalcError;
use crate::working::{Method, Working};

use super::integral::{area, check};

/// This method.
pub const METHOD: Method = Method {
    name: "pull-energy",
    version: 1,
    source: "definition of work; trapezoid and Simpson's rules",
};

/// Energies, J.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Energy {
    /// Of the whole.
    pub energy_j: f64,
    /// Up to half of the stroke.
    pub to_half_stroke_j: f64,
    /// Of the whole by Simpson's rule.
    pub simpson_j: Option<f64>,
}

/// The energy of a pull.
///
/// # Errors
/// Fewer than two points, columns of different length, a value that is not finite.
pub fn energy(stroke_mm: &[f64], force_kn: &[f64]) -> Result<Energy, CalcError> {
    let renamed = |error| match error {
        CalcError::TooFew { have, need, .. } => CalcError::TooFew {
            input: "s",
            have,
            need,
        },
        CalcError::Uneven { have, need, .. } => CalcError::Uneven {
            input: "F",
            have,
            need,
        },
        other => other,
    };
    check(stroke_mm, force_kn).map_err(renamed)?;
    let (first, last) = (stroke_mm[0], stroke_mm[stroke_mm.len() - 1]);
    Ok(Energy {
        energy_j: area(stroke_mm, force_kn),
        to_half_stroke_j: area_to(stroke_mm, force_kn, first + (last - first) / 2.0),
        simpson_j: simpson(stroke_mm, force_kn),
    })
}

/// The area up to the first place where the stroke reaches `end`.
fn area_to(x: &[f64], y: &[f64], end: f64) -> f64 {
    let mut sum = 0.0;
    for (x, y) in x.windows(2).zip(y.windows(2)) {
        if x[1] >= end && x[1] > x[0] {
            let share = ((end - x[0]) / (x[1] - x[0])).max(0.0);
            let there = y[0] + (y[1] - y[0]) * share;
            return sum + (y[0] + there) / 2.0 * (end - x[0]);
        }
        sum += (y[0] + y[1]) / 2.0 * (x[1] - x[0]);
    }
    sum
}

/// Parabolas through three points each; of an odd number of intervals the last by the last three points.
fn simpson(x: &[f64], y: &[f64]) -> Option<f64> {
    let goes_on = x.windows(2).all(|x| x[1] > x[0]);
    if x.len() < 3 || !goes_on {
        return None;
    }
    let pairs = (x.len() - 1) / 2;
    let mut sum = 0.0;
    for i in (0..pairs).map(|i| 2 * i) {
        let (h, k) = (x[i + 1] - x[i], x[i + 2] - x[i + 1]);
        sum += (h + k) / 6.0
            * ((2.0 - k / h) * y[i]
                + (h + k) * (h + k) / (h * k) * y[i + 1]
                + (2.0 - h / k) * y[i + 2]);
    }
    if x.len().is_multiple_of(2) {
        let n = x.len() - 1;
        let (h, k) = (x[n - 1] - x[n - 2], x[n] - x[n - 1]);
        sum += y[n] * (2.0 * k * k + 3.0 * h * k) / (6.0 * (h + k))
            + y[n - 1] * (k * k + 3.0 * h * k) / (6.0 * h)
            - y[n - 2] * k * k * k / (6.0 * h * (h + k));
    }
    // Intervals of very different length can blow the weights up beyond numbers.
    sum.is_finite().then_some(sum)
}

/// From the ends of the curve to its energy; `None` where there is none.
pub fn working(stroke_mm: &[f64], force_kn: &[f64]) -> Option<Working> {
    let found = energy(stroke_mm, force_kn).ok()?;
    let stroke = stroke_mm[stroke_mm.len() - 1] - stroke_mm[0];
    let peak = force_kn.iter().copied().fold(f64::MIN, f64::max);
    let sheet = Working::new(METHOD)
        .given("F_max", Message::new("given-peak"), peak, 2, "kN")
        .given("s", Message::new("given-stroke-length"), stroke, 2, "mm")
        .step("W", "∫ F ds", found.energy_j, 1, "J");
    let fullness = found.energy_j / (peak * stroke);
    Some(match fullness.is_finite() {
        true => sheet.step("c", "W / (F_max · s)", fullness, 2, ""),
        false => sheet,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_triangle_by_hand() {
        // 10 kN at 4 mm, rising evenly: 20 J, of which a quarter in the first half.
        let stroke = [0.0, 1.0, 2.0, 3.0, 4.0];
        let force = [0.0, 2.5, 5.0, 7.5, 10.0];
        let found = energy(&stroke, &force).expect("a curve");
        assert_eq!((found.energy_j, found.to_half_stroke_j), (20.0, 5.0));
        assert!((found.simpson_j.expect("goes on") - 20.0).abs() < 1e-12);
        let sheet = working(&stroke, &force).expect("a curve");
        assert_eq!(sheet.steps[1].value, "0.50");
    }

    #[test]
    fn refusals() {
        assert!(energy(&[0.0], &[1.0]).is_err());
        assert!(energy(&[0.0, 1.0], &[1.0]).is_err());
        assert!(energy(&[0.0, f64::INFINITY], &[1.0, 1.0]).is_err());
        let stands = energy(&[0.0, 0.0, 1.0], &[1.0, 1.0, 1.0]).expect("a curve");
        assert_eq!(stands.simpson_j, None);
    }

    proptest! {
        #[test]
        fn a_parabola_is_exact(steps in prop::collection::vec(0.1..2.0f64, 2..12), c in -2.0..2.0f64) {
            let mut x = vec![0.0];
            for step in &steps { x.push(x[x.len() - 1] + step); }
            let y: Vec<f64> = x.iter().map(|x| 1.0 + c * x * x).collect();
            let end = x[x.len() - 1];
            let wanted = end + c * end.powi(3) / 3.0;
            let found = energy(&x, &y).expect("a curve").simpson_j.expect("goes on");
            prop_assert!((found - wanted).abs() < 1e-8 * (1.0 + wanted.abs()));
        }
    }
}
