//! What n good ones in a row prove.
//!
//! # Formula
//! With n trials and no failure, the share of good ones is at least (1 − C)^(1/n) with confidence C.
//! The other way round, a share R needs n = ln(1 − C) / ln(R) trials, rounded up.
//!
//! # Source
//! Success-run theorem; the Clopper–Pearson bound for zero failures (Biometrika 26, 1934).

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "zero-failure-share",
    version: 1,
    source: "success-run theorem (Clopper–Pearson bound at zero failures)",
};

/// The number of trials for a share.
pub const SAMPLE_SIZE: Method = Method {
    name: "zero-failure-sample-size",
    version: 1,
    source: METHOD.source,
};

/// The number of good ones in a row that proves `share` with `confidence`.
///
/// # Errors
/// A share or confidence outside 0 to 1, both ends excluded.
pub fn sample_size(share: f64, confidence: f64) -> Result<u64, CalcError> {
    let share = within("R", share, f64::MIN_POSITIVE, 1.0 - f64::EPSILON)?;
    let confidence = within("C", confidence, f64::MIN_POSITIVE, 1.0 - f64::EPSILON)?;
    let n = (-confidence).ln_1p() / share.ln();
    // A whole number that rounding pushed just above itself needs no further trial.
    Ok((n * (1.0 - 1e-12)).ceil().max(1.0) as u64)
}

/// The working of [`sample_size`].
///
/// # Errors
/// As [`sample_size`].
pub fn sample_size_working(share: f64, confidence: f64) -> Result<Working, CalcError> {
    let n = sample_size(share, confidence)? as f64;
    let exact = (-confidence).ln_1p() / share.ln();
    Ok(Working::new(SAMPLE_SIZE)
        .given("R", Message::new("given-share"), share, 4, "")
        .given("C", Message::new("given-confidence"), confidence, 4, "")
        .step("x", "ln(1 − C) / ln(R)", exact, 2, "")
        .step("n", "⌈x⌉", n, 0, ""))
}

/// The share of good ones that `n` good ones in a row prove with confidence `confidence`.
///
/// # Errors
/// No trial, or a confidence outside 0 to 1.
pub fn proven_share(n: usize, confidence: f64) -> Result<f64, CalcError> {
    if n == 0 {
        return Err(CalcError::TooFew {
            input: "n",
            have: 0,
            need: 1,
        });
    }
    let confidence = within("C", confidence, 0.0, 1.0)?;
    Ok((1.0 - confidence).powf(1.0 / n as f64))
}

/// The working of [`proven_share`] at 95 %.
pub fn working(n: usize) -> Working {
    let share = proven_share(n, 0.95).unwrap_or(0.0);
    Working::new(METHOD)
        .given("n", Message::new("given-good-in-a-row"), n as f64, 0, "")
        .given("C", Message::new("given-confidence"), 0.95, 2, "")
        .step("p", "(1 − C)^(1 / n)", share, 3, "")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn matches_the_success_run_table() {
        // Success-run sample sizes (standard table, from memory): 95 % confidence needs 29 for
        // 90 %, 59 for 95 %, 299 for 99 %; one fewer is not enough.
        for (n, share) in [(29, 0.90), (59, 0.95), (299, 0.99)] {
            assert!(proven_share(n, 0.95).expect("n > 0") >= share);
            assert!(proven_share(n - 1, 0.95).expect("n > 0") < share);
        }
    }

    #[test]
    fn sample_sizes_of_the_success_run_table() {
        // The same table, also Birolini, Reliability Engineering (2007), chapter 7, from memory.
        for (share, confidence, n) in [
            (0.9, 0.9, 22),
            (0.9, 0.95, 29),
            (0.95, 0.9, 45),
            (0.95, 0.95, 59),
            (0.99, 0.9, 230),
            (0.99, 0.95, 299),
        ] {
            assert_eq!(sample_size(share, confidence), Ok(n));
        }
        // 1 − C = R²: two, not three.
        assert_eq!(sample_size(0.9, 1.0 - 0.81), Ok(2));
    }

    #[test]
    fn refusals() {
        for (share, confidence) in [(0.0, 0.9), (1.0, 0.9), (0.9, 1.0), (f64::NAN, 0.9)] {
            assert!(sample_size(share, confidence).is_err());
            assert!(sample_size_working(share, confidence).is_err());
        }
        assert!(proven_share(0, 0.95).is_err());
        assert!(proven_share(3, 1.5).is_err());
        assert!(proven_share(3, f64::NAN).is_err());
    }
}
