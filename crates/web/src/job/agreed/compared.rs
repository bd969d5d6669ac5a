//! Repair or replace: what the year costs either way, where the sheet knows what a new tool costs.

use calc::Message;
use calc::working::Working;
use maud::{Markup, html};
use rust_decimal::Decimal;
use shop::repair_or_replace::{Compared, compare};

use crate::job::view::View;
use crate::show;

/// The comparison in words, first line first; empty where the sheet does not know.
pub fn texts(v: &View) -> (Vec<String>, Option<Working>) {
    let Some(quote) = v.job.estimate.as_ref().map(|e| &e.body) else {
        return (Vec::new(), None);
    };
    let card = v.desk.shelf.shop(&v.job.shop_pin());
    let per_hour = card.map_or(Decimal::ZERO, |card| card.labour_per_hour);
    match compare(v.job, v.model, quote, &v.tool.earlier, per_hour, |at| {
        v.day_of(at)
    }) {
        None => (Vec::new(), None),
        Some(Err(why)) => (vec![v.say(&why)], None),
        Some(Ok(found)) => (said(v, &found, &quote.currency), Some(found.working)),
    }
}

fn said(v: &View, found: &Compared, currency: &str) -> Vec<String> {
    let amount = |d: Decimal| format!("{d:.2} {currency}");
    let id = if found.repair <= found.new {
        "compare-repair"
    } else {
        "compare-new"
    };
    let first = Message::new(id)
        .with("repair", amount(found.repair))
        .with("new", amount(found.new));
    let renewals = found.renewals.iter().map(|renewal| {
        let said = Message::new("compare-renewal")
            .with("part", renewal.part.as_str())
            .with("left", renewal.left)
            .with("times", renewal.times)
            .with("cost", amount(renewal.cost));
        v.say(&said)
    });
    let assumed = Message::new("compare-assumed").with("pulls", found.pulls_a_year);
    std::iter::once(v.say(&first))
        .chain(renewals)
        .chain([v.say(&assumed)])
        .collect()
}

/// The block on the page.
pub fn section(v: &View) -> Markup {
    let (texts, working) = texts(v);
    html! {
        @if !texts.is_empty() {
            h4 { (v.t("compare-heading")) }
            ul { @for text in &texts { li { (text) } } }
            @if let Some(working) = &working { (show::working(v.p, working)) }
        }
    }
}
