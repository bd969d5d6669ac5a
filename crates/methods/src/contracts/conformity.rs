//! `conformity-guard-band`, `conformity-probability`, `conformity-acceptance-limits`

use calc::conformity::{self, acceptance, chances};
use calc::decision::{self, Limits, Rule, Verdict, judge};
use calc::units::Unit;
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{NotNegative, Positive, Share, UnitSymbol, choices, contract};
use crate::{MethodError, Why};

choices! {
    /// How a reading becomes a verdict.
    enum RuleIn of Rule { "guarded" => Rule::Guarded, "simple" => Rule::Simple, }
}

choices! {
    /// What a reading says about its limits.
    enum VerdictOut of Verdict {
        "accept" => Verdict::Accept,
        "undecided" => Verdict::Undecided,
        "reject" => Verdict::Reject,
    }
}

/// The limits, one of which at least must be there.
fn limits(lower: Option<f64>, upper: Option<f64>) -> Result<Limits, MethodError> {
    if lower.is_none() && upper.is_none() {
        return Err(MethodError::at("lower", "", Why::Missing));
    }
    Limits::new(lower, upper).map_err(|_| {
        let allowed = format!("< {}", upper.unwrap_or(f64::MAX));
        MethodError::at(
            "lower",
            lower.unwrap_or(f64::MIN),
            Why::NotAllowed { allowed },
        )
    })
}

contract! {
    /// A reading and its limits, all in one unit.
    struct GuardInput {
        /// The reading.
        value: f64,
        /// Its expanded uncertainty, k = 2.
        expanded: NotNegative,
        /// Lower limit; this or `upper`, or both.
        lower: Option<f64>,
        /// Upper limit.
        upper: Option<f64>,
        /// Decision rule. Guarded: one expanded uncertainty at each limit is undecided ground. Simple: the value
        /// alone.
        rule: RuleIn = RuleIn(Rule::Guarded),
        /// Their unit, for the working.
        unit: UnitSymbol = UnitSymbol(Unit::Millimetre),
    }
}

contract! {
    /// The verdict and the readings that would be accepted.
    struct GuardOutput {
        /// The verdict.
        verdict: VerdictOut,
        /// Lowest reading that is accepted, where there is a lower limit.
        accept_lower: Option<f64>,
        /// Highest reading that is accepted, where there is an upper limit.
        accept_upper: Option<f64>,
    }
}

/// The contract.
pub(crate) struct GuardBand;

impl Contract for GuardBand {
    const METHOD: Method = decision::METHOD;
    const SUMMARY: &'static str = "method-conformity-guard-band";
    const FORMULA: &'static str = "L + w ≤ x ≤ U − w; x < L − w; x > U + w";
    const NAMES: &'static [(&'static str, &'static str)] = &[("x", "value"), ("w", "expanded")];
    type In = GuardInput;
    type Out = GuardOutput;

    fn compute(input: &GuardInput) -> Result<(GuardOutput, Option<Working>), MethodError> {
        let limits = limits(input.lower, input.upper)?;
        let (value, expanded, rule) = (input.value, input.expanded.0, input.rule.0);
        let zone = limits.inwards(rule.guard(expanded));
        let out = GuardOutput {
            verdict: VerdictOut(judge(value, expanded, limits, rule)?),
            accept_lower: zone.lower,
            accept_upper: zone.upper,
        };
        let working = decision::working(value, expanded, limits, rule, input.unit.0, 3);
        Ok((out, Some(working)))
    }
}

contract! {
    /// A best value and its limits, all in one unit.
    struct ProbabilityInput {
        /// Best value.
        value: f64,
        /// Its standard uncertainty.
        standard: Positive,
        /// Lower limit; this or `upper`, or both.
        lower: Option<f64>,
        /// Upper limit.
        upper: Option<f64>,
    }
}

contract! {
    /// Where the true value lies, in probability.
    struct ProbabilityOutput {
        /// Inside the limits.
        inside: f64,
        /// Below the lower limit.
        below: f64,
        /// Above the upper limit.
        above: f64,
    }
}

/// The contract.
pub(crate) struct Probability;

impl Contract for Probability {
    const METHOD: Method = conformity::METHOD;
    const SUMMARY: &'static str = "method-conformity-probability";
    const FORMULA: &'static str = "p = Φ((U − y) / u) − Φ((L − y) / u)";
    const NAMES: &'static [(&'static str, &'static str)] = &[("y", "value"), ("u", "standard")];
    type In = ProbabilityInput;
    type Out = ProbabilityOutput;

    fn compute(
        input: &ProbabilityInput,
    ) -> Result<(ProbabilityOutput, Option<Working>), MethodError> {
        let limits = limits(input.lower, input.upper)?;
        let c = chances(input.value, input.standard.0, limits)?;
        let out = ProbabilityOutput {
            inside: c.inside,
            below: c.below,
            above: c.above,
        };
        let working = conformity::working(input.value, input.standard.0, limits, 3, "")?;
        Ok((out, Some(working)))
    }
}

contract! {
    /// Limits, the uncertainty of readings, and how sure a reading must be; all in one unit.
    struct AcceptanceInput {
        /// Standard uncertainty of a reading.
        standard: NotNegative,
        /// Lower limit; this or `upper`, or both.
        lower: Option<f64>,
        /// Upper limit.
        upper: Option<f64>,
        /// Least probability of conforming, from 0.5.
        probability: Share = Share(0.95),
    }
}

contract! {
    /// The readings that are accepted.
    struct AcceptanceOutput {
        /// Guard band in standard uncertainties.
        guard_factor: f64,
        /// Guard band.
        guard: f64,
        /// Lowest reading that is accepted, where there is a lower limit.
        accept_lower: Option<f64>,
        /// Highest reading that is accepted, where there is an upper limit.
        accept_upper: Option<f64>,
    }
}

/// The contract.
pub(crate) struct AcceptanceLimits;

impl Contract for AcceptanceLimits {
    const METHOD: Method = conformity::ACCEPTANCE;
    const SUMMARY: &'static str = "method-conformity-acceptance-limits";
    const FORMULA: &'static str = "L + z_p · u ≤ x ≤ U − z_p · u";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("u", "standard"), ("p", "probability")];
    type In = AcceptanceInput;
    type Out = AcceptanceOutput;

    fn compute(
        input: &AcceptanceInput,
    ) -> Result<(AcceptanceOutput, Option<Working>), MethodError> {
        let limits = limits(input.lower, input.upper)?;
        let a = acceptance(input.standard.0, limits, input.probability.0)?;
        let out = AcceptanceOutput {
            guard_factor: a.factor,
            guard: a.guard,
            accept_lower: a.zone.lower,
            accept_upper: a.zone.upper,
        };
        Ok((out, None))
    }
}

contract! {
    /// A production and the check that each piece goes through, all in one unit.
    struct RiskInput {
        /// Mean of the pieces.
        mean: f64,
        /// Standard deviation of the pieces.
        spread: Positive,
        /// Standard uncertainty of a reading.
        standard: Positive,
        /// Lower limit of a good piece; this or `upper`, or both.
        lower: Option<f64>,
        /// Upper limit of a good piece.
        upper: Option<f64>,
        /// Lowest reading that is accepted.
        accept_lower: Option<f64>,
        /// Highest reading that is accepted.
        accept_upper: Option<f64>,
    }
}

contract! {
    /// Shares of all pieces (joint probabilities).
    struct RiskOutput {
        /// Bad and accepted.
        false_accept: f64,
        /// Good and rejected.
        false_reject: f64,
        /// Good.
        conforming: f64,
        /// Accepted.
        accepted: f64,
    }
}

/// The contract.
pub(crate) struct GlobalRisk;

impl Contract for GlobalRisk {
    const METHOD: Method = calc::global_risk::METHOD;
    const SUMMARY: &'static str = "method-conformity-global-risk";
    const FORMULA: &'static str =
        "∫ φ(x) · P(accept | x) dx over x outside; ∫ φ(x) · P(reject | x) dx over x inside";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("μ₀", "mean"), ("u₀", "spread"), ("u_m", "standard")];
    type In = RiskInput;
    type Out = RiskOutput;

    fn compute(input: &RiskInput) -> Result<(RiskOutput, Option<Working>), MethodError> {
        let acceptance = limits(input.accept_lower, input.accept_upper)
            .map_err(|e| e.renamed(&[("lower", "accept_lower")]))?;
        let r = calc::global_risk::risks(&calc::global_risk::Inspection {
            mean: input.mean,
            spread: input.spread.0,
            measuring: input.standard.0,
            tolerance: limits(input.lower, input.upper)?,
            acceptance,
        })?;
        let out = RiskOutput {
            false_accept: r.false_accept,
            false_reject: r.false_reject,
            conforming: r.conforming,
            accepted: r.accepted,
        };
        Ok((out, None))
    }
}
