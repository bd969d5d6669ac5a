//! The smallest sampling plan through two points: good lots seldom rejected, bad ones seldom accepted.
//!
//! # Formula
//! The smallest c, then the smallest n, with P_a(p₁) ≥ 1 − α and P_a(p₂) ≤ β, P_a binomial.
//!
//! # Validity
//! A running process or a lot much larger than the sample.
//!
//! # Source
//! Montgomery, Introduction to Statistical Quality Control, chapter 15 (from memory). Check values: exhaustive search
//! with scipy 1.17.1 `stats.binom`.

use crate::Message;
use crate::error::{CalcError, within};
use crate::operating_characteristic::{MOST, Model, Plan, unchecked};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "two-point-sampling-plan",
    version: 1,
    source: "binomial operating characteristic through two points; Montgomery, chapter 15 (from memory)",
};

/// Largest acceptance number that is looked at.
pub const MOST_ACCEPTED: u64 = 500;

/// The two points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Points {
    /// Share of bad ones that is still good.
    pub good: f64,
    /// Risk of rejecting there.
    pub producer_risk: f64,
    /// Share of bad ones that is not good enough.
    pub bad: f64,
    /// Risk of accepting there.
    pub consumer_risk: f64,
}

/// A plan and what it does at the two points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// The plan.
    pub plan: Plan,
    /// Probability of accepting at the good point.
    pub at_good: f64,
    /// Probability of accepting at the bad point.
    pub at_bad: f64,
}

/// The smallest sample from `low` for which `holds`, which once it holds goes on to; `None` beyond [`MOST`].
fn first(low: u64, holds: impl Fn(u64) -> bool) -> Option<u64> {
    let (mut below, mut high) = (low.saturating_sub(1), low);
    while !holds(high) {
        below = high;
        high *= 2;
        if high > MOST {
            return None;
        }
    }
    while high - below > 1 {
        let middle = u64::midpoint(below, high);
        if holds(middle) {
            high = middle;
        } else {
            below = middle;
        }
    }
    Some(high)
}

/// The smallest plan through `points`.
///
/// # Errors
/// A share or risk outside 0 to 1 (both excluded), a bad share not above the good one, points that need more than
/// [`MOST_ACCEPTED`] accepted bad ones or a sample above ten million.
pub fn smallest(points: &Points) -> Result<Found, CalcError> {
    let inside = |symbol, x| within(symbol, x, 1e-12, 1.0 - 1e-12);
    let good = inside("p₁", points.good)?;
    let alpha = inside("α", points.producer_risk)?;
    let bad = inside("p₂", points.bad)?;
    let beta = inside("β", points.consumer_risk)?;
    if bad <= good {
        return Err(CalcError::OutOfRange {
            input: "p₂",
            value: bad,
            min: good,
            max: 1.0,
        });
    }
    let at = |plan, share| unchecked(plan, share, Model::Binomial);
    for accept in 0..=MOST_ACCEPTED {
        let plan = |sample| Plan { sample, accept };
        // A larger sample accepts less: the smallest that the buyer can live with is the best for both.
        let Some(sample) = first(accept + 1, |n| at(plan(n), bad) <= beta) else {
            break;
        };
        let found = plan(sample);
        if at(found, good) >= 1.0 - alpha {
            return Ok(Found {
                plan: found,
                at_good: at(found, good),
                at_bad: at(found, bad),
            });
        }
    }
    Err(CalcError::OutOfRange {
        input: "c",
        value: (MOST_ACCEPTED + 1) as f64,
        min: 0.0,
        max: MOST_ACCEPTED as f64,
    })
}

/// The working of a plan.
pub fn working(points: &Points, found: &Found) -> Working {
    let of = |symbol, what, x| (symbol, Message::new(what), x);
    let mut w = Working::new(METHOD);
    for (symbol, what, x) in [
        of("p₁", "given-good-share", points.good),
        of("α", "given-producer-risk", points.producer_risk),
        of("p₂", "given-bad-share", points.bad),
        of("β", "given-consumer-risk", points.consumer_risk),
    ] {
        w = w.given(symbol, what, x, 4, "");
    }
    let plan = found.plan;
    w.given(
        "n",
        Message::new("given-sample-size"),
        plan.sample as f64,
        0,
        "",
    )
    .given(
        "c",
        Message::new("given-accept-number"),
        plan.accept as f64,
        0,
        "",
    )
    .step("P_good", "P(X ≤ c), p₁", found.at_good, 4, "")
    .step("P_bad", "P(X ≤ c), p₂", found.at_bad, 4, "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const POINTS: Points = Points {
        good: 0.01,
        producer_risk: 0.05,
        bad: 0.08,
        consumer_risk: 0.1,
    };

    #[test]
    fn one_and_eight_per_cent() {
        // Exhaustive search with scipy 1.17.1 stats.binom.cdf: n = 65, c = 2.
        let found = smallest(&POINTS).expect("there is one");
        assert_eq!((found.plan.sample, found.plan.accept), (65, 2));
    }

    #[test]
    fn without_accepted_ones_it_is_the_success_run() {
        // By hand: 0.9ⁿ ≤ 0.1 first at n = 22; a good lot of 0.1 % passes with 0.978.
        let points = Points {
            good: 0.001,
            bad: 0.1,
            ..POINTS
        };
        let found = smallest(&points).expect("there is one");
        assert_eq!((found.plan.sample, found.plan.accept), (22, 0));
    }

    #[test]
    fn refusals() {
        for wrong in [
            Points {
                good: 0.0,
                ..POINTS
            },
            Points {
                bad: 0.01,
                ..POINTS
            },
            Points {
                producer_risk: f64::NAN,
                ..POINTS
            },
            Points {
                consumer_risk: 1.0,
                ..POINTS
            },
            // So near that no plan under the limit tells them apart.
            Points {
                bad: 0.0101,
                ..POINTS
            },
        ] {
            assert!(smallest(&wrong).is_err(), "{wrong:?}");
        }
    }

    proptest! {
        #[test]
        fn the_plan_holds_and_a_smaller_one_does_not(good in 0.001..0.03f64, by in 3.0..9.0f64, a in 0.02..0.2f64, b in 0.02..0.2f64) {
            let points = Points { good, producer_risk: a, bad: good * by, consumer_risk: b };
            let found = smallest(&points).expect("far apart");
            prop_assert!(found.at_good >= 1.0 - a && found.at_bad <= b);
            let Plan { sample, accept } = found.plan;
            // One fewer in the sample lets bad lots through; one fewer accepted takes good lots back.
            let fewer = unchecked(Plan { sample: sample - 1, accept }, points.bad, Model::Binomial);
            prop_assert!(fewer > b || sample == accept + 1);
            if accept > 0 {
                let stricter = unchecked(Plan { sample, accept: accept - 1 }, points.bad, Model::Binomial);
                prop_assert!(stricter <= b);
            }
        }
    }
}
