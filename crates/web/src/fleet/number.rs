//! One number: how sheet and counts make it, and what a manager may do with it.

use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use calc::Message;
use maud::{Markup, html};
use shop::entry::LearntNumber;
use shop::learning::{Counted, Learnt, Ruling, State};

use super::learned::{Refused, percent, table, what};
use super::{Place, key};
use crate::app::{App, failed};
use crate::forms::FieldErrors;
use crate::shell::{Field, Form, Page, error_page, page_with_errors};
use crate::show;

/// The page.
pub async fn page(
    app: &App,
    p: &Page,
    place: &Place,
    address: &str,
    status: StatusCode,
    refused: Refused<'_>,
) -> Result<Response, Response> {
    let not_here = || error_page(p, StatusCode::NOT_FOUND, None);
    let wanted = key::parse(address).ok_or_else(not_here)?;
    let counted = place.counted(app, place.faults().ok_or_else(not_here)?);
    let mut numbers = counted.numbers.iter();
    let number = numbers.find(|n| n.number == wanted).ok_or_else(not_here)?;
    let names = app.store.names().await.map_err(failed)?;
    let title = what(p, place, &number.number);
    let body = html! {
        div.plain {
            p { a href=(place.path()) { (p.t("learned-title")) } }
            h1 { (title) }
            (answer(p, number))
            @if let Some(ruling) = &number.ruling {
                @let by = names.get(&ruling.by).cloned().unwrap_or_else(|| p.t("name-erased"));
                (said(app, p, ruling, &by))
            }
            (forms(p, place, address, number, refused))
            @let of_cause = of_cause(&counted, &number.number);
            @if !of_cause.is_empty() {
                h2 { (p.t("learned-of-cause")) }
                (table(p, place, &counted, &of_cause))
            }
        }
    };
    let none = FieldErrors::new();
    let errors = refused.map_or(&none, |(_, errors)| errors);
    let form = refused.map_or("", |(typed, _)| typed.get("form"));
    let page = page_with_errors(p, &title, form, errors, body);
    Ok((status, Html(page.into_string())).into_response())
}

/// What the cause of a rate shows, and how checks answer to it and without it.
fn of_cause<'a>(counted: &'a Counted, rate: &LearntNumber) -> Vec<&'a Learnt> {
    let LearntNumber::Rate { cause: wanted, .. } = rate else {
        return Vec::new();
    };
    let asks = |id: &str| {
        counted.numbers.iter().any(|n| match &n.number {
            LearntNumber::Yes { check, cause } => check == id && cause == wanted,
            _ => false,
        })
    };
    let is_of_it = |n: &&Learnt| match &n.number {
        LearntNumber::Rate { .. } => false,
        LearntNumber::Shows { cause, .. } | LearntNumber::Yes { cause, .. } => cause == wanted,
        LearntNumber::FalseAlarm { check } => asks(check),
    };
    counted.numbers.iter().filter(is_of_it).collect()
}

fn answer(p: &Page, number: &Learnt) -> Markup {
    let state = match number.state() {
        State::Sheet => "learned-state-sheet",
        State::Learned => "learned-state-learned",
        State::Pinned => "learned-state-pinned",
    };
    html! {
        div.answer {
            p.lab { (p.t("learned-now")) }
            p.big { (percent(number.share())) }
            p.pm {
                (p.say(&Message::new(state)
                    .with("sheet", percent(number.prior))
                    .with("yes", number.cases.yes)
                    .with("all", number.cases.all)))
            }
            @if let Some(working) = number.working() { (show::working(p, &working)) }
        }
    }
}

fn said(app: &App, p: &Page, ruling: &Ruling, by: &str) -> Markup {
    html! {
        p.note {
            @if let Some(value) = ruling.pinned {
                b { (p.say(&Message::new("learned-held").with("value", percent(value)))) } " "
            }
            @if let Some(since) = ruling.since {
                b { (p.say(&Message::new("learned-since").with("when", show::moment(since, &app.zone)))) } " "
            }
            @if ruling.pinned.is_none() && ruling.since.is_none() { b { (p.t("learned-released")) } " " }
            (ruling.reason)
            small { " " (by) ", " (show::moment(ruling.at, &app.zone)) }
        }
    }
}

fn forms(p: &Page, place: &Place, address: &str, number: &Learnt, refused: Refused) -> Markup {
    let path = format!("{}/{address}", place.path());
    let is_pinned = number.state() == State::Pinned;
    let one = |act: &'static str, summary: &'static str, button: &'static str, fields: Markup| {
        let mine = refused.filter(|(typed, _)| typed.get("form") == act);
        let form = match mine {
            Some((typed, errors)) => Form::new(p, act, typed, errors),
            None => Form::blank(p, act),
        };
        html! {
            details open[mine.is_some()] {
                summary { (p.t(summary)) }
                (form.wrap(&format!("{path}/{act}"), None, html! {
                    (fields)
                    (form.text(&Field::new("reason", p.t("field-learned-reason"))))
                    button { (p.t(button)) }
                }))
            }
        }
    };
    let value = {
        let mine = refused.filter(|(typed, _)| typed.get("form") == "pin");
        let form = match mine {
            Some((typed, errors)) => Form::new(p, "pin", typed, errors),
            None => Form::blank(p, "pin"),
        };
        let field = Field::new("value", p.t("field-learned-value"));
        // A rate is of a drive or a model; a chance is the sheet's one for all.
        let field = match number.number {
            LearntNumber::Rate { .. } => field,
            _ => field.hint(p.t("learned-pin-every-drive")),
        };
        form.text(&field.unit("%").short())
    };
    html! {
        (one("pin", "learned-pin-summary", "button-learned-pin", value))
        @if is_pinned { (one("release", "learned-release-summary", "button-learned-release", html! {})) }
        (one("reset", "learned-reset-summary", "button-learned-reset", html! {}))
    }
}
