//! Mean time between failures that come by chance, with its interval.
//!
//! # Formula
//! T over r failures. Lower end 2 · T / χ²_{(1+C)/2, 2r+2} where looking ended at a time, with 2 r degrees of freedom where it
//! ended with a failure; upper end 2 · T / χ²_{(1−C)/2, 2r}, none without a failure. One side: 2 · T / χ²_{C, …}.
//!
//! # Validity
//! Failures by chance at one rate: no wear, no growth.
//!
//! # Source
//! NIST/SEMATECH e-Handbook 8.4.5.1 (from memory).

use crate::Message;
use crate::chi_square::quantile;
use crate::error::{CalcError, within};
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "mtbf-interval",
    version: 1,
    source: "NIST/SEMATECH e-Handbook 8.4.5.1 (from memory)",
};

/// Why looking ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Truncation {
    /// At a time.
    Time,
    /// With the last failure.
    Failure,
}

/// What the confidence is for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Confidence {
    /// For both ends.
    Both(f64),
    /// For the lower end alone.
    Lower(f64),
}

/// The mean with its interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mtbf {
    /// T / r; `None` without a failure.
    pub value: Option<f64>,
    /// Lower end.
    pub lower: f64,
    /// Upper end; infinite where there is none.
    pub upper: f64,
}

/// The mean time between `failures` in `total_time` of all parts together.
///
/// # Errors
/// A time that is not above 0, a confidence outside 0 to 1, more than a million failures, none where looking ended with one.
pub fn mtbf(
    total_time: f64,
    failures: u64,
    truncation: Truncation,
    confidence: Confidence,
) -> Result<Mtbf, CalcError> {
    let time = within("T", total_time, 1e-100, 1e100)?;
    let least = if truncation == Truncation::Failure {
        1.0
    } else {
        0.0
    };
    let r = within("r", failures as f64, least, 1e6)?;
    let (low_share, high_share) = match confidence {
        Confidence::Both(c) => {
            let c = within("C", c, 1e-9, 1.0 - 1e-9)?;
            (f64::midpoint(1.0, c), Some(f64::midpoint(1.0, -c)))
        }
        Confidence::Lower(c) => (within("C", c, 1e-9, 1.0 - 1e-9)?, None),
    };
    let dof = match truncation {
        Truncation::Time => 2.0 * r + 2.0,
        Truncation::Failure => 2.0 * r,
    };
    let upper = match high_share.filter(|_| failures > 0) {
        Some(share) => 2.0 * time / quantile(share, 2.0 * r)?,
        None => f64::INFINITY,
    };
    Ok(Mtbf {
        value: (failures > 0).then(|| time / r),
        lower: 2.0 * time / quantile(low_share, dof)?,
        upper,
    })
}

/// From time and failures to the interval.
pub fn working(
    total_time: f64,
    failures: u64,
    truncation: Truncation,
    confidence: Confidence,
    found: &Mtbf,
) -> Working {
    let few = |x: f64| figures(x, 6);
    let (c, lower, upper) = match confidence {
        Confidence::Both(c) => (c, "2 · T / χ²((1 + C) / 2)", "2 · T / χ²((1 − C) / 2)"),
        Confidence::Lower(c) => (c, "2 · T / χ²(C)", ""),
    };
    let mut w = Working::new(METHOD)
        .given(
            "T",
            Message::new("given-total-time"),
            total_time,
            few(total_time),
            "",
        )
        .given(
            "r",
            Message::new("given-failure-count"),
            failures as f64,
            0,
            "",
        )
        .given("C", Message::new("given-confidence"), c, 4, "");
    if let Some(value) = found.value {
        w = w.step("m", "T / r", value, few(value), "");
    }
    w = w.step("m_L", lower, found.lower, few(found.lower), "");
    if found.upper.is_finite() {
        w = w.step("m_U", upper, found.upper, few(found.upper), "");
    }
    w.note(Message::new(match truncation {
        Truncation::Time => "note-mtbf-time",
        Truncation::Failure => "note-mtbf-failure",
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_handbook_s_example_and_none() {
        // NIST/SEMATECH e-Handbook 8.4.5.1 (from memory): 800 h, 2 failures, 90 %: 127 to 2251 h.
        let found = mtbf(800.0, 2, Truncation::Time, Confidence::Both(0.9)).expect("good");
        assert!((found.lower - 127.0).abs() <= 0.5 && (found.upper - 2251.0).abs() <= 0.7);
        // By hand: without a failure T / −ln(1 − C).
        let none = mtbf(1200.0, 0, Truncation::Time, Confidence::Lower(0.9)).expect("good");
        assert!(
            (none.lower + 1200.0 / 0.1_f64.ln()).abs() < 1e-8,
            "{none:?}"
        );
        assert_eq!((none.value, none.upper), (None, f64::INFINITY));
    }

    #[test]
    fn refusals() {
        let both = Confidence::Both(0.9);
        for time in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(mtbf(time, 1, Truncation::Time, both).is_err());
        }
        assert!(mtbf(1.0, 0, Truncation::Failure, both).is_err());
        assert!(mtbf(1.0, 1, Truncation::Time, Confidence::Lower(1.0)).is_err());
        assert!(mtbf(1.0, 2_000_000, Truncation::Time, both).is_err());
    }

    proptest! {
        #[test]
        fn the_interval_holds_the_mean(r in 1u64..200, c in 0.5..0.99f64) {
            for truncation in [Truncation::Time, Truncation::Failure] {
                let found = mtbf(1000.0, r, truncation, Confidence::Both(c)).expect("good");
                let value = found.value.expect("a failure");
                prop_assert!(found.lower < value && value < found.upper);
            }
        }
    }
}
