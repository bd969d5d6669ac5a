//! When to order and up to what level, where stock is looked at once a period: s and S.
//!
//! # Formula
//! At s or below order up to S. Cost of a period c(s, S) = (K + Σ m(j) · G(S − j)) / Σ m(j) over j = 0 … S − s − 1;
//! m(0) = 1 / (1 − p₀), m(j) = Σ p_i · m(j − i) over i = 0 … j; G(y) = h · E (y − D)⁺ + p · E (D − y)⁺ with D the demand of a
//! period, p_i its probabilities.
//!
//! # Validity
//! Poisson demand, an order is there before the period's demand; what is short waits at p for a piece and period.
//!
//! # Source
//! Zheng and Federgruen, Operations Research 39(4), 1991; Snyder and Shen, Fundamentals of Supply Chain Theory, 2nd edition
//! (2019), chapter 4 (from memory).

use crate::Message;
use crate::error::{CalcError, within};
use crate::poisson_stock::Demand;
use crate::reorder_quantity::Costs;
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "reorder-point-and-level",
    version: 1,
    source: "Zheng and Federgruen, Operations Research 39(4), 1991; Snyder and Shen (2019), chapter 4 (from memory)",
};

/// Widest gap between s and S that is looked at.
const WIDEST: i64 = 2000;

/// A policy.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Policy {
    /// Stock, on hand and on order, at which to order.
    pub point: i64,
    /// Level up to which to order.
    pub level: i64,
    /// Cost of a period.
    pub cost_rate: f64,
}

/// Costs of a period and the renewals of demand, as far as they were needed.
struct Shop {
    costs: Costs,
    demand: Demand,
    renewals: Vec<f64>,
}

impl Shop {
    /// G(y).
    fn period(&self, y: i64) -> f64 {
        self.costs.holding * self.demand.left(y) + self.costs.short * self.demand.short(y)
    }

    fn share(&self, i: i64) -> f64 {
        let k = i as f64;
        let log = k * self.demand.mean.ln() - self.demand.mean;
        (log - cdflib::special::gamma_log(k + 1.0)).exp()
    }

    fn renew(&mut self, gap: i64) {
        let none = self.share(0);
        while (self.renewals.len() as i64) < gap {
            let j = self.renewals.len();
            let found = if j == 0 {
                1.0
            } else {
                let earlier = self.renewals.iter().rev().zip(1..);
                earlier.map(|(m, i)| m * self.share(i)).sum()
            };
            self.renewals.push(found / (1.0 - none));
        }
    }

    /// c(s, S).
    fn cost(&mut self, point: i64, level: i64) -> Result<f64, CalcError> {
        let gap = level - point;
        within("K", gap as f64, 1.0, WIDEST as f64)?;
        self.renew(gap);
        let (mut sum, mut time) = (self.costs.order, 0.0);
        for (m, y) in self.renewals.iter().zip((point + 1..=level).rev()) {
            sum += m * self.period(y);
            time += m;
        }
        Ok(sum / time)
    }
}

/// The best policy for a demand of `mean` in a period.
///
/// # Errors
/// A cost outside 10⁻⁶ to 10⁹, a mean outside 0.001 to 1000, costs that call for a gap of more than 2000 between s and S.
pub fn best(costs: &Costs, mean: f64) -> Result<Policy, CalcError> {
    let costs = costs.checked()?;
    let demand = Demand::new(within("λ", mean, 1e-3, 1e3)?);
    let share = within(
        "p",
        costs.short / (costs.short + costs.holding),
        1e-9,
        1.0 - 1e-9,
    )?;
    let start = demand.quantile(share);
    let mut shop = Shop {
        costs,
        demand,
        renewals: Vec::new(),
    };
    let (mut point, mut level) = (start - 1, start);
    while shop.cost(point, level)? > shop.period(point) {
        point -= 1;
    }
    let mut least = shop.cost(point, level)?;
    let mut higher = level + 1;
    while shop.period(higher) <= least {
        if shop.cost(point, higher)? < least {
            level = higher;
            while shop.cost(point, level)? <= shop.period(point + 1) && point + 1 < level {
                point += 1;
            }
            least = shop.cost(point, level)?;
        }
        higher += 1;
    }
    Ok(Policy {
        point,
        level,
        cost_rate: least,
    })
}

/// The working of a policy.
pub fn working(costs: &Costs, mean: f64, found: &Policy) -> Working {
    let few = |x: f64| figures(x, 6);
    costs
        .given(Working::new(METHOD))
        .given("λ", Message::new("given-demand-mean"), mean, few(mean), "")
        .given(
            "s",
            Message::new("given-reorder-point"),
            found.point as f64,
            0,
            "",
        )
        .given(
            "S",
            Message::new("given-order-level"),
            found.level as f64,
            0,
            "",
        )
        .step(
            "C",
            "(K + Σ m_j · G(S − j)) / Σ m_j",
            found.cost_rate,
            few(found.cost_rate),
            "",
        )
        .note(Message::new("note-reorder-exact"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_book_s_example() {
        // Snyder and Shen (2019), after Zheng and Federgruen (1991): s = 4, S = 10, 8.034.
        let costs = Costs {
            order: 5.0,
            holding: 1.0,
            short: 4.0,
        };
        let found = best(&costs, 6.0).expect("good");
        assert_eq!((found.point, found.level), (4, 10));
        assert!((found.cost_rate - 8.034).abs() <= 5e-4, "{found:?}");
    }

    #[test]
    fn refusals() {
        let costs = Costs {
            order: 5.0,
            holding: 1.0,
            short: 4.0,
        };
        for mean in [0.0, f64::NAN, 1e4] {
            assert!(best(&costs, mean).is_err());
        }
        assert!(
            best(
                &Costs {
                    order: -1.0,
                    ..costs
                },
                6.0
            )
            .is_err()
        );
        // An order so dear that it is worth years of demand.
        assert!(
            best(
                &Costs {
                    order: 1e9,
                    ..costs
                },
                6.0
            )
            .is_err()
        );
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        #[test]
        fn no_neighbour_costs_less(mean in 0.3..12.0f64, order in 0.5..60.0f64, short in 2.0..30.0f64, ds in -3i64..4, dl in -3i64..4) {
            let costs = Costs { order, holding: 1.0, short };
            let found = best(&costs, mean).expect("good");
            let (s, level) = (found.point + ds, found.level + dl);
            if level > s {
                let mut shop = Shop { costs, demand: Demand::new(mean), renewals: Vec::new() };
                prop_assert!(shop.cost(s, level).expect("good") >= found.cost_rate * (1.0 - 1e-9));
            }
        }
    }
}
