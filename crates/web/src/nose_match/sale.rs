//! The counter's list: what must be bought for this fastener.

use calc::Message;
use maud::{Markup, html};
use rust_decimal::Decimal;
use shop::nose_match::{Fit, Line, Offer, PartKind, sale};
use shop::sheet::{FastenerFamily, Shelf, ShopCard, ToolModel};

use super::question::Asked;
use super::reasons::chip;
use crate::shell::Page;

/// The section.
pub(super) fn section(
    p: &Page,
    shelf: &Shelf,
    asked: &Asked,
    model: &ToolModel,
    fastener: &FastenerFamily,
) -> Markup {
    let shop = shelf.shops().map(|(_, shop)| shop).next();
    let found = sale(model, fastener, &asked.held, &asked.all, shop);
    let offers = found.offers.as_slice();
    html! {
        h2 { (p.t("match-buy")) }
        @match (&found.held, offers) {
            (Some(set), []) if set.found.missing().is_empty() => {
                p { (p.say(&Message::new("match-buy-nothing").with("nose", set.nose.name.as_str()))) }
            }
            (Some(set), _) => {
                p { (p.say(&Message::new("match-buy-held-open").with("nose", set.nose.name.as_str()))) }
            }
            (None, []) => { p.empty { (p.t("match-buy-none")) } }
            (None, _) => {}
        }
        @for (i, offer) in offers.iter().enumerate() {
            @let name = offer.set.nose.name.as_str();
            @if i == 0 {
                h3 { (p.say(&Message::new("match-buy-offer").with("nose", name))) " " (chip(p, offer.set.found.fit())) }
                @if offer.set.found.fit() == Fit::Unknown { p { (p.t("match-buy-open")) } }
                (list(p, offer, shop))
            } @else {
                details {
                    summary { (p.say(&Message::new("match-buy-other").with("nose", name))) " " (chip(p, offer.set.found.fit())) }
                    (list(p, offer, shop))
                }
            }
        }
    }
}

fn list(p: &Page, offer: &Offer, shop: Option<&ShopCard>) -> Markup {
    let currency = shop.map_or("", |s| s.currency.as_str());
    let amount = |d: Decimal| format!("{d:.2} {currency}");
    let totals = offer.totals;
    let open = offer.without_price();
    html! {
            table.stack {
                thead { tr { th { (p.t("match-part")) } th { (p.t("match-number")) } th.n { (p.t("match-on-hand")) } th.n { (p.t("match-price")) } } }
                tbody { @for line in &offer.buy { (row(p, line)) } }
            }
            @if !totals.tax.is_zero() {
                p.sum { (p.t("match-net")) " " (amount(totals.net)) }
                @if let Some(shop) = shop {
                    p.sum { (p.say(&Message::new("match-tax").with("percent", shop.tax_percent.normalize().to_string()))) " " (amount(totals.tax)) }
                }
            }
            p.sum { (p.t("match-total")) " " b.mid { (amount(totals.gross)) } }
            @if open > 0 { p.hint { (p.say(&Message::new("match-total-least").with("count", open))) } }
    }
}

fn row(p: &Page, line: &Line) -> Markup {
    let part = match line.part {
        PartKind::Collet => "match-collet",
        PartKind::Anvil => "match-anvil",
        PartKind::Housing => "match-housing-part",
    };
    html! {
        tr {
            td data-label=(p.t("match-part")) { (p.t(part)) }
            td data-label=(p.t("match-number")) {
                @match line.number { Some(number) => { (number) } None => { (p.t("match-number-none")) } }
            }
            td.n data-label=(p.t("match-on-hand")) {
                @match line.on_hand {
                    Some(0) => { (p.t("match-on-hand-order")) }
                    Some(count) => { (count) }
                    None => { (p.t("match-on-hand-none")) }
                }
            }
            td.n data-label=(p.t("match-price")) {
                @match line.price { Some(price) => { (format!("{price:.2}")) } None => { (p.t("match-price-none")) } }
            }
        }
    }
}
