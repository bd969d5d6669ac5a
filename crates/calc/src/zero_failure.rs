//! What n good ones in a row prove.
//!
//! # Formula
//! With n trials and no failure, the share of good ones is at least (1 − C)^(1/n) with confidence C.
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
    fn refusals() {
        assert!(proven_share(0, 0.95).is_err());
        assert!(proven_share(3, 1.5).is_err());
        assert!(proven_share(3, f64::NAN).is_err());
    }
}
