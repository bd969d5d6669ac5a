//! The torque that raises and lowers a load on a screw with friction.
//!
//! # Formula
//! With mean diameter d_m, lead l, thread friction f, flank half angle α and f' = f / cos α:
//! raise T_R = F · d_m / 2 · (l + π f' d_m) / (π d_m − f' l); lower T_L = F · d_m / 2 · (π f' d_m − l) /
//! (π d_m + f' l). A collar or head of mean diameter d_c adds F · f_c · d_c / 2 to both. Efficiency
//! e = F · l / (2 π T_R), collar included. The thread holds by itself if T_L > 0 without the collar.
//!
//! # Validity
//! One diameter stands for the whole flank; friction is the same all over.
//!
//! # Source
//! Shigley's Mechanical Engineering Design, 8-2, equations 8-1 to 8-6 and 8-26.

use std::f64::consts::PI;

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "power-screw-torque",
    version: 1,
    source: "Shigley's Mechanical Engineering Design, 8-2",
};

/// A loaded screw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screw {
    /// Axial load, N.
    pub load_n: f64,
    /// Mean diameter of the thread, mm.
    pub mean_diameter_mm: f64,
    /// Travel per turn, mm.
    pub lead_mm: f64,
    /// Thread friction.
    pub friction: f64,
    /// Half of the thread's flank angle, degrees; 0 for a square thread.
    pub flank_half_angle_deg: f64,
    /// Friction under collar or head.
    pub collar_friction: f64,
    /// Mean diameter of collar or head, mm; 0 for none.
    pub collar_diameter_mm: f64,
}

/// Torques in N·m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Torques {
    /// Thread alone, raising.
    pub thread_raise: f64,
    /// Thread alone, lowering; negative if the load comes down by itself.
    pub thread_lower: f64,
    /// Collar alone.
    pub collar: f64,
    /// Share of the work that goes into the load, collar included.
    pub efficiency: f64,
}

impl Torques {
    /// All together, raising.
    pub fn raise(&self) -> f64 {
        self.thread_raise + self.collar
    }

    /// All together, lowering.
    pub fn lower(&self) -> f64 {
        self.thread_lower + self.collar
    }

    /// Whether the thread holds its load without the collar.
    pub fn is_self_locking(&self) -> bool {
        self.thread_lower > 0.0
    }
}

/// The torques on `screw`.
///
/// # Errors
/// A load, diameter or lead that is not above 0, negative friction, a flank half angle outside 0 to
/// 80°, friction so high that the screw cannot be turned.
pub fn torques(screw: &Screw) -> Result<Torques, CalcError> {
    let above_zero = |input, value| within(input, value, f64::MIN_POSITIVE, f64::MAX);
    let load = above_zero("F", screw.load_n)?;
    let d = above_zero("d_m", screw.mean_diameter_mm)? / 1000.0;
    let lead = above_zero("l", screw.lead_mm)? / 1000.0;
    let angle = within("α", screw.flank_half_angle_deg, 0.0, 80.0)?;
    let cosine = angle.to_radians().cos();
    // At this friction the screw jams: no torque raises the load.
    let jams = PI * d / lead * cosine * (1.0 - 1e-9);
    let f = within("f", screw.friction, 0.0, jams)? / cosine;
    let f_c = within("f_c", screw.collar_friction, 0.0, f64::MAX)?;
    let d_c = within("d_c", screw.collar_diameter_mm, 0.0, f64::MAX)? / 1000.0;
    let thread_raise = load * d / 2.0 * (lead + PI * f * d) / (PI * d - f * lead);
    let thread_lower = load * d / 2.0 * (PI * f * d - lead) / (PI * d + f * lead);
    let collar = load * f_c * d_c / 2.0;
    Ok(Torques {
        thread_raise,
        thread_lower,
        collar,
        efficiency: load * lead / (2.0 * PI * (thread_raise + collar)),
    })
}

/// The working of [`torques`].
///
/// # Errors
/// As [`torques`].
pub fn working(screw: &Screw) -> Result<Working, CalcError> {
    let t = torques(screw)?;
    let f = screw.friction / screw.flank_half_angle_deg.to_radians().cos();
    Ok(Working::new(METHOD)
        .given(
            "F",
            Message::new("given-load"),
            screw.load_n / 1000.0,
            3,
            "kN",
        )
        .given(
            "d_m",
            Message::new("given-mean-diameter"),
            screw.mean_diameter_mm,
            3,
            "mm",
        )
        .given("l", Message::new("given-lead"), screw.lead_mm, 3, "mm")
        .given("f", Message::new("given-friction"), screw.friction, 3, "")
        .given(
            "α",
            Message::new("given-flank"),
            screw.flank_half_angle_deg,
            1,
            "°",
        )
        .given(
            "f_c",
            Message::new("given-collar-friction"),
            screw.collar_friction,
            3,
            "",
        )
        .given(
            "d_c",
            Message::new("given-collar-diameter"),
            screw.collar_diameter_mm,
            3,
            "mm",
        )
        .step("f_α", "f / cos(α)", f, 4, "")
        .step(
            "T_g",
            "F · d_m / 2 · (l + π · f_α · d_m) / (π · d_m − f_α · l)",
            t.thread_raise,
            3,
            "N·m",
        )
        .step(
            "T_s",
            "F · d_m / 2 · (π · f_α · d_m − l) / (π · d_m + f_α · l)",
            t.thread_lower,
            3,
            "N·m",
        )
        .step("T_c", "F · f_c · d_c / 2", t.collar, 3, "N·m")
        .step("T_R", "T_g + T_c", t.raise(), 3, "N·m")
        .step("T_L", "T_s + T_c", t.lower(), 3, "N·m")
        .step("e", "F · l / (2 · π · T_R)", t.efficiency, 3, ""))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const SHIGLEY: Screw = Screw {
        load_n: 6400.0,
        mean_diameter_mm: 30.0,
        lead_mm: 8.0,
        friction: 0.08,
        flank_half_angle_deg: 0.0,
        collar_friction: 0.08,
        collar_diameter_mm: 40.0,
    };

    #[test]
    fn double_thread_of_shigley() {
        // Shigley, Example 8-1: thread 15.94 and −0.466, raise 26.18, lower 9.77 N·m, e = 0.311.
        let t = torques(&SHIGLEY).expect("good");
        assert!((t.thread_raise - 15.94).abs() <= 0.005, "{t:?}");
        assert!((t.thread_lower + 0.466).abs() <= 0.0005);
        assert!((t.raise() - 26.18).abs() <= 0.005);
        assert!((t.lower() - 9.77).abs() <= 0.006);
        assert!((t.efficiency - 0.311).abs() <= 0.0005);
        assert!(!t.is_self_locking());
    }

    #[test]
    fn refusals() {
        for bad in [
            Screw {
                load_n: 0.0,
                ..SHIGLEY
            },
            Screw {
                mean_diameter_mm: f64::NAN,
                ..SHIGLEY
            },
            Screw {
                lead_mm: -1.0,
                ..SHIGLEY
            },
            Screw {
                friction: -0.1,
                ..SHIGLEY
            },
            Screw {
                friction: 12.0,
                ..SHIGLEY
            },
            Screw {
                flank_half_angle_deg: 90.0,
                ..SHIGLEY
            },
            Screw {
                collar_friction: f64::INFINITY,
                ..SHIGLEY
            },
        ] {
            assert!(torques(&bad).is_err(), "{bad:?}");
            assert!(working(&bad).is_err());
        }
    }

    proptest! {
        #[test]
        fn without_friction_nothing_is_lost(load in 1.0..1e5f64, d in 5.0..50.0f64, l in 0.5..20.0f64) {
            let t = torques(&Screw {
                load_n: load, mean_diameter_mm: d, lead_mm: l, friction: 0.0, collar_friction: 0.0, ..SHIGLEY
            }).expect("good");
            prop_assert!((t.efficiency - 1.0).abs() < 1e-9);
            prop_assert!((t.thread_raise + t.thread_lower).abs() < 1e-9 * load);
        }

        #[test]
        fn more_friction_never_helps(f in 0.0..0.3f64, more in 0.0..0.3f64) {
            let e = |friction| torques(&Screw { friction, ..SHIGLEY }).expect("good").efficiency;
            prop_assert!(e(f + more) <= e(f) + 1e-12);
        }
    }
}
