//! The form of the quote: the repair, what goes along with it, what could be done instead.

use calc::Message;
use calc::working::Working;
use jiff::ToSpan;
use maud::{Markup, html};
use rust_decimal::Decimal;
use shop::entry::{OptionKind, PriceLine, QuoteOption};
use shop::estimate::parts_for;
use shop::job::{Command, QuoteIn};
use shop::quote::{options, proposed};
use shop::repair_or_replace::due_within_a_year;

use super::compared::known;
use super::quote::option_name;
use crate::forms::errors::reading_key;
use crate::forms::{FieldErrors, Typed, parse_date, parse_money};
use crate::job::view::View;
use crate::shell::{Choice, Field, Form};
use crate::show;

/// Lines that an option offers beyond the proposed ones.
const SPARE_LINES: usize = 2;

/// The places of a form for options: as many as there are kinds.
const KINDS: [OptionKind; 3] = [OptionKind::Work, OptionKind::AddOn, OptionKind::Instead];

/// One place of the form.
struct Place {
    kind: OptionKind,
    name: String,
    offered: bool,
    rows: Vec<Row>,
}

/// What stands in the boxes of a line.
#[derive(Default)]
struct Row {
    what: String,
    number: String,
    count: String,
    each: String,
    tax: String,
}

impl Row {
    fn of(line: &PriceLine) -> Self {
        let tax = line.tax_percent.map(|t| t.normalize().to_string());
        Self {
            what: line.what.clone(),
            number: line.number.clone(),
            count: line.count.to_string(),
            each: line.each.to_string(),
            tax: tax.unwrap_or_default(),
        }
    }
}

/// The form of the first quote, or of its next revision.
pub fn form(v: &View) -> Markup {
    if v.job.estimate.is_none() {
        return html! {
            p.hint { (v.t("estimate-proposal")) }
            @if let Some(working) = labour(v) { (show::working(v.p, &working)) }
            (fields(v, "button-estimate"))
        };
    }
    html! {
        details open[v.is_refused("estimate")] {
            summary { (v.t("quote-revise")) }
            p.hint { (v.t("quote-revise-hint")) }
            (fields(v, "button-revision"))
        }
    }
}

/// How the labour for the parts that the cause calls for comes about.
fn labour(v: &View) -> Option<Working> {
    let parts = parts_for(v.job, v.model, v.faults);
    v.tool.times.working(v.model, &parts)
}

fn fields(v: &View, button: &str) -> Markup {
    let form = v.form("estimate");
    let places = KINDS.map(|kind| place(v, kind));
    let mut first = 0;
    let starts = places.iter().map(|place| {
        let start = first;
        first += place.rows.len();
        start
    });
    let starts: Vec<usize> = starts.collect();
    let rows: usize = places.iter().map(|place| place.rows.len()).sum();
    let quote = v.job.estimate.as_ref().map(|e| &e.body);
    let discount = quote.and_then(|q| q.discount.as_ref());
    let days = v.desk.shelf.shop(&v.job.shop_pin());
    let days = i64::from(days.map_or(shop::quote::QUOTE_DAYS, |card| card.quote_days));
    let until = v.desk.today.checked_add(days.days());
    // Each box has a name of its own, so that a line that is left empty stays empty.
    v.wrap(&form, "estimate", html! {
        input type="hidden" name="rows" value=(rows);
        @for (at, place) in places.iter().enumerate() { (option_fields(v, &form, at, place, starts[at])) }
        div.line {
            (form.number(&Field::new("discount", v.t("field-discount")).short().unit("%")
                .value(discount.map_or(String::new(), |d| d.percent.normalize().to_string()))))
            (form.text(&Field::new("discount_reason", v.t("field-discount-reason"))
                .value(discount.map_or("", |d| &d.reason))))
        }
        (form.text(&Field::new("valid_until", v.t("field-valid-until")).hint(v.t("hint-date")).short()
            .value(until.map(|day| day.to_string()).unwrap_or_default())))
        (form.text(&Field::new("note", v.t("field-note")).value(quote.map_or("", |q| &q.note))))
    }, button)
}

/// What a place of the form holds: the revision in force, else what the sheets propose.
fn place(v: &View, kind: OptionKind) -> Place {
    let quote = v.job.estimate.as_ref().map(|e| &e.body);
    let there = quote.and_then(|quote| {
        let all = options(quote);
        let at = all.iter().position(|option| option.kind == kind)?;
        let lines = quote.lines.iter().filter(|line| line.option == at);
        Some((option_name(v, &all[at]), lines.map(Row::of).collect()))
    });
    let offered = there.is_some() || kind == OptionKind::Work;
    let (name, mut rows) = there.unwrap_or_else(|| {
        let option = QuoteOption {
            name: String::new(),
            kind,
        };
        (option_name(v, &option), proposal(v, kind))
    });
    rows.extend((0..SPARE_LINES).map(|_| Row::default()));
    Place {
        kind,
        name,
        offered,
        rows,
    }
}

fn proposal(v: &View, kind: OptionKind) -> Vec<Row> {
    let card = v.desk.shelf.shop(&v.job.shop_pin());
    let per_hour = card.map_or(Decimal::ZERO, |card| card.labour_per_hour);
    let due = due_within_a_year(v.job, &known(v));
    let due = due.as_deref();
    let times = &v.tool.times;
    let lines = proposed(v.job, v.model, v.faults, per_hour, kind, due, times);
    let row = |p: &shop::quote::Proposed| {
        let mut row = Row::of(&p.line);
        if p.part.is_none() {
            row.what = match kind {
                OptionKind::Work | OptionKind::AddOn => v.t("estimate-labour"),
                OptionKind::Instead => v.model.name.clone(),
            };
        }
        // A price that no sheet knows is asked for: an empty box is refused at its line.
        if !p.priced {
            row.each.clear();
        }
        row
    };
    lines.iter().map(row).collect()
}

fn option_fields(v: &View, form: &Form, at: usize, place: &Place, start: usize) -> Markup {
    let name = reading_key("option_name", at);
    let lines = html! {
        (form.text(&Field::new(&name, v.t("field-option-name")).value(&place.name)))
        @for (i, row) in (start..).zip(&place.rows) { (line_fields(v, form, at, i, row)) }
    };
    let (offer, title, hint) = match place.kind {
        OptionKind::Work => return html! { h4 { (v.t("quote-option-work")) } (lines) },
        OptionKind::AddOn => ("offer-2", "offer-add-on", "quote-kind-add-on"),
        OptionKind::Instead => ("offer-3", "offer-instead", "quote-kind-instead"),
    };
    let tick = Choice::new("yes", v.t("offer-yes")).chosen(place.offered);
    html! {
        details open[place.offered || v.is_refused("estimate")] {
            summary { (v.t(title)) }
            p.hint { (v.t(hint)) }
            (form.ticks(&Field::new(offer, v.t(title)), &[tick]))
            (lines)
        }
    }
}

fn line_fields(v: &View, form: &Form, at: usize, i: usize, row: &Row) -> Markup {
    let key = |name| reading_key(name, i);
    let (what, number, count) = (key("what"), key("number"), key("count"));
    let (each, tax) = (key("each"), key("tax"));
    html! {
        div.line {
            input type="hidden" name=(key("option")) value=(at + 1);
            (form.text(&Field::new(&what, v.t("field-what")).value(&row.what)))
            (form.text(&Field::new(&number, v.t("field-number")).short().value(&row.number)))
            (form.number(&Field::new(&count, v.t("field-count")).short().value(&row.count)))
            (form.number(&Field::new(&each, v.t("field-each")).short().value(&row.each)))
            (form.number(&Field::new(&tax, v.t("field-tax-percent")).short().value(&row.tax)))
        }
    }
}

/// The command of the form.
pub fn parse(typed: &Typed, v: &View, errors: &mut FieldErrors) -> Command {
    let offered: Vec<usize> = (0..KINDS.len())
        .filter(|at| is_offered(typed, *at))
        .collect();
    let named = |at: usize| {
        let typed = typed.filled(&reading_key("option_name", at));
        let option = QuoteOption {
            name: typed.unwrap_or_default().to_owned(),
            kind: KINDS[at],
        };
        QuoteOption {
            name: option_name(v, &option),
            ..option
        }
    };
    let mut quote = QuoteIn {
        // The repair alone needs no name: there is nothing to tell it from.
        options: match offered.as_slice() {
            [_] => Vec::new(),
            all => all.iter().map(|at| named(*at)).collect(),
        },
        discount_percent: typed
            .filled("discount")
            .and_then(|raw| errors.keep("discount", v.t("field-discount"), parse_money(raw))),
        discount_reason: typed.get("discount_reason").to_owned(),
        valid_until: typed
            .filled("valid_until")
            .and_then(|raw| errors.keep("valid_until", v.t("field-valid-until"), parse_date(raw))),
        note: typed.get("note").to_owned(),
        ..QuoteIn::default()
    };
    lines(typed, v, &offered, &mut quote, errors);
    Command::Estimate(quote)
}

/// The repair is always offered, the rest where it is ticked.
fn is_offered(typed: &Typed, at: usize) -> bool {
    at == 0 || typed.ticked(&reading_key("offer", at), "yes")
}

fn lines(
    typed: &Typed,
    v: &View,
    offered: &[usize],
    quote: &mut QuoteIn,
    errors: &mut FieldErrors,
) {
    // A page never has more rows than this; a forged number must not make us loop.
    // At the prompt the number is not given: every row that has something counts.
    let most = 100;
    let rows = typed.filled("rows").map(str::parse::<usize>);
    let rows = rows.map_or(most, |rows| rows.unwrap_or(0).min(most));
    for i in 0..rows {
        let key = |name| reading_key(name, i);
        let boxes = ["what", "number", "count", "each", "tax"];
        if boxes.iter().all(|name| typed.filled(&key(name)).is_none()) {
            continue;
        }
        let place = match typed.filled(&key("option")) {
            None => 0,
            Some(raw) => match raw.parse::<usize>() {
                Ok(place) if (1..=KINDS.len()).contains(&place) => place - 1,
                _ => {
                    errors.add(key("what"), Message::new("refuse-option-unknown"));
                    continue;
                }
            },
        };
        // What is not offered stays on the page as it is proposed.
        let Some(option) = offered.iter().position(|at| *at == place) else {
            continue;
        };
        let mut money = |name, label| {
            let field = key(name);
            errors.keep(&field, v.t(label), parse_money(typed.get(&field)))
        };
        let (count, each) = (money("count", "field-count"), money("each", "field-each"));
        let tax = typed.filled(&key("tax"));
        let tax = tax.and_then(|_| money("tax", "field-tax"));
        quote.rows.push(i);
        quote.lines.push(PriceLine {
            what: typed.get(&key("what")).to_owned(),
            number: typed.get(&key("number")).to_owned(),
            count: count.unwrap_or_default(),
            each: each.unwrap_or_default(),
            tax_percent: tax,
            option,
        });
    }
}
