//! Repair or replace: what a year costs either way, where the sheet knows what a new tool costs.

use calc::Message;
use calc::working::{Working, fixed};
use maud::{Markup, html};
use rust_decimal::Decimal;
use shop::entry::CompareRule;
use shop::quote::as_issued;
use shop::repair_or_replace::{Compared, Known, Renewals, compare, of_a_year};

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
        CompareRule::AsOffered => compare(&issued, quote, &known(v))
            .map(|told| told.map(|found| (said_as_offered(v, &found, currency), found.working))),
    };
    match said {
        None => (Vec::new(), None),
        Some(Err(why)) => (vec![v.say(&why)], None),
        Some(Ok((texts, working))) => (texts, Some(working)),
    }
}

/// What differs, first; what both cost alike, as a remark after it.
fn said_as_offered(v: &View, found: &Compared, currency: &str) -> Vec<String> {
    let amount = |d: Decimal| amount(d, currency);
    let id = if found.repair_beside <= found.new_beside {
        "compare-beside-repair"
    } else {
        "compare-beside-new"
    };
    let first = Message::new(id)
        .with("repair", amount(found.repair_beside))
        .with("new", amount(found.new_beside))
        .with("years", years(found.years));
    let price = if found.is_offered {
        "compare-price-offered"
    } else {
        "compare-price-listed"
    };
    let prices = Message::new(price)
        .with("paid", amount(found.paid))
        .with("price", amount(found.price));
    let differs = |of: &&Renewals| of.times != of.times_new;
    let renewals = found.renewals.iter().filter(differs);
    let renewals = renewals.map(|of| renewal(of, currency));
    let both = found.renewals.iter();
    let both = both.filter(|of| of.times.min(of.times_new) > 0);
    let both: Vec<&str> = both.map(|of| of.part.as_str()).collect();
    let alike = (!both.is_empty()).then(|| {
        Message::new("compare-alike")
            .with("cost", amount(found.alike))
            .with("parts", both.join(", "))
    });
    let all = [first, prices].into_iter().chain(even(found));
    let all = all.chain(renewals).chain(alike).chain([assumed(found)]);
    all.map(|said| v.say(&said)).collect()
}

/// As quotes were compared that counted the new tool at the price of the sheet: all that a year costs.
fn said(v: &View, found: &Compared, currency: &str) -> Vec<String> {
    let id = if found.repair <= found.new {
        "compare-life-repair"
    } else {
        "compare-life-new"
    };
    let first = Message::new(id)
        .with("repair", amount(found.repair, currency))
        .with("new", amount(found.new, currency))
        .with("years", years(found.years));
    let renewals = found.renewals.iter().map(|of| renewal(of, currency));
    let all = [first].into_iter().chain(even(found)).chain(renewals);
    all.chain([assumed(found)])
        .map(|said| v.say(&said))
        .collect()
}

fn amount(d: Decimal, currency: &str) -> String {
    format!("{d:.2} {currency}")
}

fn years(years: f64) -> String {
    fixed(years, usize::from(years.fract() != 0.0))
}

/// How long the repaired tool must last; nothing where that is no time that could be told.
fn even(found: &Compared) -> Option<Message> {
    let even = found.even_years.map(|even| fixed(even, 1));
    let even = even.filter(|even| *even != fixed(0.0, 1))?;
    Some(Message::new("compare-even").with("years", even))
}

fn renewal(of: &Renewals, currency: &str) -> Message {
    let by = if of.gauged {
        "compare-part-gauged"
    } else {
        "compare-part-counted"
    };
    Message::new(by)
        .with("part", of.part.as_str())
        .with("left", of.left)
        .with("times", of.times)
        .with("cost", amount(of.cost, currency))
        .with("timesnew", of.times_new)
        .with("costnew", amount(of.cost_new, currency))
}

fn assumed(found: &Compared) -> Message {
    Message::new("compare-life-assumed").with("pulls", found.pulls_a_year)
}

fn said_of_a_year(v: &View, found: &of_a_year::Compared, currency: &str) -> Vec<String> {
    let amount = |d: Decimal| amount(d, currency);
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
