//! `polynomial-calibration`

use calc::polynomial::{self, Points};
use calc::student::coverage_factor;
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Share, contract};

contract! {
    /// Points, and how the curve is laid through them.
    struct Input {
        /// Where it was measured, any unit.
        x: Vec<f64>,
        /// What was measured, any unit.
        y: Vec<f64>,
        /// The highest power: 2 for a parabola, 3 for a cubic.
        degree: u64,
        /// Inverse variances of y on any scale, one a point.
        weights: Option<Vec<f64>> = None,
        /// The x that the powers are counted from.
        x_origin: f64 = 0.0,
        /// An x to predict y for.
        predict_at: Option<f64> = None,
        /// Probability with which the intervals hold.
        level: Share = Share(0.95),
    }
}

contract! {
    /// The curve and how sure it is.
    struct Output {
        /// Factors of the powers of x, from the zeroth on.
        coefficients: Vec<f64>,
        /// Their standard uncertainties.
        coefficients_se: Vec<f64>,
        /// Lower ends of their intervals.
        coefficients_lower: Vec<f64>,
        /// Upper ends of those.
        coefficients_upper: Vec<f64>,
        /// Standard deviation of the points about the curve.
        residual_sd: f64,
        /// Degrees of freedom.
        dof: f64,
        /// Share of the sum of squares about the mean that the curve explains.
        r_squared: Option<f64>,
        /// Sum of squares that the curve explains.
        ss_regression: f64,
        /// Sum of squares that it leaves.
        ss_residual: f64,
        /// Explained against left mean square; left out where nothing is left.
        f_statistic: Option<f64>,
        /// y predicted.
        predicted: Option<f64>,
        /// Standard uncertainty of the curve there.
        predicted_se: Option<f64>,
        /// Lower end of the interval of the curve there.
        predicted_lower: Option<f64>,
        /// Upper end of that.
        predicted_upper: Option<f64>,
        /// Lower end of the interval of one more reading there, of weight 1.
        reading_lower: Option<f64>,
        /// Upper end of that.
        reading_upper: Option<f64>,
        /// Whether the x to predict for lies among the points.
        inside: Option<bool>,
    }
}

/// The contract.
pub(crate) struct PolynomialCalibration;

impl Contract for PolynomialCalibration {
    const METHOD: Method = polynomial::METHOD;
    const SUMMARY: &'static str = "method-polynomial-calibration";
    const FORMULA: &'static str = "y = Σ b_j · (x − x₀)^j = Σ c_k · p_k(x), p_k orthogonal over the points; s² = Σ w · (y − ŷ)² / (n − m − 1)";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("x", "x"),
        ("y", "y"),
        ("w", "weights"),
        ("x₀", "x_origin"),
        ("m", "degree"),
        ("p", "level"),
    ];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let found = polynomial::fit(&Points {
            x: &input.x,
            y: &input.y,
            weights: input.weights.as_deref(),
            origin: input.x_origin,
            degree: usize::try_from(input.degree).unwrap_or(usize::MAX),
        })?;
        let t = coverage_factor(input.level.0, found.dof)?;
        let about = |sign: f64| {
            let pairs = found.coefficients.iter().zip(&found.coefficients_se);
            pairs.map(|(b, se)| b + sign * t * se).collect()
        };
        let f = found.f_statistic();
        let at = input.predict_at;
        let band = |sign: f64| at.map(|x| found.at(x) + sign * t * found.se_at(x));
        let spread = |x: f64| found.se_at(x).hypot(found.residual_sd);
        let reading = |sign: f64| at.map(|x| found.at(x) + sign * t * spread(x));
        let (least, most) = (
            input.x.iter().copied().fold(f64::INFINITY, f64::min),
            input.x.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        );
        let out = Output {
            coefficients: found.coefficients.clone(),
            coefficients_se: found.coefficients_se.clone(),
            coefficients_lower: about(-1.0),
            coefficients_upper: about(1.0),
            residual_sd: found.residual_sd,
            dof: found.dof,
            r_squared: found.r_squared(),
            ss_regression: found.ss_regression,
            ss_residual: found.ss_residual,
            f_statistic: f.is_finite().then_some(f),
            predicted: at.map(|x| found.at(x)),
            predicted_se: at.map(|x| found.se_at(x)),
            predicted_lower: band(-1.0),
            predicted_upper: band(1.0),
            reading_lower: reading(-1.0),
            reading_upper: reading(1.0),
            inside: at.map(|x| (least..=most).contains(&x)),
        };
        Ok((out, Some(polynomial::working(&found))))
    }
}
