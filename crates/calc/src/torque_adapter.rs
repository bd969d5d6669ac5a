//! The wrench setting behind an adapter that moves the drive off the wrench's own axis.
//!
//! # Formula
//! T_set = T · L / (L + E · cos φ). One force at the grip turns the wrench's own drive with arm L
//! and the fastener with arm L + E · cos φ. φ = 0: adapter in line with the wrench; 90°: no change;
//! 180°: folded back.
//!
//! The other way round, from what the wrench showed to the torque on the fastener:
//! T = T_w · (L + E · cos φ) / L, with U(T)² = (U(T_w) · (L + E · cos φ) / L)² +
//! (T_w · E · cos φ · U(L) / L²)², U(L) for where the hand sits on the grip.
//!
//! # Validity
//! A rigid adapter in the plane of turning, one hand at the middle of the grip. L is measured from
//! the middle of the wrench's drive to the middle of the grip.
//!
//! # Source
//! Balance of moments; the in-line form stands in FAA AC 43.13-1B chapter 7 (from memory). The
//! uncertainty by the law of propagation, JCGM 100:2008, 5.1.2.

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

/// The torque on the fastener, with its expanded uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reached {
    /// Torque, N·m.
    pub torque_nm: f64,
    /// Expanded uncertainty (k = 2), N·m.
    pub expanded_nm: f64,
}

/// The torque on the fastener when the wrench showed `shown_nm`, known to `expanded_nm`, with the hand
/// within `grip_expanded_mm` of the middle of the grip.
///
/// # Errors
/// As [`setting`]; an uncertainty below 0.
pub fn reached(
    shown_nm: f64,
    expanded_nm: f64,
    adapter: Adapter,
    grip_expanded_mm: f64,
) -> Result<Reached, CalcError> {
    // The same validity, by the same checks.
    setting(shown_nm, adapter)?;
    let doubt = within("U_w", expanded_nm, 0.0, f64::MAX)?;
    let grip = within("U_L", grip_expanded_mm, 0.0, f64::MAX)?;
    let arm = adapter.arm_mm;
    let beyond = adapter.offset_mm * cosine(adapter.angle_deg);
    let ratio = (arm + beyond) / arm;
    Ok(Reached {
        torque_nm: shown_nm * ratio,
        expanded_nm: (doubt * ratio).hypot(shown_nm * beyond * grip / (arm * arm)),
    })
}

/// The working of [`reached`].
///
/// # Errors
/// As [`reached`].
pub fn reached_working(
    shown_nm: f64,
    expanded_nm: f64,
    adapter: Adapter,
    grip_expanded_mm: f64,
) -> Result<Working, CalcError> {
    let reached = reached(shown_nm, expanded_nm, adapter, grip_expanded_mm)?;
    let doubt = "√((U_w · (L_w + E · cos(φ)) / L_w)² + (T_w · E · cos(φ) · U_L / L_w²)²)";
    Ok(lever(Working::new(METHOD), adapter, "L_w")
        .given(
            "T_w",
            Message::new("given-wrench-shows"),
            shown_nm,
            2,
            "N·m",
        )
        .given(
            "U_w",
            Message::new("given-wrench-doubt"),
            expanded_nm,
            2,
            "N·m",
        )
        .given(
            "U_L",
            Message::new("given-grip-doubt"),
            grip_expanded_mm,
            1,
            "mm",
        )
        .step(
            "T",
            "T_w · (L_w + E · cos(φ)) / L_w",
            reached.torque_nm,
            2,
            "N·m",
        )
        .step("U_T", doubt, reached.expanded_nm, 2, "N·m"))
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
    let given = Working::new(METHOD).given("T", Message::new("given-torque"), torque_nm, 2, "N·m");
    Ok(lever(given, adapter, "L").step("T_set", "T · L / (L + E · cos(φ))", set, 2, "N·m"))
}

/// Wrench and adapter, given.
fn lever(working: Working, adapter: Adapter, arm: &'static str) -> Working {
    working
        .given(arm, Message::new("given-arm"), adapter.arm_mm, 1, "mm")
        .given(
            "E",
            Message::new("given-offset"),
            adapter.offset_mm,
            1,
            "mm",
        )
        .given("φ", Message::new("given-angle"), adapter.angle_deg, 1, "°")
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

    #[test]
    fn what_the_wrench_showed_in_the_fastener_s_torque() {
        // The in-line example above, backwards: 26.09 shown puts 30.00 on the fastener.
        let got = reached(26.09, 0.0, adapter(10.0, 1.5, 0.0), 0.0).expect("good");
        assert!((got.torque_nm - 30.0).abs() <= 0.005, "{got:?}");
        // By hand: L 400, E 100 in line, 80 shown: 80 · 500 / 400 = 100. U: 0.8 · 1.25 = 1.0 and
        // 80 · 100 · 10 / 160 000 = 0.5; √(1 + 0.25) = 1.118 034.
        let got = reached(80.0, 0.8, adapter(400.0, 100.0, 0.0), 10.0).expect("good");
        assert!((got.torque_nm - 100.0).abs() < 1e-12);
        assert!((got.expanded_nm - 1.118_033_988_749_895).abs() < 1e-12);
        // Across the wrench neither the torque nor the grip matters.
        let got = reached(80.0, 0.8, adapter(400.0, 100.0, 90.0), 10.0).expect("good");
        assert_eq!((got.torque_nm, got.expanded_nm), (80.0, 0.8));
        for (shown, doubt, grip) in [(0.0, 0.8, 10.0), (80.0, -0.1, 10.0), (80.0, 0.8, f64::NAN)] {
            assert!(reached(shown, doubt, adapter(400.0, 60.0, 0.0), grip).is_err());
            assert!(reached_working(shown, doubt, adapter(400.0, 60.0, 0.0), grip).is_err());
        }
    }

    proptest! {
        #[test]
        fn there_and_back_is_the_same(t in 0.1..500.0f64, l in 50.0..900.0f64, e in 0.0..300.0f64, a in 0.0..90.0f64) {
            let set = setting(t, adapter(l, e, a)).expect("good");
            let back = reached(set, 0.0, adapter(l, e, a), 0.0).expect("good");
            prop_assert!((back.torque_nm - t).abs() < 1e-9 * t);
        }

        #[test]
        fn a_longer_adapter_never_narrows_the_doubt(l in 50.0..900.0f64, e in 0.0..300.0f64, more in 0.0..100.0f64) {
            let short = reached(50.0, 0.5, adapter(l, e, 30.0), 10.0).expect("good");
            let long = reached(50.0, 0.5, adapter(l, e + more, 30.0), 10.0).expect("good");
            prop_assert!(long.expanded_nm >= short.expanded_nm);
        }

        #[test]
        fn no_offset_or_a_right_angle_changes_nothing(t in 0.1..500.0f64, l in 50.0..900.0f64, e in 0.0..300.0f64) {
            prop_assert!((setting(t, adapter(l, 0.0, 30.0)).expect("good") - t).abs() < 1e-9);
            prop_assert_eq!(setting(t, adapter(l, e, 90.0)), Ok(t));
            prop_assert!(setting(t, adapter(l, e, 0.0)).expect("good") <= t);
        }
    }
}
