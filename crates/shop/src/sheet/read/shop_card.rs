//! Reads a shop card.

use calc::Message;
use rust_decimal::Decimal;

use super::table::Table;
use super::value::{self, Span};
use crate::quote::QUOTE_DAYS;
use crate::sheet::{ShopCard, WEAR_RISK};

pub(super) fn read(t: &Table) -> Option<ShopCard> {
    let people = t.list("people", value::string);
    if t.good(&["people"]) && people.is_empty() {
        t.mistake("people", Message::new("sheet-too-few").with("least", 1_u32));
    }
    let tax_percent = t.money("tax_percent");
    if tax_percent > Decimal::ONE_HUNDRED {
        let problem = Message::new("sheet-range");
        t.mistake(
            "tax_percent",
            problem.with("min", 0_u32).with("max", 100_u32),
        );
    }
    Some(ShopCard {
        id: t.id("id"),
        name: t.string("name"),
        place: t.string("place"),
        currency: t
            .needed("currency", |v| {
                value::string(v).and_then(|code| {
                    let three = code.len() == 3 && code.bytes().all(|b| b.is_ascii_uppercase());
                    three
                        .then_some(code)
                        .ok_or_else(|| Message::new("sheet-currency"))
                })
            })
            .unwrap_or_default(),
        labour_per_hour: t.money("labour_per_hour"),
        tax_percent,
        people,
        joints_to_sign_off: t.whole("joints_to_sign_off", 1, 1000) as usize,
        second_signature: t.flag("second_signature"),
        wear_risk: t
            .given("wear_risk", |v| value::number(v, Span(0.001, 0.5)))
            .unwrap_or(WEAR_RISK),
        quote_days: t
            .given("quote_days", |v| value::whole(v, 1, 3650))
            .unwrap_or(QUOTE_DAYS),
        repair_months: t.given("repair_months", |v| value::whole(v, 1, 600)),
        repair_pulls: repair_pulls(t),
    })
}

/// A limit in pulls alone would hold for ever on a tool without a counter.
fn repair_pulls(t: &Table) -> Option<u64> {
    let pulls = t.given("repair_pulls", |v| value::whole(v, 1, 100_000_000));
    if pulls.is_some() && !t.has("repair_months") {
        t.mistake("repair_pulls", Message::new("sheet-repair-pulls-alone"));
    }
    pulls.map(u64::from)
}
