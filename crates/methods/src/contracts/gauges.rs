//! `gauge-correction`, `force-gauge-check`

use calc::decision::Rule;
use calc::force_check::{self, Checked, Point, Set};
use calc::gauge_correction::{self, Curve, Gauge};
use calc::working::{Method, Working};

use super::conformity::{RuleIn, VerdictOut};
use crate::card::Contract;
use crate::shape::{Extended, NotNegative, Positive, contract};
use crate::{MethodError, Why};

contract! {
    /// A gauge with its calibration, and readings of one value, all in one unit.
    struct CorrectionInput {
        /// What it indicated at each point of the calibration.
        indicated: Vec<f64>,
        /// Indicated less true at each point.
        deviations: Vec<f64>,
        /// Degree of the curve through the deviations: 1 for a line. Without it, straight from point to point.
        degree: Option<u64>,
        /// Largest expanded uncertainty on the certificate.
        certificate_expanded: NotNegative,
        /// Coverage factor of that.
        certificate_factor: Positive = Positive(2.0),
        /// Smallest step that it shows.
        resolution: NotNegative = NotNegative(0.0),
        /// How far it may have moved since the calibration, to either side.
        drift: NotNegative = NotNegative(0.0),
        /// Readings of the value.
        readings: Vec<f64>,
    }
}

contract! {
    /// Standard uncertainties of what it is made of.
    struct Budget {
        /// Spread of the readings.
        readings: f64,
        /// Curve.
        curve: f64,
        /// Certificate.
        certificate: f64,
        /// Resolution.
        resolution: f64,
        /// Drift.
        drift: f64,
    }
}

contract! {
    /// The corrected value.
    struct CorrectionOutput {
        /// Corrected value.
        value: f64,
        /// What was added to the mean of the readings.
        correction: f64,
        /// Standard uncertainty.
        standard: f64,
        /// Effective degrees of freedom.
        dof_effective: Extended,
        /// Coverage factor.
        coverage_factor: f64,
        /// Expanded uncertainty, 95.45 %.
        expanded: f64,
        /// Whether the reading lies among the points of the calibration.
        inside: bool,
        /// Budget.
        budget: Budget,
    }
}

/// The contract.
pub(crate) struct GaugeCorrection;

impl Contract for GaugeCorrection {
    const METHOD: Method = gauge_correction::METHOD;
    const SUMMARY: &'static str = "method-gauge-correction";
    const FORMULA: &'static str =
        "x = x̄ − d(x̄); u² = s² / n + u_d² + (U_c / k)² + r² / 12 + a² / 3; U = t(95.45 %, ν) · u";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("x̄", "readings"),
        ("x", "indicated"),
        ("y", "deviations"),
        ("rows", "indicated"),
        ("m", "degree"),
        ("u_c", "certificate_expanded"),
        ("r", "resolution"),
        ("a", "drift"),
        ("u", "readings"),
    ];
    const ANSWERS: &'static [&'static str] = &["value", "expanded", "inside"];
    type In = CorrectionInput;
    type Out = CorrectionOutput;

    fn compute(
        input: &CorrectionInput,
    ) -> Result<(CorrectionOutput, Option<Working>), MethodError> {
        let curve = input.degree.map_or(Curve::Points, |degree| {
            Curve::Fitted(usize::try_from(degree).unwrap_or(usize::MAX))
        });
        let found = gauge_correction::correct(
            &Gauge {
                indicated: &input.indicated,
                deviations: &input.deviations,
                curve,
                certificate: input.certificate_expanded.0 / input.certificate_factor.0,
                resolution: input.resolution.0,
                drift: input.drift.0,
            },
            &input.readings,
        )?;
        let parts = &found.budget.contributions;
        let part = |i: usize| parts.get(i).copied().unwrap_or(0.0);
        let out = CorrectionOutput {
            value: found.value,
            correction: -found.deviation,
            standard: found.budget.standard,
            dof_effective: Extended(found.budget.dof),
            coverage_factor: found.budget.factor,
            expanded: found.budget.expanded,
            inside: found.is_inside,
            budget: Budget {
                readings: part(0),
                curve: part(1),
                certificate: part(2),
                resolution: part(3),
                drift: part(4),
            },
        };
        Ok((out, Some(gauge_correction::working(&found))))
    }
}

contract! {
    /// One force.
    struct ForcePoint {
        /// Force by the reference.
        reference: Positive,
        /// Readings of the gauge at it.
        readings: Vec<f64>,
    }
}

contract! {
    /// A gauge against a reference, all forces in one unit.
    struct ForceInput {
        /// The forces.
        points: Vec<ForcePoint>,
        /// Expanded uncertainty of the reference, k = 2, in percent of the force.
        reference_expanded_pct: NotNegative,
        /// Smallest step that the gauge shows.
        resolution: NotNegative,
        /// Largest deviation allowed.
        limit_pct: Positive = Positive(1.0),
        /// Decision rule. Guarded: one expanded uncertainty at each limit is undecided ground. Simple: the value
        /// alone.
        rule: RuleIn = RuleIn(Rule::Guarded),
    }
}

contract! {
    /// What the gauge shows; one value for each force.
    struct ForceOutput {
        /// Mean reading less the reference.
        deviations_pct: Vec<f64>,
        /// Expanded uncertainty of that.
        expanded_pct: Vec<f64>,
        /// Highest less lowest reading.
        repeatability_pct: Vec<f64>,
        /// Smallest step of the gauge.
        resolution_pct: Vec<f64>,
        /// Verdict on each deviation.
        verdicts: Vec<VerdictOut>,
        /// Verdict on the gauge.
        verdict: VerdictOut,
        /// Best class that it keeps at all forces: 0.5, 1, 2 or 3; left out if it keeps none.
        class: Option<f64>,
    }
}

/// The contract.
pub(crate) struct ForceGaugeCheck;

impl Contract for ForceGaugeCheck {
    const METHOD: Method = force_check::METHOD;
    const SUMMARY: &'static str = "method-force-gauge-check";
    const FORMULA: &'static str = "q = (x̄ − F) / F · 100; b = (x_max − x_min) / F · 100; a = r / F · 100; u² = s² / n + (U_F / 2)² + r² / 12";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("F", "points"),
        ("x", "points"),
        ("w", "points"),
        ("u", "points"),
        ("U_F", "reference_expanded_pct"),
        ("w_g", "reference_expanded_pct"),
        ("r", "resolution"),
        ("limit", "limit_pct"),
    ];
    const ANSWERS: &'static [&'static str] = &["verdict", "class", "deviations_pct"];
    type In = ForceInput;
    type Out = ForceOutput;

    fn compute(input: &ForceInput) -> Result<(ForceOutput, Option<Working>), MethodError> {
        let set = Set {
            reference_expanded_pct: input.reference_expanded_pct.0,
            resolution: input.resolution.0,
            limit_pct: input.limit_pct.0,
            rule: input.rule.0,
        };
        let of = |p: &ForcePoint| Point {
            reference: p.reference.0,
            readings: p.readings.clone(),
        };
        let points: Vec<Point> = input.points.iter().map(of).collect();
        let checked = points.iter().map(|p| force_check::check(p, &set));
        let checked: Vec<Checked> = checked.collect::<Result<_, _>>()?;
        let Some(verdict) = force_check::verdict(&checked) else {
            let why = Why::Count { have: 0, need: 1 };
            return Err(MethodError::at("points", "", why));
        };
        let each = |value: fn(&Checked) -> f64| checked.iter().map(value).collect();
        let out = ForceOutput {
            deviations_pct: each(|c| c.deviation_pct),
            expanded_pct: each(|c| c.expanded_pct),
            repeatability_pct: each(|c| c.repeatability_pct),
            resolution_pct: each(|c| c.resolution_pct),
            verdicts: checked.iter().map(|c| VerdictOut(c.verdict)).collect(),
            verdict: VerdictOut(verdict),
            class: force_check::class(&checked),
        };
        Ok((out, force_check::working(&points, &checked, &set)))
    }
}
