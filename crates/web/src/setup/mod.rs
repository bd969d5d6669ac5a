//! The crew's page at the work place: no job, no login, one hand. From tool, fastener and stick-out to
//! the setting, or a plain refusal.
//!
//! It shows what sheets say and nothing of the record: whoever reaches the server may read it.

mod choice;
mod measure;
mod page;
mod steps;

use axum::Router;
use axum::extract::{RawQuery, State};
use axum::http::StatusCode;
use axum::http::header::{HeaderMap, SET_COOKIE};
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;

use crate::app::App;
use crate::forms::Typed;
use crate::security;
use crate::shell::Page;
use choice::Choice;
use measure::Asked;

/// Where it is. The guard lets everybody read this path and no other.
pub(crate) const PATH: &str = "/setup";

/// Fields that say what is set with what.
const CHOICE: [&str; 4] = ["model", "fastener", "code", "nose"];

/// Longest serial that is shown as it was typed.
const LONGEST_SERIAL: usize = 60;

/// The route of the page.
pub fn routes() -> Router<App> {
    Router::new().route(PATH, get(show))
}

async fn show(
    State(app): State<App>,
    mut p: Page,
    RawQuery(query): RawQuery,
    headers: HeaderMap,
) -> Response {
    // Nobody's page: without the places of the shop and without its people.
    p.visitor.inside = false;
    let asked = Typed::from_body(query.unwrap_or_default().as_bytes());
    let is_asked = CHOICE.iter().any(|field| asked.has(field));
    let last = (!is_asked)
        .then(|| security::last_setup(&headers))
        .flatten();
    let is_remembered = last.is_some();
    let typed = match last {
        Some(last) => Typed::from_body(last.as_bytes()),
        None => asked,
    };
    let shelf = app.store.shelf();
    let desk = app.desk(&shelf);
    let choice = Choice::of(&typed, &shelf);
    let asked = Asked::of(&p, &typed, &choice, &desk);
    let has_errors = !choice.errors.is_empty() || !asked.errors.is_empty();
    let view = page::View {
        p: &p,
        typed: &typed,
        desk,
        choice: &choice,
        asked: &asked,
        is_remembered,
    };
    let body = Html(view.whole().into_string());
    let status = if has_errors {
        StatusCode::UNPROCESSABLE_ENTITY
    } else {
        StatusCode::OK
    };
    let mut answer = (status, body).into_response();
    if !has_errors && choice.sheets().is_some() && !is_remembered {
        let kept = security::keep_setup(&choice.query(&typed));
        answer.headers_mut().append(SET_COOKIE, kept);
    }
    answer
}

/// The serial as typed or as the card's code brought it; nothing looks it up here.
fn serial(typed: &Typed) -> Option<&str> {
    typed
        .filled("tool")
        .filter(|serial| serial.chars().count() <= LONGEST_SERIAL)
}
