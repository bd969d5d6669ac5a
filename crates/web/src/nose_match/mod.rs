//! Nose match: which set fits, what a tool can set, what looks the same, what must be bought.
//!
//! Everything is asked for in the address, so that a page can be kept, sent and linked to.

mod answer;
mod question;
mod reasons;
mod sale;
mod sizes;
mod twins;

use axum::Router;
use axum::extract::{RawQuery, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;
use maud::html;
use shop::nose_match::best_caliper;
use shop::sheet::NoseSet;

use crate::app::App;
use crate::forms::Typed;
use crate::shell::{Nav, Page, page_with_errors};

pub(crate) use reasons::reasons;

/// Where it is.
pub(crate) const PATH: &str = "/match";

/// The route of the page.
pub fn routes() -> Router<App> {
    Router::new().route(PATH, get(show))
}

/// The page for one tool and one fastener (none if empty), and the sets that are held.
pub(crate) fn path_for(model: &str, fastener: &str, held: &[&NoseSet]) -> String {
    let mut query = form_urlencoded::Serializer::new(String::new());
    query.append_pair("model", model);
    if !fastener.is_empty() {
        query.append_pair("fastener", fastener);
    }
    query.extend_pairs(held.iter().map(|nose| ("held", &nose.id)));
    format!("{PATH}?{}", query.finish())
}

async fn show(State(app): State<App>, p: Page, RawQuery(query): RawQuery) -> Response {
    let p = p.at(Nav::Sheets);
    let typed = Typed::from_body(query.unwrap_or_default().as_bytes());
    let shelf = app.store.shelf();
    let (_, today) = app.now();
    let (asked, mut errors) = question::read(&shelf, &typed);
    // What was measured on the parts in hand stands in for what the sheets do not state.
    let measured = sizes::read(&p, &typed, &mut errors);
    let fastener = asked.fastener.map(|f| measured.fastener().fill_fastener(f));
    let fill = |noses: &[&NoseSet]| -> Vec<NoseSet> {
        noses.iter().map(|nose| measured.fill_nose(nose)).collect()
    };
    let (held, all) = (fill(&asked.held), fill(&asked.all));
    let asked = question::Asked {
        model: asked.model,
        fastener: fastener.as_ref(),
        held: held.iter().collect(),
        all: all.iter().collect(),
    };
    let caliper = best_caliper(shelf.gauges().map(|(_, gauge)| gauge), |g| {
        shelf.is_in_date(g, today)
    });
    let title = p.t("match-title");
    let body = html! {
        div.plain {
            h1 { (title) }
            @if let (Some(model), Some(fastener)) = (asked.model, asked.fastener) {
                (answer::best(&p, &asked, model, fastener))
            }
            (question::form(&p, &shelf, &asked, &typed, &errors))
            @if let (Some(model), Some(fastener)) = (asked.model, asked.fastener) {
                (answer::all(&p, &asked, model, fastener))
                (sale::section(&p, &shelf, &asked, model, fastener))
            }
            @if let Some(model) = asked.model { (answer::can_set(&p, &shelf, &asked, model)) }
            (twins::section(&p, &asked, caliper))
        }
    };
    let status = if errors.is_empty() {
        StatusCode::OK
    } else {
        StatusCode::UNPROCESSABLE_ENTITY
    };
    let markup = page_with_errors(&p, &title, question::FORM, &errors, body);
    (status, Html(markup.into_string())).into_response()
}
