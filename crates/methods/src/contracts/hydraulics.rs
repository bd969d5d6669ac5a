//! `hydraulic-cylinder`, `air-hydraulic-intensifier`

use calc::cylinder::{self, Cylinder};
use calc::intensifier::{self, Intensifier};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{NotNegative, Positive, Share, contract};

contract! {
    /// A cylinder under pressure.
    struct CylinderInput {
        /// Gauge pressure.
        pressure_bar: Positive,
        /// Bore.
        bore_mm: Positive,
        /// Rod.
        rod_mm: NotNegative = NotNegative(0.0),
        /// Stroke.
        stroke_mm: NotNegative = NotNegative(0.0),
    }
}

contract! {
    /// What it gives without friction.
    struct CylinderOutput {
        /// Force on the full bore.
        push_kN: f64,
        /// Force on the rod side.
        pull_kN: f64,
        /// Volume of the rod side for one stroke.
        pull_volume_cm3: f64,
        /// Work of a pull at full pressure.
        pull_work_J: f64,
    }
}

/// The contract.
pub(crate) struct HydraulicCylinder;

impl Contract for HydraulicCylinder {
    const METHOD: Method = cylinder::METHOD;
    const SUMMARY: &'static str = "method-hydraulic-cylinder";
    const FORMULA: &'static str = "F = p · π (D² − d²) / 4";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("p", "pressure_bar"),
        ("D", "bore_mm"),
        ("d", "rod_mm"),
        ("s", "stroke_mm"),
    ];
    const ANSWERS: &'static [&'static str] = &["pull_kN"];
    type In = CylinderInput;
    type Out = CylinderOutput;

    fn compute(input: &CylinderInput) -> Result<(CylinderOutput, Option<Working>), MethodError> {
        let cylinder = Cylinder {
            pressure_bar: input.pressure_bar.0,
            bore_mm: input.bore_mm.0,
            rod_mm: input.rod_mm.0,
            stroke_mm: input.stroke_mm.0,
        };
        let found = cylinder::output(&cylinder)?;
        let out = CylinderOutput {
            push_kN: found.push_n / 1000.0,
            pull_kN: found.pull_n / 1000.0,
            pull_volume_cm3: found.pull_volume_cm3,
            pull_work_J: found.pull_work_j,
        };
        Ok((out, Some(cylinder::working(&cylinder)?)))
    }
}

contract! {
    /// An intensifier and the head that it drives.
    struct IntensifierInput {
        /// Air, gauge pressure at the tool.
        air_bar: Positive,
        /// Air piston.
        air_piston_mm: Positive,
        /// Ram.
        ram_mm: Positive,
        /// Stroke of air piston and ram.
        air_stroke_mm: NotNegative,
        /// Bore of the pulling cylinder.
        pull_bore_mm: Positive,
        /// Rod of the pulling cylinder.
        pull_rod_mm: NotNegative,
        /// Share of the force that is left after friction.
        efficiency: Share = Share(1.0),
        /// Oil that is missing.
        lost_oil_cm3: NotNegative = NotNegative(0.0),
    }
}

contract! {
    /// What it gives.
    struct IntensifierOutput {
        /// Oil pressure over air pressure.
        ratio: f64,
        /// Oil pressure before friction.
        oil_bar: f64,
        /// Pull before friction.
        ideal_pull_kN: f64,
        /// Pull with the efficiency.
        pull_kN: f64,
        /// Stroke of the pulling rod with all its oil.
        pull_stroke_mm: f64,
        /// What the missing oil takes of it.
        lost_stroke_mm: f64,
        /// Stroke that is left.
        stroke_left_mm: f64,
        /// Free air of one stroke.
        free_air_l: f64,
    }
}

/// The contract.
pub(crate) struct AirHydraulicIntensifier;

impl Contract for AirHydraulicIntensifier {
    const METHOD: Method = intensifier::METHOD;
    const SUMMARY: &'static str = "method-air-hydraulic-intensifier";
    const FORMULA: &'static str =
        "p_o = p_a · (D_a / d_r)²; F = p_o · π (D_p² − d_p²) / 4 · η; s_l = V_l / A";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("p_a", "air_bar"),
        ("D_a", "air_piston_mm"),
        ("d_r", "ram_mm"),
        ("s_a", "air_stroke_mm"),
        ("D_p", "pull_bore_mm"),
        ("d_p", "pull_rod_mm"),
        ("η", "efficiency"),
        ("V_l", "lost_oil_cm3"),
    ];
    const ANSWERS: &'static [&'static str] = &["pull_kN"];
    type In = IntensifierInput;
    type Out = IntensifierOutput;

    fn compute(
        input: &IntensifierInput,
    ) -> Result<(IntensifierOutput, Option<Working>), MethodError> {
        let intensifier = Intensifier {
            air_bar: input.air_bar.0,
            air_piston_mm: input.air_piston_mm.0,
            ram_mm: input.ram_mm.0,
            air_stroke_mm: input.air_stroke_mm.0,
            pull_bore_mm: input.pull_bore_mm.0,
            pull_rod_mm: input.pull_rod_mm.0,
            efficiency: input.efficiency.0,
            lost_oil_cm3: input.lost_oil_cm3.0,
        };
        let found = intensifier::output(&intensifier)?;
        let out = IntensifierOutput {
            ratio: found.ratio,
            oil_bar: found.oil_bar,
            ideal_pull_kN: found.ideal_pull_n / 1000.0,
            pull_kN: found.pull_n / 1000.0,
            pull_stroke_mm: found.pull_stroke_mm,
            lost_stroke_mm: found.lost_stroke_mm,
            stroke_left_mm: found.pull_stroke_mm - found.lost_stroke_mm,
            free_air_l: found.free_air_l,
        };
        Ok((out, Some(intensifier::working(&intensifier)?)))
    }
}
