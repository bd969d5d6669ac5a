//! Every cause of a drive: how often the sheet says, how often it was, and what the fault-finder reckons with.

use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use calc::Message;
use calc::learned_share::Cases;
use maud::{Markup, html};
use shop::entry::LearntNumber;
use shop::learning::{Counted, Learnt, State};
use shop::sheet::{Drive, UNLISTED};

use super::{ALL, Place, key};
use crate::app::App;
use crate::forms::{FieldErrors, Typed};
use crate::job::names;
use crate::shell::{self, Field, Form, Page, error_page, page_with_errors};

/// A form that was refused.
pub type Refused<'a> = Option<(&'a Typed, &'a FieldErrors)>;

/// How many causes are shown before the fold.
const SHOWN: usize = 12;

/// The page where no fault model is on the shelf.
pub fn empty(p: &Page) -> Response {
    let title = p.t("learned-title");
    let body = html! { div.plain { h1 { (title) } (super::others(p, super::PATH)) p.empty { (p.t("learned-no-model")) } } };
    Html(shell::page(p, &title, body).into_string()).into_response()
}

/// The page.
pub async fn page(
    app: &App,
    p: &Page,
    place: &Place,
    status: StatusCode,
    refused: Refused<'_>,
) -> Result<Response, Response> {
    let not_here = || error_page(p, StatusCode::NOT_FOUND, None);
    let faults = place.faults().ok_or_else(not_here)?;
    let counted = &place.counted(app, faults);
    let title = p.t("learned-title");
    let mut rates: Vec<&Learnt> = counted.numbers.iter().filter(is_rate).collect();
    rates.sort_by(|a, b| b.share().total_cmp(&a.share()));
    let moved = counted.numbers.iter();
    let mut moved: Vec<&Learnt> = moved
        .filter(|n| !is_rate(n) && n.state() != State::Sheet)
        .collect();
    moved.sort_by(|a, b| far(b).total_cmp(&far(a)));
    let back: u32 = counted.came_back.iter().map(|(_, cases)| cases.yes).sum();
    let body = html! {
        div.plain {
            h1 { (title) }
            (super::others(p, super::PATH))
            p.links {
                @for drive in Drive::ALL {
                    @let path = format!("{}/{}/{}", super::PATH, faults.id, drive.key());
                    @if drive == place.drive { b aria-current="page" { (p.t(names::drive(drive))) } " " }
                    @else { a href=(path) { (p.t(names::drive(drive))) } " " }
                }
            }
            div.answer {
                p.lab { (p.t("learned-jobs")) }
                p.big { (counted.jobs) }
                p.pm { (p.say(&Message::new("learned-came-back").with("count", back))) }
            }
            p.hint {
                (p.say(&Message::new("learned-weight")
                    .number("jobs", faults.learning.prior_jobs, 0)
                    .number("answers", faults.learning.prior_answers, 0)
                    .with("days", faults.learning.come_back_days)
                    .with("pulls", faults.learning.come_back_pulls)))
            }
            h2 { (p.t("learned-rates")) }
            (table(p, place, counted, &rates[..rates.len().min(SHOWN)]))
            @if rates.len() > SHOWN {
                details {
                    summary { (p.say(&Message::new("learned-more").with("count", rates.len() - SHOWN))) }
                    (table(p, place, counted, &rates[SHOWN..]))
                }
            }
            h2 { (p.t("learned-chances")) }
            @if moved.is_empty() { p.empty { (p.t("learned-no-chances")) } }
            @else { (table(p, place, counted, &moved[..moved.len().min(SHOWN)])) }
            @if moved.len() > SHOWN {
                details {
                    summary { (p.say(&Message::new("learned-more").with("count", moved.len() - SHOWN))) }
                    (table(p, place, counted, &moved[SHOWN..]))
                }
            }
            (anew(p, place, refused))
        }
    };
    let none = FieldErrors::new();
    let errors = refused.map_or(&none, |(_, errors)| errors);
    let form = refused.map_or("", |(typed, _)| typed.get("form"));
    let page = page_with_errors(p, &title, form, errors, body);
    Ok((status, Html(page.into_string())).into_response())
}

fn is_rate(number: &&Learnt) -> bool {
    matches!(number.number, LearntNumber::Rate { .. })
}

/// How far a number was moved.
fn far(number: &Learnt) -> f64 {
    (number.share() - number.prior).abs()
}

/// Numbers, each with the way to its page.
pub fn table(p: &Page, place: &Place, counted: &Counted, numbers: &[&Learnt]) -> Markup {
    let are_rates = numbers.first().is_some_and(is_rate);
    html! {
        table.stack {
            thead { tr {
                th { (p.t("learned-what")) } th.n { (p.t("learned-sheet")) } th.n { (p.t("learned-own")) }
                th.n { (p.t("learned-now")) }
                @if are_rates { th.n { (p.t("learned-back")) } }
            } }
            tbody {
                @for number in numbers {
                    tr {
                        td data-label=(p.t("learned-what")) {
                            a href=(format!("{}/{}", place.path(), key::text(&number.number))) { (what(p, place, &number.number)) }
                        }
                        td.n data-label=(p.t("learned-sheet")) { (percent(number.prior)) }
                        td.n data-label=(p.t("learned-own")) { (own(p, number.cases)) }
                        td.n data-label=(p.t("learned-now")) {
                            b { (percent(number.share())) }
                            @if number.state() == State::Pinned { " " span.v { (p.t("learned-pinned")) } }
                        }
                        @if let LearntNumber::Rate { cause, .. } = &number.number {
                            td.n data-label=(p.t("learned-back")) { (came_back(p, counted, cause)) }
                        }
                    }
                }
            }
        }
    }
}

/// A share in per cent.
pub fn percent(share: f64) -> String {
    format!("{:.1} %", share * 100.0)
}

fn own(p: &Page, cases: Cases) -> String {
    match cases.all {
        0 => "–".to_owned(),
        all => p.say(
            &Message::new("learned-of")
                .with("yes", cases.yes)
                .with("all", all),
        ),
    }
}

fn came_back(p: &Page, counted: &Counted, cause: &str) -> String {
    let found = counted.came_back.iter().find(|(id, _)| *id == cause);
    own(p, found.map_or(Cases::default(), |(_, cases)| *cases))
}

/// What a number is, in words.
pub fn what(p: &Page, place: &Place, number: &LearntNumber) -> String {
    let faults = place.faults();
    let cause = |id: &str| match faults.and_then(|f| f.cause(id)) {
        Some(cause) => cause.text.clone(),
        None if id == UNLISTED => p.t("cause-unlisted"),
        None => id.to_owned(),
    };
    let check = |id: &str| {
        faults
            .and_then(|f| f.check(id))
            .map_or(id.to_owned(), |c| c.text.clone())
    };
    match number {
        LearntNumber::Rate { cause: id, on } => match place.drive.key() == on {
            true => cause(id),
            false => p.say(
                &Message::new("learned-on")
                    .with("cause", cause(id))
                    .with("model", on.as_str()),
            ),
        },
        LearntNumber::Shows { cause: id, symptom } => {
            let symptom = faults
                .and_then(|f| f.symptom(symptom))
                .map_or(symptom.clone(), |s| s.text.clone());
            p.say(
                &Message::new("learned-shows")
                    .with("cause", cause(id))
                    .with("symptom", symptom),
            )
        }
        LearntNumber::Yes {
            check: of,
            cause: id,
        } => p.say(
            &Message::new("learned-yes")
                .with("check", check(of))
                .with("cause", cause(id)),
        ),
        LearntNumber::FalseAlarm { check: of } => {
            p.say(&Message::new("learned-alarm").with("check", check(of)))
        }
    }
}

fn anew(p: &Page, place: &Place, refused: Refused) -> Markup {
    let mine = refused.filter(|(typed, _)| typed.get("form") == "reset-all");
    let form = match mine {
        Some((typed, errors)) => Form::new(p, "reset-all", typed, errors),
        None => Form::blank(p, "reset-all"),
    };
    html! {
        details open[mine.is_some()] {
            summary { (p.t("learned-anew-summary")) }
            p.hint { (p.t("learned-anew-hint")) }
            (form.wrap(&format!("{}/{ALL}/reset", place.path()), None, html! {
                (form.text(&Field::new("reason", p.t("field-learned-reason"))))
                button { (p.t("button-learned-anew")) }
            }))
        }
    }
}
