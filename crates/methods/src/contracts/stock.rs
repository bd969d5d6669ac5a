//! `croston-demand`, `base-stock`, `economic-order-quantity`, `newsvendor`

use calc::newsvendor::{self, Costs, Round};
use calc::order_quantity::{self, Supply};
use calc::working::{Method, Working};
use calc::{base_stock, croston};

use crate::card::Contract;
use crate::shape::{NotNegative, Positive, Share, choices, contract};
use crate::{MethodError, Why};

fn either(field: &str, value: impl ToString, allowed: &str) -> MethodError {
    let allowed = allowed.to_owned();
    MethodError::at(field, value, Why::NotAllowed { allowed })
}

contract! {
    /// Demand for one part.
    struct CrostonInput {
        /// Pieces asked for in each period, in the order of time.
        demand: Vec<NotNegative>,
        /// Smoothing, the weight of the newest demand.
        smoothing: Share = Share(0.1),
    }
}

contract! {
    /// What is to be expected.
    struct CrostonOutput {
        /// Pieces asked for at a time.
        size: f64,
        /// Periods from one demand to the next.
        interval: f64,
        /// Pieces per period, plain.
        croston: f64,
        /// Pieces per period, corrected for its bias.
        sba: f64,
    }
}

/// The contract.
pub(crate) struct CrostonDemand;

impl Contract for CrostonDemand {
    const METHOD: Method = croston::METHOD;
    const SUMMARY: &'static str = "method-croston-demand";
    const FORMULA: &'static str = "z += α · (y − z); p += α · (q − p), q periods since the last demand; z / p; (1 − α / 2) · z / p";
    const NAMES: &'static [(&'static str, &'static str)] = &[("y", "demand"), ("α", "smoothing")];
    const ANSWERS: &'static [&'static str] = &["sba", "croston"];
    type In = CrostonInput;
    type Out = CrostonOutput;

    fn compute(input: &CrostonInput) -> Result<(CrostonOutput, Option<Working>), MethodError> {
        let demand: Vec<f64> = input.demand.iter().map(|y| y.0).collect();
        let found = croston::forecast(&demand, input.smoothing.0)?;
        let out = CrostonOutput {
            size: found.size,
            interval: found.interval,
            croston: found.plain(),
            sba: found.corrected(),
        };
        Ok((out, Some(croston::working(&found))))
    }
}

contract! {
    /// A spare part, and how many are kept or how often one must be there.
    struct BaseInput {
        /// Pieces used per time.
        demand_rate: Positive,
        /// Time from order to arrival.
        lead_time: Positive,
        /// Pieces kept, on hand and on order together; this or `target_fill_rate`.
        stock: Option<u64>,
        /// Share of demands that must be met at once.
        target_fill_rate: Option<Share>,
    }
}

contract! {
    /// What the stock does.
    struct BaseOutput {
        /// Pieces kept, the smallest number that reaches a target.
        stock: u64,
        /// Mean on order.
        pipeline_mean: f64,
        /// Chance that something waits.
        stockout_probability: f64,
        /// Chance that a piece is on hand.
        ready_rate: f64,
        /// Share of demands met at once.
        fill_rate: f64,
        /// Pieces that wait, on average.
        expected_backorders: f64,
        /// Pieces on hand, on average.
        expected_on_hand: f64,
    }
}

/// The contract.
pub(crate) struct BaseStock;

impl Contract for BaseStock {
    const METHOD: Method = base_stock::METHOD;
    const SUMMARY: &'static str = "method-base-stock";
    const FORMULA: &'static str = "X Poisson(λ · L); P(X ≤ S − 1); P(X > S); E(X − S)⁺; E(S − X)⁺";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("λ", "demand_rate"),
        ("L", "lead_time"),
        ("S", "stock"),
        ("target", "target_fill_rate"),
    ];
    const ANSWERS: &'static [&'static str] = &["stock", "fill_rate", "expected_backorders"];
    type In = BaseInput;
    type Out = BaseOutput;

    fn compute(input: &BaseInput) -> Result<(BaseOutput, Option<Working>), MethodError> {
        let (rate, time) = (input.demand_rate.0, input.lead_time.0);
        let found = match (input.stock, input.target_fill_rate) {
            (Some(stock), None) => base_stock::of_stock(rate, time, stock)?,
            (None, Some(target)) => base_stock::for_fill_rate(rate, time, target.0)?,
            (None, None) => return Err(MethodError::at("stock", "", Why::Missing)),
            (Some(stock), Some(_)) => {
                return Err(either("stock", stock, "stock | target_fill_rate"));
            }
        };
        let out = BaseOutput {
            stock: found.stock,
            pipeline_mean: found.pipeline,
            stockout_probability: found.stockout,
            ready_rate: found.fill_rate,
            fill_rate: found.fill_rate,
            expected_backorders: found.backorders,
            expected_on_hand: found.on_hand,
        };
        Ok((out, Some(base_stock::working(rate, time, &found))))
    }
}

contract! {
    /// A part and what ordering and keeping it costs.
    struct OrderInput {
        /// Cost of one order.
        order_cost: Positive,
        /// Cost of keeping a piece for one time.
        holding_cost: Positive,
        /// Pieces used per time.
        demand_rate: Positive,
        /// Cost of one piece that waits for one time, if demand may wait.
        backorder_cost: Option<Positive>,
        /// Pieces made per time, if the part is made and not bought.
        production_rate: Option<Positive>,
    }
}

contract! {
    /// The best order.
    struct OrderOutput {
        /// Pieces at once.
        order_quantity: f64,
        /// Share of the demand that waits.
        backorder_share: f64,
        /// Cost per time of ordering, keeping and waiting.
        cost_rate: f64,
    }
}

/// The contract.
pub(crate) struct OrderQuantity;

impl Contract for OrderQuantity {
    const METHOD: Method = order_quantity::METHOD;
    const SUMMARY: &'static str = "method-economic-order-quantity";
    const FORMULA: &'static str = "Q = √(2 · K · λ / h), √(2 · K · λ · (h + p) / (h · p)) or √(2 · K · λ / (h · (1 − λ / μ)))";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("K", "order_cost"),
        ("h", "holding_cost"),
        ("λ", "demand_rate"),
        ("p", "backorder_cost"),
        ("μ", "production_rate"),
    ];
    const ANSWERS: &'static [&'static str] = &["order_quantity", "cost_rate"];
    type In = OrderInput;
    type Out = OrderOutput;

    fn compute(input: &OrderInput) -> Result<(OrderOutput, Option<Working>), MethodError> {
        let supply = match (input.backorder_cost, input.production_rate) {
            (None, None) => Supply::Bought,
            (Some(p), None) => Supply::Waiting(p.0),
            (None, Some(rate)) => Supply::Made(rate.0),
            (Some(_), Some(rate)) => {
                let allowed = "backorder_cost | production_rate";
                return Err(either("production_rate", rate.0, allowed));
            }
        };
        let (k, h, rate) = (
            input.order_cost.0,
            input.holding_cost.0,
            input.demand_rate.0,
        );
        let found = order_quantity::best(k, h, rate, supply)?;
        let out = OrderOutput {
            order_quantity: found.quantity,
            backorder_share: found.waiting,
            cost_rate: found.cost_rate,
        };
        Ok((
            out,
            Some(order_quantity::working(k, h, rate, supply, &found)),
        ))
    }
}

/// Distribution by its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Normal.
    Normal,
    /// Poisson.
    Poisson,
}

choices! {
    /// Distribution of the demand.
    enum KindIn of Kind { "normal" => Kind::Normal, "poisson" => Kind::Poisson, }
}

contract! {
    /// Demand of one round.
    struct DemandIn {
        /// Distribution.
        distribution: KindIn,
        /// Mean.
        mean: Positive,
        /// Standard deviation of a normal distribution.
        standard_deviation: Option<Positive>,
    }
}

contract! {
    /// One round of demand, and what a piece costs that is left or short.
    struct RoundInput {
        /// Cost of a piece that is left.
        holding_cost: Positive,
        /// Cost of a piece that is short.
        shortage_cost: Positive,
        /// Demand of the round.
        demand: DemandIn,
        /// Stock whose cost is asked for, instead of the best.
        stock: Option<NotNegative>,
    }
}

contract! {
    /// The stock and what it costs.
    struct RoundOutput {
        /// Pieces to have ready.
        stock: f64,
        /// Cost on average.
        cost: f64,
    }
}

/// The contract.
pub(crate) struct Newsvendor;

impl Contract for Newsvendor {
    const METHOD: Method = newsvendor::METHOD;
    const SUMMARY: &'static str = "method-newsvendor";
    const FORMULA: &'static str = "P(D ≤ S) = p / (p + h); h · E(S − D)⁺ + p · E(D − S)⁺";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("h", "holding_cost"),
        ("p", "shortage_cost"),
        ("m", "demand.mean"),
        ("s", "demand.standard_deviation"),
        ("S", "stock"),
    ];
    type In = RoundInput;
    type Out = RoundOutput;

    fn compute(input: &RoundInput) -> Result<(RoundOutput, Option<Working>), MethodError> {
        let costs = Costs {
            left: input.holding_cost.0,
            short: input.shortage_cost.0,
        };
        let mean = input.demand.mean.0;
        let round = match (input.demand.distribution.0, input.demand.standard_deviation) {
            (Kind::Poisson, None) => Round::Poisson(mean),
            (Kind::Normal, Some(s)) => Round::Normal(mean, s.0),
            (Kind::Normal, None) => {
                return Err(MethodError::at(
                    "demand.standard_deviation",
                    "",
                    Why::Missing,
                ));
            }
            (Kind::Poisson, Some(s)) => {
                let allowed = "distribution = normal";
                return Err(either("demand.standard_deviation", s.0, allowed));
            }
        };
        let stock = match input.stock {
            Some(stock) => stock.0,
            None => newsvendor::best(round, &costs)?,
        };
        let cost = newsvendor::cost(round, &costs, stock)?;
        let working = newsvendor::working(round, &costs, stock, cost);
        Ok((RoundOutput { stock, cost }, Some(working)))
    }
}
