//! Gauges: the list, and the page of each with its calibrations, checks and studies.

mod backwards;
mod calibration;
mod check;
mod grid;
mod history;
mod list;
mod page;
pub(crate) mod paper;
mod study;
mod touched;
mod what_was_read;
mod write;

use axum::Router;
use axum::extract::{DefaultBodyLimit, Path, RawQuery, Request, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use shop::entry::Body;
use shop::gauge::subject_of;
use store::FileHash;

use crate::app::{App, failed};
use crate::attachments::{give, taken_in, with_kept};
use crate::forms::Typed;
use crate::job::Trouble;
use crate::security::UPLOAD_LIMIT;
use crate::shell::{self, Nav, Page, error_page};

pub(crate) use write::carry_out;

/// Where the list is.
pub(crate) const PATH: &str = "/gauges";

/// The routes of the gauges.
pub fn routes() -> Router<App> {
    let limit = DefaultBodyLimit::max(UPLOAD_LIMIT);
    Router::new()
        .route(PATH, get(list::list))
        .route("/gauges/{id}", get(one))
        .route("/gauges/{id}/{act}", post(act).layer(limit))
        .route("/gauges/{id}/files/{sha256}", get(file))
        .route("/gauges/{id}/failures/{file}", get(paper::answer))
}

/// The page of a gauge.
pub(crate) fn path(id: &str) -> String {
    format!("{PATH}/{id}")
}

async fn one(
    State(app): State<App>,
    p: Page,
    Path(id): Path<String>,
    RawQuery(query): RawQuery,
) -> Result<Response, Response> {
    let query = Typed::from_body(query.unwrap_or_default().as_bytes());
    page::page(&app, &p.at(Nav::Gauges), &id, page::Shown::Asked(&query)).await
}

async fn act(
    State(app): State<App>,
    p: Page,
    Path((id, act)): Path<(String, String)>,
    request: Request,
) -> Result<Response, Response> {
    let (received, failed_disk) = taken_in(&app, request).await?;
    let p = p.at(Nav::Gauges).picking(&received.typed);
    let typed = with_kept(received.typed, &received.kept);
    let done = match failed_disk {
        Some(error) => Err(Trouble::Store(error)),
        None if !received.errors.is_empty() => Err(Trouble::Fields(received.errors)),
        None => carry_out(&app, &p, &id, &act, &typed, received.kept).await,
    };
    answer(&app, &p, &id, &act, typed, done).await
}

async fn answer(
    app: &App,
    p: &Page,
    id: &str,
    act: &str,
    typed: Typed,
    done: Result<(), Trouble>,
) -> Result<Response, Response> {
    let back = path(id);
    match done {
        Ok(()) => Ok(Redirect::to(&back).into_response()),
        Err(Trouble::Fields(errors)) => {
            let p = p.clone().holding_form();
            let refused = page::Refused {
                typed: &typed,
                errors: &errors,
            };
            page::page(app, &p, id, page::Shown::Refused(&refused)).await
        }
        Err(Trouble::Answer(answer)) => Err(answer),
        Err(Trouble::Conflict(_)) => Err(failed(store::StoreError::Closed)),
        Err(Trouble::Store(error)) => {
            eprintln!("gauge {id}: {error:?}");
            Err(shell::not_written(p, &format!("{back}/{act}"), &typed))
        }
    }
}

/// The file of a certificate, as it was attached.
async fn file(
    State(app): State<App>,
    p: Page,
    Path((id, sha256)): Path<(String, String)>,
) -> Result<Response, Response> {
    let not_here = || error_page(&p, StatusCode::NOT_FOUND, None);
    let logged = app.store.entries(subject_of(&id)).await.map_err(failed)?;
    let attached = logged.into_iter().find_map(|l| match l.entry.body {
        Body::FileAttached(file) if file.sha256 == sha256 => Some(file),
        _ => None,
    });
    let attached = attached.ok_or_else(not_here)?;
    let hash = FileHash::parse(&attached.sha256).ok_or_else(not_here)?;
    give(&app, &p, &attached, hash).await
}
