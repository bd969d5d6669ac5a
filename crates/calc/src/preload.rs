//! The preload that a tightening torque gives.
//!
//! # Formula
//! T = K · F · d, so F = T / (K · d). A range of K gives a range of F.
//!
//! # Validity
//! A rule of thumb: K hangs on finish, grease and speed, and scatters by a quarter and more. It stands
//! for no maker's torque.
//!
//! # Source
//! Shigley's Mechanical Engineering Design, 8-8, equation 8-27.

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "bolt-preload",
    version: 1,
    source: "Shigley's Mechanical Engineering Design, equation 8-27 (T = K F d)",
};

/// The preload, N, of `torque_nm` on a thread of nominal diameter `diameter_mm`.
///
/// # Errors
/// A torque, factor or diameter that is not above 0.
pub fn preload_n(torque_nm: f64, factor: f64, diameter_mm: f64) -> Result<f64, CalcError> {
    let torque = within("T", torque_nm, f64::MIN_POSITIVE, f64::MAX)?;
    Ok(torque / arm_m(factor, diameter_mm)?)
}

/// The torque, N·m, for a preload of `preload_n`.
///
/// # Errors
/// A preload, factor or diameter that is not above 0.
pub fn torque_nm(preload_n: f64, factor: f64, diameter_mm: f64) -> Result<f64, CalcError> {
    let preload = within("F", preload_n, f64::MIN_POSITIVE, f64::MAX)?;
    Ok(preload * arm_m(factor, diameter_mm)?)
}

fn arm_m(factor: f64, diameter_mm: f64) -> Result<f64, CalcError> {
    let factor = within("K", factor, 1e-3, 10.0)?;
    let d = within("d", diameter_mm, 1e-3, 1e6)?;
    Ok(factor * d / 1000.0)
}

/// The working of a preload from a torque.
///
/// # Errors
/// As [`preload_n`].
pub fn working(torque_nm: f64, factor: f64, diameter_mm: f64) -> Result<Working, CalcError> {
    let kilonewtons = preload_n(torque_nm, factor, diameter_mm)? / 1000.0;
    Ok(Working::new(METHOD)
        .given("T", Message::new("given-torque"), torque_nm, 2, "N·m")
        .given("K", Message::new("given-nut-factor"), factor, 3, "")
        .given("d", Message::new("given-diameter"), diameter_mm, 2, "mm")
        .step("F", "T / (K · d)", kilonewtons, 2, "kN")
        .note(Message::new("note-nut-factor")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_ways() {
        // Shigley, Example 8-3 (from memory): 25 kip, 3/4 in, K = 0.2: 3750 lbf·in.
        let lbf = 4.448_221_615_260_5;
        let torque = torque_nm(25_000.0 * lbf, 0.2, 0.75 * 25.4).expect("good");
        assert!((torque / (lbf * 0.0254) - 3750.0).abs() < 1e-6, "{torque}");
        // T = 45 N·m, K = 0.18, d = 10 mm: 25 kN (numpy).
        let force = preload_n(45.0, 0.18, 10.0).expect("good");
        assert!((force - 25_000.0).abs() < 1e-8);
    }

    #[test]
    fn refusals() {
        for (t, k, d) in [
            (0.0, 0.2, 8.0),
            (f64::NAN, 0.2, 8.0),
            (10.0, 0.0, 8.0),
            (10.0, 0.2, 0.0),
            (10.0, f64::INFINITY, 8.0),
        ] {
            assert!(preload_n(t, k, d).is_err());
            assert!(torque_nm(t, k, d).is_err());
            assert!(working(t, k, d).is_err());
        }
    }
}
