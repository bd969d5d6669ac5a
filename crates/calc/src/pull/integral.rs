//! The area under points joined by straight lines.
//!
//! # Formula
//! ∫ y dx = Σ (y_i + y_{i+1}) / 2 · (x_{i+1} − x_i). The spacing may be uneven; the same x twice is a step; where x goes back,
//! the area is taken away again.
//!
//! # Source
//! Trapezoid rule; Abramowitz & Stegun, 25.4.1 (from memory).

use crate::CalcError;
use crate::filters::sound;
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "trapezoid-integral",
    version: 1,
    source: "trapezoid rule, Abramowitz & Stegun, 25.4.1 (from memory)",
};

/// Refuses series of which no area can be taken.
pub(super) fn check(x: &[f64], y: &[f64]) -> Result<(), CalcError> {
    if x.len() < 2 {
        return Err(CalcError::TooFew {
            input: "x",
            have: x.len(),
            need: 2,
        });
    }
    if y.len() != x.len() {
        return Err(CalcError::Uneven {
            input: "y",
            have: y.len(),
            need: x.len(),
        });
    }
    sound("x", x)?;
    sound("y", y)
}

/// The area under `y` over `x`.
///
/// # Errors
/// Fewer than two points, columns of different length, a value that is not finite.
pub fn trapezoid(x: &[f64], y: &[f64]) -> Result<f64, CalcError> {
    check(x, y)?;
    Ok(area(x, y))
}

/// The area, where the points are known to be sound.
pub(super) fn area(x: &[f64], y: &[f64]) -> f64 {
    let pairs = x.windows(2).zip(y.windows(2));
    pairs
        .map(|(x, y)| (y[0] + y[1]) / 2.0 * (x[1] - x[0]))
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_step_by_hand() {
        let x = [0.0, 1.0, 1.5, 4.0, 4.0, 7.0];
        let y = [0.0, 2.0, 2.0, 6.0, 10.0, 10.0];
        assert_eq!(trapezoid(&x, &y), Ok(42.0));
    }

    #[test]
    fn refusals() {
        assert!(trapezoid(&[1.0], &[1.0]).is_err());
        assert!(trapezoid(&[1.0, 2.0], &[1.0]).is_err());
        assert!(trapezoid(&[1.0, f64::NAN], &[1.0, 1.0]).is_err());
    }

    proptest! {
        #[test]
        fn there_and_back_is_nothing(points in prop::collection::vec((-9.0..9.0f64, -9.0..9.0f64), 2..20)) {
            let there: Vec<_> = points.iter().chain(points.iter().rev()).collect();
            let x: Vec<f64> = there.iter().map(|p| p.0).collect();
            let y: Vec<f64> = there.iter().map(|p| p.1).collect();
            prop_assert!(trapezoid(&x, &y).expect("sound").abs() < 1e-9);
        }
    }
}
