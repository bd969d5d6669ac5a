//! `straight-line-posterior`

use calc::line_posterior::{self, Prior};
use calc::student::coverage_factor;
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Extended, Positive, Share, contract};

contract! {
    /// A line that is known beforehand, and points that correct it.
    struct Input {
        /// y at x = 0, beforehand.
        intercept: f64,
        /// Change of y per x, beforehand.
        slope: f64,
        /// Standard uncertainty of that intercept.
        intercept_se: Positive,
        /// Standard uncertainty of that slope.
        slope_se: Positive,
        /// Standard deviation of one point about the line.
        spread: Positive,
        /// Degrees of freedom that the spread is known to; inf if it is known.
        spread_dof: Extended = Extended(f64::INFINITY),
        /// Points [x, y].
        points: Vec<(f64, f64)>,
        /// An x to predict y for.
        predict_at: f64 = 0.0,
        /// A y to find x for.
        find_y: Option<f64> = None,
        /// Probability with which the interval of one more point holds.
        level: Share = Share(0.95),
    }
}

contract! {
    /// The line after the points.
    struct Output {
        /// y at x = 0.
        intercept: f64,
        /// Change of y per x.
        slope: f64,
        /// Standard uncertainty of the slope.
        slope_se: f64,
        /// Standard deviation of one point about the line.
        spread: f64,
        /// Degrees of freedom.
        dof: Extended,
        /// y predicted.
        predicted: f64,
        /// Standard uncertainty of the line there.
        predicted_se: f64,
        /// Half the interval in which one more point there lies.
        point_half_interval: f64,
        /// The x at which the line gives the y asked for.
        x: Option<f64>,
        /// Its standard uncertainty, linearised.
        x_se: Option<f64>,
    }
}

/// The contract.
pub(crate) struct LinePosterior;

impl Contract for LinePosterior {
    const METHOD: Method = line_posterior::METHOD;
    const SUMMARY: &'static str = "method-straight-line-posterior";
    const FORMULA: &'static str =
        "P = P₀ + Xᵀ · X; (a, b) = P⁻¹ · (P₀ · (a₀, b₀) + Xᵀ · y); s² = (ν₀ · s₀² + SS) / (ν₀ + n)";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("a₀", "intercept"),
        ("b₀", "slope"),
        ("u_a", "intercept_se"),
        ("u_b", "slope_se"),
        ("s₀", "spread"),
        ("ν₀", "spread_dof"),
        ("x", "points"),
        ("y", "points"),
        ("p", "level"),
    ];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let prior = Prior {
            intercept: input.intercept,
            slope: input.slope,
            intercept_se: input.intercept_se.0,
            slope_se: input.slope_se.0,
            spread: input.spread.0,
            spread_dof: input.spread_dof.0,
        };
        let line = line_posterior::posterior(&prior, &input.points)?;
        let at = input.predict_at;
        let found = input.find_y.and_then(|y| line.x_for(y));
        let out = Output {
            intercept: line.intercept,
            slope: line.slope,
            slope_se: line.slope_se(),
            spread: line.spread,
            dof: Extended(line.dof),
            predicted: line.at(at),
            predicted_se: line.se_at(at),
            point_half_interval: coverage_factor(input.level.0, line.dof)? * line.point_se_at(at),
            x: found.map(|f| f.0),
            x_se: found.map(|f| f.1),
        };
        Ok((out, Some(line_posterior::working(&prior, &line))))
    }
}
