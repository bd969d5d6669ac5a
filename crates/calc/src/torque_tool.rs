//! How far a torque tool is off, and whether that is allowed.
//!
//! # Formula
//! Two conventions are in use and differ in sign and divisor:
//! setting tool (ISO 6789-1): a = (X_a − X_r) / X_r · 100, with X_a what the tool was set to and
//! X_r what the reference read; against nominal: a = (x − N) / N · 100, with x what was measured.
//! Allowed: 6 % up to 10 N·m, 4 % above.
//!
//! # Source
//! ISO 6789-1:2017 (from memory, not confirmed): maximum permissible relative deviation of type II
//! classes A and B and type I classes B, C and E.

use crate::error::{CalcError, within};
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "torque-tool-deviation",
    version: 1,
    source: "ISO 6789-1:2017 (from memory, not confirmed)",
};

/// What a deviation is a share of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Convention {
    /// (set − reference) / reference.
    Reference,
    /// (measured − nominal) / nominal.
    Nominal,
}

/// The deviation of one reading, percent.
///
/// # Errors
/// A torque that is not above 0.
pub fn deviation_pct(
    set_nm: f64,
    reading_nm: f64,
    convention: Convention,
) -> Result<f64, CalcError> {
    let set = within("X_a", set_nm, f64::MIN_POSITIVE, f64::MAX)?;
    let reading = within("X_r", reading_nm, f64::MIN_POSITIVE, f64::MAX)?;
    Ok(match convention {
        Convention::Reference => (set - reading) / reading * 100.0,
        Convention::Nominal => (reading - set) / set * 100.0,
    })
}

/// The largest deviation allowed at a nominal torque, percent.
pub fn limit_pct(nominal_nm: f64) -> f64 {
    if nominal_nm <= 10.0 { 6.0 } else { 4.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_conventions() {
        // ISO 6789-1 a_s of X_a = 50.0 (formula from memory; numbers recomputed).
        let a = deviation_pct(50.0, 48.9, Convention::Reference).expect("good");
        assert!((a - 2.249_488_752_556_24).abs() < 1e-9);
        let a = deviation_pct(20.0, 19.1, Convention::Nominal).expect("good");
        assert!((a + 4.5).abs() < 1e-9);
        assert_eq!(limit_pct(10.0), 6.0);
        assert_eq!(limit_pct(10.1), 4.0);
    }

    #[test]
    fn refusals() {
        for (set, reading) in [
            (0.0, 1.0),
            (1.0, 0.0),
            (f64::NAN, 1.0),
            (1.0, f64::INFINITY),
        ] {
            assert!(deviation_pct(set, reading, Convention::Nominal).is_err());
        }
    }
}
