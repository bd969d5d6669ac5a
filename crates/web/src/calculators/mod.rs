//! Calculators: a page for each method whose input a plain form can take, made from its contract.
//!
//! Nothing is kept: the form is sent with GET, so that a result has an address.

mod allowed;
mod answer;
mod input;
mod read;
mod unit;

use axum::Router;
use axum::extract::{Path, RawQuery};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;
use maud::{Markup, html};
use methods::MethodCard;

use crate::app::App;
use crate::forms::{FieldErrors, Typed};
use crate::shell::{self, Choice, Field, Form, Nav, Page, error_page};
use input::{Input, Takes};

/// Where they are.
pub const PATH: &str = "/calculators";

/// Subjects with their methods, in the order of a job. What stands in none comes last.
const SUBJECTS: &[(&str, &[&str])] = &[
    (
        "calculators-pull",
        &[
            "pull-pressure",
            "hydraulic-cylinder",
            "air-hydraulic-intensifier",
            "ball-screw-drive",
        ],
    ),
    (
        "calculators-energy",
        &["pull-work", "battery-pulls", "battery-energy"],
    ),
    (
        "calculators-air",
        &[
            "air-line-darcy",
            "air-line-metric-rule",
            "air-line-harris-rule",
        ],
    ),
    (
        "calculators-torque",
        &["torque-adapter", "bolt-preload", "power-screw-torque"],
    ),
    (
        "calculators-setting",
        &[
            "unit-conversion",
            "grip-code-select",
            "grip-code-range",
            "screw-stop-setting",
            "blind-rivet-strength",
        ],
    ),
];

/// The routes of the calculators.
pub fn routes() -> Router<App> {
    Router::new()
        .route(PATH, get(list))
        .route("/calculators/{method}", get(calculator))
}

/// The methods that have a page, by subject.
fn by_subject() -> Vec<(&'static str, Vec<&'static MethodCard>)> {
    let offered = |card: &&MethodCard| input::of_card(card).is_some();
    let mut subjects: Vec<(&str, Vec<&MethodCard>)> = SUBJECTS
        .iter()
        .map(|(subject, names)| {
            let cards = names.iter().filter_map(|name| methods::find(name));
            (*subject, cards.filter(offered).collect())
        })
        .collect();
    let placed = |card: &&MethodCard| SUBJECTS.iter().any(|(_, names)| names.contains(&card.name));
    let others = methods::all().iter().filter(offered);
    let others = others.filter(|card| !placed(card)).collect();
    subjects.push(("calculators-measuring", others));
    subjects
}

/// What a method does, as a heading.
fn heading(p: &Page, card: &MethodCard) -> String {
    p.say(&card.about()).trim_end_matches('.').to_owned()
}

async fn list(p: Page) -> Response {
    let p = p.at(Nav::Sheets);
    let title = p.t("calculators-title");
    let body = html! {
        div.plain {
            h1 { (title) }
            @for (subject, cards) in by_subject() {
                h2 { (p.t(subject)) }
                ul.cards {
                    @for card in cards {
                        li { h3 { a href=(format!("{PATH}/{}", card.name)) { (heading(&p, card)) } } }
                    }
                }
            }
        }
    };
    Html(shell::page(&p, &title, body).into_string()).into_response()
}

async fn calculator(
    p: Page,
    Path(method): Path<String>,
    RawQuery(query): RawQuery,
) -> Result<Response, Response> {
    let p = p.at(Nav::Sheets);
    let card = methods::find(&method);
    let found = card.and_then(|card| Some((card, input::of_card(card)?)));
    let Some((card, inputs)) = found else {
        return Err(error_page(&p, StatusCode::NOT_FOUND, None));
    };
    let typed = Typed::from_body(query.unwrap_or_default().as_bytes());
    let mut errors = FieldErrors::new();
    let result = reckon(card, &inputs, &typed, &mut errors);
    let title = heading(&p, card);
    let form = Form::new(&p, "calculator", &typed, &errors);
    let body = html! {
        div.plain {
            p.kick { a href=(PATH) { (p.t("calculators-title")) } }
            h1 { (title) }
            (result.as_ref().map_or(html! {}, |found| answer::answer(&p, card, &typed, found)))
            form #calculator method="get" action=(format!("{PATH}/{}", card.name)) novalidate autocomplete="off" {
                @for input in &inputs { (field(&p, &form, input)) }
                div.buttons { button { (p.t("calculator-go")) } }
            }
            @if result.is_none() { (answer::formula(&p, card)) }
        }
    };
    let status = if errors.is_empty() {
        StatusCode::OK
    } else {
        StatusCode::UNPROCESSABLE_ENTITY
    };
    let page = shell::page_with_errors(&p, &title, "calculator", &errors, body);
    Ok((status, Html(page.into_string())).into_response())
}

/// What the method says to what was typed; `None` if nothing was, or something is wrong with it.
fn reckon(
    card: &MethodCard,
    inputs: &[Input],
    typed: &Typed,
    errors: &mut FieldErrors,
) -> Option<methods::Answer> {
    if !inputs.iter().any(|input| typed.has(input.key)) {
        return None;
    }
    let values = read::read(inputs, typed, errors);
    if !errors.is_empty() {
        return None;
    }
    let found = (card.run)(&values);
    found
        .map_err(|error| read::refused(inputs, &error, errors))
        .ok()
}

fn field(p: &Page, form: &Form, input: &Input) -> Markup {
    let field = Field::new(input.key, &*input.label).value(&*input.default);
    let may_stay_empty = !input.is_required && input.default.is_empty();
    let empty = may_stay_empty.then(|| p.t("calculator-optional"));
    let hints: Vec<String> = input.hint.iter().cloned().chain(empty).collect();
    let field = if hints.is_empty() {
        field
    } else {
        field.hint(format!("{}.", hints.join(". ").trim_end_matches('.')))
    };
    let number = |is_signed: bool| {
        let field = field.clone().short();
        let field = if input.unit.is_empty() {
            field
        } else {
            field.unit(input.unit)
        };
        form.number(&if is_signed { field.signed() } else { field })
    };
    let choices = |words: &[(String, String)]| -> Vec<Choice> {
        let choice = |(value, label): &(String, String)| {
            Choice::new(value, label).chosen(*value == input.default)
        };
        words.iter().map(choice).collect()
    };
    match &input.takes {
        Takes::Number { is_signed } => number(*is_signed),
        // A pad of figures has no letters.
        Takes::NumberOrInfinity => number(true),
        Takes::Count => form.count(&field.short()),
        Takes::Truth => {
            let words = [("true", "calculator-yes"), ("false", "calculator-no")];
            let words = words.map(|(value, text)| (value.to_owned(), p.t(text)));
            form.radios(&field, &choices(&words))
        }
        Takes::Word(words) => {
            let few = words.len() <= 4;
            let words: Vec<_> = words
                .iter()
                .map(|w| (w.clone(), w.replace('-', " ")))
                .collect();
            if few {
                form.radios(&field, &choices(&words))
            } else {
                form.select(&field, &choices(&words))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_flat_method_has_its_place_once() {
        for (_, names) in SUBJECTS {
            for name in *names {
                let card = methods::find(name).unwrap_or_else(|| panic!("{name}"));
                assert!(input::of_card(card).is_some(), "{name} cannot be a page");
            }
        }
        let listed: Vec<&str> = by_subject()
            .iter()
            .flat_map(|(_, cards)| cards.iter().map(|card| card.name))
            .collect();
        let once: BTreeSet<&str> = listed.iter().copied().collect();
        assert_eq!(listed.len(), once.len());
        let flat = methods::all()
            .iter()
            .filter(|card| input::of_card(card).is_some());
        assert_eq!(flat.count(), listed.len());
        assert!(listed.len() > 20, "{listed:?}");
    }
}
