//! `wear-life`

use calc::decision::Limits;
use calc::units::Unit;
use calc::wear::{self, PRIOR_SPREAD, Part, Reading};
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{Extended, NotNegative, Positive, Share, UnitSymbol, contract};
use crate::{MethodError, Why};

contract! {
    /// A size as measured.
    struct ReadingIn {
        /// Pulls since counting began.
        pulls: NotNegative,
        /// Size.
        size: f64,
        /// Its expanded uncertainty, k = 2.
        expanded: Positive,
    }
}

contract! {
    /// A first size, where nobody knows when the part was new.
    struct FromIn {
        /// Size where counting began.
        size: f64,
        /// Its expanded uncertainty, k = 2.
        expanded: Positive,
    }
}

contract! {
    /// A wear dimension of a part; sizes and limits in one unit.
    struct Input {
        /// Size when new.
        new: f64,
        /// Lower limit; this or `upper`, or both.
        lower: Option<f64>,
        /// Upper limit.
        upper: Option<f64>,
        /// A first size from which pulls are counted; left out, they are counted from new.
        from: Option<FromIn>,
        /// Sizes measured since.
        readings: Vec<ReadingIn> = Vec::new(),
        /// Life that the model states, pulls.
        life_pulls: Option<Positive>,
        /// How far that life may be off: standard deviation of the wear rate as a share of it.
        prior_spread: Positive = Positive(PRIOR_SPREAD),
        /// Pulls since counting began.
        pulls: NotNegative,
        /// Pulls until the next service.
        service_in: Option<NotNegative>,
        /// Probability with which the interval of the life left holds.
        level: Share = Share(0.95),
        /// Unit of the sizes, for the working.
        unit: UnitSymbol = UnitSymbol(Unit::Millimetre),
    }
}

contract! {
    /// How long the part lasts.
    struct Output {
        /// Change of size in 1000 pulls.
        rate_per_1000: f64,
        /// Its standard uncertainty.
        rate_per_1000_se: f64,
        /// Size now, by the line.
        size: f64,
        /// Its standard uncertainty.
        size_se: f64,
        /// Pulls left: as likely more as less.
        left: Extended,
        /// Fewest pulls left, at the level asked for.
        left_low: Extended,
        /// Most pulls left.
        left_high: Extended,
        /// Probability that the part is beyond a limit now.
        beyond_now: f64,
        /// Probability that it is beyond one at the next service.
        beyond_at_service: Option<f64>,
        /// Most standard uncertainties by which a reading lies off the line.
        misfit: f64,
    }
}

/// The contract.
pub(crate) struct WearLife;

impl Contract for WearLife {
    const METHOD: Method = wear::METHOD;
    const SUMMARY: &'static str = "method-wear-life";
    const FORMULA: &'static str = "b = b₀ + Σ n · (y − y₀ − b₀ · n) / u² / P; P = 1 / s_b² + Σ n² / u²; left = (L − y₀) / b − N; p = Φ((y₀ + b · (N + m) − L) / u_y)";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("y₀", "new"),
        ("L", "lower"),
        ("n", "readings"),
        ("y", "readings"),
        ("U", "readings"),
        ("n_L", "life_pulls"),
        ("k", "prior_spread"),
        ("N", "pulls"),
        ("p", "level"),
    ];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let limits = limits(input.lower, input.upper)?;
        let readings: Vec<Reading> = input
            .readings
            .iter()
            .map(|r| Reading {
                pulls: r.pulls.0,
                size: r.size,
                expanded: r.expanded.0,
            })
            .collect();
        let life = wear::life(&Part {
            new: input.new,
            limits,
            from: input.from.as_ref().map(|f| (f.size, f.expanded.0)),
            readings: &readings,
            life_pulls: input.life_pulls.map(|l| l.0),
            prior_spread: input.prior_spread.0,
            pulls: input.pulls.0,
        })?;
        let service_in = input.service_in.map(|s| s.0);
        let (size, size_se) = life.at(input.pulls.0);
        let (low, high) = life.interval(input.level.0)?;
        let out = Output {
            rate_per_1000: life.rate * 1000.0,
            rate_per_1000_se: life.rate_se * 1000.0,
            size,
            size_se,
            left: Extended(life.left()?),
            left_low: Extended(low),
            left_high: Extended(high),
            beyond_now: life.beyond_now(),
            beyond_at_service: service_in.map(|m| life.beyond_after(m)),
            misfit: life.misfit,
        };
        Ok((out, Some(wear::working(&life, input.unit.0, service_in))))
    }
}

fn limits(lower: Option<f64>, upper: Option<f64>) -> Result<Limits, MethodError> {
    if lower.is_none() && upper.is_none() {
        return Err(MethodError::at("lower", "", Why::Missing));
    }
    Ok(Limits::new(lower, upper)?)
}
