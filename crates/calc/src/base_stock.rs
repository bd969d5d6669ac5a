//! How many spares to keep where each one used is ordered at once.
//!
//! # Formula
//! On order: X Poisson with mean λ · L (Palm). Fill rate P(X ≤ S − 1); stockout P(X > S); backorders E (X − S)⁺; on hand
//! E (S − X)⁺.
//!
//! # Validity
//! Demand by chance one at a time at a steady rate; what is short waits. The lead time may vary, its mean counts.
//!
//! # Source
//! Sherbrooke, Optimal Inventory Modeling of Systems, 2nd edition (2004), chapter 2 (from memory). Check values: scipy 1.17.1.

use crate::Message;
use crate::error::{CalcError, within};
use crate::poisson_stock::Demand;
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "base-stock",
    version: 1,
    source: "Sherbrooke, Optimal Inventory Modeling of Systems (2004), chapter 2 (from memory)",
};

/// Most that is on order on average.
const MOST: f64 = 1e6;

/// What a stock does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stock {
    /// Spares on hand and on order together, S.
    pub stock: u64,
    /// Mean on order.
    pub pipeline: f64,
    /// P(X > S).
    pub stockout: f64,
    /// P(X ≤ S − 1).
    pub fill_rate: f64,
    /// E (X − S)⁺.
    pub backorders: f64,
    /// E (S − X)⁺.
    pub on_hand: f64,
}

fn demand(rate: f64, lead_time: f64) -> Result<Demand, CalcError> {
    let rate = within("λ", rate, 1e-100, 1e100)?;
    let lead_time = within("L", lead_time, 1e-100, 1e100)?;
    Ok(Demand::new(within("λ", rate * lead_time, 1e-12, MOST)?))
}

/// What `stock` spares do.
///
/// # Errors
/// A rate or lead time that is not above 0, more than a million on order on average, a stock above ten million.
pub fn of_stock(rate: f64, lead_time: f64, stock: u64) -> Result<Stock, CalcError> {
    let demand = demand(rate, lead_time)?;
    let s = within("S", stock as f64, 0.0, 10.0 * MOST)? as i64;
    Ok(Stock {
        stock,
        pipeline: demand.mean,
        stockout: demand.above(s),
        fill_rate: demand.at_most(s - 1),
        backorders: demand.short(s),
        on_hand: demand.left(s),
    })
}

/// The smallest stock with a fill rate of `target` or more.
///
/// # Errors
/// As [`of_stock`]; a target outside 0 to 1, both excluded.
pub fn for_fill_rate(rate: f64, lead_time: f64, target: f64) -> Result<Stock, CalcError> {
    let target = within("target", target, 1e-9, 1.0 - 1e-12)?;
    let s = demand(rate, lead_time)?.quantile(target) + 1;
    of_stock(rate, lead_time, s.unsigned_abs())
}

/// From the rate to the fill rate.
pub fn working(rate: f64, lead_time: f64, found: &Stock) -> Working {
    let few = |x: f64| figures(x, 5);
    let s = found.stock as f64;
    Working::new(METHOD)
        .given("λ", Message::new("given-demand-rate"), rate, few(rate), "")
        .given(
            "L",
            Message::new("given-lead-time"),
            lead_time,
            few(lead_time),
            "",
        )
        .given("S", Message::new("given-stock"), s, 0, "")
        .step("m", "λ · L", found.pipeline, few(found.pipeline), "")
        .step("f", "P(X ≤ S − 1)", found.fill_rate, 4, "")
        .step(
            "B",
            "Σ P(X > x), x ≥ S",
            found.backorders,
            few(found.backorders),
            "",
        )
        .note(Message::new("note-base-stock"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn mean_one_by_hand() {
        // One on order on average, two kept: fill 2 e⁻¹, stockout 1 − 2.5 e⁻¹.
        let e = (-1.0_f64).exp();
        let found = of_stock(0.5, 2.0, 2).expect("good");
        assert!((found.fill_rate - 2.0 * e).abs() < 1e-14);
        assert!((found.stockout - (1.0 - 2.5 * e)).abs() < 1e-14);
        assert_eq!(for_fill_rate(0.5, 2.0, 0.73).expect("good").stock, 2);
        assert_eq!(for_fill_rate(0.5, 2.0, 0.74).expect("good").stock, 3);
        let none = of_stock(0.5, 2.0, 0).expect("good");
        assert_eq!((none.fill_rate, none.on_hand), (0.0, 0.0));
        assert!((none.backorders - 1.0).abs() < 1e-15);
    }

    #[test]
    fn refusals() {
        for (rate, time) in [(0.0, 1.0), (1.0, -1.0), (f64::NAN, 1.0), (1e4, 1e4)] {
            assert!(of_stock(rate, time, 1).is_err(), "{rate} {time}");
        }
        assert!(of_stock(1.0, 1.0, u64::MAX).is_err());
        assert!(for_fill_rate(1.0, 1.0, 1.0).is_err());
        assert!(for_fill_rate(1.0, 1.0, 0.0).is_err());
    }

    proptest! {
        #[test]
        fn stock_on_hand_less_short_is_stock_less_on_order(mean in 0.01..200.0f64, s in 0u64..300) {
            let found = of_stock(mean, 1.0, s).expect("good");
            prop_assert!((found.on_hand - found.backorders - (s as f64 - mean)).abs() < 1e-9);
            prop_assert!(of_stock(mean, 1.0, s + 1).expect("good").backorders <= found.backorders);
        }
    }
}
