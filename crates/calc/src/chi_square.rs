//! The chi-square distribution: share below and above a value, and the value with a given share below it.
//!
//! # Source
//! Distribution function of `cdflib`; the quantile by bisection on it. Check values: scipy 1.17.1
//! `stats.chi2`.

use crate::bisection::bisect_above_zero;
use crate::error::{CalcError, within};
use cdflib::ChiSquared;
use cdflib::traits::ContinuousCdf;

/// Most degrees of freedom that are reckoned with.
pub const MANY_DOF: f64 = 1e8;

/// The share above `x`, for `dof` degrees of freedom from 0.1 to [`MANY_DOF`].
pub(crate) fn above(x: f64, dof: f64) -> f64 {
    if x <= 0.0 {
        return 1.0;
    }
    ChiSquared::new(dof).ccdf(x)
}

/// The value with the share `p` below it, for `dof` degrees of freedom.
///
/// # Errors
/// A share outside 0 to 1 (both ends excluded), degrees of freedom below 0.1 or above [`MANY_DOF`].
pub fn quantile(p: f64, dof: f64) -> Result<f64, CalcError> {
    let p = within("p", p, 1e-300, 1.0 - f64::EPSILON)?;
    let dof = within("ν", dof, 0.1, MANY_DOF)?;
    let chi = ChiSquared::new(dof);
    // The smaller share is the one that keeps its digits.
    let found = if p > 0.5 {
        bisect_above_zero(|x| chi.ccdf(x) > 1.0 - p)
    } else {
        bisect_above_zero(|x| chi.cdf(x) < p)
    };
    found.ok_or(CalcError::NotFinite { input: "χ²" })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn matches_scipy() {
        // scipy 1.17.1, stats.chi2.ppf.
        for (p, dof, x) in [
            (0.05, 4.0, 0.710_723_021_397_323_9),
            (0.95, 6.0, 12.591_587_243_743_977),
            (0.01, 42.0, 23.650_094_677_826_19),
            (1e-6, 1.0, 1.570_796_326_795_718_7e-12),
        ] {
            let found = quantile(p, dof).expect("inside");
            assert!((found / x - 1.0).abs() < 1e-9, "{p} {dof}: {found}");
        }
    }

    #[test]
    fn refusals() {
        for (p, dof) in [
            (0.0, 3.0),
            (1.0, 3.0),
            (f64::NAN, 3.0),
            (0.5, 0.0),
            (0.5, f64::INFINITY),
        ] {
            assert!(quantile(p, dof).is_err(), "{p} {dof}");
        }
        assert_eq!(above(-1.0, 3.0), 1.0);
    }

    proptest! {
        #[test]
        fn round_trips(p in 1e-6..0.999f64, dof in 1.0..500.0f64) {
            let x = quantile(p, dof).expect("inside");
            prop_assert!((above(x, dof) - (1.0 - p)).abs() < 1e-10);
        }
    }
}
