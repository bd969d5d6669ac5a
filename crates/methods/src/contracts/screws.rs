//! `power-screw-torque`, `ball-screw-drive`, `bolt-preload`

use calc::ball_screw::{self, BallScrew};
use calc::power_screw::{self, Screw};
use calc::preload;
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{NotNegative, Positive, Share, contract};
use crate::{MethodError, Why};

/// Two given of which only one may be.
fn one_of_two(field: &str, value: f64, allowed: &str) -> MethodError {
    let allowed = allowed.to_owned();
    MethodError::at(field, value, Why::NotAllowed { allowed })
}

contract! {
    /// A loaded screw with friction.
    struct PowerInput {
        /// Load along the axis.
        load_kN: Positive,
        /// Outside (nominal) diameter of the thread.
        outside_diameter_mm: Positive,
        /// Pitch of the thread.
        pitch_mm: Positive,
        /// Number of starts.
        starts: u64 = 1,
        /// Mean diameter; by default outside diameter less half a pitch, as of a square thread.
        mean_diameter_mm: Option<Positive>,
        /// Half of the flank angle; 0 for a square thread.
        flank_half_angle_deg: NotNegative = NotNegative(0.0),
        /// Friction in the thread.
        friction: NotNegative,
        /// Friction under collar or head.
        collar_friction: NotNegative = NotNegative(0.0),
        /// Mean diameter of collar or head; 0 for none.
        collar_diameter_mm: NotNegative = NotNegative(0.0),
    }
}

contract! {
    /// Torques, and what becomes of the work.
    struct PowerOutput {
        /// Mean diameter of the thread.
        mean_diameter_mm: f64,
        /// Root diameter of a square thread.
        root_diameter_mm: Option<f64>,
        /// Travel per turn.
        lead_mm: f64,
        /// Thread alone, raising (or tightening).
        thread_raise_Nm: f64,
        /// Thread alone, lowering; negative if the load comes down by itself.
        thread_lower_Nm: f64,
        /// Collar or head alone.
        collar_Nm: f64,
        /// All together, raising.
        raise_Nm: f64,
        /// All together, lowering.
        lower_Nm: f64,
        /// Share of the work that goes into the load.
        efficiency: f64,
        /// Whether the thread holds its load without the collar.
        self_locking: bool,
        /// Raising torque over load and outside diameter.
        nut_factor: f64,
    }
}

/// The contract.
pub(crate) struct PowerScrew;

impl Contract for PowerScrew {
    const METHOD: Method = power_screw::METHOD;
    const SUMMARY: &'static str = "method-power-screw-torque";
    const FORMULA: &'static str =
        "T = F · d_m / 2 · (l + π f d_m / cos α) / (π d_m − f l / cos α) + F · f_c · d_c / 2";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("F", "load_kN"),
        ("d_m", "mean_diameter_mm"),
        ("l", "pitch_mm"),
        ("f", "friction"),
        ("α", "flank_half_angle_deg"),
        ("f_c", "collar_friction"),
        ("d_c", "collar_diameter_mm"),
    ];
    const ANSWERS: &'static [&'static str] = &["raise_Nm"];
    type In = PowerInput;
    type Out = PowerOutput;

    fn compute(input: &PowerInput) -> Result<(PowerOutput, Option<Working>), MethodError> {
        let (outside, pitch) = (input.outside_diameter_mm.0, input.pitch_mm.0);
        if input.starts == 0 {
            let allowed = "≥ 1".to_owned();
            return Err(MethodError::at("starts", 0, Why::NotAllowed { allowed }));
        }
        let screw = Screw {
            load_n: input.load_kN.0 * 1000.0,
            mean_diameter_mm: input
                .mean_diameter_mm
                .map_or(outside - pitch / 2.0, |d| d.0),
            lead_mm: pitch * input.starts as f64,
            friction: input.friction.0,
            flank_half_angle_deg: input.flank_half_angle_deg.0,
            collar_friction: input.collar_friction.0,
            collar_diameter_mm: input.collar_diameter_mm.0,
        };
        let t = power_screw::torques(&screw)?;
        let out = PowerOutput {
            mean_diameter_mm: screw.mean_diameter_mm,
            root_diameter_mm: (input.mean_diameter_mm.is_none()
                && input.flank_half_angle_deg.0 == 0.0)
                .then_some(outside - pitch),
            lead_mm: screw.lead_mm,
            thread_raise_Nm: t.thread_raise,
            thread_lower_Nm: t.thread_lower,
            collar_Nm: t.collar,
            raise_Nm: t.raise(),
            lower_Nm: t.lower(),
            efficiency: t.efficiency,
            self_locking: t.is_self_locking(),
            nut_factor: t.raise() / (screw.load_n * outside / 1000.0),
        };
        Ok((out, Some(power_screw::working(&screw)?)))
    }
}

contract! {
    /// A ball screw at work: `load_kN` or `torque_Nm`, not both.
    struct BallInput {
        /// Load along the axis, where the torque is asked for.
        load_kN: Option<Positive>,
        /// Driving torque, where the load is asked for.
        torque_Nm: Option<Positive>,
        /// Travel per turn.
        lead_mm: Positive,
        /// Efficiency.
        efficiency: Share,
        /// Turns per minute.
        speed_per_min: NotNegative = NotNegative(0.0),
        /// Stroke.
        stroke_mm: NotNegative = NotNegative(0.0),
    }
}

contract! {
    /// What it takes.
    struct BallOutput {
        /// Load along the axis.
        load_kN: f64,
        /// Driving torque.
        torque_Nm: f64,
        /// Torque by which the load drives the screw back.
        back_torque_Nm: f64,
        /// Power at that speed.
        power_W: f64,
        /// Energy of one stroke.
        energy_J: f64,
    }
}

/// The contract.
pub(crate) struct BallScrewDrive;

impl Contract for BallScrewDrive {
    const METHOD: Method = ball_screw::METHOD;
    const SUMMARY: &'static str = "method-ball-screw-drive";
    const FORMULA: &'static str = "T = F · l / (2 π η); T_back = F · l · η / (2 π)";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("F", "load_kN"),
        ("T", "torque_Nm"),
        ("l", "lead_mm"),
        ("η", "efficiency"),
        ("n", "speed_per_min"),
        ("s", "stroke_mm"),
    ];
    const ANSWERS: &'static [&'static str] = &["load_kN", "torque_Nm"];
    type In = BallInput;
    type Out = BallOutput;

    fn compute(input: &BallInput) -> Result<(BallOutput, Option<Working>), MethodError> {
        let (lead_mm, efficiency) = (input.lead_mm.0, input.efficiency.0);
        let load_n = match (input.load_kN, input.torque_Nm) {
            (Some(load), None) => load.0 * 1000.0,
            (None, Some(torque)) => ball_screw::load_n(torque.0, lead_mm, efficiency)?,
            (None, None) => return Err(MethodError::at("load_kN", "", Why::Missing)),
            (Some(_), Some(torque)) => {
                return Err(one_of_two("torque_Nm", torque.0, "load_kN | torque_Nm"));
            }
        };
        let screw = BallScrew {
            load_n,
            lead_mm,
            efficiency,
            speed_per_min: input.speed_per_min.0,
            stroke_mm: input.stroke_mm.0,
        };
        let d = ball_screw::drive(&screw)?;
        let out = BallOutput {
            load_kN: load_n / 1000.0,
            torque_Nm: d.torque_nm,
            back_torque_Nm: d.back_torque_nm,
            power_W: d.power_w,
            energy_J: d.energy_j,
        };
        let working = match input.torque_Nm {
            Some(torque) => ball_screw::working_from_torque(torque.0, &screw)?,
            None => ball_screw::working(&screw)?,
        };
        Ok((out, Some(working)))
    }
}

contract! {
    /// A thread that is tightened: `torque_Nm` or `preload_kN`, not both.
    struct PreloadInput {
        /// Tightening torque.
        torque_Nm: Option<Positive>,
        /// Preload wanted.
        preload_kN: Option<Positive>,
        /// Nominal diameter of the thread.
        diameter_mm: Positive,
        /// Nut factor.
        nut_factor: Positive,
        /// Smallest and largest nut factor, for the range of the preload.
        nut_factor_range: Option<(Positive, Positive)>,
    }
}

contract! {
    /// Torque and preload that belong together.
    struct PreloadOutput {
        /// Torque.
        torque_Nm: f64,
        /// Preload.
        preload_kN: f64,
        /// Preload at the largest nut factor.
        preload_min_kN: Option<f64>,
        /// Preload at the smallest nut factor.
        preload_max_kN: Option<f64>,
    }
}

/// The contract.
pub(crate) struct BoltPreload;

impl Contract for BoltPreload {
    const METHOD: Method = preload::METHOD;
    const SUMMARY: &'static str = "method-bolt-preload";
    const FORMULA: &'static str = "T = K · F · d";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("T", "torque_Nm"),
        ("F", "preload_kN"),
        ("K", "nut_factor"),
        ("d", "diameter_mm"),
    ];
    const ANSWERS: &'static [&'static str] = &["preload_kN", "torque_Nm"];
    type In = PreloadInput;
    type Out = PreloadOutput;

    fn compute(input: &PreloadInput) -> Result<(PreloadOutput, Option<Working>), MethodError> {
        let (factor, d) = (input.nut_factor.0, input.diameter_mm.0);
        let torque = match (input.torque_Nm, input.preload_kN) {
            (Some(torque), None) => torque.0,
            (None, Some(preload)) => preload::torque_nm(preload.0 * 1000.0, factor, d)?,
            (None, None) => return Err(MethodError::at("torque_Nm", "", Why::Missing)),
            (Some(_), Some(preload)) => {
                return Err(one_of_two(
                    "preload_kN",
                    preload.0,
                    "torque_Nm | preload_kN",
                ));
            }
        };
        let kilonewtons = |factor: f64| Ok(preload::preload_n(torque, factor, d)? / 1000.0);
        let at = |end: Option<Positive>| -> Result<Option<f64>, MethodError> {
            end.map(|k| kilonewtons(k.0)).transpose()
        };
        let range = input.nut_factor_range;
        let out = PreloadOutput {
            torque_Nm: torque,
            preload_kN: kilonewtons(factor)?,
            preload_min_kN: at(range.map(|r| r.1))?,
            preload_max_kN: at(range.map(|r| r.0))?,
        };
        Ok((out, Some(preload::working(torque, factor, d)?)))
    }
}
