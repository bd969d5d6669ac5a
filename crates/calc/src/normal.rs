//! The normal distribution: share below a value, and the value with a given share below it.
//!
//! # Source
//! Distribution function of `cdflib`; the quantile by bisection on it. Check values: any table of
//! the standard normal distribution, here `scipy` 1.17.1 `stats.norm`.

use crate::bisection::bisect;
use crate::error::{CalcError, within};
use cdflib::Normal;
use cdflib::traits::ContinuousCdf;

/// The share of a standard normal distribution below `z`; 0 and 1 at −∞ and ∞.
pub fn below(z: f64) -> f64 {
    if z.is_infinite() {
        return if z > 0.0 { 1.0 } else { 0.0 };
    }
    Normal::new(0.0, 1.0).cdf(z)
}

/// The share between `a` and `b`, without the loss of digits of a difference of two shares near 1.
pub fn between(a: f64, b: f64) -> f64 {
    if a > 0.0 {
        below(-a) - below(-b)
    } else {
        below(b) - below(a)
    }
}

/// The value with the share `p` of a standard normal distribution below it.
///
/// # Errors
/// A share outside 0 to 1, both ends excluded.
pub fn quantile(p: f64) -> Result<f64, CalcError> {
    let p = within("p", p, f64::MIN_POSITIVE, 1.0 - f64::EPSILON / 2.0)?;
    if p > 0.5 {
        return Ok(-quantile(1.0 - p)?);
    }
    Ok(bisect(-40.0, 0.0, |z| below(z) < p))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn matches_scipy() {
        // scipy 1.17.1, stats.norm.cdf and .ppf.
        for (z, p) in [
            (1.644_853_626_951_472_2, 0.95),
            (1.959_963_984_540_054, 0.975),
            (-2.326_347_874_040_841, 0.01),
        ] {
            assert!((below(z) - p).abs() < 1e-14, "{z}");
            assert!((quantile(p).expect("inside") - z).abs() < 1e-12, "{p}");
        }
        assert_eq!(below(f64::INFINITY), 1.0);
        assert_eq!(below(f64::NEG_INFINITY), 0.0);
    }

    #[test]
    fn far_tails_keep_their_digits() {
        // scipy 1.17.1: norm.sf(9) − norm.sf(10).
        let got = between(9.0, 10.0);
        assert!(
            (got / 1.128_512_207_423_590_7e-19 - 1.0).abs() < 1e-9,
            "{got}"
        );
    }

    #[test]
    fn refusals() {
        for p in [0.0, 1.0, -0.1, f64::NAN, f64::INFINITY] {
            assert!(quantile(p).is_err(), "{p}");
        }
    }

    proptest! {
        #[test]
        fn round_trips(p in 1e-9..0.999_999f64) {
            let z = quantile(p).expect("inside");
            prop_assert!((below(z) - p).abs() <= 1e-12);
        }
    }
}
