//! The sampling plan of a lot of joints with its operating curve. It is asked for in the address; nothing is kept.

mod answer;
mod question;

use axum::extract::RawQuery;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use maud::html;

use crate::forms::Typed;
use crate::shell::{Nav, Page, page_with_errors};

/// Where it is.
pub(crate) const PATH: &str = "/fleet/lot-check";

/// The page.
pub(super) async fn show(p: Page, RawQuery(query): RawQuery) -> Response {
    let p = p.at(Nav::Fleet);
    let typed = Typed::from_body(query.unwrap_or_default().as_bytes());
    let (asked, errors) = question::read(&p, &typed);
    let title = p.t("lot-title");
    let body = html! {
        div.plain {
            (super::others(&p, PATH))
            h1 { (title) }
            @if let Some(asked) = asked { (answer::answer(&p, &asked)) }
            p.warn { (p.t("lot-caution")) small { (p.t("lot-source")) } }
            (question::form(&p, &typed, &errors))
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
