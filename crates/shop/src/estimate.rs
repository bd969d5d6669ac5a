//! The price of a repair: proposed lines and exact sums.

use calc::labour_time;
use rust_decimal::{Decimal, RoundingStrategy};

use crate::entry::{EstimateMade, PriceLine};
use crate::job::Job;
use crate::quote::{self, Totals};
use crate::sheet::{FaultModel, Part, ToolModel};

/// Minutes for receiving, proof and paper, added to those of the parts (common practice, no source).
pub const BENCH_MINUTES: u32 = 40;

/// A line's price, rounded half away from zero to the cent.
pub fn line_total(line: &PriceLine) -> Decimal {
    cents(line.count.saturating_mul(line.each))
}

/// The sums of all lines: they are rounded first, so that what is printed adds up.
pub fn totals(estimate: &EstimateMade) -> Totals {
    quote::sum_of(estimate, |_| true)
}

/// Half away from zero, to the cent.
pub(crate) fn cents(amount: Decimal) -> Decimal {
    amount.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero)
}

/// The model's parts that the confirmed causes call for.
pub fn parts_for<'a>(job: &Job, model: &'a ToolModel, faults: &FaultModel) -> Vec<&'a Part> {
    let Some(cause) = &job.cause else {
        return Vec::new();
    };
    let wanted: Vec<&str> = cause
        .body
        .causes
        .iter()
        .filter_map(|id| faults.cause(id))
        .flat_map(|c| c.parts.iter().map(String::as_str))
        .collect();
    model
        .parts
        .iter()
        .filter(|part| wanted.iter().any(|id| part.is(id)))
        .collect()
}

/// The model's parts that the customer agreed to have renewed: those of the lines of the accepted options.
pub fn parts_agreed<'a>(job: &Job, model: &'a ToolModel) -> Vec<&'a Part> {
    let Some(quote) = job.estimate.as_ref().map(|e| &e.body) else {
        return Vec::new();
    };
    let answer = job.answer.as_ref().map(|a| &a.body);
    let accepted = quote::accepted(quote, answer);
    let is_agreed = |part: &&Part| {
        quote.lines.iter().any(|line| {
            accepted.contains(&line.option) && line.number.trim().eq_ignore_ascii_case(&part.number)
        })
    };
    model.parts.iter().filter(is_agreed).collect()
}

/// Hours of labour for `minutes`, to the hundredth, rounded up.
pub fn hours(minutes: f64) -> Decimal {
    let hours = Decimal::try_from(labour_time::hours(minutes)).unwrap_or_default();
    hours.round_dp(2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn printed_lines_and_tax_add_up(
            lines in prop::collection::vec((1i64..5000, 0i64..1_000_000), 0..12), tax in 0i64..3000,
        ) {
            let estimate = EstimateMade {
                lines: lines
                    .into_iter()
                    .map(|(count, each)| PriceLine {
                        count: Decimal::new(count, 2),
                        each: Decimal::new(each, 2),
                        ..PriceLine::default()
                    })
                    .collect(),
                tax_percent: Decimal::new(tax, 2),
                ..EstimateMade::default()
            };
            let t = totals(&estimate);
            // In whole cents, so that a fraction of a cent anywhere would show.
            let whole = |d: Decimal| (d * Decimal::ONE_HUNDRED).fract().is_zero();
            prop_assert!(whole(t.net) && whole(t.tax) && whole(t.gross));
            prop_assert_eq!(t.gross - t.tax, estimate.lines.iter().map(line_total).sum::<Decimal>());
        }
    }

    #[test]
    fn half_a_cent_goes_up() {
        // 0.25 h at 78.02 = 19.505: rounds to 19.51 (worked by hand).
        let line = PriceLine {
            count: Decimal::new(25, 2),
            each: Decimal::new(7802, 2),
            ..PriceLine::default()
        };
        assert_eq!(line_total(&line), Decimal::new(1951, 2));
    }
}
