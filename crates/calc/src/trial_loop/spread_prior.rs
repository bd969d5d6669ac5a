//! What is held of the spread between joints before any is set: a few values with equal weight.
//!
//! # Formula
//! σ² = ν₀ · s₀² / χ²: the scaled inverse chi-square distribution, which is the conjugate one for a
//! variance that ν₀ earlier values gave as s₀². It is cut into [`PARTS`] parts of equal probability, and
//! each stands for itself by its middle quantile. With ν₀ = ∞ the spread is known and there is one part.
//!
//! # Source
//! Gelman et al., Bayesian Data Analysis, 3rd ed., 2.6 and A.1 (from memory). Quantiles by bisection on
//! the distribution function of `cdflib`.

use cdflib::ChiSquared;
use cdflib::traits::ContinuousCdf;

use crate::bisection::bisect;

/// Parts of equal probability.
const PARTS: usize = 9;

/// Standard deviations that the spread may have, each as likely as the others.
pub(super) fn parts(spread: f64, dof: f64) -> Vec<f64> {
    if dof == f64::INFINITY {
        return vec![spread];
    }
    let chi_square = ChiSquared::new(dof);
    let far = dof + 40.0 * (2.0 * dof).sqrt() + 40.0;
    (0..PARTS)
        .map(|part| {
            let share = 1.0 - (part as f64 + 0.5) / PARTS as f64;
            let quantile = bisect(0.0, far, |x| chi_square.cdf(x) < share);
            spread * (dof / quantile).sqrt()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_match_tables() {
        // The middle part is the median: χ² with 10 degrees of freedom has it at 9.34 (NIST/SEMATECH
        // e-Handbook, 1.3.6.7.4 and any table).
        let parts = parts(0.10, 10.0);
        assert_eq!(parts.len(), PARTS);
        assert!((parts[4] - 0.10 * (10.0_f64 / 9.342).sqrt()).abs() < 5e-6);
        assert!(parts.is_sorted());
    }

    #[test]
    fn a_known_spread_is_one_value() {
        assert_eq!(parts(0.12, f64::INFINITY), [0.12]);
    }
}
