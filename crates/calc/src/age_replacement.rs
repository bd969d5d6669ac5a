//! When a part that wears is best changed before it fails.
//!
//! # Formula
//! Changed at age T or when it fails: cost per time C(T) = (c_p · R(T) + c_f · F(T)) / ∫₀ᵀ R dt. Least where
//! h(T) · ∫₀ᵀ R dt − F(T) = c_p / (c_f − c_p), h the failure rate. Without a change C = c_f / mean life.
//!
//! # Validity
//! A new part is as good as the first; a rate of failure that rises. Where it does not, or a failure costs no more than a
//! planned change, an early change never pays.
//!
//! # Source
//! Barlow and Proschan, Mathematical Theory of Reliability (1965), chapter 4 (from memory). Check values: scipy 1.17.1.

use crate::Message;
use crate::bisection::bisect_above_zero;
use crate::error::{CalcError, within};
use crate::normal;
use crate::working::{Method, Working, figures};
use cdflib::special::{gamma, gamma_inc};

/// This method.
pub const METHOD: Method = Method {
    name: "age-replacement",
    version: 1,
    source: "Barlow and Proschan, Mathematical Theory of Reliability (1965), chapter 4 (from memory)",
};

/// How long a part lives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Life {
    /// Weibull: scale and shape.
    Weibull(f64, f64),
    /// Normal: mean, at least three standard deviations, and standard deviation.
    Normal(f64, f64),
    /// Anywhere alike up to the longest.
    Uniform(f64),
}

/// What a change costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Costs {
    /// Planned.
    pub planned: f64,
    /// After a failure, all that it brings counted.
    pub failure: f64,
}

/// When to change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// Age at which to change; infinite for never.
    pub interval: f64,
    /// Cost per time then.
    pub cost_rate: f64,
    /// Cost per time without an early change.
    pub run_to_failure: f64,
    /// Mean life.
    pub mean_life: f64,
    /// Share that reaches the age.
    pub reliability: f64,
    /// Mean time between changes.
    pub mean_cycle: f64,
}

fn density(z: f64) -> f64 {
    (-z * z / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt()
}

/// ∫ Φ up to x.
fn area(x: f64) -> f64 {
    x * normal::below(x) + density(x)
}

impl Life {
    /// The same life, if it is one.
    ///
    /// # Errors
    /// A scale, mean, deviation or longest that is not above 0, a shape outside 0.05 to 100, a mean under three deviations.
    pub fn checked(self) -> Result<Self, CalcError> {
        match self {
            Self::Weibull(scale, shape) => {
                within("η", scale, 1e-100, 1e100)?;
                within("β", shape, 0.05, 100.0)?;
            }
            Self::Normal(mean, deviation) => {
                within("s", deviation, 1e-100, 1e100)?;
                within("m", mean, 3.0 * deviation, 1e100)?;
            }
            Self::Uniform(longest) => {
                within("b", longest, 1e-100, 1e100)?;
            }
        }
        Ok(self)
    }

    fn mean(self) -> f64 {
        match self {
            Self::Weibull(scale, shape) => scale * gamma(1.0 + 1.0 / shape),
            Self::Normal(mean, deviation) => deviation * area(mean / deviation),
            Self::Uniform(longest) => longest / 2.0,
        }
    }

    /// Share that has failed by `t`, and share that has not.
    fn shares(self, t: f64) -> (f64, f64) {
        match self {
            Self::Weibull(scale, shape) => {
                let w = (t / scale).powf(shape);
                (-(-w).exp_m1(), (-w).exp())
            }
            Self::Normal(mean, deviation) => {
                let z = (t - mean) / deviation;
                (normal::below(z), normal::below(-z))
            }
            Self::Uniform(longest) => {
                let failed = (t / longest).min(1.0);
                (failed, 1.0 - failed)
            }
        }
    }

    /// Mean time until `t` or failure.
    fn cycle(self, t: f64) -> f64 {
        match self {
            Self::Weibull(scale, shape) => {
                let w = (t / scale).powf(shape);
                if w == 0.0 {
                    return t;
                }
                if w.is_infinite() {
                    return self.mean();
                }
                self.mean() * gamma_inc(1.0 / shape, w).0
            }
            Self::Normal(mean, deviation) => {
                deviation * (area(mean / deviation) - area((mean - t) / deviation))
            }
            Self::Uniform(longest) => {
                let t = t.min(longest);
                t - t * t / (2.0 * longest)
            }
        }
    }

    /// Rate of failure at `t`.
    fn rate(self, t: f64) -> f64 {
        match self {
            Self::Weibull(scale, shape) => shape / scale * (t / scale).powf(shape - 1.0),
            Self::Normal(mean, deviation) => {
                let z = (t - mean) / deviation;
                // Far out the rate comes to z.
                let tail = if z > 30.0 {
                    z
                } else {
                    density(z) / normal::below(-z)
                };
                tail / deviation
            }
            Self::Uniform(longest) if t >= longest => f64::INFINITY,
            Self::Uniform(longest) => 1.0 / (longest - t),
        }
    }
}

/// The cost per time of changing at age `t` or at failure.
///
/// # Errors
/// A life or costs as in [`best`], an age that is not above 0.
pub fn cost_rate(life: Life, costs: &Costs, t: f64) -> Result<f64, CalcError> {
    let life = life.checked()?;
    let t = within("T", t, 1e-100, 1e100)?;
    let (failed, alive) = life.shares(t);
    let cycle = within("T", life.cycle(t), 1e-200, 1e200)?;
    let rate = (costs.planned * alive + costs.failure * failed) / cycle;
    within("T", rate, 0.0, 1e250)
}

fn at(life: Life, costs: &Costs, interval: Option<f64>) -> Result<Found, CalcError> {
    let mean_life = life.mean();
    let run_to_failure = within("c_f", costs.failure / mean_life, 0.0, 1e250)?;
    Ok(match interval {
        Some(t) => Found {
            interval: t,
            cost_rate: cost_rate(life, costs, t)?,
            run_to_failure,
            mean_life,
            reliability: life.shares(t).1,
            mean_cycle: life.cycle(t),
        },
        None => Found {
            interval: f64::INFINITY,
            cost_rate: run_to_failure,
            run_to_failure,
            mean_life,
            reliability: 0.0,
            mean_cycle: mean_life,
        },
    })
}

/// The age with the least cost, among all ages or among those of `grid`.
///
/// # Errors
/// A life that is none ([`Life::checked`]), costs that are not above 0, an age of the grid that is not above 0.
pub fn best(life: Life, costs: &Costs, grid: Option<&[f64]>) -> Result<Found, CalcError> {
    let life = life.checked()?;
    let planned = within("c_p", costs.planned, 1e-100, 1e100)?;
    let failure = within("c_f", costs.failure, 1e-100, 1e100)?;
    if let Some(grid) = grid {
        let mut least: Option<(f64, f64)> = None;
        for t in grid {
            let rate = cost_rate(life, costs, *t)?;
            if least.is_none_or(|(_, so_far)| rate < so_far) {
                least = Some((*t, rate));
            }
        }
        let Some((t, _)) = least else {
            return Err(CalcError::TooFew {
                input: "grid",
                have: 0,
                need: 1,
            });
        };
        return at(life, costs, Some(t));
    }
    let rises = !matches!(life, Life::Weibull(_, shape) if shape <= 1.0);
    if failure <= planned || !rises {
        return at(life, costs, None);
    }
    let ratio = planned / (failure - planned);
    let wanted = |t: f64| life.rate(t) * life.cycle(t) - life.shares(t).0 < ratio;
    let found = match life {
        // Exact.
        Life::Uniform(longest) => {
            // −K + √(K² + 2K) without the loss of digits for a large K.
            Some(longest * 2.0 * ratio / (ratio + (ratio * ratio + 2.0 * ratio).sqrt()))
        }
        _ => bisect_above_zero(wanted),
    };
    // Beyond all lives it is no change at all.
    at(
        life,
        costs,
        found.filter(|t| *t < 1e100 && life.shares(*t).1 > 0.0),
    )
}

/// From the shares to the cost per time.
pub fn working(costs: &Costs, found: &Found) -> Working {
    let few = |x: f64| figures(x, 6);
    let rate = found.cost_rate;
    let base = Working::new(METHOD)
        .given(
            "c_p",
            Message::new("given-planned-cost"),
            costs.planned,
            2,
            "",
        )
        .given(
            "c_f",
            Message::new("given-failure-cost"),
            costs.failure,
            2,
            "",
        )
        .given(
            "m",
            Message::new("given-mean-life"),
            found.mean_life,
            few(found.mean_life),
            "",
        );
    let without = found.run_to_failure;
    let base = base.step("C_f", "c_f / m", without, few(without), "");
    if found.interval.is_infinite() {
        return base.note(Message::new("note-never-early"));
    }
    base.given(
        "T",
        Message::new("given-change-age"),
        found.interval,
        few(found.interval),
        "",
    )
    .given(
        "R",
        Message::new("given-reaching-share"),
        found.reliability,
        5,
        "",
    )
    .given(
        "M",
        Message::new("given-mean-cycle"),
        found.mean_cycle,
        few(found.mean_cycle),
        "",
    )
    .step("C", "(c_p · R + c_f · (1 − R)) / M", rate, few(rate), "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const COSTS: Costs = Costs {
        planned: 1.0,
        failure: 5.0,
    };

    #[test]
    fn uniform_by_its_closed_form() {
        // By hand: K = 1/4, T = 1000 · (−1/4 + √(1/16 + 1/2)) = 500, C = (1/2 + 5/2) / 375 = 0.008.
        let found = best(Life::Uniform(1000.0), &COSTS, None).expect("good");
        assert!((found.interval - 500.0).abs() < 1e-9 && (found.cost_rate - 0.008).abs() < 1e-12);
    }

    #[test]
    fn never_where_it_does_not_pay() {
        // Barlow and Proschan (1965), chapter 4: a rate that does not rise, or a failure that costs no more.
        let costs = Costs {
            planned: 5.0,
            ..COSTS
        };
        for (life, costs) in [
            (Life::Weibull(300.0, 1.0), COSTS),
            (Life::Weibull(300.0, 0.8), COSTS),
            (Life::Weibull(300.0, 3.0), costs),
        ] {
            let found = best(life, &costs, None).expect("good");
            assert_eq!(found.interval, f64::INFINITY);
            assert_eq!(found.cost_rate, found.run_to_failure);
        }
    }

    #[test]
    fn refusals() {
        for life in [
            Life::Weibull(0.0, 2.0),
            Life::Weibull(1.0, f64::NAN),
            Life::Normal(2.0, 1.0),
            Life::Normal(2.0, 0.0),
            Life::Uniform(-1.0),
        ] {
            assert!(best(life, &COSTS, None).is_err(), "{life:?}");
        }
        let good = Life::Weibull(1.0, 2.0);
        assert!(
            best(
                good,
                &Costs {
                    planned: 0.0,
                    ..COSTS
                },
                None
            )
            .is_err()
        );
        assert!(best(good, &COSTS, Some(&[])).is_err());
        assert!(best(good, &COSTS, Some(&[0.0])).is_err());
    }

    proptest! {
        #[test]
        fn no_other_age_costs_less(shape in 1.2..5.0f64, failure in 1.5..40.0f64, by in 0.3..3.0f64) {
            let costs = Costs { planned: 1.0, failure };
            for life in [Life::Weibull(100.0, shape), Life::Normal(100.0, 30.0 / shape), Life::Uniform(100.0)] {
                let found = best(life, &costs, None).expect("good");
                let other = if found.interval.is_finite() { found.interval * by } else { 100.0 * by };
                prop_assert!(cost_rate(life, &costs, other).expect("good") >= found.cost_rate * (1.0 - 1e-9));
                prop_assert!(found.cost_rate <= found.run_to_failure * (1.0 + 1e-12));
            }
        }
    }
}
