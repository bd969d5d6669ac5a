//! Reads a shop card.

use calc::Message;
use rust_decimal::Decimal;

use super::table::Table;
use super::value::{self, Span};
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
        wear_risk: t
            .given("wear_risk", |v| value::number(v, Span(0.001, 0.5)))
            .unwrap_or(WEAR_RISK),
    })
}
