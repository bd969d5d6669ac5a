//! Vibration and noise of a day with several tools. Everything is asked for in the address; nothing is kept.

mod answer;
mod question;

use axum::extract::{RawQuery, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use maud::html;

use crate::app::App;
use crate::forms::Typed;
use crate::shell::{Nav, Page, page_with_errors};

/// Where it is.
pub(super) const PATH: &str = "/fleet/exposure";

/// The page.
pub(super) async fn show(State(app): State<App>, p: Page, RawQuery(query): RawQuery) -> Response {
    let p = p.at(Nav::Fleet);
    let typed = Typed::from_body(query.unwrap_or_default().as_bytes());
    let shelf = app.store.shelf();
    let (uses, errors) = question::read(&p, &shelf, &typed);
    let title = p.t("exposure-title");
    let body = html! {
        div.plain {
            (super::others(&p, PATH))
            h1 { (title) }
            @if errors.is_empty() && !uses.is_empty() { (answer::answer(&p, &uses)) }
            p.warn { (p.t("exposure-caution")) small { (p.t("exposure-source")) } }
            (question::form(&p, &shelf, &typed, &errors))
        }
    };
    let status = if errors.is_empty() {
        StatusCode::OK
    } else {
        StatusCode::UNPROCESSABLE_ENTITY
    };
    let page = page_with_errors(&p, &title, question::FORM, &errors, body);
    (status, Html(page.into_string())).into_response()
}
