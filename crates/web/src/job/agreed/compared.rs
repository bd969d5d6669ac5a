//! Repair or replace: what a year costs either way, where the sheet knows what a new tool costs.

use calc::Message;
use calc::working::{Working, fixed};
use maud::{Markup, html};
use rust_decimal::Decimal;
use shop::entry::CompareRule;
use shop::quote::as_issued;
use shop::repair_or_replace::{Compared, Known, compare, of_a_year};

use crate::job::view::View;
use crate::show;

/// What the comparison of the quote stands on.
pub fn known<'a>(v: &'a View) -> Known<'a> {
    let card = v.desk.shelf.shop(&v.job.shop_pin());
    Known {
        model: v.model,
        earlier: &v.tool.earlier,
        per_hour: card.map_or(Decimal::ZERO, |card| card.labour_per_hour),
        come_backs: v.tool.come_backs,
        desk: &v.desk,
    }
}

/// The comparison in words, first line first, from the job as it stood when the quote was issued; empty where the
/// sheet does not know.
pub fn texts(v: &View) -> (Vec<String>, Option<Working>) {
    let Some(quote) = v.job.estimate.as_ref().map(|e| &e.body) else {
        return (Vec::new(), None);
    };
    let Some(issued) = as_issued(v.entries, v.job) else {
        return (Vec::new(), None);
    };
    let currency = quote.currency.as_str();
    let said = match quote.compare_rule {
        CompareRule::OfAYear => of_a_year::compare(&issued, quote, &known(v))
            .map(|told| told.map(|found| (said_of_a_year(v, &found, currency), found.working))),
        CompareRule::OverALife => compare(&issued, quote, &known(v))
            .map(|told| told.map(|found| (said(v, &found, currency), found.working))),
    };
    match said {
        None => (Vec::new(), None),
        Some(Err(why)) => (vec![v.say(&why)], None),
        Some(Ok((texts, working))) => (texts, Some(working)),
    }
}

fn said(v: &View, found: &Compared, currency: &str) -> Vec<String> {
    let amount = |d: Decimal| format!("{d:.2} {currency}");
    let years = |years: f64| fixed(years, usize::from(years.fract() != 0.0));
    let id = if found.repair <= found.new {
        "compare-life-repair"
    } else {
        "compare-life-new"
    };
    let first = Message::new(id)
        .with("repair", amount(found.repair))
        .with("new", amount(found.new))
        .with("years", years(found.years));
    let even = found
        .even_years
        .map(|even| Message::new("compare-even").with("years", fixed(even, 1)));
    let renewals = found.renewals.iter().map(|of| {
        let by = if of.gauged {
            "compare-part-gauged"
        } else {
            "compare-part-counted"
        };
        Message::new(by)
            .with("part", of.part.as_str())
            .with("left", of.left)
            .with("times", of.times)
            .with("cost", amount(of.cost))
            .with("timesnew", of.times_new)
            .with("costnew", amount(of.cost_new))
    });
    let assumed = Message::new("compare-life-assumed").with("pulls", found.pulls_a_year);
    let all = [first].into_iter().chain(even).chain(renewals);
    all.chain([assumed]).map(|said| v.say(&said)).collect()
}

fn said_of_a_year(v: &View, found: &of_a_year::Compared, currency: &str) -> Vec<String> {
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
