//! When to order and how much, where stock is watched all the time: reorder point r and quantity Q.
//!
//! # Formula
//! Cost per time (K · λ + Σ g(y)) / Q over y = r + 1 … r + Q, for normal demand ∫ g from r to r + Q; g(y) = h · E (y − D)⁺ + p ·
//! E (D − y)⁺, D the demand of a lead time. Poisson: exact, the Q cheapest y in a row, growing while the next one costs less than
//! the mean. Normal, by expected inventory: Q = √(2 · λ · (K + p · n(r)) / h), 1 − F(r) = Q · h / (p · λ), by turns, n(r) what is
//! short in a lead time; by order quantity and safety stock: Q = √(2 · K · λ / h), F(r) = p / (p + h).
//!
//! # Validity
//! Steady demand, a fixed lead time; what is short waits at p for a piece and time. In the approximation by expected
//! inventory p is for a piece, however long it waits.
//!
//! # Source
//! Snyder and Shen, Fundamentals of Supply Chain Theory, 2nd edition (2019), chapter 5; Federgruen and Zheng, Operations
//! Research 40(4), 1992 (from memory).

use crate::Message;
use crate::error::{CalcError, within};
use crate::normal;
use crate::poisson_stock::Demand;
use crate::quadrature::grid;
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "reorder-point-and-quantity",
    version: 1,
    source: "Snyder and Shen (2019), chapter 5; Federgruen and Zheng, Operations Research 40(4), 1992 (from memory)",
};

/// Largest quantity that is looked at for Poisson demand.
const MOST: i64 = 100_000;

/// What ordering, keeping and being short costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Costs {
    /// Of an order, K.
    pub order: f64,
    /// Of keeping a piece for one time, h.
    pub holding: f64,
    /// Of a piece that is short, p.
    pub short: f64,
}

impl Costs {
    /// `working` with the costs as givens.
    pub(crate) fn given(&self, working: Working) -> Working {
        let mut working = working;
        for (symbol, what, cost) in [
            ("K", "given-order-cost", self.order),
            ("h", "given-holding-cost", self.holding),
            ("p", "given-short-cost", self.short),
        ] {
            working = working.given(symbol, Message::new(what), cost, figures(cost, 6), "");
        }
        working
    }
}

/// Approximation for normal demand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Approximation {
    /// Expected inventory level.
    ExpectedInventory,
    /// Order quantity and safety stock, each by itself.
    SafetyStock,
}

/// Demand of one time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rate {
    /// Poisson: mean.
    Poisson(f64),
    /// Normal: mean, standard deviation, and the approximation.
    Normal(f64, f64, Approximation),
}

/// A policy.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Policy {
    /// Stock, on hand and on order, at which to order.
    pub point: f64,
    /// Pieces at once.
    pub quantity: f64,
    /// Cost per time.
    pub cost_rate: f64,
}

impl Costs {
    pub(crate) fn checked(self) -> Result<Self, CalcError> {
        for (symbol, x) in [("K", self.order), ("h", self.holding), ("p", self.short)] {
            within(symbol, x, 1e-6, 1e9)?;
        }
        Ok(self)
    }
}

fn bell(z: f64) -> f64 {
    (-z * z / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt()
}

/// The best policy, for normal demand the one of the approximation.
///
/// # Errors
/// A cost outside 10⁻⁶ to 10⁹, a demand or lead time that is not above 0, more than 10⁵ pieces at once for Poisson demand, an
/// approximation by expected inventory that has no answer.
pub fn best(costs: &Costs, rate: Rate, lead_time: f64) -> Result<Policy, CalcError> {
    let costs = costs.checked()?;
    let time = within("L", lead_time, 1e-9, 1e9)?;
    match rate {
        Rate::Poisson(mean) => poisson(costs, within("λ", mean, 1e-9, 1e9)?, time),
        Rate::Normal(mean, deviation, approximation) => {
            let mean = within("λ", mean, 1e-9, 1e12)?;
            let deviation = within("s", deviation, 1e-12, 1e12)?;
            normal_demand(
                costs,
                mean,
                (mean * time, deviation * time.sqrt()),
                approximation,
            )
        }
    }
}

fn poisson(costs: Costs, rate: f64, time: f64) -> Result<Policy, CalcError> {
    let Costs {
        order,
        holding,
        short,
    } = costs;
    let demand = Demand::new(within("λ", rate * time, 1e-9, 1e6)?);
    let share = within("p", short / (short + holding), 1e-9, 1.0 - 1e-9)?;
    let start = demand.quantile(share);
    let at = |y: i64| holding * demand.left(y) + short * demand.short(y);
    // g moves by (h + p) · F(y) − p from y to y + 1.
    let step = |y: i64| (holding + short) * demand.at_most(y) - short;
    let (mut low, mut high) = (start, start);
    let mut sum = order * rate + at(start);
    let (mut below, mut above) = (at(start) - step(start - 1), at(start) + step(start));
    loop {
        let quantity = (high - low + 1) as f64;
        let next = below.min(above);
        if next >= sum / quantity {
            return Ok(Policy {
                point: (low - 1) as f64,
                quantity,
                cost_rate: sum / quantity,
            });
        }
        within("Q", quantity, 1.0, MOST as f64)?;
        sum += next;
        if below < above {
            low -= 1;
            below -= step(low - 1);
        } else {
            high += 1;
            above += step(high);
        }
    }
}

fn normal_demand(
    costs: Costs,
    rate: f64,
    (mean, deviation): (f64, f64),
    approximation: Approximation,
) -> Result<Policy, CalcError> {
    let Costs {
        order,
        holding,
        short,
    } = costs;
    let missing = |z: f64| deviation * (bell(z) - z * normal::below(-z));
    let plain = (2.0 * order * rate / holding).sqrt();
    let (point, quantity) = match approximation {
        Approximation::SafetyStock => {
            let share = within("p", short / (short + holding), 1e-9, 1.0 - 1e-9)?;
            (mean + deviation * normal::quantile(share)?, plain)
        }
        Approximation::ExpectedInventory => {
            let mut quantity = plain;
            let mut found = None;
            for _ in 0..1000 {
                let tail = within("Q", quantity * holding / (short * rate), 1e-300, 1.0 - 1e-9)?;
                let z = -normal::quantile(tail)?;
                let next = (2.0 * rate * (order + short * missing(z)) / holding).sqrt();
                let is_done = (next - quantity).abs() <= 1e-13 * quantity;
                quantity = next;
                if is_done {
                    found = Some((mean + z * deviation, quantity));
                    break;
                }
            }
            found.ok_or(CalcError::NotFinite { input: "Q" })?
        }
    };
    let cost = |y: f64| {
        let z = (y - mean) / deviation;
        holding * (y - mean) + (holding + short) * missing(z)
    };
    // g bends within a few deviations of the mean and is straight elsewhere.
    let end = point + quantity;
    let near = [-8.0, -3.0, 0.0, 3.0, 8.0].map(|z| mean + z * deviation);
    let mut ends = vec![point, end];
    ends.extend(near.iter().filter(|y| **y > point && **y < end));
    ends.sort_by(f64::total_cmp);
    let area: f64 = grid(&ends, 4).iter().map(|(y, w)| w * cost(*y)).sum();
    Ok(Policy {
        point: within("Q", point, -1e15, 1e15)?,
        quantity: within("Q", quantity, 0.0, 1e15)?,
        cost_rate: within("Q", (order * rate + area) / quantity, 0.0, 1e30)?,
    })
}

/// The working of a policy.
pub fn working(costs: &Costs, rate: Rate, lead_time: f64, found: &Policy) -> Working {
    let few = |x: f64| figures(x, 6);
    let (mean, note) = match rate {
        Rate::Poisson(mean) => (mean, "note-reorder-exact"),
        Rate::Normal(mean, ..) => (mean, "note-reorder-approximate"),
    };
    let during = mean * lead_time;
    costs
        .given(Working::new(METHOD))
        .given("λ", Message::new("given-demand-rate"), mean, few(mean), "")
        .given(
            "L",
            Message::new("given-lead-time"),
            lead_time,
            few(lead_time),
            "",
        )
        .step("D", "λ · L", during, few(during), "")
        .given(
            "r",
            Message::new("given-reorder-point"),
            found.point,
            few(found.point),
            "",
        )
        .given(
            "Q",
            Message::new("given-order-quantity"),
            found.quantity,
            few(found.quantity),
            "",
        )
        .step(
            "C",
            "(K · λ + Σ g(y)) / Q, y = r + 1 … r + Q",
            found.cost_rate,
            few(found.cost_rate),
            "",
        )
        .note(Message::new(note))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const COSTS: Costs = Costs {
        order: 100.0,
        holding: 20.0,
        short: 150.0,
    };

    #[test]
    fn the_book_s_poisson_example() {
        // Snyder and Shen (2019), Example 5.8: r = 3, Q = 5, 107.92.
        let found = best(&COSTS, Rate::Poisson(1.5), 2.0).expect("good");
        assert_eq!((found.point, found.quantity), (3.0, 5.0));
        assert!((found.cost_rate - 107.92).abs() <= 0.005, "{found:?}");
    }

    #[test]
    fn refusals() {
        for wrong in [
            Costs {
                order: 0.0,
                ..COSTS
            },
            Costs {
                holding: f64::NAN,
                ..COSTS
            },
            Costs {
                short: -1.0,
                ..COSTS
            },
        ] {
            assert!(best(&wrong, Rate::Poisson(1.0), 1.0).is_err());
        }
        assert!(best(&COSTS, Rate::Poisson(0.0), 1.0).is_err());
        assert!(best(&COSTS, Rate::Poisson(1.0), f64::INFINITY).is_err());
        assert!(
            best(
                &COSTS,
                Rate::Normal(1.0, 0.0, Approximation::SafetyStock),
                1.0
            )
            .is_err()
        );
        // So dear to keep that a whole order costs more than being short.
        let dear = Costs {
            holding: 1e6,
            ..COSTS
        };
        let by_inventory = Rate::Normal(1.0, 0.1, Approximation::ExpectedInventory);
        assert!(best(&dear, by_inventory, 1.0).is_err());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn no_neighbour_costs_less(rate in 0.2..20.0f64, order in 1.0..300.0f64, short in 20.0..400.0f64, dr in -2i64..3, dq in -2i64..3) {
            let costs = Costs { order, holding: 10.0, short };
            let found = best(&costs, Rate::Poisson(rate), 1.5).expect("good");
            let demand = Demand::new(rate * 1.5);
            let (r, q) = (found.point as i64 + dr, (found.quantity as i64 + dq).max(1));
            let each = (r + 1..=r + q).map(|y| 10.0 * demand.left(y) + short * demand.short(y));
            let other = (order * rate + each.sum::<f64>()) / q as f64;
            prop_assert!(other >= found.cost_rate * (1.0 - 1e-9), "{other} {found:?}");
        }
    }
}
