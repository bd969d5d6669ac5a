//! `weibull-fit`, `lognormal-fit`, `exponential-fit`

use calc::life_fit::{self, Family, Fit, Quantity, Seen};
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{Positive, Share, contract};
use crate::{MethodError, Why};

contract! {
    /// Lives and what was seen of parts that had not failed, all times in one unit.
    struct LivesInput {
        /// Times of failure. An empty list where `intervals` or `left_censored` say it all.
        failures: Vec<Positive>,
        /// Times at which a part had not failed yet.
        right_censored: Option<Vec<Positive>>,
        /// The same with how many: time, count.
        right_censored_at: Option<Vec<(Positive, Positive)>>,
        /// Times before which a part had failed.
        left_censored: Option<Vec<Positive>>,
        /// Failed between two looks: from, to, count. The first may begin at 0.
        intervals: Option<Vec<Vec<f64>>>,
        /// Confidence of the intervals.
        level: Share = Share(0.95),
        /// Shares of parts whose lives are asked for.
        quantile_shares: Option<Vec<Share>>,
    }
}

const NAMES: [(&str, &str); 6] = [
    ("t", "failures"),
    ("b", "intervals"),
    ("count", "right_censored_at"),
    ("σ", "failures"),
    ("C", "level"),
    ("p", "quantile_shares"),
];

fn fitted(input: &LivesInput, family: Family) -> Result<Fit, MethodError> {
    let mut seen = Vec::new();
    let each = |times: &Option<Vec<Positive>>| times.clone().unwrap_or_default();
    seen.extend(input.failures.iter().map(|t| (Seen::Failed(t.0), 1.0)));
    let still = each(&input.right_censored);
    seen.extend(still.iter().map(|t| (Seen::Surviving(t.0), 1.0)));
    for (i, (time, count)) in input.right_censored_at.iter().flatten().enumerate() {
        if count.0.fract() != 0.0 {
            let allowed = "1, 2, 3, …".to_owned();
            let error = MethodError::at("[1]", count.0, Why::NotAllowed { allowed });
            return Err(error.item(i).under("right_censored_at"));
        }
        seen.push((Seen::Surviving(time.0), count.0));
    }
    let before = each(&input.left_censored);
    seen.extend(before.iter().map(|t| (Seen::FailedBefore(t.0), 1.0)));
    for (i, row) in input.intervals.iter().flatten().enumerate() {
        let &[from, to, count] = row.as_slice() else {
            let why = Why::Count {
                have: row.len(),
                need: 3,
            };
            return Err(MethodError::at("", "", why).item(i).under("intervals"));
        };
        if !(from >= 0.0 && to > from && count >= 1.0 && count.fract() == 0.0) {
            let allowed = "0 ≤ from < to, count 1, 2, 3, …".to_owned();
            let error = MethodError::at("", format!("{row:?}"), Why::NotAllowed { allowed });
            return Err(error.item(i).under("intervals"));
        }
        seen.push((Seen::FailedBetween(from, to), count));
    }
    Ok(life_fit::fit(&seen, family)?)
}

type Ends = Result<(f64, f64), MethodError>;
type Found = Result<Option<(f64, f64)>, MethodError>;

/// Finite ends, or a refusal of the lives that they rest on.
fn finite((low, high): (f64, f64)) -> Ends {
    if low.is_finite() && high.is_finite() {
        return Ok((low, high));
    }
    let allowed = "more failures".to_owned();
    Err(MethodError::at("failures", "", Why::NotAllowed { allowed }))
}

fn wald(fit: &Fit, quantity: Quantity, level: f64) -> Ends {
    finite(fit.wald(quantity, level)?)
}

fn wald_exp(fit: &Fit, quantity: Quantity, level: f64) -> Ends {
    let (low, high) = fit.wald(quantity, level)?;
    finite((low.exp(), high.exp()))
}

/// Both ends of the likelihood-ratio interval, if both are there.
fn ratio(fit: &Fit, quantity: Quantity, level: f64) -> Found {
    let (low, high) = fit.likelihood_ratio(quantity, level)?;
    Ok(low
        .zip(high)
        .filter(|(l, h)| l.is_finite() && h.is_finite()))
}

fn ratio_exp(fit: &Fit, quantity: Quantity, level: f64) -> Found {
    let ends = ratio(fit, quantity, level)?.map(|(l, h)| (l.exp(), h.exp()));
    Ok(ends.filter(|(_, h)| h.is_finite()))
}

fn lives(fit: &Fit, shares: &Option<Vec<Share>>) -> Result<Option<Vec<f64>>, MethodError> {
    let Some(shares) = shares else {
        return Ok(None);
    };
    let lives = shares.iter().map(|s| fit.life(s.0));
    Ok(Some(lives.collect::<Result<_, _>>()?))
}

const TENTH: Quantity = Quantity::LogLife(0.1);

contract! {
    /// The Weibull distribution that fits best. Left out: an end that is not found.
    struct WeibullOutput {
        /// Life that 63.2 % do not reach.
        scale: f64,
        /// Its standard uncertainty.
        scale_se: f64,
        /// Its interval by its uncertainty.
        scale_wald: (f64, f64),
        /// Its interval by the likelihood ratio.
        scale_lr: Option<(f64, f64)>,
        /// Shape: below 1 early failures, 1 by chance, above 1 wear.
        shape: f64,
        /// Its standard uncertainty.
        shape_se: f64,
        /// Its interval by its uncertainty.
        shape_wald: (f64, f64),
        /// Its interval by the likelihood ratio.
        shape_lr: Option<(f64, f64)>,
        /// Life that 10 % do not reach.
        b10: f64,
        /// Its interval by its uncertainty.
        b10_wald: (f64, f64),
        /// Its interval by the likelihood ratio.
        b10_lr: Option<(f64, f64)>,
        /// Mean life.
        mean: Option<f64>,
        /// Standard deviation of the lives.
        standard_deviation: Option<f64>,
        /// Logarithm of the scale.
        mu: f64,
        /// Its standard uncertainty.
        mu_se: f64,
        /// Its interval by its uncertainty.
        mu_wald: (f64, f64),
        /// One over the shape.
        sigma: f64,
        /// Its interval by its uncertainty.
        sigma_wald: (f64, f64),
        /// Logarithm of that.
        log_sigma: f64,
        /// Its standard uncertainty.
        log_sigma_se: f64,
        /// Variance of mu.
        mu_variance: f64,
        /// Covariance of mu and sigma.
        mu_sigma_covariance: f64,
        /// Variance of sigma.
        sigma_variance: f64,
        /// Logarithm of the likelihood.
        log_likelihood: f64,
        /// Akaike's criterion, the smaller the better.
        aic: f64,
        /// Lives that the shares asked for do not reach.
        quantiles: Option<Vec<f64>>,
    }
}

/// The contract.
pub(crate) struct WeibullFit;

impl Contract for WeibullFit {
    const METHOD: Method = life_fit::WEIBULL;
    const SUMMARY: &'static str = "method-weibull-fit";
    const FORMULA: &'static str =
        "F = 1 − exp(−(t / η)^β); largest Π f(t_i) · Π (1 − F(t_j)) · Π F(t_k) · Π (F(b) − F(a))";
    const NAMES: &'static [(&'static str, &'static str)] = &NAMES;
    const ANSWERS: &'static [&'static str] = &["scale", "shape", "b10", "b10_lr"];
    type In = LivesInput;
    type Out = WeibullOutput;

    fn compute(input: &LivesInput) -> Result<(WeibullOutput, Option<Working>), MethodError> {
        let fit = fitted(input, Family::Weibull)?;
        let level = input.level.0;
        let (scale, shape) = (fit.mu.exp(), 1.0 / fit.sigma);
        let theta_se = fit.log_sigma_variance.sqrt();
        let (shape_low, shape_high) = wald_exp(&fit, Quantity::LogSigma, level)?;
        let shape_lr = ratio_exp(&fit, Quantity::LogSigma, level)?;
        let spread = fit.mean_and_spread();
        let out = WeibullOutput {
            scale,
            scale_se: scale * fit.mu_variance.sqrt(),
            scale_wald: wald_exp(&fit, Quantity::Mu, level)?,
            scale_lr: ratio_exp(&fit, Quantity::Mu, level)?,
            shape,
            shape_se: shape * theta_se,
            shape_wald: finite((1.0 / shape_high, 1.0 / shape_low))?,
            shape_lr: shape_lr.map(|(low, high)| (1.0 / high, 1.0 / low)),
            b10: fit.life(0.1)?,
            b10_wald: wald_exp(&fit, TENTH, level)?,
            b10_lr: ratio_exp(&fit, TENTH, level)?,
            mean: spread.map(|s| s.0),
            standard_deviation: spread.map(|s| s.1),
            mu: fit.mu,
            mu_se: fit.mu_variance.sqrt(),
            mu_wald: wald(&fit, Quantity::Mu, level)?,
            sigma: fit.sigma,
            sigma_wald: (shape_low, shape_high),
            log_sigma: fit.sigma.ln(),
            log_sigma_se: theta_se,
            mu_variance: fit.mu_variance,
            mu_sigma_covariance: fit.sigma * fit.covariance,
            sigma_variance: fit.sigma * fit.sigma * fit.log_sigma_variance,
            log_likelihood: fit.log_likelihood,
            aic: fit.aic(),
            quantiles: lives(&fit, &input.quantile_shares)?,
        };
        Ok((out, Some(life_fit::working(&fit, Self::METHOD))))
    }
}

contract! {
    /// The lognormal distribution that fits best. Left out: an end that is not found.
    struct LognormalOutput {
        /// Mean of the logarithm of life.
        mu: f64,
        /// Its standard uncertainty.
        mu_se: f64,
        /// Its interval by its uncertainty.
        mu_wald: (f64, f64),
        /// Its interval by the likelihood ratio.
        mu_lr: Option<(f64, f64)>,
        /// Standard deviation of the logarithm of life.
        sigma: f64,
        /// Its standard uncertainty.
        sigma_se: f64,
        /// Its interval by its uncertainty.
        sigma_wald: (f64, f64),
        /// Its interval by the likelihood ratio.
        sigma_lr: Option<(f64, f64)>,
        /// Life that half do not reach.
        median: f64,
        /// Life that 10 % do not reach.
        b10: f64,
        /// Its interval by its uncertainty.
        b10_wald: (f64, f64),
        /// Its interval by the likelihood ratio.
        b10_lr: Option<(f64, f64)>,
        /// Mean life.
        mean: Option<f64>,
        /// Standard deviation of the lives.
        standard_deviation: Option<f64>,
        /// Variance of mu.
        mu_variance: f64,
        /// Covariance of mu and sigma.
        mu_sigma_covariance: f64,
        /// Variance of sigma.
        sigma_variance: f64,
        /// Logarithm of the likelihood.
        log_likelihood: f64,
        /// Akaike's criterion, the smaller the better.
        aic: f64,
        /// Lives that the shares asked for do not reach.
        quantiles: Option<Vec<f64>>,
    }
}

/// The contract.
pub(crate) struct LognormalFit;

impl Contract for LognormalFit {
    const METHOD: Method = life_fit::LOGNORMAL;
    const SUMMARY: &'static str = "method-lognormal-fit";
    const FORMULA: &'static str =
        "F = Φ((ln t − μ) / σ); largest Π f(t_i) · Π (1 − F(t_j)) · Π F(t_k) · Π (F(b) − F(a))";
    const NAMES: &'static [(&'static str, &'static str)] = &NAMES;
    const ANSWERS: &'static [&'static str] = &["median", "sigma", "b10", "b10_lr"];
    type In = LivesInput;
    type Out = LognormalOutput;

    fn compute(input: &LivesInput) -> Result<(LognormalOutput, Option<Working>), MethodError> {
        let fit = fitted(input, Family::Lognormal)?;
        let level = input.level.0;
        let spread = fit.mean_and_spread();
        let out = LognormalOutput {
            mu: fit.mu,
            mu_se: fit.mu_variance.sqrt(),
            mu_wald: wald(&fit, Quantity::Mu, level)?,
            mu_lr: ratio(&fit, Quantity::Mu, level)?,
            sigma: fit.sigma,
            sigma_se: fit.sigma * fit.log_sigma_variance.sqrt(),
            sigma_wald: wald_exp(&fit, Quantity::LogSigma, level)?,
            sigma_lr: ratio_exp(&fit, Quantity::LogSigma, level)?,
            median: fit.life(0.5)?,
            b10: fit.life(0.1)?,
            b10_wald: wald_exp(&fit, TENTH, level)?,
            b10_lr: ratio_exp(&fit, TENTH, level)?,
            mean: spread.map(|s| s.0),
            standard_deviation: spread.map(|s| s.1),
            mu_variance: fit.mu_variance,
            mu_sigma_covariance: fit.sigma * fit.covariance,
            sigma_variance: fit.sigma * fit.sigma * fit.log_sigma_variance,
            log_likelihood: fit.log_likelihood,
            aic: fit.aic(),
            quantiles: lives(&fit, &input.quantile_shares)?,
        };
        Ok((out, Some(life_fit::working(&fit, Self::METHOD))))
    }
}

contract! {
    /// The exponential distribution that fits best. Left out: an end that is not found.
    struct ExponentialOutput {
        /// Mean life.
        mean: f64,
        /// Its standard uncertainty.
        mean_se: f64,
        /// Its interval by its uncertainty.
        mean_wald: (f64, f64),
        /// Its interval by the likelihood ratio.
        mean_lr: Option<(f64, f64)>,
        /// Life that 10 % do not reach.
        b10: f64,
        /// Its interval by its uncertainty.
        b10_wald: (f64, f64),
        /// Logarithm of the likelihood.
        log_likelihood: f64,
        /// Akaike's criterion, the smaller the better.
        aic: f64,
        /// Lives that the shares asked for do not reach.
        quantiles: Option<Vec<f64>>,
    }
}

/// The contract.
pub(crate) struct ExponentialFit;

impl Contract for ExponentialFit {
    const METHOD: Method = life_fit::EXPONENTIAL;
    const SUMMARY: &'static str = "method-exponential-fit";
    const FORMULA: &'static str =
        "F = 1 − exp(−t / θ); largest Π f(t_i) · Π (1 − F(t_j)) · Π F(t_k) · Π (F(b) − F(a))";
    const NAMES: &'static [(&'static str, &'static str)] = &NAMES;
    const ANSWERS: &'static [&'static str] = &["mean", "mean_lr", "b10"];
    type In = LivesInput;
    type Out = ExponentialOutput;

    fn compute(input: &LivesInput) -> Result<(ExponentialOutput, Option<Working>), MethodError> {
        let fit = fitted(input, Family::Exponential)?;
        let level = input.level.0;
        let mean = fit.mu.exp();
        let out = ExponentialOutput {
            mean,
            mean_se: mean * fit.mu_variance.sqrt(),
            mean_wald: wald_exp(&fit, Quantity::Mu, level)?,
            mean_lr: ratio_exp(&fit, Quantity::Mu, level)?,
            b10: fit.life(0.1)?,
            b10_wald: wald_exp(&fit, TENTH, level)?,
            log_likelihood: fit.log_likelihood,
            aic: fit.aic(),
            quantiles: lives(&fit, &input.quantile_shares)?,
        };
        Ok((out, Some(life_fit::working(&fit, Self::METHOD))))
    }
}
