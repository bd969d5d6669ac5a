//! A life distribution fitted to failures and to parts that had not failed, with intervals.
//!
//! # Formula
//! z = (ln t − μ) / σ. Weibull: F = 1 − exp(−e^z), scale e^μ, shape 1/σ; lognormal: F = Φ(z); exponential: Weibull with σ = 1,
//! mean e^μ. Likelihood: density at a failure, 1 − F where it had not failed yet, F where it had failed before, F(b) − F(a)
//! between two looks; the largest is sought. Wald: value ∓ z_q · u from the observed information, of σ, scale, shape
//! and lives on the scale of logarithms. Likelihood ratio: all values with 2 · (l_max − l) ≤ z_q².
//!
//! # Validity
//! Parts independent and of one kind; looking ends for a reason that has nothing to do with the part. With few failures trust
//! the likelihood-ratio interval. Two different times of failure at least.
//!
//! # Source
//! Meeker and Escobar, Statistical Methods for Reliability Data (1998), chapters 7 and 8; NIST/SEMATECH e-Handbook 8.4.1.
//! That the likelihood is concave in 1/σ and μ/σ: Burridge, JRSS B 43(1), 1981 (all from memory).

mod likelihood;
mod search;

use crate::Message;
use crate::error::{CalcError, within};
use crate::normal;
use crate::working::{Method, Working, figures};
use cdflib::special::gamma;
use likelihood::Place;

pub use likelihood::Family;

const SOURCE: &str = "maximum likelihood: Meeker and Escobar (1998), chapters 7 and 8; NIST/SEMATECH e-Handbook 8.4.1 (from memory)";

/// Weibull.
pub const WEIBULL: Method = Method {
    name: "weibull-fit",
    version: 1,
    source: SOURCE,
};
/// Lognormal.
pub const LOGNORMAL: Method = Method {
    name: "lognormal-fit",
    version: 1,
    source: SOURCE,
};
/// Exponential.
pub const EXPONENTIAL: Method = Method {
    name: "exponential-fit",
    version: 1,
    source: SOURCE,
};

/// Most rows of observations.
pub const MOST: usize = 100_000;

/// What was seen of so many parts alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Seen {
    /// Failed at this time.
    Failed(f64),
    /// Had not failed at this time.
    Surviving(f64),
    /// Had failed before this time.
    FailedBefore(f64),
    /// Failed between these times; the first may be 0.
    FailedBetween(f64, f64),
}

/// Observations with how many parts each stands for.
pub type Observations = [(Seen, f64)];

/// A fitted distribution.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// Which.
    pub family: Family,
    /// Location of the logarithm of life.
    pub mu: f64,
    /// Scale of that; 1 for the exponential.
    pub sigma: f64,
    /// Variance of μ.
    pub mu_variance: f64,
    /// Covariance of μ and ln σ.
    pub covariance: f64,
    /// Variance of ln σ; 0 for the exponential.
    pub log_sigma_variance: f64,
    /// Logarithm of the likelihood, densities over time.
    pub log_likelihood: f64,
    observations: Vec<(Place, f64)>,
    /// Σ ln t over the failures.
    log_times: f64,
}

/// What an interval is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Quantity {
    /// μ.
    Mu,
    /// ln σ.
    LogSigma,
    /// The logarithm of the life that this share does not reach.
    LogLife(f64),
}

fn placed(seen: Seen) -> Result<Place, CalcError> {
    let time = |t: f64| within("t", t, 1e-300, 1e300).map(f64::ln);
    Ok(match seen {
        Seen::Failed(t) => Place::At(time(t)?),
        Seen::Surviving(t) => Place::After(time(t)?),
        Seen::FailedBefore(t) => Place::Before(time(t)?),
        Seen::FailedBetween(a, b) => {
            within("b", b - a, f64::MIN_POSITIVE, 1e300)?;
            if a == 0.0 {
                Place::Before(time(b)?)
            } else {
                Place::Between(time(a)?, time(b)?)
            }
        }
    })
}

/// The distribution of `family` most likely to have given `observations`.
///
/// # Errors
/// No failure, or for two unknowns failures at fewer than two different times; a time that is not above 0, an interval that ends
/// before it begins; a number of parts below 1; more than [`MOST`] rows; observations on which no largest likelihood is
/// found (all that survived were looked at before the first failure).
pub fn fit(observations: &Observations, family: Family) -> Result<Fit, CalcError> {
    within("n", observations.len() as f64, 0.0, MOST as f64)?;
    let mut rows = Vec::with_capacity(observations.len());
    for (seen, count) in observations {
        let count = within("count", *count, 1.0, 1e9)?;
        rows.push((placed(*seen)?, count));
    }
    let mut failures: Vec<f64> = rows.iter().filter_map(|(p, _)| p.failure()).collect();
    failures.sort_by(f64::total_cmp);
    failures.dedup();
    let need = if family == Family::Exponential { 1 } else { 2 };
    // Between two looks lies more than one time.
    let spans = rows
        .iter()
        .filter(|(p, _)| matches!(p, Place::Between(..)))
        .count();
    if failures.len() + spans < need {
        return Err(CalcError::TooFew {
            input: "failures",
            have: failures.len() + spans,
            need,
        });
    }
    let exact = rows.iter().filter_map(|(p, count)| match p {
        Place::At(x) => Some(x * count),
        _ => None,
    });
    let log_times: f64 = exact.sum();
    let found = search::largest(&rows, family)?;
    let (a, b) = (found.a, found.b);
    let [i_aa, i_ab, i_bb] = found.information;
    // From (1/σ, μ/σ) to (μ, ln σ), where the gradient is 0.
    let mu_mu = i_bb * a * a;
    let mu_theta = -(i_ab * a * a) - i_bb * a * b;
    let theta_theta = i_aa * a * a + 2.0 * i_ab * a * b + i_bb * b * b;
    let (mu_variance, covariance, log_sigma_variance) = if family == Family::Exponential {
        (1.0 / mu_mu, 0.0, 0.0)
    } else {
        let determinant = mu_mu * theta_theta - mu_theta * mu_theta;
        (
            theta_theta / determinant,
            -mu_theta / determinant,
            mu_mu / determinant,
        )
    };
    within("σ", mu_variance, f64::MIN_POSITIVE, 1e300)?;
    within("σ", log_sigma_variance, 0.0, 1e300)?;
    Ok(Fit {
        family,
        mu: b / a,
        sigma: 1.0 / a,
        mu_variance,
        covariance,
        log_sigma_variance,
        log_likelihood: found.value - log_times,
        observations: rows,
        log_times,
    })
}

impl Fit {
    /// Unknowns of the distribution.
    pub fn unknowns(&self) -> f64 {
        if self.family == Family::Exponential {
            1.0
        } else {
            2.0
        }
    }

    /// Akaike's criterion: the smaller, the better the distribution fits for its unknowns.
    pub fn aic(&self) -> f64 {
        2.0 * self.unknowns() - 2.0 * self.log_likelihood
    }

    /// The value of `quantity` and its variance.
    fn estimate(&self, quantity: Quantity) -> Result<(f64, f64), CalcError> {
        Ok(match quantity {
            Quantity::Mu => (self.mu, self.mu_variance),
            Quantity::LogSigma => (self.sigma.ln(), self.log_sigma_variance),
            Quantity::LogLife(share) => {
                let z = self.family.quantile(share)? * self.sigma;
                let variance =
                    self.mu_variance + 2.0 * z * self.covariance + z * z * self.log_sigma_variance;
                (self.mu + z, variance.max(0.0))
            }
        })
    }

    /// The life that `share` of all parts does not reach.
    ///
    /// # Errors
    /// A share outside 0 to 1, both excluded.
    pub fn life(&self, share: f64) -> Result<f64, CalcError> {
        within(
            "t",
            self.estimate(Quantity::LogLife(share))?.0.exp(),
            0.0,
            1e300,
        )
    }

    /// Wald interval of `quantity`.
    ///
    /// # Errors
    /// A level or share outside 0 to 1, both excluded.
    pub fn wald(&self, quantity: Quantity, level: f64) -> Result<(f64, f64), CalcError> {
        let (value, variance) = self.estimate(quantity)?;
        let half = deviate(level)? * variance.sqrt();
        Ok((value - half, value + half))
    }

    /// Likelihood-ratio interval of `quantity`; an end that is not found is left out.
    ///
    /// # Errors
    /// A level or share outside 0 to 1, both excluded.
    pub fn likelihood_ratio(
        &self,
        quantity: Quantity,
        level: f64,
    ) -> Result<(Option<f64>, Option<f64>), CalcError> {
        let z = deviate(level)?;
        let (value, variance) = self.estimate(quantity)?;
        let step = variance.sqrt();
        if !(step > 0.0 && step.is_finite()) {
            return Ok((None, None));
        }
        let least = self.log_likelihood + self.log_times - z * z / 2.0;
        let shift = match quantity {
            Quantity::LogLife(share) => self.family.quantile(share)?,
            _ => 0.0,
        };
        let from = (1.0 / self.sigma, self.mu / self.sigma);
        let likely = |v: f64| {
            let line = match quantity {
                Quantity::LogSigma => search::Line::fixed((-v).exp()),
                Quantity::Mu | Quantity::LogLife(_) => search::Line::through(v, shift),
            };
            search::largest_on(&self.observations, self.family, line, from) >= least
        };
        let end = |sign: f64| {
            let (mut inside, mut by) = (0.0, step);
            while likely(value + sign * by) {
                inside = by;
                by *= 2.0;
                if by > 1e3 * (1.0 + step) {
                    return None;
                }
            }
            let mut outside = by;
            for _ in 0..44 {
                let middle = f64::midpoint(inside, outside);
                if likely(value + sign * middle) {
                    inside = middle;
                } else {
                    outside = middle;
                }
            }
            Some(value + sign * inside)
        };
        Ok((end(-1.0), end(1.0)))
    }

    /// Mean life and its standard deviation between parts; `None` beyond the range of numbers.
    pub fn mean_and_spread(&self) -> Option<(f64, f64)> {
        let (mean, spread) = match self.family {
            Family::Lognormal => {
                let half = self.sigma * self.sigma / 2.0;
                let mean = (self.mu + half).exp();
                (mean, mean * (2.0 * half).exp_m1().sqrt())
            }
            // Γ beyond 170 is beyond the range of numbers.
            _ if self.sigma > 80.0 => return None,
            _ => {
                let (first, second) = (gamma(1.0 + self.sigma), gamma(1.0 + 2.0 * self.sigma));
                let scale = self.mu.exp();
                (
                    scale * first,
                    scale * (second - first * first).max(0.0).sqrt(),
                )
            }
        };
        (mean.is_finite() && spread.is_finite()).then_some((mean, spread))
    }
}

/// The two-sided normal factor of a level.
fn deviate(level: f64) -> Result<f64, CalcError> {
    let level = within("C", level, 1e-9, 1.0 - 1e-9)?;
    normal::quantile(f64::midpoint(1.0, level))
}

/// From the fitted values to the life that a tenth does not reach.
pub fn working(fit: &Fit, method: Method) -> Working {
    let few = |x: f64| figures(x, 6);
    let failed = |(place, count): &(Place, f64)| place.failure().map_or(0.0, |_| *count);
    let spans = |(place, count): &(Place, f64)| match place {
        Place::Between(..) => *count,
        _ => 0.0,
    };
    let failures: f64 = fit.observations.iter().map(|o| failed(o) + spans(o)).sum();
    let all: f64 = fit.observations.iter().map(|o| o.1).sum();
    let scale = fit.mu.exp();
    let life = fit.life(0.1).unwrap_or(f64::INFINITY);
    let w = Working::new(method)
        .given("n", Message::new("given-parts-seen"), all, 0, "")
        .given("r", Message::new("given-parts-failed"), failures, 0, "");
    let w = match fit.family {
        Family::Weibull => w
            .given(
                "η",
                Message::new("given-weibull-scale"),
                scale,
                few(scale),
                "",
            )
            .given(
                "β",
                Message::new("given-weibull-shape"),
                1.0 / fit.sigma,
                4,
                "",
            )
            .step("B10", "η · (−ln(0.9))^(1 / β)", life, few(life), ""),
        Family::Lognormal => w
            .given("μ", Message::new("given-log-mean"), fit.mu, 5, "")
            .given("σ", Message::new("given-log-spread"), fit.sigma, 5, "")
            .step("B10", "exp(μ − 1.28155 · σ)", life, few(life), ""),
        Family::Exponential => w
            .given("θ", Message::new("given-mean-life"), scale, few(scale), "")
            .step("B10", "−θ · ln(0.9)", life, few(life), ""),
    };
    let w = w.note(Message::new("note-life-independent"));
    if failures < 10.0 {
        return w.note(Message::new("note-life-few"));
    }
    w
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn failed(times: &[f64]) -> Vec<(Seen, f64)> {
        times.iter().map(|t| (Seen::Failed(*t), 1.0)).collect()
    }

    #[test]
    fn handbook_data() {
        // NIST/SEMATECH e-Handbook 8.4.1.3: scale 606.528, shape 1.7208, logarithm of the likelihood −75.135.
        let times = [
            54.0, 187.0, 216.0, 240.0, 244.0, 335.0, 361.0, 373.0, 375.0, 386.0,
        ];
        let mut seen = failed(&times);
        seen.push((Seen::Surviving(500.0), 10.0));
        let found = fit(&seen, Family::Weibull).expect("fits");
        assert!((found.mu.exp() - 606.528).abs() <= 6e-4, "{found:?}");
        assert!((1.0 / found.sigma - 1.7208).abs() <= 6e-5, "{found:?}");
        assert!((found.log_likelihood + 75.135).abs() <= 6e-4);
    }

    #[test]
    fn without_censoring_the_lognormal_is_mean_and_spread_of_logarithms() {
        // By hand: ln 1, ln e², ln e⁴: mean 2, variance (4 + 0 + 4) / 3.
        let e2 = 2.0_f64.exp();
        let found = fit(&failed(&[1.0, e2, e2 * e2]), Family::Lognormal).expect("fits");
        assert!((found.mu - 2.0).abs() < 1e-9 && (found.sigma.powi(2) - 8.0 / 3.0).abs() < 1e-8);
        // u(μ) = σ / √n.
        assert!((found.mu_variance - 8.0 / 9.0).abs() < 1e-8);
    }

    #[test]
    fn the_exponential_is_time_over_failures() {
        // By hand: 10 + 20 + 3 · 30 over two failures = 60, u = 60 / √2.
        let mut seen = failed(&[10.0, 20.0]);
        seen.push((Seen::Surviving(30.0), 3.0));
        let found = fit(&seen, Family::Exponential).expect("fits");
        assert!((found.mu.exp() - 60.0).abs() < 1e-9, "{found:?}");
        assert!((found.mu_variance - 0.5).abs() < 1e-9, "{found:?}");
    }

    #[test]
    fn refusals() {
        let weibull = |seen: &Observations| fit(seen, Family::Weibull);
        assert!(weibull(&[]).is_err());
        assert!(weibull(&failed(&[5.0, 5.0])).is_err());
        assert!(weibull(&[(Seen::Surviving(5.0), 9.0)]).is_err());
        for wrong in [
            (Seen::Failed(0.0), 1.0),
            (Seen::Failed(f64::NAN), 1.0),
            (Seen::Surviving(-1.0), 1.0),
            (Seen::FailedBetween(3.0, 2.0), 1.0),
            (Seen::Failed(1.0), 0.0),
        ] {
            let mut seen = failed(&[5.0, 6.0]);
            seen.push(wrong);
            assert!(weibull(&seen).is_err(), "{wrong:?}");
        }
        let good = weibull(&failed(&[5.0, 6.0, 8.0])).expect("fits");
        assert!(good.life(0.0).is_err() && good.wald(Quantity::Mu, 1.0).is_err());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(40))]

        #[test]
        fn the_unit_of_time_does_not_matter(times in prop::collection::vec(1.0..100.0f64, 4..20), by in 0.01..1000.0f64, still in 0u32..5) {
            let moved: Vec<f64> = times.iter().map(|t| t * by).collect();
            for family in [Family::Weibull, Family::Lognormal, Family::Exponential] {
                let with = |times: &[f64], at: f64| {
                    let mut seen = failed(times);
                    seen.extend((still > 0).then_some((Seen::Surviving(at), f64::from(still))));
                    fit(&seen, family).expect("fits")
                };
                let (a, b) = (with(&times, 100.0), with(&moved, 100.0 * by));
                prop_assert!((a.mu + by.ln() - b.mu).abs() < 1e-6);
                prop_assert!((a.sigma / b.sigma - 1.0).abs() < 1e-6);
                // The likelihood-ratio interval holds the estimate.
                let (low, high) = a.likelihood_ratio(Quantity::LogLife(0.1), 0.9).expect("good");
                let life = a.life(0.1).expect("good").ln();
                prop_assert!(low.is_none_or(|l| l < life) && high.is_none_or(|h| h > life));
            }
        }
    }
}
