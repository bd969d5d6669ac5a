//! The torque and power that drive a load through a ball screw.
//!
//! # Formula
//! Driving: T = F · l / (2 π η). Driven back by its load: T = F · l · η / (2 π). Power at n turns a
//! second: 2 π n T. Energy of a stroke s: F · s / η.
//!
//! # Validity
//! A load that is the same over the stroke; one efficiency both ways.
//!
//! # Source
//! Balance of work; terms of ISO 3408-5 (from memory).

use std::f64::consts::PI;

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "ball-screw-drive",
    version: 1,
    source: "balance of work; terms of ISO 3408-5 (from memory)",
};

/// A ball screw at work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BallScrew {
    /// Axial load, N.
    pub load_n: f64,
    /// Travel per turn, mm.
    pub lead_mm: f64,
    /// Efficiency, up to 1.
    pub efficiency: f64,
    /// Speed, turns per minute.
    pub speed_per_min: f64,
    /// Stroke, mm.
    pub stroke_mm: f64,
}

/// What it takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drive {
    /// Driving torque, N·m.
    pub torque_nm: f64,
    /// Torque by which the load drives the screw back, N·m.
    pub back_torque_nm: f64,
    /// Power at that speed, W.
    pub power_w: f64,
    /// Energy of one stroke, J.
    pub energy_j: f64,
}

/// Torque, power and energy.
///
/// # Errors
/// A load, lead or efficiency that is not above 0, an efficiency above 1, a negative speed or
/// stroke.
pub fn drive(screw: &BallScrew) -> Result<Drive, CalcError> {
    let load = within("F", screw.load_n, f64::MIN_POSITIVE, 1e12)?;
    let lead = within("l", screw.lead_mm, f64::MIN_POSITIVE, 1e6)? / 1000.0;
    let efficiency = within("η", screw.efficiency, 1e-6, 1.0)?;
    let speed = within("n", screw.speed_per_min, 0.0, 1e9)? / 60.0;
    let stroke = within("s", screw.stroke_mm, 0.0, 1e9)? / 1000.0;
    let torque_nm = load * lead / (2.0 * PI * efficiency);
    Ok(Drive {
        torque_nm,
        back_torque_nm: load * lead * efficiency / (2.0 * PI),
        power_w: 2.0 * PI * speed * torque_nm,
        energy_j: load * stroke / efficiency,
    })
}

/// The load, N, that `torque_nm` drives.
///
/// # Errors
/// A torque, lead or efficiency that is not above 0, an efficiency above 1.
pub fn load_n(torque_nm: f64, lead_mm: f64, efficiency: f64) -> Result<f64, CalcError> {
    let torque = within("T", torque_nm, f64::MIN_POSITIVE, 1e9)?;
    let lead = within("l", lead_mm, 1e-6, 1e6)? / 1000.0;
    let efficiency = within("η", efficiency, 1e-6, 1.0)?;
    Ok(2.0 * PI * efficiency * torque / lead)
}

/// The working of [`load_n`] and of what its load takes.
///
/// # Errors
/// As [`drive`].
pub fn working_from_torque(torque_nm: f64, screw: &BallScrew) -> Result<Working, CalcError> {
    let mut whole = working(screw)?;
    let load = whole.given.remove(0);
    whole.steps.remove(0);
    let (symbol, unit) = (load.symbol, load.unit);
    let kilonewtons = load_n(torque_nm, screw.lead_mm, screw.efficiency)? / 1000.0;
    let earlier = Working::new(METHOD)
        .given("T", Message::new("given-drive-torque"), torque_nm, 3, "N·m")
        .given("l", Message::new("given-lead"), screw.lead_mm, 3, "mm")
        .given(
            "η",
            Message::new("given-efficiency"),
            screw.efficiency,
            3,
            "",
        )
        .step(symbol, "2 · π · η · T / l", kilonewtons, 3, unit);
    whole
        .given
        .retain(|given| !["l", "η"].contains(&given.symbol));
    Ok(whole.after(earlier))
}

/// The working of [`drive`].
///
/// # Errors
/// As [`drive`].
pub fn working(screw: &BallScrew) -> Result<Working, CalcError> {
    let d = drive(screw)?;
    Ok(Working::new(METHOD)
        .given(
            "F",
            Message::new("given-load"),
            screw.load_n / 1000.0,
            3,
            "kN",
        )
        .given("l", Message::new("given-lead"), screw.lead_mm, 3, "mm")
        .given(
            "η",
            Message::new("given-efficiency"),
            screw.efficiency,
            3,
            "",
        )
        .given(
            "n",
            Message::new("given-speed"),
            screw.speed_per_min,
            1,
            "/min",
        )
        .given(
            "s",
            Message::new("given-stroke-length"),
            screw.stroke_mm,
            2,
            "mm",
        )
        .step("T", "F · l / (2 · π · η)", d.torque_nm, 3, "N·m")
        .step("T_b", "F · l · η / (2 · π)", d.back_torque_nm, 3, "N·m")
        .step("P", "2 · π · n / 60 · T", d.power_w, 1, "W")
        .step("W", "F · s / η", d.energy_j, 1, "J"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const SCREW: BallScrew = BallScrew {
        load_n: 18_000.0,
        lead_mm: 5.0,
        efficiency: 0.9,
        speed_per_min: 300.0,
        stroke_mm: 25.0,
    };

    #[test]
    fn a_pull_of_eighteen_kilonewtons() {
        // numpy 2.4.6 on the same formulas.
        let d = drive(&SCREW).expect("good");
        assert!((d.torque_nm - 15.915_494_309_189_533).abs() < 1e-12);
        assert!((d.back_torque_nm - 12.891_550_390_443_523).abs() < 1e-12);
        assert!((d.power_w - 500.0).abs() < 1e-9 && (d.energy_j - 500.0).abs() < 1e-9);
    }

    #[test]
    fn a_torque_drives_its_load() {
        let torque = drive(&SCREW).expect("good").torque_nm;
        let load = load_n(torque, SCREW.lead_mm, SCREW.efficiency).expect("good");
        assert!((load - SCREW.load_n).abs() < 1e-8);
        let w = working_from_torque(torque, &SCREW).expect("good");
        assert_eq!(w.steps[0].symbol, "F");
        assert_eq!(w.steps[0].filled, "2 · π · 0.900 · 15.915 / 5.000");
        assert_eq!(w.steps[0].value, "18.000");
        assert_eq!(w.steps.iter().filter(|s| s.symbol == "T").count(), 0);
        assert!(load_n(0.0, 5.0, 0.9).is_err());
        assert!(load_n(f64::NAN, 5.0, 0.9).is_err());
        assert!(load_n(1.0, 5.0, 0.0).is_err());
    }

    #[test]
    fn refusals() {
        for bad in [
            BallScrew {
                load_n: 0.0,
                ..SCREW
            },
            BallScrew {
                lead_mm: f64::NAN,
                ..SCREW
            },
            BallScrew {
                efficiency: 1.1,
                ..SCREW
            },
            BallScrew {
                speed_per_min: -1.0,
                ..SCREW
            },
            BallScrew {
                stroke_mm: f64::INFINITY,
                ..SCREW
            },
        ] {
            assert!(drive(&bad).is_err(), "{bad:?}");
            assert!(working(&bad).is_err());
        }
    }

    proptest! {
        #[test]
        fn a_stroke_takes_its_turns_of_torque(load in 1.0..1e5f64, lead in 1.0..20.0f64, e in 0.1..1.0f64) {
            let d = drive(&BallScrew { load_n: load, lead_mm: lead, efficiency: e, ..SCREW }).expect("good");
            let turns = SCREW.stroke_mm / lead;
            prop_assert!((d.torque_nm * 2.0 * PI * turns / d.energy_j - 1.0).abs() < 1e-9);
        }
    }
}
