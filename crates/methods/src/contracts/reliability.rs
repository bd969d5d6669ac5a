//! `kaplan-meier`, `mtbf-interval`, `age-replacement`

use calc::age_replacement::{self, Costs, Life};
use calc::kaplan_meier::{self, Interval, Step};
use calc::mtbf::{self, Confidence, Truncation};
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{Extended, Positive, Share, choices, contract};
use crate::{MethodError, Why};

choices! {
    /// How the interval is made.
    enum IntervalIn of Interval {
        "log-log" => Interval::LogLog,
        "log" => Interval::Log,
        "plain" => Interval::Plain,
    }
}

contract! {
    /// Parts that were watched, all times in one unit.
    struct SurvivalInput {
        /// Time of failure of each part, or the last at which it had not failed.
        times: Vec<f64>,
        /// Whether each part failed then.
        failed: Vec<bool>,
        /// Confidence of the intervals.
        level: Share = Share(0.95),
        /// Interval, on which scale it is made.
        interval: IntervalIn = IntervalIn(Interval::LogLog),
    }
}

contract! {
    /// The curve; one value for each time of failure.
    struct SurvivalOutput {
        /// Times of failure.
        times: Vec<f64>,
        /// Parts at risk just before.
        at_risk: Vec<u64>,
        /// Parts that failed.
        events: Vec<u64>,
        /// Share that survives.
        survival: Vec<f64>,
        /// Standard uncertainty of that.
        greenwood_se: Vec<f64>,
        /// Lower end of its interval.
        lower: Vec<f64>,
        /// Upper end of its interval.
        upper: Vec<f64>,
        /// First time at which no more than half survive; left out if more do to the end.
        median: Option<f64>,
        /// On which scale the interval is made.
        interval: IntervalIn,
    }
}

/// The contract.
pub(crate) struct KaplanMeier;

impl Contract for KaplanMeier {
    const METHOD: Method = kaplan_meier::METHOD;
    const SUMMARY: &'static str = "method-kaplan-meier";
    const FORMULA: &'static str = "S = Π (1 − d_i / n_i); u² = S² · Σ d_i / (n_i · (n_i − d_i))";
    const NAMES: &'static [(&'static str, &'static str)] = &[("t", "times"), ("C", "level")];
    const ANSWERS: &'static [&'static str] = &["median", "survival"];
    type In = SurvivalInput;
    type Out = SurvivalOutput;

    fn compute(input: &SurvivalInput) -> Result<(SurvivalOutput, Option<Working>), MethodError> {
        if input.failed.len() != input.times.len() {
            let why = Why::Count {
                have: input.failed.len(),
                need: input.times.len(),
            };
            return Err(MethodError::at("failed", "", why));
        }
        let seen = input
            .times
            .iter()
            .copied()
            .zip(input.failed.iter().copied());
        let seen: Vec<(f64, bool)> = seen.collect();
        let steps = kaplan_meier::curve(&seen, input.level.0, input.interval.0)?;
        let each = |value: fn(&Step) -> f64| steps.iter().map(value).collect();
        let out = SurvivalOutput {
            times: each(|s| s.time),
            at_risk: steps.iter().map(|s| s.at_risk).collect(),
            events: steps.iter().map(|s| s.failed).collect(),
            survival: each(|s| s.survival),
            greenwood_se: each(|s| s.standard),
            lower: each(|s| s.interval.0),
            upper: each(|s| s.interval.1),
            median: kaplan_meier::median(&steps),
            interval: input.interval,
        };
        Ok((out, kaplan_meier::working(&steps)))
    }
}

choices! {
    /// Why looking ended.
    enum TruncationIn of Truncation { "time" => Truncation::Time, "failure" => Truncation::Failure, }
}

contract! {
    /// Failures by chance in a time.
    struct MtbfInput {
        /// Time of all parts together.
        total_time: Positive,
        /// Failures in it.
        failures: u64,
        /// Confidence for both ends.
        level: Share = Share(0.95),
        /// Lower end alone: its confidence, instead of `level`.
        one_sided_confidence: Option<Share>,
        /// Why looking ended. At a time, or with the last failure.
        truncation: TruncationIn = TruncationIn(Truncation::Time),
    }
}

contract! {
    /// The mean time between failures.
    struct MtbfOutput {
        /// Mean; left out without a failure.
        mtbf: Option<f64>,
        /// Lower end.
        lower: f64,
        /// Upper end; inf where there is none.
        upper: Extended,
        /// Lower end over the mean.
        lower_factor: Option<f64>,
        /// Upper end over the mean.
        upper_factor: Option<f64>,
    }
}

/// The contract.
pub(crate) struct MtbfInterval;

impl Contract for MtbfInterval {
    const METHOD: Method = mtbf::METHOD;
    const SUMMARY: &'static str = "method-mtbf-interval";
    const FORMULA: &'static str =
        "T / r; 2 · T / χ²((1 + C) / 2; 2 r + 2), 2 · T / χ²((1 − C) / 2; 2 r)";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("T", "total_time"), ("r", "failures"), ("C", "level")];
    const ANSWERS: &'static [&'static str] = &["mtbf", "lower", "upper"];
    type In = MtbfInput;
    type Out = MtbfOutput;

    fn compute(input: &MtbfInput) -> Result<(MtbfOutput, Option<Working>), MethodError> {
        let (time, failures) = (input.total_time.0, input.failures);
        let (confidence, named) = match input.one_sided_confidence {
            Some(c) => (Confidence::Lower(c.0), "one_sided_confidence"),
            None => (Confidence::Both(input.level.0), "level"),
        };
        let truncation = input.truncation.0;
        let found = mtbf::mtbf(time, failures, truncation, confidence)
            .map_err(|e| MethodError::from(e).renamed(&[("C", named)]))?;
        let out = MtbfOutput {
            mtbf: found.value,
            lower: found.lower,
            upper: Extended(found.upper),
            lower_factor: found.value.map(|m| found.lower / m),
            upper_factor: found
                .value
                .map(|m| found.upper / m)
                .filter(|f| f.is_finite()),
        };
        let working = mtbf::working(time, failures, truncation, confidence, &found);
        Ok((out, Some(working)))
    }
}

/// Distribution by its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Weibull.
    Weibull,
    /// Normal.
    Normal,
    /// Uniform.
    Uniform,
}

choices! {
    /// Distribution of the lives.
    enum KindIn of Kind {
        "weibull" => Kind::Weibull,
        "normal" => Kind::Normal,
        "uniform" => Kind::Uniform,
    }
}

contract! {
    /// How long a part lives: `scale` and `shape`, `mean` and `standard_deviation`, or `longest`.
    struct LifeIn {
        /// Distribution.
        distribution: KindIn,
        /// Life that 63.2 % do not reach, of a Weibull distribution.
        scale: Option<Positive>,
        /// Shape of a Weibull distribution.
        shape: Option<Positive>,
        /// Mean of a normal distribution.
        mean: Option<Positive>,
        /// Standard deviation of a normal distribution.
        standard_deviation: Option<Positive>,
        /// Longest life of a uniform distribution.
        longest: Option<Positive>,
    }
}

impl LifeIn {
    fn life(&self) -> Result<Life, MethodError> {
        let needed = |value: Option<Positive>, field: &str| {
            let missing = || MethodError::at(field, "", Why::Missing);
            value.map(|v| v.0).ok_or_else(missing)
        };
        Ok(match self.distribution.0 {
            Kind::Weibull => {
                Life::Weibull(needed(self.scale, "scale")?, needed(self.shape, "shape")?)
            }
            Kind::Normal => Life::Normal(
                needed(self.mean, "mean")?,
                needed(self.standard_deviation, "standard_deviation")?,
            ),
            Kind::Uniform => Life::Uniform(needed(self.longest, "longest")?),
        })
    }
}

contract! {
    /// A part that wears, and what changing it costs.
    struct AgeInput {
        /// Life of the part.
        life: LifeIn,
        /// Cost of a planned change.
        planned_cost: Positive,
        /// Cost of a change after a failure, with all that the failure brings.
        failure_cost: Positive,
        /// Ages to choose from; without them any age.
        grid: Option<Vec<Positive>>,
    }
}

contract! {
    /// When to change it.
    struct AgeOutput {
        /// Age at which to change; inf for never before a failure.
        interval: Extended,
        /// Cost per time then.
        cost_rate: f64,
        /// Cost per time without an early change.
        run_to_failure_rate: f64,
        /// Share of that cost that the change saves; below 0 where no age of the grid pays.
        saving_share: f64,
        /// Mean life.
        mean_life: f64,
        /// Share of parts that reach the age.
        reliability_at_interval: f64,
        /// Mean time between changes.
        mean_cycle: f64,
        /// Cost per time at each age of the grid.
        cost_rates: Option<Vec<f64>>,
    }
}

/// The contract.
pub(crate) struct AgeReplacement;

impl Contract for AgeReplacement {
    const METHOD: Method = age_replacement::METHOD;
    const SUMMARY: &'static str = "method-age-replacement";
    const FORMULA: &'static str = "C(T) = (c_p · R(T) + c_f · F(T)) / ∫₀ᵀ R dt; least where h(T) · ∫₀ᵀ R dt − F(T) = c_p / (c_f − c_p)";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("η", "life.scale"),
        ("β", "life.shape"),
        ("m", "life.mean"),
        ("s", "life.standard_deviation"),
        ("b", "life.longest"),
        ("c_p", "planned_cost"),
        ("c_f", "failure_cost"),
        ("T", "grid"),
    ];
    const ANSWERS: &'static [&'static str] = &["interval", "cost_rate", "saving_share"];
    type In = AgeInput;
    type Out = AgeOutput;

    fn compute(input: &AgeInput) -> Result<(AgeOutput, Option<Working>), MethodError> {
        let life = input.life.life().map_err(|e| e.under("life"))?;
        let costs = Costs {
            planned: input.planned_cost.0,
            failure: input.failure_cost.0,
        };
        let grid: Option<Vec<f64>> = input.grid.as_ref().map(|g| g.iter().map(|t| t.0).collect());
        let found = age_replacement::best(life, &costs, grid.as_deref())?;
        let rates = |grid: &Vec<f64>| {
            let rate = |t: &f64| age_replacement::cost_rate(life, &costs, *t);
            grid.iter().map(rate).collect::<Result<Vec<f64>, _>>()
        };
        let out = AgeOutput {
            interval: Extended(found.interval),
            cost_rate: found.cost_rate,
            run_to_failure_rate: found.run_to_failure,
            saving_share: 1.0 - found.cost_rate / found.run_to_failure,
            mean_life: found.mean_life,
            reliability_at_interval: found.reliability,
            mean_cycle: found.mean_cycle,
            cost_rates: grid.as_ref().map(rates).transpose()?,
        };
        Ok((out, Some(age_replacement::working(&costs, &found))))
    }
}
