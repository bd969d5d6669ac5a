//! `straight-line-calibration` and `inverse-prediction`

use calc::inverse_prediction;
use calc::straight_line::{self, Line, Points};
use calc::student::coverage_factor;
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Share, contract};

contract! {
    /// Points, and how the line is laid through them.
    struct LineInput {
        /// Where it was measured, any unit.
        x: Vec<f64>,
        /// What was measured, any unit.
        y: Vec<f64>,
        /// Inverse variances of y on any scale, one a point.
        weights: Option<Vec<f64>> = None,
        /// The x that the intercept stands at.
        x_origin: f64 = 0.0,
        /// Whether the line goes through zero there.
        through_origin: bool = false,
        /// An x to predict y for.
        predict_at: Option<f64> = None,
        /// Probability with which the intervals hold.
        level: Share = Share(0.95),
    }
}

contract! {
    /// The line and how sure it is.
    struct LineOutput {
        /// y at the origin of x.
        intercept: Option<f64>,
        /// Change of y per x.
        slope: f64,
        /// Standard uncertainty of the intercept.
        intercept_se: Option<f64>,
        /// Standard uncertainty of the slope.
        slope_se: f64,
        /// Lower end of the interval of the intercept.
        intercept_lower: Option<f64>,
        /// Upper end of that.
        intercept_upper: Option<f64>,
        /// Lower end of the interval of the slope.
        slope_lower: f64,
        /// Upper end of that.
        slope_upper: f64,
        /// Correlation of the two.
        estimates_correlation: Option<f64>,
        /// Standard deviation of the points about the line.
        residual_sd: f64,
        /// Degrees of freedom.
        dof: f64,
        /// Share of the sum of squares about the mean that the line explains.
        r_squared: Option<f64>,
        /// The same about zero, for a line through the origin.
        r_squared_about_zero: Option<f64>,
        /// Sum of squares that the line explains.
        ss_regression: f64,
        /// Sum of squares that it leaves.
        ss_residual: f64,
        /// Explained against left mean square; left out where nothing is left.
        f_statistic: Option<f64>,
        /// y predicted.
        predicted: Option<f64>,
        /// Standard uncertainty of the line there.
        predicted_se: Option<f64>,
        /// Lower end of the interval of the line there.
        predicted_lower: Option<f64>,
        /// Upper end of that.
        predicted_upper: Option<f64>,
        /// Lower end of the interval of one more reading there, of weight 1.
        reading_lower: Option<f64>,
        /// Upper end of that.
        reading_upper: Option<f64>,
    }
}

/// The contract.
pub(crate) struct StraightLine;

impl Contract for StraightLine {
    const METHOD: Method = straight_line::METHOD;
    const SUMMARY: &'static str = "method-straight-line-calibration";
    const FORMULA: &'static str = "b = S_xy / S_xx; a = ȳ − b · (x̄ − x₀); s² = Σ w · (y − ŷ)² / (n − 2), through the origin n − 1";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("x", "x"),
        ("y", "y"),
        ("w", "weights"),
        ("x₀", "x_origin"),
        ("p", "level"),
    ];
    type In = LineInput;
    type Out = LineOutput;

    fn compute(input: &LineInput) -> Result<(LineOutput, Option<Working>), MethodError> {
        let line = straight_line::fit(&Points {
            x: &input.x,
            y: &input.y,
            weights: input.weights.as_deref(),
            origin: input.x_origin,
            through_origin: input.through_origin,
        })?;
        let free = !input.through_origin;
        let f = line.f_statistic();
        let t = coverage_factor(input.level.0, line.dof)?;
        let intercept = |sign: f64| free.then_some(line.intercept + sign * t * line.intercept_se);
        let at = input.predict_at;
        let band = |sign: f64| at.map(|x| line.at(x) + sign * t * line.se_at(x));
        let spread = |x: f64| line.se_at(x).hypot(line.residual_sd);
        let reading = |sign: f64| at.map(|x| line.at(x) + sign * t * spread(x));
        let out = LineOutput {
            intercept: free.then_some(line.intercept),
            slope: line.slope,
            intercept_se: free.then_some(line.intercept_se),
            slope_se: line.slope_se,
            intercept_lower: intercept(-1.0),
            intercept_upper: intercept(1.0),
            slope_lower: line.slope - t * line.slope_se,
            slope_upper: line.slope + t * line.slope_se,
            estimates_correlation: free.then(|| line.correlation()),
            residual_sd: line.residual_sd,
            dof: line.dof,
            r_squared: line.r_squared().filter(|_| free),
            r_squared_about_zero: line.r_squared().filter(|_| !free),
            ss_regression: line.ss_regression,
            ss_residual: line.ss_residual,
            f_statistic: f.is_finite().then_some(f),
            predicted: at.map(|x| line.at(x)),
            predicted_se: at.map(|x| line.se_at(x)),
            predicted_lower: band(-1.0),
            predicted_upper: band(1.0),
            reading_lower: reading(-1.0),
            reading_upper: reading(1.0),
        };
        Ok((out, Some(straight_line::working(&line))))
    }
}

contract! {
    /// Points of a calibration, and readings of one unknown x.
    struct InverseInput {
        /// Where it was calibrated, any unit.
        x: Vec<f64>,
        /// What was read there, any unit.
        y: Vec<f64>,
        /// Readings of the unknown, in the unit of y.
        readings: Vec<f64>,
        /// Probability with which the interval holds.
        level: Share = Share(0.95),
        /// Whether the reading is a mean known beforehand, and not one reading of an unknown.
        mean_response: bool = false,
    }
}

contract! {
    /// The unknown x with its intervals.
    struct InverseOutput {
        /// Estimate.
        x: f64,
        /// Slope of the calibration.
        slope: f64,
        /// Lower end of the interval by inversion (Fieller).
        fieller_lower: Option<f64>,
        /// Upper end of that.
        fieller_upper: Option<f64>,
        /// t² · u(b)² / b²: from 1 on there is no finite interval.
        fieller_g: f64,
        /// Whether there is one.
        finite_interval: bool,
        /// Lower end of the linearised interval (Wald).
        wald_lower: f64,
        /// Upper end of that.
        wald_upper: f64,
        /// Standard uncertainty, linearised.
        wald_se: f64,
        /// Degrees of freedom.
        dof: f64,
    }
}

/// The contract.
pub(crate) struct InversePrediction;

impl Contract for InversePrediction {
    const METHOD: Method = inverse_prediction::METHOD;
    const SUMMARY: &'static str = "method-inverse-prediction";
    const FORMULA: &'static str = "x = x̄ + D; D = (ȳ₀ − ȳ) / b; u = s / |b| · √(1/m + 1/n + D² / S_xx); g = t² · s² / (b² · S_xx)";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("x", "x"), ("y", "y"), ("y₀", "readings"), ("p", "level")];
    type In = InverseInput;
    type Out = InverseOutput;

    fn compute(input: &InverseInput) -> Result<(InverseOutput, Option<Working>), MethodError> {
        let line: Line = straight_line::fit(&Points {
            x: &input.x,
            y: &input.y,
            weights: None,
            origin: 0.0,
            through_origin: false,
        })?;
        let found = inverse_prediction::predict(
            &line,
            &input.readings,
            input.level.0,
            input.mean_response,
        )?;
        let out = InverseOutput {
            x: found.x,
            slope: line.slope,
            fieller_lower: found.fieller.map(|f| f.0),
            fieller_upper: found.fieller.map(|f| f.1),
            fieller_g: found.g,
            finite_interval: found.fieller.is_some(),
            wald_lower: found.wald.0,
            wald_upper: found.wald.1,
            wald_se: found.wald_se,
            dof: found.dof,
        };
        Ok((
            out,
            Some(inverse_prediction::working(
                &line,
                &found,
                (!input.mean_response).then_some(input.readings.len()),
            )),
        ))
    }
}
