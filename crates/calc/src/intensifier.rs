//! An air-hydraulic intensifier: shop air on a large piston, oil behind a small ram, the oil pulls.
//!
//! # Formula
//! Ratio i = (D_a / d_r)². Oil pressure p_o = p_a · i. Pull F = p_o · π (D_p² − d_p²) / 4, times an
//! efficiency. Pull stroke s_p = s_a · d_r² / (D_p² − d_p²); oil that is lost, V_l, takes s_l = V_l / (π (D_p² − d_p²) /
//! 4) of it. Free air of a stroke: the air cylinder's
//! volume at absolute pressure over atmospheric.
//!
//! # Validity
//! Oil that does not give, no air in it; return side at no pressure; air at one temperature.
//!
//! # Source
//! Balance of forces and of oil volume.

use std::f64::consts::PI;

use crate::Message;
use crate::error::{CalcError, within};
use crate::units::ATMOSPHERE_PA;
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "air-hydraulic-intensifier",
    version: 1,
    source: "balance of forces and of oil volume",
};

/// Standard atmosphere, bar.
const ATMOSPHERE_BAR: f64 = ATMOSPHERE_PA / 1e5;

/// An intensifier and the head it drives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Intensifier {
    /// Air, gauge pressure at the tool, bar.
    pub air_bar: f64,
    /// Air piston, mm.
    pub air_piston_mm: f64,
    /// Ram, mm.
    pub ram_mm: f64,
    /// Stroke of air piston and ram, mm.
    pub air_stroke_mm: f64,
    /// Bore of the pulling cylinder, mm.
    pub pull_bore_mm: f64,
    /// Rod of the pulling cylinder, mm.
    pub pull_rod_mm: f64,
    /// Share of the force that is left after friction.
    pub efficiency: f64,
    /// Oil that is missing, cm³.
    pub lost_oil_cm3: f64,
}

/// What it gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Output {
    /// i.
    pub ratio: f64,
    /// Oil pressure before friction, bar.
    pub oil_bar: f64,
    /// Pull before friction, N.
    pub ideal_pull_n: f64,
    /// Pull with the efficiency, N.
    pub pull_n: f64,
    /// Stroke of the pulling rod with all its oil, mm.
    pub pull_stroke_mm: f64,
    /// What the missing oil takes of it, mm.
    pub lost_stroke_mm: f64,
    /// Free air of one stroke, l.
    pub free_air_l: f64,
}

/// Pressure, pull, stroke and air.
///
/// # Errors
/// A size or pressure that is not above 0, a ram larger than the air piston, a rod as thick as its
/// bore, an efficiency outside 0 to 1, more oil lost than a stroke moves.
pub fn output(i: &Intensifier) -> Result<Output, CalcError> {
    let air = within("p_a", i.air_bar, f64::MIN_POSITIVE, 1e3)?;
    let piston = within("D_a", i.air_piston_mm, 1e-3, 1e6)?;
    let ram = within("d_r", i.ram_mm, 1e-3, piston)?;
    let stroke = within("s_a", i.air_stroke_mm, 0.0, 1e6)?;
    let bore = within("D_p", i.pull_bore_mm, 1e-3, 1e6)?;
    let rod = within("d_p", i.pull_rod_mm, 0.0, bore * (1.0 - 1e-9))?;
    let efficiency = within("η", i.efficiency, 0.0, 1.0)?;
    let moved_cm3 = PI * ram * ram / 4.0 * stroke / 1000.0;
    let lost = within("V_l", i.lost_oil_cm3, 0.0, moved_cm3)?;
    let ratio = (piston / ram).powi(2);
    let oil_bar = air * ratio;
    let ring_mm2 = PI * (bore * bore - rod * rod) / 4.0;
    let ideal_pull_n = oil_bar * 0.1 * ring_mm2;
    let air_volume_l = PI * piston * piston / 4.0 * stroke * 1e-6;
    Ok(Output {
        ratio,
        oil_bar,
        ideal_pull_n,
        pull_n: ideal_pull_n * efficiency,
        pull_stroke_mm: stroke * ram * ram / (bore * bore - rod * rod),
        lost_stroke_mm: lost * 1000.0 / ring_mm2,
        free_air_l: air_volume_l * (air + ATMOSPHERE_BAR) / ATMOSPHERE_BAR,
    })
}

/// The working of [`output`].
///
/// # Errors
/// As [`output`].
pub fn working(i: &Intensifier) -> Result<Working, CalcError> {
    let out = output(i)?;
    let lost = i.lost_oil_cm3 > 0.0;
    let working = Working::new(METHOD)
        .given("p_a", Message::new("given-air"), i.air_bar, 2, "bar")
        .given(
            "D_a",
            Message::new("given-air-piston"),
            i.air_piston_mm,
            2,
            "mm",
        )
        .given("d_r", Message::new("given-ram"), i.ram_mm, 2, "mm")
        .given(
            "s_a",
            Message::new("given-air-stroke"),
            i.air_stroke_mm,
            2,
            "mm",
        )
        .given("D_p", Message::new("given-bore"), i.pull_bore_mm, 2, "mm")
        .given("d_p", Message::new("given-rod"), i.pull_rod_mm, 2, "mm")
        .given("η", Message::new("given-efficiency"), i.efficiency, 3, "")
        .step("i", "(D_a / d_r)²", out.ratio, 2, "")
        .step("p_o", "p_a · i", out.oil_bar, 1, "bar")
        .step(
            "A",
            "π · (D_p² − d_p²) / 4",
            out.ideal_pull_n / out.oil_bar * 10.0,
            1,
            "mm²",
        )
        .step("F", "p_o · A · η", out.pull_n / 1000.0, 2, "kN")
        .step(
            "s_p",
            "s_a · d_r² / (D_p² − d_p²)",
            out.pull_stroke_mm,
            2,
            "mm",
        )
        .step(
            "V",
            "π · D_a² / 4 · s_a · (p_a + 1.01325) / 1.01325",
            out.free_air_l,
            3,
            "l",
        );
    if !lost {
        return Ok(working);
    }
    let left = out.pull_stroke_mm - out.lost_stroke_mm;
    Ok(working
        .given(
            "V_l",
            Message::new("given-lost-oil"),
            i.lost_oil_cm3,
            2,
            "cm³",
        )
        .step("s_l", "V_l · 1000 / A", out.lost_stroke_mm, 2, "mm")
        .step("s_r", "s_p − s_l", left, 2, "mm"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const TOOL: Intensifier = Intensifier {
        air_bar: 6.2,
        air_piston_mm: 70.0,
        ram_mm: 12.7,
        air_stroke_mm: 120.0,
        pull_bore_mm: 45.0,
        pull_rod_mm: 18.0,
        efficiency: 0.92,
        lost_oil_cm3: 0.0,
    };

    #[test]
    fn a_tool_at_six_point_two_bar() {
        // numpy 2.4.6 on the same formulas.
        let out = output(&TOOL).expect("good");
        assert!((out.ratio - 30.380_060_760_121_52).abs() < 1e-12);
        assert!((out.oil_bar - 188.356_376_712_753_47).abs() < 1e-9);
        assert!((out.ideal_pull_n - 25_163.701_372_080_497).abs() < 1e-7);
        assert!((out.pull_n - 23_150.605_262_314_057).abs() < 1e-7);
        assert!((out.pull_stroke_mm - 11.378_483_245_149_913).abs() < 1e-12);
        assert!((out.free_air_l - 3.287_619_740_094_218).abs() < 1e-12);
    }

    #[test]
    fn refusals() {
        for bad in [
            Intensifier {
                air_bar: 0.0,
                ..TOOL
            },
            Intensifier {
                air_piston_mm: f64::NAN,
                ..TOOL
            },
            Intensifier {
                ram_mm: 71.0,
                ..TOOL
            },
            Intensifier {
                pull_rod_mm: 45.0,
                ..TOOL
            },
            Intensifier {
                efficiency: 1.01,
                ..TOOL
            },
            Intensifier {
                lost_oil_cm3: -0.1,
                ..TOOL
            },
            Intensifier {
                lost_oil_cm3: 15.3,
                ..TOOL
            },
            Intensifier {
                air_stroke_mm: f64::INFINITY,
                ..TOOL
            },
        ] {
            assert!(output(&bad).is_err(), "{bad:?}");
            assert!(working(&bad).is_err());
        }
    }

    #[test]
    fn lost_oil_is_lost_stroke() {
        // By hand: 2 cm³ over π · (45² − 18²) / 4 = 1335.96 mm² is 1.497 048 mm.
        let out = output(&Intensifier {
            lost_oil_cm3: 2.0,
            ..TOOL
        })
        .expect("good");
        assert!((out.lost_stroke_mm - 1.497_048).abs() < 1e-6, "{out:?}");
        // All the oil of a stroke is the whole stroke.
        let all = PI * 12.7 * 12.7 / 4.0 * 0.12;
        let out = output(&Intensifier {
            lost_oil_cm3: all,
            ..TOOL
        })
        .expect("good");
        assert!((out.lost_stroke_mm - out.pull_stroke_mm).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn ideal_work_in_is_work_out(bar in 1.0..10.0f64, ram in 5.0..50.0f64) {
            let out = output(&Intensifier { air_bar: bar, ram_mm: ram, ..TOOL }).expect("good");
            let air_n = bar * 0.1 * PI * TOOL.air_piston_mm.powi(2) / 4.0;
            let (work_in, work_out) = (air_n * TOOL.air_stroke_mm, out.ideal_pull_n * out.pull_stroke_mm);
            prop_assert!((work_out / work_in - 1.0).abs() < 1e-9);
        }
    }
}
