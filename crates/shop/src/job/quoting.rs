//! The quote, revision by revision.

use calc::Message;
use jiff::ToSpan;
use jiff::civil::Date;
use rust_decimal::Decimal;

use super::refusal::{Refusals, nth, refuse, refuse_all};
use super::{Desk, Job, Stage};
use crate::entry::{
    Body, CompareRule, Discount, EstimateMade, OptionKind, PriceLine, QuoteOption, TaxRule,
};
use crate::nose_match::PartKind;
use crate::quote::part_numbered;
use crate::sheet::{Kind, ShopCard};

/// A quote, as typed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct QuoteIn {
    /// Lines.
    pub lines: Vec<PriceLine>,
    /// The row of the form that each line was typed in, from 0; empty where no row was left out.
    pub rows: Vec<usize>,
    /// Options, the repair first; empty for the repair alone.
    pub options: Vec<QuoteOption>,
    /// Discount, percent.
    pub discount_percent: Option<Decimal>,
    /// Why.
    pub discount_reason: String,
    /// Last day on which it can be accepted; `None` for the shop card's days from today.
    pub valid_until: Option<Date>,
    /// Remark.
    pub note: String,
}

impl Job {
    pub(super) fn make_estimate(&self, quote: QuoteIn, desk: &Desk) -> Result<Vec<Body>, Refusals> {
        self.open_or_refuse(Stage::Agreed)?;
        let Some(shop) = desk.shelf.shop(&self.shop_pin()) else {
            return refuse_all(Message::new("receive-no-shop"));
        };
        let mut refusals = self.wrong_lines(&quote, desk);
        refusals.extend(wrong_options(&quote));
        let days = i64::from(shop.quote_days);
        let valid_until = quote
            .valid_until
            .unwrap_or_else(|| desk.today.checked_add(days.days()).unwrap_or(Date::MAX));
        if valid_until < desk.today {
            refusals.push(refuse("valid_until", Message::new("refuse-valid-past")));
        }
        let discount = discount(&quote, &mut refusals);
        if !refusals.is_empty() {
            return Err(refusals);
        }
        let made = EstimateMade {
            lines: quote.lines,
            tax_percent: self.card_now(desk).unwrap_or(shop).tax_percent,
            currency: shop.currency.clone(),
            note: quote.note,
            revision: self.next_revision(),
            tax_rule: TaxRule::PerLine,
            compare_rule: CompareRule::AsOffered,
            options: quote.options,
            discount,
            valid_until: Some(valid_until),
        };
        Ok(vec![made.into()])
    }

    /// The shop card in force, for what changes by law and not by the job: the tax.
    pub fn card_now<'a>(&self, desk: &Desk<'a>) -> Option<&'a ShopCard> {
        let pin = desk.shelf.newest(Kind::Shop, &self.shop_pin().id)?;
        desk.shelf.shop(&pin)
    }

    /// Number of the next revision: one that was sent out keeps its number, struck or not.
    fn next_revision(&self) -> u32 {
        let struck = self.struck.iter();
        let struck = struck.filter(|(entry, _)| matches!(entry.body, Body::EstimateMade(_)));
        u32::try_from(self.estimates.len() + struck.count() + 1).unwrap_or(u32::MAX)
    }

    /// The revision before the one in force.
    pub fn quote_before(&self) -> Option<&EstimateMade> {
        let before = self.estimates.len().checked_sub(2)?;
        self.estimates.get(before).map(|stamped| &stamped.body)
    }

    fn wrong_lines(&self, quote: &QuoteIn, desk: &Desk) -> Refusals {
        let mut refusals = Refusals::new();
        if quote.lines.is_empty() {
            refusals.push(refuse("what", Message::new("refuse-no-lines")));
        }
        for (i, line) in quote.lines.iter().enumerate() {
            let row = quote.rows.get(i).copied().unwrap_or(i);
            let mut wrong = |name, message| refusals.push(refuse(nth(name, row), message));
            if line.what.trim().is_empty() {
                wrong("what", Message::new("refuse-line-what"));
            }
            if !self.knows_number(&line.number, desk) {
                let unknown = Message::new("refuse-line-number");
                wrong("number", unknown.with("number", line.number.trim()));
            }
            if line.count <= Decimal::ZERO {
                wrong("count", Message::new("refuse-line-count"));
            }
            if line.each < Decimal::ZERO {
                wrong("each", Message::new("refuse-line-each"));
            }
            let tax = line.tax_percent.unwrap_or_default();
            if tax < Decimal::ZERO || tax > Decimal::ONE_HUNDRED {
                wrong("tax", Message::new("refuse-line-tax"));
            }
        }
        refusals
    }

    /// Whether the model sheet or a nose set on the shelf has a part of this number. No number at all
    /// is for what no sheet lists.
    pub(super) fn knows_number(&self, number: &str, desk: &Desk) -> bool {
        let number = number.trim();
        let Some(model) = self.model(desk) else {
            return true;
        };
        let is = |of: Option<&str>| of.is_some_and(|of| of.eq_ignore_ascii_case(number));
        number.is_empty()
            || part_numbered(model, number).is_some()
            || desk
                .shelf
                .nose_sets()
                .any(|(_, nose)| PartKind::ALL.into_iter().any(|part| is(part.number(nose))))
    }
}

/// The repair stands first and has lines; so does every further option.
fn wrong_options(quote: &QuoteIn) -> Refusals {
    let mut refusals = Refusals::new();
    let has_lines = |option| quote.lines.iter().any(|line| line.option == option);
    if !quote.lines.is_empty() && !has_lines(0) {
        refusals.push(refuse("what", Message::new("refuse-no-lines")));
    }
    for (i, option) in quote.options.iter().enumerate() {
        let field = || field_of(option.kind);
        if option.name.trim().is_empty() {
            refusals.push(refuse(field(), Message::new("refuse-option-name")));
        }
        // One of each kind: the answers to two of them could not be told apart.
        let is_again = quote.options[..i].iter().any(|o| o.kind == option.kind);
        if is_again || (i == 0) != (option.kind == OptionKind::Work) {
            refusals.push(refuse(field(), Message::new("refuse-option-kind")));
        }
        if i > 0 && !has_lines(i) {
            refusals.push(refuse(field(), Message::new("refuse-option-empty")));
        }
    }
    let options = quote.options.len().max(1);
    if quote.lines.iter().any(|line| line.option >= options) {
        refusals.push(refuse("what", Message::new("refuse-option-unknown")));
    }
    refusals
}

/// The field that names an option of this kind: a form has one place for each.
pub fn field_of(kind: OptionKind) -> String {
    let place = match kind {
        OptionKind::Work => 0,
        OptionKind::AddOn => 1,
        OptionKind::Instead => 2,
    };
    nth("option_name", place)
}

fn discount(quote: &QuoteIn, refusals: &mut Refusals) -> Option<Discount> {
    let reason = quote.discount_reason.trim();
    let percent = quote.discount_percent.filter(|percent| !percent.is_zero());
    let Some(percent) = percent else {
        if !reason.is_empty() {
            let message = Message::new("refuse-discount-percent");
            refusals.push(refuse("discount", message));
        }
        return None;
    };
    if percent < Decimal::ZERO || percent > Decimal::ONE_HUNDRED {
        refusals.push(refuse("discount", Message::new("refuse-discount-percent")));
    }
    if reason.is_empty() {
        let message = Message::new("refuse-discount-reason");
        refusals.push(refuse("discount_reason", message));
    }
    Some(Discount {
        percent,
        reason: reason.to_owned(),
    })
}
