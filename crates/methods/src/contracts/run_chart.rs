//! `individuals-chart`

use calc::run_chart::{Basis, Chart, Known, METHOD, Signal, chart, working};
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{Positive, choices, contract};
use crate::{MethodError, Why};

choices! {
    /// What is looked for.
    enum SignalName of Signal {
        "beyond-limit" => Signal::BeyondLimit,
        "nine-one-side" => Signal::NineOneSide,
        "six-trend" => Signal::SixTrend,
        "fourteen-alternating" => Signal::FourteenAlternating,
        "two-of-three" => Signal::TwoOfThree,
        "four-of-five" => Signal::FourOfFive,
        "fifteen-within" => Signal::FifteenWithin,
        "eight-outside" => Signal::EightOutside,
    }
}

contract! {
    /// Values in the order of time, all in one unit.
    struct Input {
        /// The values.
        values: Vec<f64>,
        /// How many of the first values the limits rest on; by default all.
        base_count: Option<u64>,
        /// Centre that is known from before, with `standard_deviation`.
        center: Option<f64>,
        /// Standard deviation that is known from before, with `center`.
        standard_deviation: Option<Positive>,
        /// What is looked for. By default beyond-limit, nine-one-side, six-trend, two-of-three: common practice.
        signals: Option<Vec<SignalName>>,
    }
}

contract! {
    /// A signal.
    struct SignalOut {
        /// What was found.
        signal: SignalName,
        /// Value that completes it, counted from 1.
        at: u64,
    }
}

contract! {
    /// The chart.
    struct Output {
        /// Centre.
        center: f64,
        /// Standard deviation.
        standard_deviation: f64,
        /// Lower limit.
        lower: f64,
        /// Upper limit.
        upper: f64,
        /// Mean moving range that the limits rest on.
        mean_moving_range: Option<f64>,
        /// Limit of the moving ranges.
        moving_range_limit: f64,
        /// Whether there is neither a signal nor a jump.
        steady: bool,
        /// Signals, in the order of the values.
        signals: Vec<SignalOut>,
        /// Values, counted from 1, that lie further from the one before than the ranges' limit.
        jumps: Vec<u64>,
    }
}

const USUAL: [Signal; 4] = [
    Signal::BeyondLimit,
    Signal::NineOneSide,
    Signal::SixTrend,
    Signal::TwoOfThree,
];

fn basis(input: &Input) -> Result<Basis, MethodError> {
    match (input.center, input.standard_deviation, input.base_count) {
        (None, None, None) => Ok(Basis::First(input.values.len())),
        (None, None, Some(m)) => Ok(Basis::First(usize::try_from(m).unwrap_or(usize::MAX))),
        (Some(center), Some(s), None) => Ok(Basis::Known(Known {
            center,
            deviation: s.0,
        })),
        (Some(_), Some(_), Some(m)) => {
            let allowed = "base_count | center, standard_deviation".to_owned();
            Err(MethodError::at(
                "base_count",
                m,
                Why::NotAllowed { allowed },
            ))
        }
        (Some(_), None, _) => Err(MethodError::at("standard_deviation", "", Why::Missing)),
        (None, Some(_), _) => Err(MethodError::at("center", "", Why::Missing)),
    }
}

fn places(found: &Chart) -> Vec<SignalOut> {
    let of = |(signal, at): &(Signal, usize)| SignalOut {
        signal: SignalName(*signal),
        at: *at as u64 + 1,
    };
    found.signals.iter().map(of).collect()
}

/// The contract.
pub(crate) struct IndividualsChart;

impl Contract for IndividualsChart {
    const METHOD: Method = METHOD;
    const SUMMARY: &'static str = "method-individuals-chart";
    const FORMULA: &'static str =
        "σ = mean |x_i − x_(i−1)| / 1.128; x̄ ∓ 3 · σ; ranges up to 3.267 · mean |x_i − x_(i−1)|";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("x", "values"),
        ("n", "values"),
        ("m", "base_count"),
        ("c", "center"),
        ("s", "standard_deviation"),
    ];
    const ANSWERS: &'static [&'static str] = &["lower", "upper", "steady", "signals"];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let wanted = match &input.signals {
            Some(names) => names.iter().map(|n| n.0).collect(),
            None => USUAL.to_vec(),
        };
        let found = chart(&input.values, basis(input)?, &wanted)?;
        let out = Output {
            center: found.center,
            standard_deviation: found.deviation,
            lower: found.lower(),
            upper: found.upper(),
            mean_moving_range: found.mean_range,
            moving_range_limit: found.range_limit(),
            steady: found.is_steady(),
            signals: places(&found),
            jumps: found.jumps.iter().map(|i| *i as u64 + 1).collect(),
        };
        Ok((out, Some(working(&found))))
    }
}
