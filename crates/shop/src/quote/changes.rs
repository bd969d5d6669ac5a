//! What one revision of a quote changed against the one before.

use calc::Message;
use rust_decimal::Decimal;

use super::{options, sum_of_option};
use crate::entry::{EstimateMade, PriceLine};

/// Every difference, in the order of the quote; empty if there is none.
pub fn changes(before: &EstimateMade, after: &EstimateMade) -> Vec<Message> {
    let mut told = Vec::new();
    // The same lines first, wherever they stand: a line that moved is no change.
    let mut old: Vec<&PriceLine> = before.lines.iter().collect();
    let mut new: Vec<&PriceLine> = after.lines.iter().collect();
    new.retain(|line| match old.iter().position(|o| o == line) {
        Some(at) => {
            old.remove(at);
            false
        }
        None => true,
    });
    for line in new {
        match old.iter().position(|o| is_like(o, line)) {
            Some(at) => differences(old.remove(at), line, &mut told),
            None => told.push(named("change-line-added", line)),
        }
    }
    told.extend(old.into_iter().map(|line| named("change-line-gone", line)));
    options_changed(before, after, &mut told);
    let discount = |quote: &EstimateMade| quote.discount.as_ref().map(|d| d.percent);
    let (was, is) = (discount(before), discount(after));
    if was != is {
        let change = Message::new("change-discount");
        told.push(from_to(
            change,
            was.unwrap_or_default(),
            is.unwrap_or_default(),
        ));
    } else if before.discount != after.discount {
        told.push(Message::new("change-discount-reason"));
    }
    if before.tax_percent != after.tax_percent {
        let change = Message::new("change-tax");
        told.push(from_to(change, before.tax_percent, after.tax_percent));
    }
    if before.currency != after.currency {
        told.push(
            Message::new("change-currency")
                .with("was", before.currency.as_str())
                .with("is", after.currency.as_str()),
        );
    }
    if before.valid_until != after.valid_until {
        let day = after
            .valid_until
            .map(|day| day.strftime("%-d %b %Y").to_string());
        told.push(Message::new("change-valid").with("day", day.unwrap_or_default()));
    }
    if before.note != after.note {
        told.push(Message::new("change-note"));
    }
    told
}

/// Whether two lines are about one thing: the same part number, or without one the same words.
fn is_like(a: &PriceLine, b: &PriceLine) -> bool {
    let about = |line: &PriceLine| {
        let number = line.number.trim().to_lowercase();
        let what = line.what.trim().to_lowercase();
        (line.option, if number.is_empty() { what } else { number })
    };
    about(a) == about(b)
}

fn named(id: &'static str, line: &PriceLine) -> Message {
    Message::new(id).with("what", line.what.trim())
}

fn from_to(change: Message, was: Decimal, is: Decimal) -> Message {
    change
        .with("was", was.normalize().to_string())
        .with("is", is.normalize().to_string())
}

fn differences(was: &PriceLine, is: &PriceLine, told: &mut Vec<Message>) {
    if was.what != is.what || was.number != is.number {
        let change = named("change-line-name", is).with("was", was.what.trim());
        told.push(change);
    }
    if was.count != is.count {
        told.push(from_to(named("change-line-count", is), was.count, is.count));
    }
    if was.each != is.each {
        let money = |amount: Decimal| format!("{amount:.2}");
        let change = named("change-line-each", is);
        told.push(
            change
                .with("was", money(was.each))
                .with("is", money(is.each)),
        );
    }
    if was.tax_percent != is.tax_percent {
        told.push(named("change-line-tax", is));
    }
}

fn options_changed(before: &EstimateMade, after: &EstimateMade, told: &mut Vec<Message>) {
    let (was, is) = (options(before), options(after));
    let kinds = |all: &[crate::entry::QuoteOption]| all.iter().map(|o| o.kind).collect::<Vec<_>>();
    for option in &was {
        if !kinds(&is).contains(&option.kind) {
            told.push(Message::new("change-option-gone").with("name", option.name.as_str()));
        }
    }
    for (at, option) in is.iter().enumerate() {
        match was.iter().find(|o| o.kind == option.kind) {
            None => {
                let sum = sum_of_option(after, at).gross;
                told.push(
                    Message::new("change-option-new")
                        .with("name", option.name.as_str())
                        .with("sum", format!("{sum:.2}")),
                );
            }
            Some(old) if old.name != option.name => {
                told.push(Message::new("change-option-name").with("name", option.name.as_str()));
            }
            Some(_) => {}
        }
    }
}
