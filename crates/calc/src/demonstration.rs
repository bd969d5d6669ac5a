//! How many trials show a share of good ones, with some failures allowed.
//!
//! # Formula
//! The smallest n with Σ C(n, i) · (1 − R)^i · R^(n − i) ≤ 1 − C over i = 0 … f.
//!
//! # Source
//! Binomial reliability demonstration (success run with f failures allowed); standard table for
//! R = C = 0.90 from memory.

use crate::error::{CalcError, within};
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "demonstration-sample-size",
    version: 1,
    source: "binomial reliability demonstration",
};

/// Most failures that are reckoned with.
pub const MOST_FAILURES: usize = 10_000;
/// Most trials that are looked for.
const MOST_TRIALS: f64 = 1e12;

/// The smallest number of trials of which `failures` may fail and that still shows a share of good
/// ones of `share` with `confidence`.
///
/// # Errors
/// A share or confidence outside 0 to 1, too many failures, or more than 10¹² trials.
pub fn sample_size(share: f64, confidence: f64, failures: usize) -> Result<u64, CalcError> {
    let share = within("R", share, f64::MIN_POSITIVE, 1.0 - f64::EPSILON)?;
    let confidence = within("C", confidence, f64::MIN_POSITIVE, 1.0 - f64::EPSILON)?;
    within("f", failures as f64, 0.0, MOST_FAILURES as f64)?;
    let shown = |n: f64| tail(n, share, failures) <= (1.0 - confidence) * (1.0 + 1e-12);
    let mut low = failures as f64;
    let mut high = low + 1.0;
    while !shown(high) {
        low = high;
        high *= 2.0;
        within("n", high, 0.0, MOST_TRIALS)?;
    }
    while high - low > 1.0 {
        let middle = f64::midpoint(low, high).floor();
        if shown(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Ok(high as u64)
}

/// Probability of at most `failures` failures in `n` trials, summed in logarithms so that the first
/// term may be far below the smallest number.
fn tail(n: f64, share: f64, failures: usize) -> f64 {
    let step = (1.0 - share).ln() - share.ln();
    let mut log_term = n * share.ln();
    let mut terms = vec![log_term];
    for i in 1..=failures {
        let i = i as f64;
        if i > n {
            break;
        }
        log_term += ((n - i + 1.0) / i).ln() + step;
        terms.push(log_term);
    }
    let top = terms.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    top.exp() * terms.iter().map(|t| (t - top).exp()).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn table_for_ninety_per_cent() {
        // Standard table (from memory), scipy 1.17.1 stats.binom: R = C = 0.90.
        for (failures, n) in [(0, 22), (1, 38), (2, 52), (3, 65)] {
            assert_eq!(sample_size(0.9, 0.9, failures), Ok(n));
        }
    }

    #[test]
    fn several_failures_at_ninety_five_per_cent() {
        // scipy 1.17.1 stats.binom.cdf(f, n, 1 - R): the smallest n at which it is at most 0.05.
        for (share, failures, n) in [(0.9, 3, 76), (0.9, 5, 103), (0.95, 4, 181)] {
            assert_eq!(sample_size(share, 0.95, failures), Ok(n));
        }
    }

    #[test]
    fn refusals() {
        for (r, c, f) in [
            (0.0, 0.9, 0),
            (1.0, 0.9, 0),
            (f64::NAN, 0.9, 0),
            (0.9, 1.0, 0),
            (0.9, f64::INFINITY, 0),
            (0.9, 0.9, MOST_FAILURES + 1),
            (1.0 - 1e-15, 0.9, 0),
        ] {
            assert!(sample_size(r, c, f).is_err(), "{r} {c} {f}");
        }
    }

    proptest! {
        #[test]
        fn one_fewer_does_not_show_it(r in 0.5..0.999f64, c in 0.5..0.999f64, f in 0usize..20) {
            let n = sample_size(r, c, f).expect("inside") as f64;
            prop_assert!(tail(n, r, f) <= (1.0 - c) * (1.0 + 1e-9));
            prop_assert!(n - 1.0 <= f as f64 || tail(n - 1.0, r, f) > 1.0 - c);
        }

        #[test]
        fn without_a_failure_it_is_the_success_run(r in 0.01..0.9999f64, c in 0.01..0.9999f64) {
            prop_assert_eq!(sample_size(r, c, 0), crate::zero_failure::sample_size(r, c));
        }
    }
}
