//! Quantiles of Student's t distribution.
//!
//! # Source
//! Bisection on the distribution function of `cdflib`; check values: JCGM 100:2008 Table G.2.

use crate::bisection::{bisect, bisect_above_zero};
use crate::error::{CalcError, within};
use cdflib::StudentsT;
use cdflib::traits::ContinuousCdf;

/// Beyond so many degrees of freedom the normal value is reached to six digits.
pub const MANY_DOF: f64 = 1e6;

/// The two-sided factor t such that |T| ≤ t with probability `level` for `dof` degrees of freedom.
///
/// # Errors
/// `dof` below 1 or `level` outside 0 to 1 (both ends excluded).
pub fn coverage_factor(level: f64, dof: f64) -> Result<f64, CalcError> {
    let level = within("p", level, f64::MIN_POSITIVE, 1.0 - f64::EPSILON)?;
    let dof = if dof > MANY_DOF { MANY_DOF } else { dof };
    let dof = within("ν", dof, 1.0, MANY_DOF)?;
    let t = StudentsT::new(dof);
    let target = f64::midpoint(1.0, level);
    let is_below = |x| t.cdf(x) < target;
    let mut high = 1.0;
    while is_below(high) {
        high *= 2.0;
    }
    Ok(bisect(0.0, high, is_below))
}

/// The value t above 0 with T > t of probability `tail`, below 0.5, for `dof` degrees of freedom. Keeps its
/// digits where `tail` is small.
///
/// # Errors
/// `dof` below 1 or above [`MANY_DOF`], or `tail` outside 0 to 0.5 (both ends excluded).
pub fn upper_quantile(tail: f64, dof: f64) -> Result<f64, CalcError> {
    let tail = within("p", tail, 1e-300, 0.5 - f64::EPSILON)?;
    let dof = within("ν", dof, 1.0, MANY_DOF)?;
    let t = StudentsT::new(dof);
    bisect_above_zero(|x| t.ccdf(x) > tail).ok_or(CalcError::NotFinite { input: "t" })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_tails_match_scipy() {
        // scipy 1.17.1 stats.t.isf.
        for (tail, dof, t) in [
            (0.05, 10.0, 1.812_461_122_811_676),
            (1e-10, 5.0, 156.825_592_708_894_33),
        ] {
            let found = upper_quantile(tail, dof).expect("inside");
            assert!((found / t - 1.0).abs() < 1e-9, "{tail}: {found}");
        }
        for (tail, dof) in [(0.0, 5.0), (0.5, 5.0), (f64::NAN, 5.0), (0.1, 0.5)] {
            assert!(upper_quantile(tail, dof).is_err());
        }
    }

    #[test]
    fn factors_match_the_gum() {
        // JCGM 100:2008 Table G.2, printed to two decimals.
        for (dof, level, printed) in [
            (1.0, 0.95, 12.71),
            (2.0, 0.95, 4.30),
            (5.0, 0.95, 2.57),
            (10.0, 0.9545, 2.28),
            (20.0, 0.99, 2.85),
            (1e9, 0.95, 1.960),
        ] {
            let t = coverage_factor(level, dof).expect("in range");
            assert!((t - printed).abs() <= 0.005, "ν = {dof}: {t}");
        }
    }

    #[test]
    fn refusals() {
        for (level, dof) in [
            (0.0, 5.0),
            (1.0, 5.0),
            (0.95, 0.5),
            (f64::NAN, 5.0),
            (0.95, f64::NAN),
        ] {
            assert!(coverage_factor(level, dof).is_err(), "{level} {dof}");
        }
    }
}
