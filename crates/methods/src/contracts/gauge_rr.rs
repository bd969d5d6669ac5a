//! `gauge-rr-anova`, `gauge-rr-range`

use calc::gauge_rr::{self, Interaction};
use calc::gauge_rr_range::{self, Factors};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Positive, choices, contract};

choices! {
    /// What becomes of the interaction of people and parts.
    enum InteractionIn of Interaction {
        "tested" => Interaction::Tested,
        "kept" => Interaction::Kept,
        "pooled" => Interaction::Pooled,
    }
}

contract! {
    /// A study of one gauge, all readings in one unit.
    struct AnovaInput {
        /// Readings by person, trial, part.
        readings: Vec<Vec<Vec<f64>>>,
        /// Interaction of people and parts. Tested: pooled into the repeatability if its probability is 0.25 or more.
        interaction: InteractionIn = InteractionIn(Interaction::Tested),
        /// Width of the tolerance that the gauge is used for, in the unit of the readings.
        tolerance_width: Option<Positive>,
    }
}

contract! {
    /// Where the spread comes from. Standard deviations unless the name says otherwise.
    struct AnovaOutput {
        /// Sum of squares of the parts.
        ss_part: f64,
        /// Sum of squares of the people.
        ss_operator: f64,
        /// Sum of squares of their interaction.
        ss_interaction: f64,
        /// Sum of squares of the trials.
        ss_repeatability: f64,
        /// Sum of squares of all.
        ss_total: f64,
        /// Mean square of the parts.
        ms_part: f64,
        /// Mean square of the people.
        ms_operator: f64,
        /// Mean square of their interaction.
        ms_interaction: f64,
        /// Mean square of the trials.
        ms_repeatability: f64,
        /// Interaction against trials; left out if no trial differs.
        interaction_f: Option<f64>,
        /// Probability of that without an interaction.
        interaction_p: Option<f64>,
        /// Whether the interaction was pooled into the repeatability.
        interaction_pooled: bool,
        /// Variance of the repeatability.
        repeatability_variance: f64,
        /// Variance of the interaction.
        interaction_variance: f64,
        /// Variance between people.
        operator_variance: f64,
        /// Variance of people and interaction.
        reproducibility_variance: f64,
        /// Variance of the gauge.
        gauge_rr_variance: f64,
        /// Variance between parts.
        part_variance: f64,
        /// Variance of all.
        total_variance: f64,
        /// Repeatability.
        repeatability: f64,
        /// Interaction.
        interaction: f64,
        /// Reproducibility.
        reproducibility: f64,
        /// Gauge, repeatability and reproducibility together.
        gauge_rr: f64,
        /// Parts.
        part_variation: f64,
        /// All.
        total_variation: f64,
        /// Gauge in percent of all, by standard deviations.
        gauge_rr_pct: f64,
        /// Gauge in percent of all, by variances.
        gauge_rr_contribution_pct: f64,
        /// Six standard deviations of the gauge in percent of the tolerance.
        gauge_rr_tolerance_pct: Option<f64>,
        /// Kinds of part that it tells apart, not rounded; left out for a gauge without any spread.
        categories_unrounded: Option<f64>,
        /// Kinds of part that it tells apart, cut to a whole number.
        categories: Option<u64>,
    }
}

/// The contract.
pub(crate) struct GaugeAnova;

impl Contract for GaugeAnova {
    const METHOD: Method = gauge_rr::METHOD;
    const SUMMARY: &'static str = "method-gauge-rr-anova";
    const FORMULA: &'static str = "σ²_E = MS_E; σ²_PO = (MS_PO − MS_E) / r; σ²_O = (MS_O − MS_PO) / (p · r); σ²_P = (MS_P − MS_PO) / (o · r); c = 1.41 · σ_P / σ_GRR";
    const NAMES: &'static [(&'static str, &'static str)] = &READINGS;
    const ANSWERS: &'static [&'static str] = &["gauge_rr", "gauge_rr_pct", "categories"];
    type In = AnovaInput;
    type Out = AnovaOutput;

    fn compute(input: &AnovaInput) -> Result<(AnovaOutput, Option<Working>), MethodError> {
        let s = gauge_rr::study(&input.readings, input.interaction.0)?;
        let (gauge, total) = (s.gauge(), s.total());
        let out = AnovaOutput {
            ss_part: s.part.ss,
            ss_operator: s.operator.ss,
            ss_interaction: s.interaction.ss,
            ss_repeatability: s.repeat.ss,
            ss_total: s.ss_total,
            ms_part: s.part.mean(),
            ms_operator: s.operator.mean(),
            ms_interaction: s.interaction.mean(),
            ms_repeatability: s.repeat.mean(),
            interaction_f: s.interaction_f,
            interaction_p: s.interaction_p,
            interaction_pooled: s.is_pooled,
            repeatability_variance: s.repeatability,
            interaction_variance: s.interaction_variance,
            operator_variance: s.operator_variance,
            reproducibility_variance: s.reproducibility(),
            gauge_rr_variance: gauge,
            part_variance: s.part_variance,
            total_variance: total,
            repeatability: s.repeatability.sqrt(),
            interaction: s.interaction_variance.sqrt(),
            reproducibility: s.reproducibility().sqrt(),
            gauge_rr: gauge.sqrt(),
            part_variation: s.part_variance.sqrt(),
            total_variation: total.sqrt(),
            gauge_rr_pct: 100.0 * (gauge / total).sqrt(),
            gauge_rr_contribution_pct: 100.0 * gauge / total,
            gauge_rr_tolerance_pct: input.tolerance_width.map(|t| 600.0 * gauge.sqrt() / t.0),
            categories_unrounded: s.categories(),
            categories: s.categories().map(|c| c as u64),
        };
        Ok((out, Some(gauge_rr::working(&s))))
    }
}

const READINGS: [(&str, &str); 4] = [
    ("x", "readings"),
    ("o", "readings"),
    ("r", "readings"),
    ("p", "readings"),
];

contract! {
    /// A study of one gauge by ranges, all readings in one unit.
    struct RangeInput {
        /// Readings by person, trial, part.
        readings: Vec<Vec<Vec<f64>>>,
        /// Factor for the trials. By default from the table for two or three.
        k1: Option<Positive>,
        /// Factor for the people. By default from the table for two or three.
        k2: Option<Positive>,
        /// Factor for the parts. By default from the table for two to ten.
        k3: Option<Positive>,
    }
}

contract! {
    /// Where the spread comes from. Standard deviations unless the name says otherwise.
    struct RangeOutput {
        /// Mean range of one person on one part.
        mean_range: f64,
        /// Highest less lowest mean of a person.
        operator_difference: f64,
        /// Highest less lowest mean of a part.
        part_range: f64,
        /// Repeatability.
        repeatability: f64,
        /// Reproducibility.
        reproducibility: f64,
        /// Gauge, repeatability and reproducibility together.
        gauge_rr: f64,
        /// Parts.
        part_variation: f64,
        /// All.
        total_variation: f64,
        /// Gauge in percent of all.
        gauge_rr_pct: f64,
        /// Kinds of part that it tells apart, cut to a whole number; left out for a gauge without any spread.
        categories: Option<u64>,
    }
}

/// The contract.
pub(crate) struct GaugeRange;

impl Contract for GaugeRange {
    const METHOD: Method = gauge_rr_range::METHOD;
    const SUMMARY: &'static str = "method-gauge-rr-range";
    const FORMULA: &'static str = "EV = R̿ · K₁; AV² = (X̄_diff · K₂)² − EV² / (p · r); GRR² = EV² + AV²; PV = R_p · K₃; TV² = GRR² + PV²; c = 1.41 · PV / GRR";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        READINGS[0],
        READINGS[1],
        READINGS[2],
        READINGS[3],
        ("K₁", "k1"),
        ("K₂", "k2"),
        ("K₃", "k3"),
    ];
    const ANSWERS: &'static [&'static str] = &["gauge_rr", "gauge_rr_pct", "categories"];
    type In = RangeInput;
    type Out = RangeOutput;

    fn compute(input: &RangeInput) -> Result<(RangeOutput, Option<Working>), MethodError> {
        let factors = Factors {
            k1: input.k1.map(|k| k.0),
            k2: input.k2.map(|k| k.0),
            k3: input.k3.map(|k| k.0),
        };
        let s = gauge_rr_range::study(&input.readings, factors)?;
        let out = RangeOutput {
            mean_range: s.mean_range,
            operator_difference: s.operator_difference,
            part_range: s.part_range,
            repeatability: s.repeatability,
            reproducibility: s.reproducibility,
            gauge_rr: s.gauge(),
            part_variation: s.part,
            total_variation: s.total(),
            gauge_rr_pct: 100.0 * s.gauge() / s.total(),
            categories: s.categories().map(|c| c as u64),
        };
        Ok((out, Some(gauge_rr_range::working(&s))))
    }
}
