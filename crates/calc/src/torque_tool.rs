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

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

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

/// The working of the reading that is furthest off; `None` without a good reading.
pub fn working(
    set_nm: f64,
    readings_nm: &[f64],
    convention: Convention,
    limit: f64,
) -> Option<Working> {
    let of = |x: &f64| Some((*x, deviation_pct(set_nm, *x, convention).ok()?));
    let all = readings_nm.iter().filter_map(of);
    let (reading, off) = all.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
    let formula = match convention {
        Convention::Reference => "(X_a − X_r) / X_r · 100",
        Convention::Nominal => "(X_r − X_a) / X_a · 100",
    };
    let set = Message::new("given-torque-set");
    Some(
        Working::new(METHOD)
            .given("X_a", set, set_nm, 3, "N·m")
            .given(
                "X_r",
                Message::new("given-torque-furthest"),
                reading,
                3,
                "N·m",
            )
            .given("e", Message::new("given-deviation-allowed"), limit, 1, "%")
            .step("a", formula, off, 2, "%"),
    )
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
    fn the_working_shows_the_reading_that_is_furthest_off() {
        // By hand: (50 − 52.3) / 52.3 = −4.40 %, further off than (50 − 48.9) / 48.9 = 2.25 %.
        let w = working(50.0, &[48.9, 52.3], Convention::Reference, 4.0).expect("two");
        assert_eq!(w.steps[0].value, "-4.40");
        assert_eq!(w.steps[0].filled, "(50.000 − 52.300) / 52.300 · 100");
        assert_eq!(working(50.0, &[], Convention::Nominal, 4.0), None);
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
