//! The quote: what its options cost, what the warranty takes off, how revisions differ, what the
//! sheets propose.
//!
//! Money is decimal and whole cents. Each line is rounded half away from zero, because that is how a
//! customer with a pocket calculator rounds; half-even would even out only over sums far longer than a
//! quote. The discount and the tax of each line are rounded the same way, so lines − discount + tax is
//! the total to the cent, with nothing left over.

mod changes;
mod earlier;
mod propose;

use calc::Message;
use rust_decimal::Decimal;

pub use changes::changes;
pub use earlier::{Replaced, Stood, as_issued, as_it_stood};
pub use propose::{Proposed, part_numbered, proposed, route_minutes, wear_parts};

use crate::entry::{
    Cover, CustomerAnswered, EstimateMade, OptionKind, PriceLine, QuoteOption, TaxRule,
    WarrantyJudged,
};
use crate::estimate::{cents, line_total};
use crate::sheet::ShopCard;

/// Days for which a quote holds where the shop card does not say (common practice, no source).
pub const QUOTE_DAYS: u32 = 30;

/// Sums in the currency of the quote, to the cent.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Totals {
    /// The lines, without discount and tax.
    pub lines: Decimal,
    /// What the discount takes off.
    pub discount: Decimal,
    /// Before tax: lines less discount.
    pub net: Decimal,
    /// Tax.
    pub tax: Decimal,
    /// With tax.
    pub gross: Decimal,
}

/// The options of a quote, in order: the repair alone where it names none. The name may be empty.
pub fn options(quote: &EstimateMade) -> Vec<QuoteOption> {
    if quote.options.is_empty() {
        return vec![QuoteOption {
            name: String::new(),
            kind: OptionKind::Work,
        }];
    }
    quote.options.clone()
}

/// What the option `line` belongs to means for the work.
pub fn kind_of(quote: &EstimateMade, line: &PriceLine) -> OptionKind {
    let option = quote.options.get(line.option);
    option.map_or(OptionKind::Work, |option| option.kind)
}

/// The tax of a line, percent.
pub fn tax_percent(quote: &EstimateMade, line: &PriceLine) -> Decimal {
    line.tax_percent.unwrap_or(quote.tax_percent)
}

/// The sums of the lines for which `takes` holds.
pub fn sum_of(quote: &EstimateMade, takes: impl Fn(&PriceLine) -> bool) -> Totals {
    let part =
        |percent: Decimal, of: Decimal| cents(of.saturating_mul(percent / Decimal::ONE_HUNDRED));
    let off = quote.discount.as_ref();
    let mut t = Totals::default();
    for line in quote.lines.iter().filter(|line| takes(line)) {
        let full = line_total(line);
        let discount = off.map_or(Decimal::ZERO, |off| part(off.percent, full));
        t.lines = t.lines.saturating_add(full);
        t.discount = t.discount.saturating_add(discount);
        if quote.tax_rule == TaxRule::PerLine {
            let tax = part(tax_percent(quote, line), full.saturating_sub(discount));
            t.tax = t.tax.saturating_add(tax);
        }
    }
    t.net = t.lines.saturating_sub(t.discount);
    if quote.tax_rule == TaxRule::OnTheSum {
        t.tax = part(quote.tax_percent, t.net);
    }
    t.gross = t.net.saturating_add(t.tax);
    t
}

/// The sums of one option, counted from 0.
pub fn sum_of_option(quote: &EstimateMade, option: usize) -> Totals {
    sum_of(quote, |line| line.option == option)
}

/// The options that were accepted; the repair alone before there is an answer.
pub fn accepted(quote: &EstimateMade, answer: Option<&CustomerAnswered>) -> Vec<usize> {
    let all = options(quote);
    match answer {
        Some(a) if !a.options.is_empty() => {
            let said = a.options.iter().enumerate();
            said.filter(|(_, yes)| **yes).map(|(i, _)| i).collect()
        }
        // What was quoted before there were options: the report still shows what was asked for.
        _ => (0..all.len())
            .filter(|i| all[*i].kind == OptionKind::Work)
            .collect(),
    }
}

/// What is to be paid for the options accepted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bill {
    /// Their sums.
    pub totals: Totals,
    /// What the warranty pays of it, with tax.
    pub covered: Decimal,
    /// What the customer pays.
    pub to_pay: Decimal,
}

/// The bill for `accepted` options under the warranty verdict.
pub fn bill(quote: &EstimateMade, warranty: Option<&WarrantyJudged>, accepted: &[usize]) -> Bill {
    let takes = |line: &PriceLine| accepted.contains(&line.option);
    let totals = sum_of(quote, takes);
    let pays = |line: &PriceLine| !warranty.is_some_and(|w| is_covered(quote, line, w));
    let own = sum_of(quote, |line| takes(line) && pays(line));
    Bill {
        totals,
        covered: totals.gross.saturating_sub(own.gross),
        to_pay: own.gross,
    }
}

/// Whether the warranty pays this line: its part's verdict, for work without a part number that of
/// the labour. Beside the repair nothing is covered.
pub fn is_covered(quote: &EstimateMade, line: &PriceLine, warranty: &WarrantyJudged) -> bool {
    if kind_of(quote, line) != OptionKind::Work {
        return false;
    }
    if warranty.lines.is_empty() {
        return warranty.cover == Cover::Covered;
    }
    let number = line.number.trim();
    warranty
        .lines
        .iter()
        .any(|judged| judged.number.eq_ignore_ascii_case(number) && judged.cover == Cover::Covered)
}

/// What a reader must know where tax changed on the shop's card since the quote: it keeps its own.
pub fn tax_changed(quote: &EstimateMade, card: Option<&ShopCard>) -> Option<Message> {
    let now = card?.tax_percent;
    (now != quote.tax_percent).then(|| {
        Message::new("quote-tax-changed")
            .with("kept", quote.tax_percent.normalize().to_string())
            .with("now", now.normalize().to_string())
    })
}
