//! The wrench setting behind an adapter that moves the drive off the wrench's own axis.
//!
//! # Formula
//! T_set = T · L / (L + E · cos φ). One force at the grip turns the wrench's own drive with arm L
//! and the fastener with arm L + E · cos φ. φ = 0: adapter in line with the wrench; 90°: no change;
//! 180°: folded back.
//!
//! # Validity
//! A rigid adapter in the plane of turning, one hand at the middle of the grip. L is measured from
//! the middle of the wrench's drive to the middle of the grip.
//!
//! # Source
//! Balance of moments; the in-line form stands in FAA AC 43.13-1B chapter 7 (from memory).

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "torque-adapter",
    version: 1,
    source: "balance of moments; FAA AC 43.13-1B, chapter 7 (in line, from memory)",
};

/// An adapter on a wrench.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Adapter {
    /// Wrench: middle of its drive to middle of the grip, mm.
    pub arm_mm: f64,
    /// Adapter: middle of the wrench's drive to middle of the fastener, mm.
    pub offset_mm: f64,
    /// Angle between adapter and wrench, degrees; 0 in line, 180 folded back.
    pub angle_deg: f64,
}

/// The setting, N·m, that puts `torque_nm` on the fastener.
///
/// # Errors
/// A torque or an arm that is not above 0, a negative offset, an angle outside −180° to 180°, an
/// adapter folded back so far that no arm is left.
pub fn setting(torque_nm: f64, adapter: Adapter) -> Result<f64, CalcError> {
    let torque = within("T", torque_nm, f64::MIN_POSITIVE, f64::MAX)?;
    let arm = within("L", adapter.arm_mm, f64::MIN_POSITIVE, f64::MAX)?;
    within("φ", adapter.angle_deg, -180.0, 180.0)?;
    let cosine = cosine(adapter.angle_deg);
    // Folded back, the fastener must still lie on the grip's side of the hand.
    let longest = if cosine < 0.0 {
        arm / -cosine * (1.0 - 1e-9)
    } else {
        f64::MAX
    };
    let offset = within("E", adapter.offset_mm, 0.0, longest)?;
    // The ratio first, so that no offset changes nothing at all.
    Ok(torque * (arm / (arm + offset * cosine)))
}

/// Cosine of an angle in degrees, exact at right angles.
fn cosine(angle_deg: f64) -> f64 {
    match angle_deg.abs() {
        90.0 => 0.0,
        180.0 => -1.0,
        other => other.to_radians().cos(),
    }
}

/// The working of [`setting`].
///
/// # Errors
/// As [`setting`].
pub fn working(torque_nm: f64, adapter: Adapter) -> Result<Working, CalcError> {
    let set = setting(torque_nm, adapter)?;
    Ok(Working::new(METHOD)
        .given("T", Message::new("given-torque"), torque_nm, 2, "N·m")
        .given("L", Message::new("given-arm"), adapter.arm_mm, 1, "mm")
        .given(
            "E",
            Message::new("given-offset"),
            adapter.offset_mm,
            1,
            "mm",
        )
        .given("φ", Message::new("given-angle"), adapter.angle_deg, 1, "°")
        .step("T_set", "T · L / (L + E · cos(φ))", set, 2, "N·m"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn adapter(arm_mm: f64, offset_mm: f64, angle_deg: f64) -> Adapter {
        Adapter {
            arm_mm,
            offset_mm,
            angle_deg,
        }
    }

    #[test]
    fn in_line_at_an_angle_and_folded_back() {
        // FAA AC 43.13-1B, T = 30, L = 10, E = 1.5: 26.09 (from memory). 45°: numpy 2.4.6.
        let set = setting(30.0, adapter(10.0, 1.5, 0.0)).expect("good");
        assert!((set - 26.09).abs() <= 0.005);
        let set = setting(45.0, adapter(320.0, 55.0, 45.0)).expect("good");
        assert!((set - 40.123_617_190_437_415).abs() < 1e-12);
        let set = setting(80.0, adapter(400.0, 60.0, 180.0)).expect("good");
        assert!((set - 94.117_647_058_823_54).abs() < 1e-12);
    }

    #[test]
    fn refusals() {
        for (t, a) in [
            (0.0, adapter(400.0, 60.0, 0.0)),
            (f64::NAN, adapter(400.0, 60.0, 0.0)),
            (80.0, adapter(0.0, 60.0, 0.0)),
            (80.0, adapter(400.0, -1.0, 0.0)),
            (80.0, adapter(400.0, 60.0, 181.0)),
            (80.0, adapter(400.0, f64::INFINITY, 0.0)),
            (80.0, adapter(400.0, 400.0, 180.0)),
            (80.0, adapter(400.0, 600.0, -180.0)),
        ] {
            assert!(setting(t, a).is_err(), "{t} {a:?}");
            assert!(working(t, a).is_err());
        }
    }

    proptest! {
        #[test]
        fn no_offset_or_a_right_angle_changes_nothing(t in 0.1..500.0f64, l in 50.0..900.0f64, e in 0.0..300.0f64) {
            prop_assert!((setting(t, adapter(l, 0.0, 30.0)).expect("good") - t).abs() < 1e-9);
            prop_assert_eq!(setting(t, adapter(l, e, 90.0)), Ok(t));
            prop_assert!(setting(t, adapter(l, e, 0.0)).expect("good") <= t);
        }
    }
}
