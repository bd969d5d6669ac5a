//! `inspection-order`, `inspect-or-repair-sequence`

use calc::fault_finder::{inspect_or_repair, inspection, ratio_order};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{NotNegative, contract};

contract! {
    /// Suspects of which exactly one is at fault. Costs in any currency, the same throughout.
    struct OrderInput {
        /// Weight of each suspect, on any scale.
        probabilities: Vec<NotNegative>,
        /// Cost of a look at each.
        costs: Vec<NotNegative>,
    }
}

contract! {
    /// The cheapest order of looks.
    struct OrderOutput {
        /// Places of the suspects, from 0, first look first.
        order: Vec<u64>,
        /// Expected cost of the looks, the last one paid, too.
        expected_cost: f64,
        /// The same in the order of falling probability.
        cost_by_probability: f64,
        /// The same in the order of rising cost.
        cost_by_cost: f64,
    }
}

/// The contract.
pub(crate) struct InspectionOrder;

impl Contract for InspectionOrder {
    const METHOD: Method = inspection::ORDER;
    const SUMMARY: &'static str = "method-inspection-order";
    const FORMULA: &'static str = "p₁ / c₁ ≥ p₂ / c₂ ≥ …; C = Σ c · P(not yet found)";
    const NAMES: &'static [(&'static str, &'static str)] = &[("p", "probabilities")];
    type In = OrderInput;
    type Out = OrderOutput;

    fn compute(input: &OrderInput) -> Result<(OrderOutput, Option<Working>), MethodError> {
        let found = ratio_order(&plain(&input.probabilities), &plain(&input.costs))?;
        let out = OrderOutput {
            order: places(&found.order),
            expected_cost: found.expected_cost,
            cost_by_probability: found.cost_by_probability,
            cost_by_cost: found.cost_by_cost,
        };
        Ok((out, Some(found.working())))
    }
}

contract! {
    /// Suspects of which exactly one is at fault. Costs in any currency, the same throughout.
    struct SequenceInput {
        /// Weight of each suspect, on any scale.
        probabilities: Vec<NotNegative>,
        /// Cost of a look at each.
        inspect_costs: Vec<NotNegative>,
        /// Cost of the repair of each.
        repair_costs: Vec<NotNegative>,
    }
}

contract! {
    /// The cheapest sequence.
    struct SequenceOutput {
        /// Expected cost of the looks and of the repair.
        expected_cost: f64,
        /// Places of the suspects, from 0, first look first.
        order: Vec<u64>,
        /// What is done with the last suspect: `repair`, without a look.
        last_step: String,
    }
}

/// The contract.
pub(crate) struct InspectOrRepair;

impl Contract for InspectOrRepair {
    const METHOD: Method = inspection::OR_REPAIR;
    const SUMMARY: &'static str = "method-inspect-or-repair-sequence";
    const FORMULA: &'static str =
        "C = Σ c · P(not yet found) + Σ p · r, the last suspect without c";
    const NAMES: &'static [(&'static str, &'static str)] = &[("p", "probabilities")];
    type In = SequenceInput;
    type Out = SequenceOutput;

    fn compute(input: &SequenceInput) -> Result<(SequenceOutput, Option<Working>), MethodError> {
        let found = inspect_or_repair(
            &plain(&input.probabilities),
            &plain(&input.inspect_costs),
            &plain(&input.repair_costs),
        )?;
        let out = SequenceOutput {
            expected_cost: found.expected_cost,
            order: places(&found.order),
            last_step: "repair".to_owned(),
        };
        Ok((out, Some(found.working())))
    }
}

fn plain(values: &[NotNegative]) -> Vec<f64> {
    values.iter().map(|value| value.0).collect()
}

fn places(order: &[usize]) -> Vec<u64> {
    order.iter().map(|place| *place as u64).collect()
}
