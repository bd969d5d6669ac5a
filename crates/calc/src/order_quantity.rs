//! How much to order at once.
//!
//! # Formula
//! Bought: Q = √(2 · K · λ / h), cost √(2 · K · λ · h). What is short waits at cost p: Q = √(2 · K · λ · (h + p) / (h · p)), share
//! that waits h / (h + p), cost √(2 · K · λ · h · p / (h + p)). Made at a rate μ: h · (1 − λ / μ) in place of h.
//!
//! # Validity
//! Steady demand, one price, the whole order comes at once.
//!
//! # Source
//! Harris (1913); Snyder and Shen, Fundamentals of Supply Chain Theory, 2nd edition (2019), chapter 3 (from memory).

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "economic-order-quantity",
    version: 1,
    source: "Snyder and Shen, Fundamentals of Supply Chain Theory (2019), chapter 3 (from memory)",
};

/// How the part comes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Supply {
    /// Bought, nothing may be short.
    Bought,
    /// Bought; what is short waits, at this cost of a piece and time.
    Waiting(f64),
    /// Made at this rate.
    Made(f64),
}

/// An order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Order {
    /// Pieces at once.
    pub quantity: f64,
    /// Share of the demand that waits.
    pub waiting: f64,
    /// Cost per time of ordering, keeping and waiting.
    pub cost_rate: f64,
}

/// The best order for a cost of an order, a cost of keeping a piece for a time, and a demand per time.
///
/// # Errors
/// A cost or rate that is not above 0, a rate of making that is not above the demand.
pub fn best(order: f64, holding: f64, demand: f64, supply: Supply) -> Result<Order, CalcError> {
    let above_zero = |symbol, x| within(symbol, x, 1e-60, 1e60);
    let k = above_zero("K", order)?;
    let h = above_zero("h", holding)?;
    let rate = above_zero("λ", demand)?;
    let (kept, waiting) = match supply {
        Supply::Bought => (h, 0.0),
        Supply::Waiting(p) => {
            let p = above_zero("p", p)?;
            (h * (p / (h + p)), h / (h + p))
        }
        Supply::Made(made) => {
            let made = within("μ", made, rate * (1.0 + 1e-9), 1e61)?;
            (h * (1.0 - rate / made), 0.0)
        }
    };
    Ok(Order {
        quantity: (2.0 * k * rate / kept).sqrt(),
        waiting,
        cost_rate: (2.0 * k * rate * kept).sqrt(),
    })
}

/// From the costs to the quantity.
pub fn working(order: f64, holding: f64, demand: f64, supply: Supply, found: &Order) -> Working {
    let few = |x: f64| figures(x, 6);
    let w = Working::new(METHOD)
        .given("K", Message::new("given-order-cost"), order, few(order), "")
        .given(
            "h",
            Message::new("given-holding-cost"),
            holding,
            few(holding),
            "",
        )
        .given(
            "λ",
            Message::new("given-demand-rate"),
            demand,
            few(demand),
            "",
        );
    let (w, quantity) = match supply {
        Supply::Bought => (w, "√(2 · K · λ / h)"),
        Supply::Waiting(p) => (
            w.given("p", Message::new("given-waiting-cost"), p, few(p), ""),
            "√(2 · K · λ · (h + p) / (h · p))",
        ),
        Supply::Made(made) => (
            w.given("μ", Message::new("given-making-rate"), made, few(made), ""),
            "√(2 · K · λ / (h · (1 − λ / μ)))",
        ),
    };
    let cost = found.cost_rate;
    w.step("Q", quantity, found.quantity, few(found.quantity), "")
        .step("C", "2 · K · λ / Q", cost, few(cost), "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn by_hand() {
        // K = 8, h = 1, λ = 100: √1600 = 40, cost 40. Waiting at p = 1 halves what is kept; so does making at 200.
        let plain = best(8.0, 1.0, 100.0, Supply::Bought).expect("good");
        assert_eq!((plain.quantity, plain.cost_rate), (40.0, 40.0));
        let waiting = best(8.0, 1.0, 100.0, Supply::Waiting(1.0)).expect("good");
        assert!((waiting.quantity - 3200.0_f64.sqrt()).abs() < 1e-12);
        assert_eq!(waiting.waiting, 0.5);
        let made = best(8.0, 1.0, 100.0, Supply::Made(200.0)).expect("good");
        assert_eq!(
            (made.quantity, made.cost_rate),
            (waiting.quantity, waiting.cost_rate)
        );
    }

    #[test]
    fn refusals() {
        for (k, h, rate) in [(0.0, 1.0, 1.0), (1.0, -1.0, 1.0), (1.0, 1.0, f64::NAN)] {
            assert!(best(k, h, rate, Supply::Bought).is_err());
        }
        assert!(best(1.0, 1.0, 1.0, Supply::Waiting(0.0)).is_err());
        assert!(best(1.0, 1.0, 1.0, Supply::Made(1.0)).is_err());
    }

    proptest! {
        #[test]
        fn another_quantity_costs_more(k in 0.1..100.0f64, h in 0.01..10.0f64, rate in 0.1..1e4f64, by in 0.2..4.0f64) {
            let found = best(k, h, rate, Supply::Bought).expect("good");
            let q = found.quantity * by;
            prop_assert!(k * rate / q + h * q / 2.0 >= found.cost_rate * (1.0 - 1e-12));
        }
    }
}
