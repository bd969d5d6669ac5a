//! The pressure that an air line loses: Darcy–Weisbach with Colebrook's friction factor.
//!
//! # Formula
//! ρ = p / (R T) at the inlet, mass flow G · A = free air · ρ at 1.01325 bar, v = G / ρ,
//! Re = ρ v d / μ. f from 1/√f = −2 lg(k / (3.7 d) + 2.51 / (Re √f)); laminar below Re = 2300: 64 / Re.
//! Short line: Δp = f (L / d) ρ v² / 2. Long line at one temperature: p₁² − p₂² = f (L / d) G² R T.
//!
//! # Validity
//! A straight round pipe or hose without fittings; slow against sound. Between Re = 2300 and 4000 the
//! flow is neither one nor the other and the result is a guess.
//!
//! # Source
//! Colebrook (1939), J. ICE 11; Darcy–Weisbach, any textbook. Check values: `fluids` 1.3.1.

use crate::Message;
use crate::error::{CalcError, within};
use crate::units::ATMOSPHERE_PA;
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "air-line-darcy",
    version: 1,
    source: "Darcy–Weisbach with Colebrook's friction factor",
};

/// A line and what flows in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirLine {
    /// Free air, m³/min.
    pub free_air_m3_per_min: f64,
    /// Length, m.
    pub length_m: f64,
    /// Bore, mm.
    pub bore_mm: f64,
    /// Gauge pressure at the inlet, bar.
    pub inlet_bar: f64,
    /// Roughness of the wall, mm.
    pub roughness_mm: f64,
    /// Temperature of the air, K.
    pub temperature_k: f64,
    /// Dynamic viscosity, Pa·s.
    pub viscosity_pa_s: f64,
    /// Gas constant, J/(kg·K).
    pub gas_constant: f64,
}

/// What the line loses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loss {
    /// Mass flow, kg/s.
    pub mass_flow_kg_per_s: f64,
    /// Speed at the inlet, m/s.
    pub speed_m_per_s: f64,
    /// Reynolds number.
    pub reynolds: f64,
    /// Friction factor.
    pub friction_factor: f64,
    /// Loss of a short line, bar.
    pub short_bar: f64,
    /// Loss of a long line at one temperature, bar.
    pub long_bar: f64,
}

/// The loss of `line`.
///
/// # Errors
/// A size, flow, temperature or viscosity that is not above 0, a roughness of half the bore and
/// more, or so much flow that the line cannot carry it.
pub fn loss(line: &AirLine) -> Result<Loss, CalcError> {
    let above_zero = |input, value| within(input, value, 1e-12, 1e9);
    let flow = above_zero("q", line.free_air_m3_per_min)? / 60.0;
    let length = above_zero("L", line.length_m)?;
    let bore = above_zero("d", line.bore_mm)? / 1000.0;
    let inlet = within("p", line.inlet_bar, 0.0, 1e4)? * 1e5 + ATMOSPHERE_PA;
    let roughness = within("k", line.roughness_mm, 0.0, line.bore_mm / 2.0)? / 1000.0;
    let temperature = above_zero("T", line.temperature_k)?;
    let viscosity = above_zero("μ", line.viscosity_pa_s)?;
    let r = above_zero("R", line.gas_constant)?;
    let area = std::f64::consts::PI * bore * bore / 4.0;
    let density = inlet / (r * temperature);
    let mass_flow = flow * ATMOSPHERE_PA / (r * temperature);
    let flux = mass_flow / area;
    let speed = flux / density;
    let reynolds = flux * bore / viscosity;
    let factor = friction_factor(reynolds, roughness / bore);
    let squares = factor * length / bore * flux * flux * r * temperature;
    // Above this share of the inlet pressure squared nothing is left at the outlet.
    let left = inlet * inlet - squares;
    if left <= 0.0 {
        return Err(CalcError::OutOfRange {
            input: "q",
            value: line.free_air_m3_per_min,
            min: f64::MIN_POSITIVE,
            max: line.free_air_m3_per_min * inlet / squares.sqrt(),
        });
    }
    Ok(Loss {
        mass_flow_kg_per_s: mass_flow,
        speed_m_per_s: speed,
        reynolds,
        friction_factor: factor,
        short_bar: factor * length / bore * density * speed * speed / 2.0 / 1e5,
        long_bar: squares / (inlet + left.sqrt()) / 1e5,
    })
}

/// Colebrook's factor; Newton on x = 1/√f, which converges in a few steps from any start.
fn friction_factor(reynolds: f64, relative_roughness: f64) -> f64 {
    if reynolds < 2300.0 {
        return 64.0 / reynolds;
    }
    let rough = relative_roughness / 3.7;
    let mut x = 7.0_f64;
    for _ in 0..60 {
        let inside = rough + 2.51 * x / reynolds;
        let value = x + 2.0 * inside.log10();
        let slope = 1.0 + 2.0 * 2.51 / reynolds / inside / std::f64::consts::LN_10;
        let next = x - value / slope;
        if (next - x).abs() <= 1e-14 * x {
            break;
        }
        x = next.max(1e-3);
    }
    1.0 / (x * x)
}

/// The working of [`loss`].
///
/// # Errors
/// As [`loss`].
pub fn working(line: &AirLine) -> Result<Working, CalcError> {
    let out = loss(line)?;
    Ok(Working::new(METHOD)
        .given(
            "q",
            Message::new("given-free-air"),
            line.free_air_m3_per_min,
            3,
            "m³/min",
        )
        .given("L", Message::new("given-length"), line.length_m, 1, "m")
        .given("d", Message::new("given-bore"), line.bore_mm, 1, "mm")
        .given(
            "p",
            Message::new("given-pressure"),
            line.inlet_bar,
            2,
            "bar",
        )
        .given(
            "k",
            Message::new("given-roughness"),
            line.roughness_mm,
            4,
            "mm",
        )
        .step("v", "G / ρ", out.speed_m_per_s, 2, "m/s")
        .step("Re", "ρ · v · d / μ", out.reynolds, 0, "")
        .step(
            "f",
            "(−2 · lg(k / (3.7 · d) + 2.51 / (Re · √f)))⁻²",
            out.friction_factor,
            5,
            "",
        )
        .step("Δp₁", "f · L / d · ρ · v² / 2", out.short_bar, 4, "bar")
        .step(
            "Δp₂",
            "p₁ − √(p₁² − f · L / d · G² · R · T)",
            out.long_bar,
            4,
            "bar",
        ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const LINE: AirLine = AirLine {
        free_air_m3_per_min: 0.6,
        length_m: 30.0,
        bore_mm: 13.0,
        inlet_bar: 7.0,
        roughness_mm: 0.0015,
        temperature_k: 293.15,
        viscosity_pa_s: 1.81e-5,
        gas_constant: 287.05,
    };

    #[test]
    fn a_smooth_hose() {
        // fluids 1.3.1 friction_factor(Method="Colebrook"), scipy 1.17.1 for the rest.
        let out = loss(&LINE).expect("good");
        for (got, known) in [
            (out.mass_flow_kg_per_s, 0.012_041_183_163_746_156),
            (out.speed_m_per_s, 9.526_455_304_724_799),
            (out.reynolds, 65_156.441_009_268_42),
            (out.friction_factor, 0.020_182_689_549_338_318),
            (out.short_bar, 0.201_256_936_482_460_66),
            (out.long_bar, 0.203_849_813_688_388_1),
        ] {
            assert!((got / known - 1.0).abs() < 1e-8, "{got} {known}");
        }
    }

    #[test]
    fn laminar_below_2300_and_colebrook_above() {
        // Hagen–Poiseuille f = 64 / Re; above it Colebrook by scipy 1.17.1 optimize.brentq.
        for (q, re, f) in [
            (0.018_418, 2_000.085_550_847_843_3, 0.031_998_631_244_983_58),
            (0.0211, 2_291.334_842_159_273, 0.027_931_317_074_412_685),
            (0.0212, 2_302.194_248_994_151, 0.047_362_311_174_953_604),
            (0.027_63, 3_000.454_108_476_811, 0.043_620_890_000_669_12),
        ] {
            let out = loss(&AirLine {
                free_air_m3_per_min: q,
                ..LINE
            });
            let out = out.expect("good");
            assert!((out.reynolds / re - 1.0).abs() < 1e-9, "{out:?}");
            assert!((out.friction_factor / f - 1.0).abs() < 1e-9, "{out:?}");
        }
    }

    #[test]
    fn refusals() {
        for bad in [
            AirLine {
                free_air_m3_per_min: 0.0,
                ..LINE
            },
            AirLine {
                free_air_m3_per_min: 60.0,
                ..LINE
            },
            AirLine {
                length_m: f64::NAN,
                ..LINE
            },
            AirLine {
                bore_mm: -1.0,
                ..LINE
            },
            AirLine {
                inlet_bar: -1.0,
                ..LINE
            },
            AirLine {
                roughness_mm: 7.0,
                ..LINE
            },
            AirLine {
                temperature_k: 0.0,
                ..LINE
            },
            AirLine {
                viscosity_pa_s: f64::INFINITY,
                ..LINE
            },
        ] {
            assert!(loss(&bad).is_err(), "{bad:?}");
            assert!(working(&bad).is_err());
        }
    }

    proptest! {
        #[test]
        fn colebrook_solves_its_equation(re in 4000.0..1e8f64, k in 0.0..0.05f64) {
            let f = friction_factor(re, k);
            let right = -2.0 * (k / 3.7 + 2.51 / (re * f.sqrt())).log10();
            prop_assert!((1.0 / f.sqrt() - right).abs() < 1e-9);
        }

        #[test]
        fn a_long_line_loses_more_than_a_short_one_reckons(q in 0.05..0.8f64) {
            let out = loss(&AirLine { free_air_m3_per_min: q, ..LINE }).expect("carries it");
            prop_assert!(out.long_bar >= out.short_bar);
        }
    }
}
