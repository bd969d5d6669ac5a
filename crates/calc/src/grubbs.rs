//! Whether one reading lies too far from the others: Grubbs' test.
//!
//! # Formula
//! G = (x_max − x̄) / s, or (x̄ − x_min) / s, or the larger of both. Critical: (n − 1) / √n · √(t² / (n − 2 + t²)) with t of
//! tail probability α / n for one side, α / (2n) for both, ν = n − 2.
//!
//! # Validity
//! All readings but one normal; one outlier at most. The test says that a reading is unusual, not that it is wrong.
//!
//! # Source
//! Grubbs and Beck, Technometrics 14(4), 1972 (from memory); NIST/SEMATECH e-Handbook 1.3.5.17.1.

use crate::Message;
use crate::error::{CalcError, within};
use crate::moments::{self, moments};
use crate::student::upper_quantile;
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "grubbs-outlier",
    version: 1,
    source: "NIST/SEMATECH e-Handbook 1.3.5.17.1; Grubbs and Beck, Technometrics 14(4), 1972 (from memory)",
};

/// Most readings that are tested.
pub const MOST: usize = 100_000;

/// Which reading is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tail {
    /// The highest.
    Maximum,
    /// The lowest.
    Minimum,
    /// Whichever lies further off.
    Both,
}

/// What the test says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tested {
    /// How many readings.
    pub count: usize,
    /// Their mean.
    pub mean: f64,
    /// Their standard deviation.
    pub deviation: f64,
    /// The reading that lies furthest off on the side looked at.
    pub furthest: f64,
    /// G.
    pub statistic: f64,
    /// What G exceeds with probability α if there is no outlier.
    pub critical: f64,
}

impl Tested {
    /// Whether it is an outlier.
    pub fn is_outlier(&self) -> bool {
        self.statistic > self.critical
    }
}

/// The critical G of `count` readings.
///
/// # Errors
/// Fewer than three readings or more than [`MOST`]; a significance outside 0 to 0.5 (0 excluded).
pub fn critical(count: usize, significance: f64, tail: Tail) -> Result<f64, CalcError> {
    if count < 3 {
        return Err(CalcError::TooFew {
            input: "n",
            have: count,
            need: 3,
        });
    }
    let n = within("n", count as f64, 3.0, MOST as f64)?;
    let alpha = within("α", significance, 1e-12, 0.5)?;
    let sides = if tail == Tail::Both { 2.0 } else { 1.0 };
    let t = upper_quantile(alpha / (sides * n), n - 2.0)?;
    // Divided by t², so that a large t does not overflow.
    Ok((n - 1.0) / n.sqrt() / (1.0 + (n - 2.0) / t / t).sqrt())
}

/// The test on `values`.
///
/// # Errors
/// As [`critical`]; a value that is not within ±10¹⁵; values that are all the same.
pub fn test(values: &[f64], significance: f64, tail: Tail) -> Result<Tested, CalcError> {
    let critical = critical(values.len(), significance, tail)?;
    let found = moments("x", values)?;
    let deviation = found.deviation();
    let (low, high) = values
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| {
            (low.min(*x), high.max(*x))
        });
    if low == high || deviation <= 0.0 {
        return Err(CalcError::Alike { input: "x" });
    }
    let furthest = match tail {
        Tail::Maximum => high,
        Tail::Minimum => low,
        Tail::Both if high - found.mean >= found.mean - low => high,
        Tail::Both => low,
    };
    Ok(Tested {
        count: values.len(),
        mean: found.mean,
        deviation,
        furthest,
        statistic: (furthest - found.mean).abs() / deviation,
        critical,
    })
}

/// From mean and spread to G.
pub fn working(tested: &Tested) -> Working {
    let few = |x: f64| figures(x, 6);
    let Tested {
        mean,
        deviation,
        furthest,
        ..
    } = *tested;
    moments::given(
        Working::new(METHOD).given("n", Message::new("given-count"), tested.count as f64, 0, ""),
        mean,
        deviation,
    )
    .given(
        "x",
        Message::new("given-furthest"),
        furthest,
        few(furthest),
        "",
    )
    .given(
        "G_c",
        Message::new("given-critical"),
        tested.critical,
        4,
        "",
    )
    .step("G", "|x − x̄| / s", tested.statistic, 4, "")
    .note(Message::new(if tested.is_outlier() {
        "note-outlier"
    } else {
        "note-no-outlier"
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn mass_spectrometer_of_nist() {
        // NIST/SEMATECH e-Handbook 1.3.5.17.1: G = 2.4687 (cut off), critical 2.032.
        let values = [
            199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57,
        ];
        let found = test(&values, 0.05, Tail::Maximum).expect("eight");
        assert!((found.statistic - 2.4687).abs() <= 1e-4, "{found:?}");
        assert!((found.critical - 2.032).abs() <= 5e-4, "{found:?}");
        assert!(found.is_outlier() && found.furthest == 245.57);
        // From below the lowest is 0.449 standard deviations off (numpy 2.4.6): no outlier.
        let low = test(&values, 0.05, Tail::Minimum).expect("eight");
        assert!(!low.is_outlier() && low.furthest == 199.31);
    }

    #[test]
    fn refusals() {
        let three = [1.0, 2.0, 3.5];
        assert!(test(&three, 0.05, Tail::Both).is_ok());
        for significance in [0.0, 0.6, -1.0, f64::NAN] {
            assert!(test(&three, significance, Tail::Both).is_err());
        }
        assert!(test(&three[..2], 0.05, Tail::Both).is_err());
        assert!(test(&[1.0, 2.0, f64::INFINITY], 0.05, Tail::Both).is_err());
        assert_eq!(
            test(&[2.1; 10], 0.05, Tail::Both),
            Err(CalcError::Alike { input: "x" })
        );
        assert!(critical(MOST + 1, 0.05, Tail::Both).is_err());
    }

    proptest! {
        #[test]
        fn no_reading_lies_further_than_geometry_allows(xs in prop::collection::vec(-9.0..9.0f64, 3..40)) {
            let n = xs.len() as f64;
            if let Ok(found) = test(&xs, 0.05, Tail::Both) {
                let most = (n - 1.0) / n.sqrt();
                prop_assert!(found.statistic <= most + 1e-9 && found.critical <= most);
            }
        }
    }
}
