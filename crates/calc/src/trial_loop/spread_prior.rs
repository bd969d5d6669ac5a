//! What is held of the spread between joints before any is set: values on a grid, each with its weight.
//!
//! # Formula
//! The scaled inverse chi-square distribution, which is the conjugate one for a variance that ν₀ earlier
//! values gave as s₀²: the density of ln σ goes with σ^(−ν₀) · exp(−ν₀ · s₀² / (2 σ²)). It is taken at equal steps
//! of ln σ from [`LEAST`] to [`MOST`] times s₀, so that joints which scatter much more than foretold are
//! still believed. With ν₀ = ∞ the spread is known and there is one value.
//!
//! # Source
//! Gelman et al., Bayesian Data Analysis, 3rd ed., 2.6 and A.1 (from memory).

/// Values on the grid.
const VALUES: i32 = 24;
/// Smallest and largest of them, as shares of what was foretold.
const LEAST: f64 = 0.4;
const MOST: f64 = 3.6;

/// Standard deviations that the spread may have, each with the logarithm of its weight.
pub(super) fn values(spread: f64, dof: f64) -> Vec<(f64, f64)> {
    if dof == f64::INFINITY {
        return vec![(spread, 0.0)];
    }
    let step = (MOST / LEAST).ln() / f64::from(VALUES - 1);
    (0..VALUES)
        .map(|i| {
            let share = LEAST * (step * f64::from(i)).exp();
            (spread * share, -dof * (share.ln() + 0.5 / (share * share)))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The share of the weight below each value's middle to the next.
    fn share_below(spread: f64, dof: f64, limit: f64) -> f64 {
        let values = values(spread, dof);
        let most = values.iter().map(|v| v.1).fold(f64::MIN, f64::max);
        let weight = |v: &&(f64, f64)| (v.1 - most).exp();
        let below = values.iter().filter(|v| v.0 < limit).map(|v| weight(&v));
        below.sum::<f64>() / values.iter().map(|v| weight(&v)).sum::<f64>()
    }

    #[test]
    fn the_distribution_is_that_of_the_tables() {
        // χ² with 10 degrees of freedom: 5 % above 18.307, 5 % below 3.940 (NIST/SEMATECH e-Handbook,
        // 1.3.6.7.4). The grid has steps of a tenth, so the shares are near only.
        let at = |chi_square: f64| 0.10 * (10.0 / chi_square).sqrt();
        assert!((share_below(0.10, 10.0, at(18.307)) - 0.05).abs() < 0.04);
        assert!((share_below(0.10, 10.0, at(3.940)) - 0.95).abs() < 0.04);
        assert!((share_below(0.10, 10.0, at(9.342)) - 0.50).abs() < 0.10);
    }

    #[test]
    fn a_known_spread_is_one_value() {
        assert_eq!(values(0.12, f64::INFINITY), [(0.12, 0.0)]);
    }
}
