//! The customer's answer, option by option.

use calc::Message;
use maud::{Markup, html};
use shop::entry::{AnswerWay, CustomerAnswered, EstimateMade, OptionKind};
use shop::job::{AnswerIn, Command, Stamped};
use shop::quote::{bill, options};

use super::quote::option_name;
use super::received_on;
use crate::forms::errors::reading_key;
use crate::forms::{FieldErrors, Typed, parse_date, parse_time};
use crate::job::names;
use crate::job::post::People;
use crate::job::view::View;
use crate::shell::{Choice, Field};
use crate::show;

const WAYS: [(&str, AnswerWay); 3] = [
    ("counter", AnswerWay::Counter),
    ("telephone", AnswerWay::Telephone),
    ("writing", AnswerWay::Writing),
];

/// The answer that was given.
pub fn given(v: &View, a: &Stamped<CustomerAnswered>) -> Markup {
    let said = |yes: bool| v.t(if yes { "said-yes" } else { "said-no" });
    let quote = v.job.estimate.as_ref().map(|e| &e.body);
    html! {
        div.answer {
            p.lab { (v.t("answer-heading")) }
            p.mid { (v.t(if a.body.yes { "answer-yes" } else { "answer-no" })) }
            @if let (Some(quote), false) = (quote, a.body.options.is_empty()) {
                dl.facts {
                    @for (option, yes) in options(quote).iter().zip(&a.body.options) {
                        dt { (option_name(v, option)) } dd { (said(*yes)) }
                    }
                }
            }
            p { (how(v, &a.body)) }
            @if !a.body.note.is_empty() { p { (a.body.note) } }
            (crate::job::correct::strike(v, a.version))
        }
    }
}

/// Who said it, when, and how.
pub fn how(v: &View, a: &CustomerAnswered) -> String {
    let day = show::day(a.on);
    let mut said = vec![v.person(&a.name)];
    said.push(match a.at {
        Some(at) => format!("{day} {:02}:{:02}", at.hour(), at.minute()),
        None => day,
    });
    said.extend(a.way.map(|way| v.t(names::answer_way(way))));
    let heard = a.to.as_ref().map(|to| {
        let heard = Message::new("answer-to").with("name", v.person(to));
        v.say(&heard)
    });
    said.extend(heard);
    said.join(", ")
}

/// The form.
pub fn form(v: &View) -> Markup {
    let Some(quote) = v.job.estimate.as_ref().map(|e| &e.body) else {
        return html! {};
    };
    let form = v.form("answer");
    let ways = WAYS.map(|(key, way)| Choice::new(key, v.t(names::answer_way(way))));
    let heard = v.p.visitor.who.clone().unwrap_or_default();
    html! {
        h3 { (v.t("answer-heading")) }
        (v.wrap(&form, "answer", html! {
            input type="hidden" name="revision" value=(quote.revision);
            @for (i, (label, yes, no)) in questions(v, quote).into_iter().enumerate() {
                @let key = reading_key("yes", i);
                (form.radios(&Field::new(&key, label), &[Choice::new("yes", yes), Choice::new("no", no)]))
            }
            (form.text(&Field::new("name", v.t("field-answer-name"))))
            (form.text(&Field::new("on", v.t("field-answer-on")).hint(v.t("hint-date")).short()
                .value(v.desk.today.to_string())))
            (form.radios(&Field::new("way", v.t("field-answer-way")), &ways))
            div.line {
                (form.text(&Field::new("heard", v.t("field-answer-heard")).value(heard)))
                (form.text(&Field::new("at", v.t("field-answer-at")).hint(v.t("hint-time")).short()))
            }
            (form.text(&Field::new("note", v.t("field-note"))))
        }, "button-answered"))
    }
}

/// What is asked of each option: the question, its yes, its no.
fn questions(v: &View, quote: &EstimateMade) -> Vec<(String, String, String)> {
    let warranty = v.job.warranty.as_ref().map(|w| &w.body);
    // What is due: the customer says yes to that, not to what the warranty pays.
    let due = |at: usize| {
        let bill = bill(quote, warranty, &[at]);
        let to_pay = format!("{:.2} {}", bill.to_pay, quote.currency);
        if bill.covered.is_zero() {
            return to_pay;
        }
        let covered = format!("{:.2} {}", bill.covered, quote.currency);
        let said = Message::new("answer-due").with("due", to_pay);
        v.say(&said.with("covered", covered))
    };
    let named = |name: String, at: usize| {
        let said = Message::new("answer-option").with("name", name);
        v.say(&said.with("due", due(at)))
    };
    if quote.options.is_empty() {
        let label = named(v.t("field-yes"), 0);
        return vec![(label, v.t("answer-yes"), v.t("answer-no"))];
    }
    let ask = |(at, option): (usize, &shop::entry::QuoteOption)| {
        let label = named(option_name(v, option), at);
        let (yes, no) = match option.kind {
            OptionKind::Work => (v.t("answer-yes"), v.t("answer-no")),
            OptionKind::AddOn | OptionKind::Instead => (v.t("said-yes"), v.t("said-no")),
        };
        (label, yes, no)
    };
    options(quote).iter().enumerate().map(ask).collect()
}

/// The command of the form.
pub fn parse(typed: &Typed, v: &View, people: &People, errors: &mut FieldErrors) -> Command {
    let said = |i| match typed.get(&reading_key("yes", i)) {
        "yes" => Some(true),
        "no" => Some(false),
        _ => None,
    };
    let quote = v.job.estimate.as_ref().map(|e| &e.body);
    let all = quote.map_or(1, |quote| options(quote).len());
    let way = WAYS.iter().find(|(key, _)| *key == typed.get("way"));
    Command::Answer(AnswerIn {
        yes: said(0),
        others: (1..all).map(said).collect(),
        revision: typed.filled("revision").and_then(|raw| raw.parse().ok()),
        way: way.map(|(_, way)| *way),
        // Whoever stores the answer heard it, unless another name was typed.
        to: people.second.clone().or_else(|| people.picked.clone()),
        at: typed
            .filled("at")
            .and_then(|raw| errors.keep("at", v.t("field-answer-at"), parse_time(raw))),
        name: people.typed.clone(),
        received: received_on(v),
        on: typed
            .filled("on")
            .and_then(|raw| errors.keep("on", v.t("field-answer-on"), parse_date(raw))),
        note: typed.get("note").to_owned(),
    })
}
