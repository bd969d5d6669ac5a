//! `process-capability`, `tolerance-factor`, `tolerance-interval`, `proportion-interval`

use calc::capability::{self, Index, Sample};
use calc::decision::Limits;
use calc::proportion;
use calc::tolerance_factor::{self, Formula};
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{Positive, Share, choices, contract};
use crate::{MethodError, Why};

contract! {
    /// A sample and its limits, all in one unit.
    struct CapabilityInput {
        /// How many readings.
        count: u64,
        /// Their mean.
        mean: f64,
        /// Their standard deviation.
        standard_deviation: Positive,
        /// Lower limit; this or `upper`, or both.
        lower: Option<f64>,
        /// Upper limit.
        upper: Option<f64>,
        /// Confidence of the intervals.
        level: Share = Share(0.95),
    }
}

contract! {
    /// How well it fits.
    struct CapabilityOutput {
        /// Width of the limits over six standard deviations, where there are two.
        cp: Option<f64>,
        /// Its interval.
        cp_interval: Option<(f64, f64)>,
        /// Room to the upper limit over three standard deviations.
        cpu: Option<f64>,
        /// Room to the lower limit over three standard deviations.
        cpl: Option<f64>,
        /// The smaller of the two.
        cpk: f64,
        /// Its interval, an approximation.
        cpk_interval: (f64, f64),
        /// Share outside the limits, if the process is normal.
        nonconforming_share: f64,
    }
}

/// The contract.
pub(crate) struct ProcessCapability;

impl Contract for ProcessCapability {
    const METHOD: Method = capability::METHOD;
    const SUMMARY: &'static str = "method-process-capability";
    const FORMULA: &'static str = "C_p = (U − L) / (6 · s); C_pk = min(U − x̄, x̄ − L) / (3 · s); C_p · √(χ²_{(1∓C)/2} / (n − 1)); C_pk ∓ z · √(1 / (9 · n) + C_pk² / (2 · (n − 1)))";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("n", "count"),
        ("x̄", "mean"),
        ("s", "standard_deviation"),
        ("C", "level"),
        ("L", "lower"),
        ("U", "upper"),
        ("C_pk", "standard_deviation"),
        ("C_p", "standard_deviation"),
    ];
    const ANSWERS: &'static [&'static str] = &["cpk", "cpk_interval"];
    type In = CapabilityInput;
    type Out = CapabilityOutput;

    fn compute(
        input: &CapabilityInput,
    ) -> Result<(CapabilityOutput, Option<Working>), MethodError> {
        if input.lower.is_none() && input.upper.is_none() {
            return Err(MethodError::at("lower", "", Why::Missing));
        }
        let limits = Limits::new(input.lower, input.upper)?;
        let sample = Sample {
            count: input.count,
            mean: input.mean,
            deviation: input.standard_deviation.0,
        };
        let found = capability::capability(&sample, limits, input.level.0)?;
        let out = CapabilityOutput {
            cp: found.cp.map(|c| c.value),
            cp_interval: found.cp.map(|c: Index| c.interval),
            cpu: found.cpu,
            cpl: found.cpl,
            cpk: found.cpk.value,
            cpk_interval: found.cpk.interval,
            nonconforming_share: found.outside,
        };
        let working = capability::working(&sample, limits, input.level.0, &found);
        Ok((out, Some(working)))
    }
}

/// How the factor is reckoned, before the sides are known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Without approximation.
    Exact,
    /// Howe's approximation.
    Howe,
    /// Natrella's approximation.
    Natrella,
}

choices! {
    /// How the factor is reckoned.
    enum WayIn of Way {
        "exact" => Way::Exact,
        "howe" => Way::Howe,
        "natrella" => Way::Natrella,
    }
}

fn formula(sides: u64, way: Way) -> Result<Formula, MethodError> {
    let refused = |field: &str, value: &str, allowed: &str| {
        let allowed = allowed.to_owned();
        Err(MethodError::at(field, value, Why::NotAllowed { allowed }))
    };
    match (sides, way) {
        (1, Way::Exact) => Ok(Formula::OneExact),
        (2, Way::Exact) => Ok(Formula::TwoExact),
        (2, Way::Howe) => Ok(Formula::TwoHowe),
        (1, Way::Natrella) => Ok(Formula::OneNatrella),
        (1, Way::Howe) => refused("formula", "howe", "exact | natrella"),
        (2, Way::Natrella) => refused("formula", "natrella", "exact | howe"),
        (other, _) => refused("sides", &other.to_string(), "1 | 2"),
    }
}

const OF_A_FACTOR: [(&str, &str); 6] = [
    ("n", "count"),
    ("p", "share"),
    ("γ", "confidence"),
    ("k", "confidence"),
    ("a", "formula"),
    ("z² − a · b", "formula"),
];

const FACTOR: &str = "k = t'(γ; n − 1, z_p · √n) / √n, or ∫ φ(z) · P(χ²_ν ≥ ν · r² / k²) dz = γ with Φ(z / √n + r) − Φ(z / √n − r) = p";

contract! {
    /// What a tolerance interval must hold.
    struct FactorInput {
        /// How many readings.
        count: u64,
        /// Share of all pieces that must lie inside.
        share: Share = Share(0.95),
        /// Confidence.
        confidence: Share = Share(0.95),
        /// One limit or two: 1 or 2.
        sides: u64 = 2,
        /// Formula. Exact, or Howe's approximation for two sides, Natrella's for one.
        formula: WayIn = WayIn(Way::Exact),
    }
}

contract! {
    /// The factor.
    struct FactorOutput {
        /// Standard deviations between the mean and the limit.
        factor: f64,
    }
}

/// The contract.
pub(crate) struct ToleranceFactor;

impl Contract for ToleranceFactor {
    const METHOD: Method = tolerance_factor::METHOD;
    const SUMMARY: &'static str = "method-tolerance-factor";
    const FORMULA: &'static str = FACTOR;
    const NAMES: &'static [(&'static str, &'static str)] = &OF_A_FACTOR;
    type In = FactorInput;
    type Out = FactorOutput;

    fn compute(input: &FactorInput) -> Result<(FactorOutput, Option<Working>), MethodError> {
        let (p, c) = (input.share.0, input.confidence.0);
        let formula = formula(input.sides, input.formula.0)?;
        let factor = tolerance_factor::factor(input.count, p, c, formula)?;
        let working = tolerance_factor::working(input.count, p, c, formula, factor);
        Ok((FactorOutput { factor }, Some(working)))
    }
}

contract! {
    /// A sample and what its tolerance interval must hold.
    struct IntervalInput {
        /// How many readings.
        count: u64,
        /// Their mean.
        mean: f64,
        /// Their standard deviation.
        standard_deviation: Positive,
        /// Share of all pieces that must lie inside.
        share: Share = Share(0.95),
        /// Confidence.
        confidence: Share = Share(0.95),
        /// One limit or two: 1 or 2. With one, each end holds by itself, not both at once.
        sides: u64 = 2,
        /// Formula. Exact, or Howe's approximation for two sides, Natrella's for one.
        formula: WayIn = WayIn(Way::Exact),
    }
}

contract! {
    /// The interval.
    struct IntervalOutput {
        /// Lower end.
        lower: f64,
        /// Upper end.
        upper: f64,
        /// Standard deviations between the mean and an end.
        factor: f64,
    }
}

/// The contract.
pub(crate) struct ToleranceInterval;

impl Contract for ToleranceInterval {
    const METHOD: Method = tolerance_factor::INTERVAL;
    const SUMMARY: &'static str = "method-tolerance-interval";
    const FORMULA: &'static str = "x̄ − k · s, x̄ + k · s; k as in tolerance-factor";
    const NAMES: &'static [(&'static str, &'static str)] = &OF_A_FACTOR;
    type In = IntervalInput;
    type Out = IntervalOutput;

    fn compute(input: &IntervalInput) -> Result<(IntervalOutput, Option<Working>), MethodError> {
        let (p, c) = (input.share.0, input.confidence.0);
        let formula = formula(input.sides, input.formula.0)?;
        let factor = tolerance_factor::factor(input.count, p, c, formula)?;
        let (mean, s) = (input.mean, input.standard_deviation.0);
        let (lower, upper) = (mean - factor * s, mean + factor * s);
        if !(lower.is_finite() && upper.is_finite()) {
            let allowed = "< 1e300".to_owned();
            return Err(MethodError::at(
                "standard_deviation",
                s,
                Why::NotAllowed { allowed },
            ));
        }
        let of_factor = tolerance_factor::working(input.count, p, c, formula, factor);
        let working = tolerance_factor::interval_working(of_factor, mean, s, factor);
        Ok((
            IntervalOutput {
                lower,
                upper,
                factor,
            },
            Some(working),
        ))
    }
}

contract! {
    /// Trials and how many of them had it.
    struct ProportionInput {
        /// How many had it.
        events: u64,
        /// How many trials.
        count: u64,
        /// Confidence.
        level: Share = Share(0.95),
    }
}

contract! {
    /// What share lies behind it.
    struct ProportionOutput {
        /// Events over trials.
        share: f64,
        /// Exact interval.
        clopper_pearson: (f64, f64),
        /// Wilson's interval.
        wilson: (f64, f64),
        /// The share is at least this, the confidence on this side alone.
        one_sided_lower: f64,
        /// The share is at most this, the confidence on this side alone.
        one_sided_upper: f64,
    }
}

/// The contract.
pub(crate) struct ProportionInterval;

impl Contract for ProportionInterval {
    const METHOD: Method = proportion::METHOD;
    const SUMMARY: &'static str = "method-proportion-interval";
    const FORMULA: &'static str = "Beta(α/2; x, n − x + 1), Beta(1 − α/2; x + 1, n − x); (p + z²/2n ∓ z · √(p · (1 − p) / n + z²/4n²)) / (1 + z²/n)";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("n", "count"), ("x", "events"), ("C", "level")];
    type In = ProportionInput;
    type Out = ProportionOutput;

    fn compute(
        input: &ProportionInput,
    ) -> Result<(ProportionOutput, Option<Working>), MethodError> {
        let level = input.level.0;
        let found = proportion::intervals(input.events, input.count, level)?;
        let out = ProportionOutput {
            share: found.share,
            clopper_pearson: found.clopper_pearson,
            wilson: found.wilson,
            one_sided_lower: found.one_sided_lower,
            one_sided_upper: found.one_sided_upper,
        };
        let working = proportion::working(input.events, input.count, level, &found);
        Ok((out, Some(working)))
    }
}
