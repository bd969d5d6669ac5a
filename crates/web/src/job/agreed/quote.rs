//! The quote as it stands: its options, sums, what changed, how long it holds.

use calc::Message;
use maud::{Markup, html};
use shop::entry::{EstimateMade, OptionKind, PriceLine, QuoteOption};
use shop::estimate::line_total;
use shop::job::Stamped;
use shop::quote::{
    Replaced, Totals, accepted, bill, changes, is_covered, options, sum_of_option, tax_changed,
    tax_percent,
};

use crate::job::view::View;
use crate::show;

/// What an option is called.
pub fn option_name(v: &View, option: &QuoteOption) -> String {
    if !option.name.trim().is_empty() {
        return option.name.clone();
    }
    v.t(match option.kind {
        OptionKind::Work => "quote-option-work",
        OptionKind::AddOn => "quote-option-add-on",
        OptionKind::Instead => "quote-option-instead",
    })
}

/// What this revision changed against the one before, in words; empty for the first.
pub fn changes_text(v: &View, quote: &EstimateMade) -> Vec<String> {
    let Some(before) = v.job.quote_before() else {
        return Vec::new();
    };
    let told = changes(before, quote);
    if told.is_empty() {
        return vec![v.t("change-none")];
    }
    told.iter().map(|change| v.say(change)).collect()
}

/// What replaced a revision, and which holds now if yet another does.
pub fn replaced_text(v: &View, by: &Replaced) -> String {
    let replaced = Message::new("quote-replaced")
        .with("by", by.by)
        .with("day", show::day(v.day_of(by.at)));
    let mut said = vec![v.say(&replaced)];
    if by.newest != by.by {
        let holds = Message::new("quote-in-force").with("revision", by.newest);
        said.push(v.say(&holds));
    }
    said.join(" ")
}

/// The revisions before the one in force, the newest first, each with its paper.
fn earlier(v: &View) -> Markup {
    let number = v.job.received.body.number;
    let all = &v.job.estimates;
    let newest = v.job.estimate.as_ref().map_or(0, |e| e.body.revision);
    html! {
        @if all.len() > 1 {
            h4 { (v.t("quote-earlier")) }
            ul.papers {
                @for two in all.windows(2).rev() {
                    @let (old, next) = (&two[0].body, &two[1]);
                    @let by = Replaced { by: next.body.revision, at: next.at, newest };
                    @let link = Message::new("paper-link-revision").with("revision", old.revision);
                    li {
                        a href=(format!("/jobs/{number}/quotes/{}.pdf", old.revision)) { (v.say(&link)) }
                        " " (replaced_text(v, &by))
                    }
                }
            }
        }
    }
}

/// The revision in force.
pub fn made(v: &View, e: &Stamped<EstimateMade>) -> Markup {
    let quote = &e.body;
    let number = v.job.received.body.number;
    let title = Message::new("quote-revision").with("revision", quote.revision);
    let ran_out = quote.valid_until.is_some_and(|until| until < v.desk.today);
    let changed = changes_text(v, quote);
    let before = v.job.quote_before();
    html! {
        p { b { (v.say(&title)) }
            @if let Some(until) = quote.valid_until {
                ", " (v.say(&Message::new("quote-valid").with("day", show::day(until))))
            }
        }
        ul.papers { li { a href=(format!("/jobs/{number}/quote.pdf")) { (v.t("paper-link-quote")) } } }
        @if let Some(before) = before {
            p { (v.say(&Message::new("quote-changed").with("before", before.revision))) }
            ul { @for change in &changed { li { (change) } } }
        }
        @if ran_out && v.job.answer.is_none() { p.note { (v.t("quote-ran-out")) } }
        @if let Some(changed) = tax_changed(quote, v.job.card_now(&v.desk)) { p.note { (v.say(&changed)) } }
        @for (at, option) in options(quote).iter().enumerate() { (option_table(v, quote, at, option)) }
        (to_pay(v, quote))
        @if !quote.note.is_empty() { p { (quote.note) } }
        p.pm { (v.stamp(e.at, &e.by)) }
        (earlier(v))
    }
}

fn option_table(v: &View, quote: &EstimateMade, at: usize, option: &QuoteOption) -> Markup {
    let lines: Vec<&PriceLine> = quote.lines.iter().filter(|l| l.option == at).collect();
    let several = !quote.options.is_empty();
    let warranty = v.job.warranty.as_ref().map(|w| &w.body);
    let covers = |line: &PriceLine| {
        let pays = warranty.is_some_and(|w| !w.lines.is_empty() && is_covered(quote, line, w));
        pays.then(|| v.t("quote-line-covered"))
    };
    html! {
        @if several {
            h4 { (option_name(v, option)) }
            @match option.kind {
                OptionKind::Work => {}
                OptionKind::AddOn => { p.hint { (v.t("quote-kind-add-on")) } }
                OptionKind::Instead => { p.hint { (v.t("quote-kind-instead")) } }
            }
        }
        table.stack {
            thead { tr {
                th { (v.t("field-what")) } th { (v.t("field-number")) }
                th.n { (v.t("field-count")) } th.n { (v.t("field-each")) }
                th.n { (v.t("field-tax")) } th.n { (v.t("field-sum")) }
            } }
            tbody {
                @for line in lines {
                    tr {
                        td data-label=(v.t("field-what")) { (line.what) @if let Some(covered) = covers(line) { " (" (covered) ")" } }
                        td data-label=(v.t("field-number")) { (line.number) }
                        td.n data-label=(v.t("field-count")) { (line.count.normalize()) }
                        td.n data-label=(v.t("field-each")) { (format!("{:.2}", line.each)) }
                        td.n data-label=(v.t("field-tax")) { (tax_percent(quote, line).normalize()) " %" }
                        td.n data-label=(v.t("field-sum")) { (format!("{:.2}", line_total(line))) }
                    }
                }
            }
        }
        (sums(v, quote, &sum_of_option(quote, at)))
    }
}

fn sums(v: &View, quote: &EstimateMade, t: &Totals) -> Markup {
    let amount = |d: rust_decimal::Decimal| format!("{:.2} {}", d, quote.currency);
    html! {
        @if let (Some(discount), false) = (&quote.discount, t.discount.is_zero()) {
            @let said = Message::new("quote-discount")
                .with("percent", discount.percent.normalize().to_string())
                .with("reason", discount.reason.as_str());
            p.sum { (v.say(&said)) " " (amount(-t.discount)) }
        }
        @if !t.tax.is_zero() {
            p.sum { (v.t("estimate-net")) " " (amount(t.net)) }
            p.sum { (v.t("quote-tax")) " " (amount(t.tax)) }
        }
        p.sum { (v.t("quote-sum")) " " b { (amount(t.gross)) } }
    }
}

/// What is to be paid for what was accepted; for the repair, before there is an answer.
fn to_pay(v: &View, quote: &EstimateMade) -> Markup {
    let answer = v.job.answer.as_ref().map(|a| &a.body);
    let warranty = v.job.warranty.as_ref().map(|w| &w.body);
    let accepted = accepted(quote, answer);
    let bill = bill(quote, warranty, &accepted);
    let amount = |d: rust_decimal::Decimal| format!("{:.2} {}", d, quote.currency);
    let title = match answer {
        Some(_) => "quote-bill-accepted",
        None => "quote-bill-repair",
    };
    html! {
        @if !quote.options.is_empty() { h4 { (v.t(title)) } }
        @if !bill.covered.is_zero() {
            p.sum { (v.t("estimate-value")) " " (amount(bill.totals.gross)) }
            p.sum { (v.t("estimate-covered")) " " (amount(-bill.covered)) }
        }
        p.sum { (v.t("estimate-total")) " " b.mid { (amount(bill.to_pay)) } }
    }
}
