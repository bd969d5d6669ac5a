//! In which order suspects are looked at.
//!
//! Exactly one suspect is at fault, and a look at it shows that without error. Costs in any currency, the
//! same throughout.
//!
//! # Formula
//! Inspection alone, the last look paid, too: in the order of falling p / c. Where the last suspect is
//! repaired without a look, each is tried as the last one behind the others in the order of p / c: with
//! the last one held, exchanging neighbours shows that this order is best.
//!
//! # Errors
//! No suspect; lists of different length; a weight below 0, a cost not from 0 to 10¹², either not finite; weights that are all 0.
//!
//! # Source
//! Kadane & Simon, *Annals of Statistics* 5 (1977); Heckerman, Breese & Rommelse, *CACM* 38(3) (1995)
//! (both from memory). Check values: search through all orders.

use std::cmp::Ordering;

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// The largest cost: sums of such costs stay numbers.
pub const MOST_COST: f64 = 1e12;

/// Inspection alone.
pub const ORDER: Method = Method {
    name: "inspection-order",
    version: 1,
    source: "order by probability over cost, optimal for one fault and perfect looks: Kadane & Simon (1977); Heckerman, Breese & Rommelse, CACM 38(3), 1995 (both from memory)",
};

/// Inspection and repair.
pub const OR_REPAIR: Method = Method {
    name: "inspect-or-repair-sequence",
    version: 1,
    source: "least expected cost over all orders, the last suspect repaired without a look; exchange of neighbours as in Kadane & Simon (1977) (from memory)",
};

/// An order of looks and what it is expected to cost.
#[derive(Clone, Debug, PartialEq)]
pub struct InspectionOrder {
    /// Places of the suspects, first look first.
    pub order: Vec<usize>,
    /// Expected cost of the looks.
    pub expected_cost: f64,
    /// The same in the order of falling probability.
    pub cost_by_probability: f64,
    /// The same in the order of rising cost.
    pub cost_by_cost: f64,
}

/// The order by falling p / c. `weights` on any scale; `costs` of a look at each.
///
/// # Errors
/// See the head of this file.
pub fn ratio_order(weights: &[f64], costs: &[f64]) -> Result<InspectionOrder, CalcError> {
    let p = shares(weights)?;
    fits("costs", costs, p.len())?;
    let order = by_ratio(&p, costs);
    let mut likeliest: Vec<usize> = (0..p.len()).collect();
    likeliest.sort_by(|a, b| p[*b].total_cmp(&p[*a]));
    let mut cheapest: Vec<usize> = (0..p.len()).collect();
    cheapest.sort_by(|a, b| costs[*a].total_cmp(&costs[*b]));
    Ok(InspectionOrder {
        expected_cost: cost_of_looks(&p, costs, &order),
        cost_by_probability: cost_of_looks(&p, costs, &likeliest),
        cost_by_cost: cost_of_looks(&p, costs, &cheapest),
        order,
    })
}

/// An order of looks with the repair that follows.
#[derive(Clone, Debug, PartialEq)]
pub struct InspectOrRepair {
    /// Places of the suspects, first look first; the last is repaired without a look.
    pub order: Vec<usize>,
    /// Expected cost of the looks and of the repair.
    pub expected_cost: f64,
}

/// The cheapest order where the last suspect left is repaired without a look.
///
/// # Errors
/// See the head of this file.
pub fn inspect_or_repair(
    weights: &[f64],
    inspect_costs: &[f64],
    repair_costs: &[f64],
) -> Result<InspectOrRepair, CalcError> {
    let p = shares(weights)?;
    fits("inspect_costs", inspect_costs, p.len())?;
    fits("repair_costs", repair_costs, p.len())?;
    let repair: f64 = p.iter().zip(repair_costs).map(|(p, r)| p * r).sum();
    let order = by_ratio(&p, inspect_costs);
    let mut best: Option<InspectOrRepair> = None;
    for last in &order {
        let mut order: Vec<usize> = order.iter().copied().filter(|i| i != last).collect();
        let looks = cost_of_looks(&p, inspect_costs, &order);
        order.push(*last);
        let expected_cost = looks + repair;
        if best
            .as_ref()
            .is_none_or(|b| expected_cost < b.expected_cost)
        {
            best = Some(InspectOrRepair {
                order,
                expected_cost,
            });
        }
    }
    best.ok_or(CalcError::Impossible)
}

/// Expected cost of looking in this order until the fault is found; what is not in `order` is not looked
/// at.
fn cost_of_looks(p: &[f64], costs: &[f64], order: &[usize]) -> f64 {
    let mut left = 1.0;
    let mut sum = 0.0;
    for i in order {
        sum += costs[*i] * left;
        left = f64::max(left - p[*i], 0.0);
    }
    sum
}

/// Places by falling p / c; what costs nothing comes first, ties in the order given.
pub(super) fn by_ratio(p: &[f64], costs: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..p.len()).collect();
    order.sort_by(|a, b| fall(ratio(p[*a], costs[*a]), ratio(p[*b], costs[*b])));
    order
}

/// p / c, where 0 / 0 is 0.
pub(super) fn ratio(p: f64, cost: f64) -> f64 {
    if p <= 0.0 { 0.0 } else { p / cost }
}

pub(super) fn fall(a: f64, b: f64) -> Ordering {
    b.total_cmp(&a)
}

/// Weights as shares of 1.
pub(super) fn shares(weights: &[f64]) -> Result<Vec<f64>, CalcError> {
    if weights.is_empty() {
        return Err(CalcError::TooFew {
            input: "probabilities",
            have: 0,
            need: 1,
        });
    }
    let mut sum = 0.0;
    for weight in weights {
        sum += within("p", *weight, 0.0, f64::MAX)?;
    }
    // Weights whose sum overflows or vanishes have no shares.
    within("p", sum, f64::MIN_POSITIVE, f64::MAX)?;
    Ok(weights.iter().map(|w| w / sum).collect())
}

/// Refuses costs that are not one for each suspect, from 0 to [`MOST_COST`].
pub(super) fn fits(input: &'static str, costs: &[f64], need: usize) -> Result<(), CalcError> {
    let have = costs.len();
    if have != need {
        return Err(CalcError::Uneven { input, have, need });
    }
    for cost in costs {
        within(input, *cost, 0.0, MOST_COST)?;
    }
    Ok(())
}

impl InspectionOrder {
    /// The working: the order found against the two that one would think of.
    pub fn working(&self) -> Working {
        let (p, c) = (self.cost_by_probability, self.cost_by_cost);
        Working::new(ORDER)
            .given("C_p", Message::new("given-cost-by-probability"), p, 4, "")
            .given("C_c", Message::new("given-cost-by-cost"), c, 4, "")
            .step("C", "Σ c · P(not yet found)", self.expected_cost, 4, "")
            .note(Message::new("note-perfect-looks"))
    }
}

impl InspectOrRepair {
    /// The working.
    pub fn working(&self) -> Working {
        let formula = "Σ c · P(not yet found) + Σ p · r";
        Working::new(OR_REPAIR)
            .step("C", formula, self.expected_cost, 4, "")
            .note(Message::new("note-perfect-looks"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Every order of 0..n, by Heap's algorithm.
    fn orders(n: usize) -> Vec<Vec<usize>> {
        fn go(k: usize, a: &mut Vec<usize>, out: &mut Vec<Vec<usize>>) {
            if k <= 1 {
                out.push(a.clone());
                return;
            }
            for i in 0..k {
                go(k - 1, a, out);
                a.swap(if k.is_multiple_of(2) { i } else { 0 }, k - 1);
            }
        }
        let mut out = Vec::new();
        go(n, &mut (0..n).collect(), &mut out);
        out
    }

    #[test]
    fn four_suspects() {
        // Search through all orders, recorded in checks/inspection-order.toml.
        let found = ratio_order(&[0.45, 0.3, 0.15, 0.1], &[10.0, 4.0, 8.0, 1.0]).expect("fine");
        assert_eq!(found.order, [3, 1, 0, 2]);
        assert!((found.expected_cost - 11.8).abs() < 1e-12);
        assert_eq!(found.working().steps[0].value, "11.8000");
    }

    #[test]
    fn three_suspects_with_repair() {
        // By hand: 8 + 0.5 · 40 + 0.5 · 6 + 0.3 · 15 + 0.2 · 90.
        let (c, r) = ([8.0, 6.0, 20.0], [40.0, 15.0, 90.0]);
        let found = inspect_or_repair(&[0.5, 0.3, 0.2], &c, &r).expect("fine");
        assert_eq!(found.order, [0, 1, 2]);
        assert!((found.expected_cost - 53.5).abs() < 1e-12);
        assert_eq!(found.working().steps[0].value, "53.5000");
    }

    #[test]
    fn refusals() {
        for (p, c) in [
            (&[][..], &[][..]),
            (&[0.5][..], &[][..]),
            (&[0.0][..], &[1.0][..]),
            (&[-0.5][..], &[1.0][..]),
            (&[f64::NAN][..], &[1.0][..]),
            (&[f64::MAX, f64::MAX][..], &[1.0, 1.0][..]),
            (&[0.5][..], &[-1.0][..]),
        ] {
            assert!(ratio_order(p, c).is_err(), "{p:?} {c:?}");
            assert!(inspect_or_repair(p, c, c).is_err(), "{p:?} {c:?}");
        }
        assert!(inspect_or_repair(&[0.5], &[1.0], &[f64::INFINITY]).is_err());
    }

    proptest! {
        #[test]
        fn no_order_is_cheaper(
            w in prop::collection::vec(0.01..1.0f64, 5),
            c in prop::collection::vec(0.0..10.0f64, 5),
            r in prop::collection::vec(0.0..50.0f64, 5),
        ) {
            let p = shares(&w).expect("fine");
            let looks = ratio_order(&w, &c).expect("fine");
            let both = inspect_or_repair(&w, &c, &r).expect("fine");
            let repair: f64 = p.iter().zip(&r).map(|(p, r)| p * r).sum();
            let every = orders(5);
            prop_assert_eq!(every.len(), 120);
            for order in every {
                let all = cost_of_looks(&p, &c, &order);
                prop_assert!(looks.expected_cost <= all + 1e-9);
                let but_last = cost_of_looks(&p, &c, &order[..4]) + repair;
                prop_assert!(both.expected_cost <= but_last + 1e-9);
            }
        }
    }
}
