//! What share lies behind so many of so many: intervals for a proportion.
//!
//! # Formula
//! Clopper–Pearson: the share p with P(X ≥ x | p) = α/2 below, P(X ≤ x | p) = α/2 above: quantiles of
//! Beta(x, n − x + 1) and Beta(x + 1, n − x). One side alone takes α. Wilson:
//! (p̂ + z²/2n ∓ z · √(p̂ · (1 − p̂) / n + z² / 4n²)) / (1 + z² / n).
//!
//! # Validity
//! Independent trials of one share. Clopper–Pearson holds at least its confidence; Wilson holds it on average and is
//! narrower.
//!
//! # Source
//! Clopper and Pearson, Biometrika 26, 1934; Wilson, JASA 22, 1927; NIST/SEMATECH e-Handbook 7.2.4.1 (all from memory).

use crate::Message;
use crate::bisection::bisect;
use crate::error::{CalcError, within};
use crate::normal;
use crate::working::{Method, Working};
use cdflib::Beta;
use cdflib::traits::ContinuousCdf;

/// This method.
pub const METHOD: Method = Method {
    name: "proportion-interval",
    version: 1,
    source: "Clopper and Pearson, Biometrika 26, 1934; Wilson, JASA 22, 1927 (from memory)",
};

/// Most trials that are reckoned with.
pub const MOST: u64 = 1_000_000_000;

/// Intervals for a share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Intervals {
    /// Events over trials.
    pub share: f64,
    /// Exact interval.
    pub clopper_pearson: (f64, f64),
    /// Wilson's interval.
    pub wilson: (f64, f64),
    /// The share is at least this, with the whole confidence on one side.
    pub one_sided_lower: f64,
    /// The share is at most this, with the whole confidence on one side.
    pub one_sided_upper: f64,
}

/// The share below which `events` or more of `count` come with probability `tail`; 0 without an event.
pub(crate) fn lower(events: f64, count: f64, tail: f64) -> f64 {
    if events <= 0.0 {
        return 0.0;
    }
    let beta = Beta::new(events, count - events + 1.0);
    bisect(0.0, 1.0, |p| beta.cdf(p) < tail)
}

/// The intervals for `events` of `count` with confidence `level`.
///
/// # Errors
/// No trial or more than [`MOST`], more events than trials, a confidence outside 0 to 1 (both excluded).
pub fn intervals(events: u64, count: u64, level: f64) -> Result<Intervals, CalcError> {
    let n = within("n", count as f64, 1.0, MOST as f64)?;
    let x = within("x", events as f64, 0.0, n)?;
    let level = within("C", level, 1e-12, 1.0 - 1e-12)?;
    let alpha = 1.0 - level;
    // An upper end for events is one less a lower end for the others.
    let upper = |tail: f64| 1.0 - lower(n - x, n, tail);
    let z = -normal::quantile(alpha / 2.0)?;
    let share = x / n;
    let middle = share + z * z / (2.0 * n);
    let half = z * (share * (1.0 - share) / n + z * z / (4.0 * n * n)).sqrt();
    let whole = 1.0 + z * z / n;
    // Without an event the two terms are the same; the difference is nothing but rounding.
    let wilson_lower = if events == 0 {
        0.0
    } else {
        (middle - half) / whole
    };
    let wilson_upper = if events == count {
        1.0
    } else {
        (middle + half) / whole
    };
    Ok(Intervals {
        share,
        clopper_pearson: (lower(x, n, alpha / 2.0), upper(alpha / 2.0)),
        wilson: (wilson_lower, wilson_upper),
        one_sided_lower: lower(x, n, alpha),
        one_sided_upper: upper(alpha),
    })
}

/// From the counts to the intervals.
pub fn working(events: u64, count: u64, level: f64, found: &Intervals) -> Working {
    let (low, high) = found.clopper_pearson;
    let (least, most) = (found.one_sided_lower, found.one_sided_upper);
    Working::new(METHOD)
        .given("x", Message::new("given-events"), events as f64, 0, "")
        .given("n", Message::new("given-trials"), count as f64, 0, "")
        .given("C", Message::new("given-confidence"), level, 4, "")
        .step("q", "x / n", found.share, 4, "")
        .step("p_L", "Beta((1 − C) / 2; x, n − x + 1)", low, 4, "")
        .step("p_U", "Beta((1 + C) / 2; x + 1, n − x)", high, 4, "")
        .step("p_least", "Beta(1 − C; x, n − x + 1)", least, 4, "")
        .step("p_most", "Beta(C; x + 1, n − x)", most, 4, "")
        .note(Message::new("note-proportion-exact"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn four_of_twenty() {
        // NIST/SEMATECH e-Handbook 7.2.4.1 (from memory): 0.071354 to 0.401029 at 90 %.
        let (low, high) = intervals(4, 20, 0.9).expect("good").clopper_pearson;
        assert!((low - 0.071_354).abs() < 1.5e-6 && (high - 0.401_029).abs() < 1.5e-6);
    }

    #[test]
    fn good_ones_alone_are_the_success_run() {
        // By hand: five of five prove (1 − 0.95)^(1/5) = 0.5493.
        let found = intervals(5, 5, 0.95).expect("good");
        assert!((found.one_sided_lower - 0.05_f64.powf(0.2)).abs() < 1e-12);
        assert_eq!((found.one_sided_upper, found.clopper_pearson.1), (1.0, 1.0));
        let w = working(5, 5, 0.95, &found);
        let least = w.steps.iter().find(|s| s.symbol == "p_least");
        assert_eq!(least.map(|s| s.value.as_str()), Some("0.5493"));
    }

    #[test]
    fn refusals() {
        for (x, n, level) in [
            (0, 0, 0.95),
            (3, 2, 0.95),
            (1, 2, 0.0),
            (1, 2, 1.0),
            (1, 2, f64::NAN),
            (1, MOST + 1, 0.95),
        ] {
            assert!(intervals(x, n, level).is_err(), "{x} {n} {level}");
        }
    }

    proptest! {
        #[test]
        fn the_share_lies_inside_and_sides_mirror(n in 1u64..400, part in 0.0..=1.0f64, level in 0.5..0.999f64) {
            let x = (part * n as f64).round() as u64;
            let found = intervals(x, n, level).expect("good");
            let other = intervals(n - x, n, level).expect("good");
            for (low, high) in [found.clopper_pearson, found.wilson] {
                prop_assert!(low <= found.share + 1e-12 && found.share <= high + 1e-12);
            }
            prop_assert!((found.clopper_pearson.0 - (1.0 - other.clopper_pearson.1)).abs() < 1e-12);
            prop_assert!((found.wilson.0 - (1.0 - other.wilson.1)).abs() < 1e-12);
        }
    }
}
