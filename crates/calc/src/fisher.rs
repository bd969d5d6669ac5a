//! Fisher's F distribution: the share above a ratio of mean squares.
//!
//! # Source
//! Distribution function of `cdflib`. Check values: scipy 1.17.1 `stats.f`.

use cdflib::FisherSnedecor;
use cdflib::traits::ContinuousCdf;

/// The share above `f`, for degrees of freedom of numerator and denominator from 1 up.
pub(crate) fn above(f: f64, numerator: f64, denominator: f64) -> f64 {
    if f <= 0.0 {
        return 1.0;
    }
    if f.is_infinite() {
        return 0.0;
    }
    FisherSnedecor::new(numerator, denominator).ccdf(f)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn matches_scipy() {
        // scipy 1.17.1, stats.f.sf.
        for (f, a, b, p) in [
            (4.0, 3.0, 16.0, 0.026_581_330_881_962_22),
            (0.5, 2.0, 9.0, 0.622_431_111_850_942),
        ] {
            let found = above(f, a, b);
            assert!((found / p - 1.0).abs() < 1e-9, "{f}: {found}");
        }
        assert_eq!(above(0.0, 3.0, 4.0), 1.0);
        assert_eq!(above(f64::INFINITY, 3.0, 4.0), 0.0);
    }
}
