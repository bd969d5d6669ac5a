//! `reorder-point-and-quantity`, `reorder-point-and-level`

use calc::reorder_level;
use calc::reorder_quantity::{self, Approximation, Costs, Rate};
use calc::working::{Method, Working};

use super::stock::{DemandIn, Kind};
use crate::card::Contract;
use crate::shape::{Positive, choices, contract};
use crate::{MethodError, Why};

choices! {
    /// Approximation for normal demand.
    enum ApproximationIn of Approximation {
        "expected-inventory-level" => Approximation::ExpectedInventory,
        "order-quantity-and-safety-stock" => Approximation::SafetyStock,
    }
}

contract! {
    /// A part that is watched all the time, and what ordering, keeping and being short costs.
    struct QuantityInput {
        /// Cost of one order.
        order_cost: Positive,
        /// Cost of keeping a piece for one time.
        holding_cost: Positive,
        /// Cost of a piece that is short.
        shortage_cost: Positive,
        /// Demand of one time.
        demand: DemandIn,
        /// Time from order to arrival.
        lead_time: Positive,
        /// Approximation for normal demand.
        approximation: ApproximationIn = ApproximationIn(Approximation::SafetyStock),
    }
}

contract! {
    /// When to order and how much.
    struct QuantityOutput {
        /// Stock, on hand and on order, at which to order.
        reorder_point: f64,
        /// Pieces at once.
        order_quantity: f64,
        /// Cost per time.
        exact_cost_rate: f64,
    }
}

fn spread(demand: &DemandIn) -> Result<Option<f64>, MethodError> {
    let field = "demand.standard_deviation";
    match (demand.distribution.0, demand.standard_deviation) {
        (Kind::Normal, None) => Err(MethodError::at(field, "", Why::Missing)),
        (Kind::Poisson, Some(s)) => {
            let allowed = "distribution = normal".to_owned();
            Err(MethodError::at(field, s.0, Why::NotAllowed { allowed }))
        }
        (_, s) => Ok(s.map(|s| s.0)),
    }
}

/// The contract.
pub(crate) struct ReorderQuantity;

impl Contract for ReorderQuantity {
    const METHOD: Method = reorder_quantity::METHOD;
    const SUMMARY: &'static str = "method-reorder-point-and-quantity";
    const FORMULA: &'static str =
        "(K · λ + Σ g(y)) / Q, y = r + 1 … r + Q; g(y) = h · E(y − D)⁺ + p · E(D − y)⁺";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("K", "order_cost"),
        ("h", "holding_cost"),
        ("p", "shortage_cost"),
        ("λ", "demand.mean"),
        ("s", "demand.standard_deviation"),
        ("L", "lead_time"),
        ("Q", "order_cost"),
    ];
    type In = QuantityInput;
    type Out = QuantityOutput;

    fn compute(input: &QuantityInput) -> Result<(QuantityOutput, Option<Working>), MethodError> {
        let costs = Costs {
            order: input.order_cost.0,
            holding: input.holding_cost.0,
            short: input.shortage_cost.0,
        };
        let mean = input.demand.mean.0;
        let rate = match spread(&input.demand)? {
            Some(s) => Rate::Normal(mean, s, input.approximation.0),
            None => Rate::Poisson(mean),
        };
        let time = input.lead_time.0;
        let found = reorder_quantity::best(&costs, rate, time)?;
        let out = QuantityOutput {
            reorder_point: found.point,
            order_quantity: found.quantity,
            exact_cost_rate: found.cost_rate,
        };
        let working = reorder_quantity::working(&costs, rate, time, &found);
        Ok((out, Some(working)))
    }
}

contract! {
    /// A part that is looked at once a period, and what ordering, keeping and being short costs.
    struct LevelInput {
        /// Cost of one order.
        order_cost: Positive,
        /// Cost of keeping a piece for one period.
        holding_cost: Positive,
        /// Cost of a piece that is short for one period.
        shortage_cost: Positive,
        /// Demand of one period, Poisson.
        demand: DemandIn,
    }
}

contract! {
    /// When to order and up to what level.
    struct LevelOutput {
        /// Stock, on hand and on order, at which to order.
        reorder_point: f64,
        /// Level up to which to order.
        order_up_to: f64,
        /// Cost of a period.
        cost_rate: f64,
    }
}

/// The contract.
pub(crate) struct ReorderLevel;

impl Contract for ReorderLevel {
    const METHOD: Method = reorder_level::METHOD;
    const SUMMARY: &'static str = "method-reorder-point-and-level";
    const FORMULA: &'static str = "c(s, S) = (K + Σ m_j · G(S − j)) / Σ m_j, j = 0 … S − s − 1; G(y) = h · E(y − D)⁺ + p · E(D − y)⁺";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("K", "order_cost"),
        ("h", "holding_cost"),
        ("p", "shortage_cost"),
        ("λ", "demand.mean"),
    ];
    type In = LevelInput;
    type Out = LevelOutput;

    fn compute(input: &LevelInput) -> Result<(LevelOutput, Option<Working>), MethodError> {
        if input.demand.distribution.0 != Kind::Poisson {
            let allowed = "poisson".to_owned();
            let why = Why::NotAllowed { allowed };
            return Err(MethodError::at("demand.distribution", "normal", why));
        }
        spread(&input.demand)?;
        let costs = Costs {
            order: input.order_cost.0,
            holding: input.holding_cost.0,
            short: input.shortage_cost.0,
        };
        let mean = input.demand.mean.0;
        let found = reorder_level::best(&costs, mean)?;
        let out = LevelOutput {
            reorder_point: found.point as f64,
            order_up_to: found.level as f64,
            cost_rate: found.cost_rate,
        };
        Ok((out, Some(reorder_level::working(&costs, mean, &found))))
    }
}
