//! Agreed: warranty verdict, estimate, the customer's answer.

use calc::Message;
use jiff::civil::Date;
use maud::{Markup, html};
use rust_decimal::Decimal;
use shop::entry::{Cover, EstimateMade, PersonKey, PriceLine};
use shop::estimate::{BENCH_MINUTES, hours, labour_working, line_total, parts_for, to_pay, totals};
use shop::job::{AnswerIn, Command, Stage};
use shop::{route, warranty};

use super::names;
use super::view::View;
use crate::forms::errors::reading_key;
use crate::forms::{FieldErrors, Typed, parse_date, parse_money};
use crate::shell::{Choice, Field};
use crate::show;

/// Lines that an estimate form offers beyond the proposed ones.
const SPARE_LINES: usize = 2;

/// The section.
pub fn section(v: &View) -> Markup {
    let open = v.job.is_open(Stage::Agreed) && v.job.answer.is_none();
    html! {
        h3 { (v.t("warranty-heading")) }
        @match &v.job.warranty {
            Some(w) => {
                div.answer {
                    p.mid { (v.t(names::cover(w.body.cover))) }
                    dl.facts {
                        dt { (v.t("field-term")) } dd { (w.body.term) }
                        dt { (v.t("field-evidence")) } dd { (w.body.evidence) }
                    }
                    p.pm { (v.stamp(w.at, &w.by)) }
                    (super::correct::strike(v, w.version))
                }
            }
            None => { @if open { (warranty_form(v)) } }
        }
        h3 { (v.t("estimate-heading")) }
        @if open && v.job.warranty.is_none() { p.hint { (v.t("estimate-after-warranty")) } }
        @if let Some(e) = &v.job.estimate {
            (priced(v, &e.body))
            p.pm { (v.stamp(e.at, &e.by)) }
            (super::correct::strike(v, e.version))
        }
        @if open && v.job.warranty.is_some() && v.job.estimate.is_none() { (estimate_form(v)) }
        @match &v.job.answer {
            Some(a) => {
                div.answer {
                    p.lab { (v.t("answer-heading")) }
                    p.mid { (v.t(if a.body.yes { "answer-yes" } else { "answer-no" })) }
                    p { (v.person(&a.body.name)) ", " (show::day(a.body.on)) }
                    @if !a.body.note.is_empty() { p { (a.body.note) } }
                    (super::correct::strike(v, a.version))
                }
            }
            None => { @if open && v.job.estimate.is_some() && v.job.warranty.is_some() { (answer_form(v)) } }
        }
    }
}

fn received_on(v: &View) -> Date {
    v.job.received.at.to_zoned_datetime(v.zone.clone()).date()
}

fn warranty_form(v: &View) -> Markup {
    let proposal = warranty::propose(v.job, v.model, v.faults, received_on(v));
    let form = v.form("warranty");
    let terms = &v.model.warranty;
    let choices = [Cover::Covered, Cover::NotCovered, Cover::CannotTell].map(|cover| {
        Choice::new(cover_key(cover), v.t(names::cover(cover))).chosen(cover == proposal.cover)
    });
    html! {
        p.hint { (v.t("warranty-proposal")) }
        details {
            summary { (v.t("warranty-terms")) }
            ul {
                li { (v.say(&Message::new("term-months").with("months", terms.months))) }
                @if let Some(pulls) = terms.pulls { li { (v.say(&Message::new("term-pulls").with("limit", pulls))) } }
                @for text in terms.voided_by.iter().chain(&terms.evidence) { li { (text) } }
            }
            p.hint { (terms.source) }
        }
        (v.wrap(&form, "warranty", html! {
            (form.radios(&Field::new("cover", v.t("field-cover")), &choices))
            (form.text(&Field::new("term", v.t("field-term")).value(v.say(&proposal.term))))
            (form.text(&Field::new("evidence", v.t("field-evidence")).value(v.say(&proposal.evidence))))
        }, "button-warranty"))
    }
}

fn cover_key(cover: Cover) -> &'static str {
    match cover {
        Cover::Covered => "covered",
        Cover::NotCovered => "not-covered",
        Cover::CannotTell => "cannot-tell",
    }
}

/// Hands-on minutes of the route to every part that the cause calls for.
fn part_minutes(v: &View) -> f64 {
    let parts = parts_for(v.job, v.model, v.faults);
    let ids: Vec<&str> = parts.iter().map(|part| part.id.as_str()).collect();
    route::to(v.model, &ids).map_or(0.0, |route| route.minutes())
}

/// Lines that the cause and the model's minutes speak for.
fn proposed(v: &View) -> Vec<PriceLine> {
    let parts = parts_for(v.job, v.model, v.faults);
    let minutes = part_minutes(v) + f64::from(BENCH_MINUTES);
    let rate = v
        .desk
        .shelf
        .shop(&v.job.shop_pin())
        .map_or(Decimal::ZERO, |s| s.labour_per_hour);
    let mut lines: Vec<PriceLine> = parts
        .iter()
        .map(|part| PriceLine {
            what: part.name.clone(),
            number: part.number.clone(),
            count: Decimal::ONE,
            each: part.price,
        })
        .collect();
    lines.push(PriceLine {
        what: v.t("estimate-labour"),
        number: String::new(),
        count: hours(minutes),
        each: rate,
    });
    lines
}

fn estimate_form(v: &View) -> Markup {
    let form = v.form("estimate");
    let lines = proposed(v);
    let rows = lines.len() + SPARE_LINES;
    // Each box has a name of its own, so that a line that is left empty stays empty.
    html! {
        p.hint { (v.t("estimate-proposal")) }
        (show::working(v.p, &labour_working(part_minutes(v))))
        (v.wrap(&form, "estimate", html! {
            input type="hidden" name="rows" value=(rows);
            @for i in 0..rows {
                @let line = lines.get(i);
                @let (what, number, count, each) = (reading_key("what", i), reading_key("number", i), reading_key("count", i), reading_key("each", i));
                div.line {
                    (form.text(&Field::new(&what, v.t("field-what")).value(line.map_or("", |l| &l.what))))
                    (form.text(&Field::new(&number, v.t("field-number")).short().value(line.map_or("", |l| &l.number))))
                    (form.number(&Field::new(&count, v.t("field-count")).short().value(line.map_or(String::new(), |l| l.count.to_string()))))
                    (form.number(&Field::new(&each, v.t("field-each")).short().value(line.map_or(String::new(), |l| l.each.to_string()))))
                }
            }
            (form.text(&Field::new("note", v.t("field-note"))))
        }, "button-estimate"))
    }
}

/// The estimate as a table with its sums.
pub fn priced(v: &View, estimate: &EstimateMade) -> Markup {
    let sums = totals(estimate);
    let amount = |d: Decimal| format!("{:.2} {}", d, estimate.currency);
    html! {
        table.stack {
            thead { tr {
                th { (v.t("field-what")) } th { (v.t("field-number")) }
                th.n { (v.t("field-count")) } th.n { (v.t("field-each")) } th.n { (v.t("field-sum")) }
            } }
            tbody {
                @for line in &estimate.lines {
                    tr {
                        td data-label=(v.t("field-what")) { (line.what) }
                        td data-label=(v.t("field-number")) { (line.number) }
                        td.n data-label=(v.t("field-count")) { (line.count.normalize()) }
                        td.n data-label=(v.t("field-each")) { (format!("{:.2}", line.each)) }
                        td.n data-label=(v.t("field-sum")) { (format!("{:.2}", line_total(line))) }
                    }
                }
            }
        }
        @if !sums.tax.is_zero() {
            p.sum { (v.t("estimate-net")) " " (amount(sums.net)) }
            p.sum { (v.say(&Message::new("estimate-tax").with("percent", estimate.tax_percent.normalize().to_string()))) " " (amount(sums.tax)) }
        }
        @let cover = v.job.warranty.as_ref().map(|w| w.body.cover);
        @if cover == Some(Cover::Covered) {
            p.sum { (v.t("estimate-value")) " " (amount(sums.gross)) }
            p.sum { (v.t("estimate-covered")) " " (amount(-sums.gross)) }
        }
        p.sum { (v.t("estimate-total")) " " b.mid { (amount(to_pay(estimate, cover))) } }
        @if !estimate.note.is_empty() { p { (estimate.note) } }
    }
}

fn answer_form(v: &View) -> Markup {
    let form = v.form("answer");
    let choices = [
        Choice::new("yes", v.t("answer-yes")),
        Choice::new("no", v.t("answer-no")),
    ];
    html! {
        h3 { (v.t("answer-heading")) }
        (v.wrap(&form, "answer", html! {
            (form.radios(&Field::new("yes", v.t("field-yes")), &choices))
            (form.text(&Field::new("name", v.t("field-answer-name"))))
            (form.text(&Field::new("on", v.t("field-answer-on")).hint(v.t("hint-date")).short()
                .value(v.desk.today.to_string())))
            (form.text(&Field::new("note", v.t("field-note"))))
        }, "button-answered"))
    }
}

/// The commands of this section's forms. `name` is the key of the name typed into an answer.
pub fn parse(
    kind: &str,
    typed: &Typed,
    v: &View,
    name: Option<PersonKey>,
    errors: &mut FieldErrors,
) -> Option<Command> {
    let text = |name| typed.get(name).to_owned();
    Some(match kind {
        "warranty" => {
            let covers = [Cover::Covered, Cover::NotCovered, Cover::CannotTell];
            let Some(cover) = covers
                .into_iter()
                .find(|c| cover_key(*c) == typed.get("cover"))
            else {
                errors.add("cover", Message::new("refuse-cover"));
                return None;
            };
            Command::JudgeWarranty {
                cover,
                term: text("term"),
                evidence: text("evidence"),
            }
        }
        "estimate" => Command::Estimate {
            lines: lines(typed, v, errors),
            note: text("note"),
        },
        "answer" => Command::Answer(AnswerIn {
            yes: match typed.get("yes") {
                "yes" => Some(true),
                "no" => Some(false),
                _ => None,
            },
            name,
            received: received_on(v),
            on: typed
                .filled("on")
                .and_then(|raw| errors.keep("on", v.t("field-answer-on"), parse_date(raw))),
            note: text("note"),
        }),
        _ => return None,
    })
}

fn lines(typed: &Typed, v: &View, errors: &mut FieldErrors) -> Vec<PriceLine> {
    // A page never has more rows than this; a forged number must not make us loop.
    // At the prompt the number is not given: every row that has something counts.
    let most = 100;
    let rows = typed.filled("rows").map(str::parse::<usize>);
    let rows = rows.map_or(most, |rows| rows.unwrap_or(0).min(most));
    let mut lines = Vec::new();
    for i in 0..rows {
        let key = |name| reading_key(name, i);
        let boxes = ["what", "number", "count", "each"];
        if boxes.iter().all(|name| typed.filled(&key(name)).is_none()) {
            continue;
        }
        let mut money = |name, label| {
            let field = key(name);
            errors.keep(&field, v.t(label), parse_money(typed.get(&field)))
        };
        let (count, each) = (money("count", "field-count"), money("each", "field-each"));
        lines.push(PriceLine {
            what: typed.get(&key("what")).to_owned(),
            number: typed.get(&key("number")).to_owned(),
            count: count.unwrap_or_default(),
            each: each.unwrap_or_default(),
        });
    }
    lines
}
