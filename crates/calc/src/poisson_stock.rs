//! What is short and what is left over where demand is Poisson.
//!
//! # Source
//! E (D − s)⁺ = Σ P(D > x) over x from s; E (s − D)⁺ = Σ P(D ≤ x) over x below s: sums of terms above 0, so no digit is lost.
//! Distribution function of `cdflib`. Check values: scipy 1.17.1 `stats.poisson`.

use cdflib::Poisson;
use cdflib::traits::DiscreteCdf;

/// Demand with a mean above 0.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Demand {
    pub(crate) mean: f64,
    poisson: Poisson,
}

/// A term so small against the sum no longer counts.
const NEGLIGIBLE: f64 = 1e-17;

impl Demand {
    pub(crate) fn new(mean: f64) -> Self {
        Self {
            mean,
            poisson: Poisson::new(mean),
        }
    }

    /// P(D ≤ x); 0 below 0.
    pub(crate) fn at_most(&self, x: i64) -> f64 {
        u64::try_from(x).map_or(0.0, |x| self.poisson.cdf(x))
    }

    /// P(D > x); 1 below 0.
    pub(crate) fn above(&self, x: i64) -> f64 {
        u64::try_from(x).map_or(1.0, |x| self.poisson.ccdf(x))
    }

    /// E (D − s)⁺.
    pub(crate) fn short(&self, s: i64) -> f64 {
        if (s as f64) < self.mean {
            return self.mean - s as f64 + self.left(s);
        }
        sum((s..).map(|x| self.above(x)))
    }

    /// E (s − D)⁺.
    pub(crate) fn left(&self, s: i64) -> f64 {
        if s as f64 > self.mean {
            return s as f64 - self.mean + self.short(s);
        }
        sum((0..s.max(0)).rev().map(|x| self.at_most(x)))
    }

    /// The smallest s with P(D ≤ s) of at least `share`, below 1.
    pub(crate) fn quantile(&self, share: f64) -> i64 {
        let (mut below, mut high) = (-1, 1);
        while self.at_most(high) < share {
            below = high;
            high *= 2;
        }
        while high - below > 1 {
            let middle = i64::midpoint(below, high);
            if self.at_most(middle) < share {
                below = middle;
            } else {
                high = middle;
            }
        }
        high
    }
}

/// The sum of falling terms, until they no longer count.
fn sum(terms: impl Iterator<Item = f64>) -> f64 {
    let mut all = 0.0;
    for term in terms {
        all += term;
        if term <= NEGLIGIBLE * all {
            break;
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mean_one_by_hand() {
        // D with mean 1: E (D − 1)⁺ = e⁻¹, E (D − 2)⁺ = 3 e⁻¹ − 1; E (s − D)⁺ is s − 1 more.
        let demand = Demand::new(1.0);
        let e = (-1.0_f64).exp();
        assert!((demand.short(1) - e).abs() < 1e-15);
        assert!((demand.short(2) - (3.0 * e - 1.0)).abs() < 1e-15);
        assert!((demand.left(2) - 3.0 * e).abs() < 1e-15);
        assert!((demand.short(-2) - 3.0).abs() < 1e-15 && demand.left(-2) == 0.0);
        // P(D ≤ 0) = 0.368, ≤ 1 = 0.736, ≤ 2 = 0.920.
        let quantiles = [0.3, 0.5, 0.9, 0.93].map(|p| demand.quantile(p));
        assert_eq!(quantiles, [0, 1, 2, 3]);
    }
}
