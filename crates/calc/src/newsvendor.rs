//! How much to have ready for one round of demand.
//!
//! # Formula
//! Least cost where P(D ≤ S) = p / (p + h), for whole pieces the first S that reaches it. Cost h · E (S − D)⁺ + p · E (D − S)⁺;
//! normal demand: h · (S − m) + (h + p) · s · (φ(z) − z · (1 − Φ(z))), z = (S − m) / s.
//!
//! # Validity
//! One round; what is left costs h, what is short costs p. Normal demand far above 0.
//!
//! # Source
//! Snyder and Shen, Fundamentals of Supply Chain Theory, 2nd edition (2019), chapter 4 (from memory).

use crate::Message;
use crate::error::{CalcError, within};
use crate::normal;
use crate::poisson_stock::Demand;
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "newsvendor",
    version: 1,
    source: "Snyder and Shen, Fundamentals of Supply Chain Theory (2019), chapter 4 (from memory)",
};

/// Demand of the round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Round {
    /// Normal: mean and standard deviation.
    Normal(f64, f64),
    /// Poisson: mean.
    Poisson(f64),
}

/// What a piece costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Costs {
    /// Left over.
    pub left: f64,
    /// Short.
    pub short: f64,
}

impl Round {
    fn checked(self) -> Result<Self, CalcError> {
        match self {
            Self::Normal(mean, deviation) => {
                within("m", mean, 0.0, 1e12)?;
                within("s", deviation, 1e-9, 1e12)?;
            }
            Self::Poisson(mean) => {
                within("m", mean, 1e-9, 1e6)?;
            }
        }
        Ok(self)
    }
}

impl Costs {
    /// The share of rounds in which the best stock is enough.
    ///
    /// # Errors
    /// A cost that is not above 0.
    pub fn critical(&self) -> Result<f64, CalcError> {
        let left = within("h", self.left, 1e-9, 1e12)?;
        let short = within("p", self.short, 1e-9, 1e12)?;
        within("p", short / (short + left), 1e-12, 1.0 - 1e-12)
    }
}

/// The best stock.
///
/// # Errors
/// A demand or cost that is not above 0, costs further apart than 10¹² to 1.
pub fn best(round: Round, costs: &Costs) -> Result<f64, CalcError> {
    let critical = costs.critical()?;
    Ok(match round.checked()? {
        Round::Normal(mean, deviation) => mean + deviation * normal::quantile(critical)?,
        Round::Poisson(mean) => Demand::new(mean).quantile(critical) as f64,
    })
}

/// What `stock` costs on average.
///
/// # Errors
/// As [`best`]; a stock below 0, or not whole where demand is counted in pieces.
pub fn cost(round: Round, costs: &Costs, stock: f64) -> Result<f64, CalcError> {
    costs.critical()?;
    let (h, p) = (costs.left, costs.short);
    Ok(match round.checked()? {
        Round::Normal(mean, deviation) => {
            let s = within("S", stock, -1e13, 1e13)?;
            let z = (s - mean) / deviation;
            let bell = (-z * z / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt();
            let short = deviation * (bell - z * normal::below(-z));
            h * (s - mean) + (h + p) * short
        }
        Round::Poisson(mean) => {
            let s = within("S", stock, 0.0, 1e7)?;
            within("S", s.fract(), 0.0, 0.0)?;
            let demand = Demand::new(mean);
            h * demand.left(s as i64) + p * demand.short(s as i64)
        }
    })
}

/// From the costs to the stock.
pub fn working(round: Round, costs: &Costs, stock: f64, cost: f64) -> Working {
    let few = |x: f64| figures(x, 6);
    let critical = costs.short / (costs.short + costs.left);
    let w = Working::new(METHOD)
        .given(
            "h",
            Message::new("given-left-cost"),
            costs.left,
            few(costs.left),
            "",
        )
        .given(
            "p",
            Message::new("given-short-cost"),
            costs.short,
            few(costs.short),
            "",
        );
    let w = match round {
        Round::Normal(mean, deviation) => w
            .given("m", Message::new("given-demand-mean"), mean, few(mean), "")
            .given(
                "s",
                Message::new("given-demand-spread"),
                deviation,
                few(deviation),
                "",
            ),
        Round::Poisson(mean) => {
            w.given("m", Message::new("given-demand-mean"), mean, few(mean), "")
        }
    };
    w.step("q", "p / (p + h)", critical, 4, "")
        .given("S", Message::new("given-stock"), stock, few(stock), "")
        .step("C", "h · E(S − D)⁺ + p · E(D − S)⁺", cost, few(cost), "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const COSTS: Costs = Costs {
        left: 1.0,
        short: 1.0,
    };

    #[test]
    fn by_hand() {
        // Even costs: the middle. Normal: S = m, cost (h + p) · s · φ(0) = 2 · 8 · 0.398942.
        let normal = Round::Normal(50.0, 8.0);
        let s = best(normal, &COSTS).expect("good");
        assert!((s - 50.0).abs() < 1e-9);
        assert!((cost(normal, &COSTS, s).expect("good") - 6.383_076_486).abs() < 1e-8);
        // Poisson with mean 1: P(D ≤ 1) = 0.736 reaches 1/2; cost E|1 − D| = 2 e⁻¹.
        let poisson = Round::Poisson(1.0);
        assert_eq!(best(poisson, &COSTS), Ok(1.0));
        let c = cost(poisson, &COSTS, 1.0).expect("good");
        assert!((c - 2.0 * (-1.0_f64).exp()).abs() < 1e-14);
    }

    #[test]
    fn refusals() {
        for round in [
            Round::Normal(1.0, 0.0),
            Round::Normal(f64::NAN, 1.0),
            Round::Poisson(0.0),
            Round::Poisson(1e9),
        ] {
            assert!(best(round, &COSTS).is_err(), "{round:?}");
        }
        let free = Costs { left: 0.0, ..COSTS };
        assert!(best(Round::Poisson(1.0), &free).is_err());
        assert!(cost(Round::Poisson(1.0), &COSTS, 1.5).is_err());
        assert!(cost(Round::Poisson(1.0), &COSTS, -1.0).is_err());
        assert!(cost(Round::Normal(1.0, 1.0), &COSTS, f64::INFINITY).is_err());
    }

    proptest! {
        #[test]
        fn no_other_stock_costs_less(mean in 1.0..80.0f64, left in 0.1..5.0f64, short in 0.1..50.0f64, by in -20i32..20) {
            let costs = Costs { left, short };
            for round in [Round::Normal(mean, mean / 5.0), Round::Poisson(mean)] {
                let s = best(round, &costs).expect("good");
                let other = (s + f64::from(by)).max(0.0);
                let least = cost(round, &costs, s).expect("good");
                prop_assert!(cost(round, &costs, other).expect("good") >= least * (1.0 - 1e-9));
            }
        }
    }
}
