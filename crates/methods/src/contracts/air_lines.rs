//! `air-line-darcy`, `air-line-metric-rule`, `air-line-harris-rule`

use calc::air_line::{self, AirLine};
use calc::air_line_rules::{self, HARRIS, Line, METRIC};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{NotNegative, Positive, contract};

contract! {
    /// A straight line and the air that flows in it.
    struct DarcyInput {
        /// Free air, at 1.01325 bar and the temperature of the line.
        free_air_m3_per_min: Positive,
        /// Length.
        length_m: Positive,
        /// Bore.
        bore_mm: Positive,
        /// Gauge pressure at the inlet.
        inlet_bar: NotNegative,
        /// Roughness of the wall.
        roughness_mm: NotNegative = NotNegative(0.0015),
        /// Temperature of the air.
        temperature_K: Positive = Positive(293.15),
        /// Dynamic viscosity.
        viscosity_Pa_s: Positive = Positive(1.81e-5),
        /// Gas constant.
        gas_constant_J_per_kg_K: Positive = Positive(287.05),
    }
}

contract! {
    /// What the line loses.
    struct DarcyOutput {
        /// Mass flow.
        mass_flow_kg_per_s: f64,
        /// Speed at the inlet.
        speed_m_per_s: f64,
        /// Reynolds number.
        reynolds: f64,
        /// Friction factor (Darcy).
        friction_factor: f64,
        /// Loss reckoned as a short line.
        short_drop_bar: f64,
        /// Loss reckoned as a long line at one temperature.
        long_drop_bar: f64,
    }
}

/// The contract.
pub(crate) struct Darcy;

impl Contract for Darcy {
    const METHOD: Method = air_line::METHOD;
    const SUMMARY: &'static str = "method-air-line-darcy";
    const FORMULA: &'static str = "Δp = f · L / d · ρ v² / 2; p₁² − p₂² = f · L / d · G² R T";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("q", "free_air_m3_per_min"),
        ("L", "length_m"),
        ("d", "bore_mm"),
        ("p", "inlet_bar"),
        ("k", "roughness_mm"),
        ("T", "temperature_K"),
        ("μ", "viscosity_Pa_s"),
        ("R", "gas_constant_J_per_kg_K"),
    ];
    const ANSWERS: &'static [&'static str] = &["long_drop_bar"];
    type In = DarcyInput;
    type Out = DarcyOutput;

    fn compute(input: &DarcyInput) -> Result<(DarcyOutput, Option<Working>), MethodError> {
        let line = AirLine {
            free_air_m3_per_min: input.free_air_m3_per_min.0,
            length_m: input.length_m.0,
            bore_mm: input.bore_mm.0,
            inlet_bar: input.inlet_bar.0,
            roughness_mm: input.roughness_mm.0,
            temperature_k: input.temperature_K.0,
            viscosity_pa_s: input.viscosity_Pa_s.0,
            gas_constant: input.gas_constant_J_per_kg_K.0,
        };
        let loss = air_line::loss(&line)?;
        let out = DarcyOutput {
            mass_flow_kg_per_s: loss.mass_flow_kg_per_s,
            speed_m_per_s: loss.speed_m_per_s,
            reynolds: loss.reynolds,
            friction_factor: loss.friction_factor,
            short_drop_bar: loss.short_bar,
            long_drop_bar: loss.long_bar,
        };
        Ok((out, Some(air_line::working(&line)?)))
    }
}

contract! {
    /// What the line loses.
    struct RuleOutput {
        /// Loss of pressure.
        drop_bar: f64,
    }
}

contract! {
    /// A line, for the metric rule.
    struct MetricInput {
        /// Free air.
        free_air_m3_per_min: Positive,
        /// Length.
        length_m: Positive,
        /// Bore.
        bore_mm: Positive,
        /// Absolute pressure in the line.
        pressure_abs_bar: Positive,
    }
}

const RULE_NAMES: &[(&str, &str)] = &[
    ("q", "free_air_m3_per_min"),
    ("L", "length_m"),
    ("d", "bore_mm"),
    ("p", "pressure_abs_bar"),
    ("r", "compression_ratio"),
];

/// The contract.
pub(crate) struct MetricRule;

impl Contract for MetricRule {
    const METHOD: Method = METRIC;
    const SUMMARY: &'static str = "method-air-line-metric-rule";
    const FORMULA: &'static str = "Δp = 7.57 · q^1.85 · L · 10⁴ / (d⁵ · p), pressures in kgf/cm²";
    const NAMES: &'static [(&'static str, &'static str)] = RULE_NAMES;
    type In = MetricInput;
    type Out = RuleOutput;

    fn compute(input: &MetricInput) -> Result<(RuleOutput, Option<Working>), MethodError> {
        let line = Line {
            free_air_m3_per_min: input.free_air_m3_per_min.0,
            length_m: input.length_m.0,
            bore_mm: input.bore_mm.0,
        };
        let drop_bar = air_line_rules::metric_bar(&line, input.pressure_abs_bar.0)?;
        Ok((RuleOutput { drop_bar }, None))
    }
}

contract! {
    /// A line, for Harris's formula.
    struct HarrisInput {
        /// Free air.
        free_air_m3_per_min: Positive,
        /// Length.
        length_m: Positive,
        /// Bore.
        bore_mm: Positive,
        /// Absolute pressure in the line over atmospheric.
        compression_ratio: Positive,
    }
}

/// The contract.
pub(crate) struct HarrisRule;

impl Contract for HarrisRule {
    const METHOD: Method = HARRIS;
    const SUMMARY: &'static str = "method-air-line-harris-rule";
    const FORMULA: &'static str =
        "Δp = 0.1025 · L · Q² / (3600 · r · d^5.31), in ft, ft³/min, in, psi";
    const NAMES: &'static [(&'static str, &'static str)] = RULE_NAMES;
    type In = HarrisInput;
    type Out = RuleOutput;

    fn compute(input: &HarrisInput) -> Result<(RuleOutput, Option<Working>), MethodError> {
        let line = Line {
            free_air_m3_per_min: input.free_air_m3_per_min.0,
            length_m: input.length_m.0,
            bore_mm: input.bore_mm.0,
        };
        let drop_bar = air_line_rules::harris_bar(&line, input.compression_ratio.0)?;
        Ok((RuleOutput { drop_bar }, None))
    }
}
