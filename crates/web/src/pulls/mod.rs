//! Pulls recorded on the bench: from the logger's file to what counts on the job.
//!
//! The recording is attached to the job as any file. Its page reads it, names what is wrong, and offers what could
//! be read; nothing counts before somebody ticked it. What counts is an entry; curves are read from the file again.

mod answer;
mod good;
pub mod names;
mod page;
mod parse;
mod plot;
mod printed;
mod recording;
mod section;
mod table;
mod upload;
mod waiting;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::routing::{get, post};
use shop::entry::Phase;
use shop::job::Stage;

use crate::app::App;
use crate::security::UPLOAD_LIMIT;

pub(crate) use parse::parse;
pub(crate) use printed::{certified, drawn, in_a_line, printed, with_plots};
pub(crate) use recording::{Recording, asked};
pub(crate) use section::section;

/// The kind of form that takes pulls.
pub(crate) const KIND: &str = "pulls";

/// The kind of form that brings a recording.
const BRING: &str = "recording";

/// The routes of recorded pulls.
pub(crate) fn routes() -> Router<App> {
    let limit = DefaultBodyLimit::max(UPLOAD_LIMIT);
    Router::new()
        .route(
            "/jobs/{number}/recording",
            post(upload::upload).layer(limit),
        )
        .route("/jobs/{number}/pulls", post(page::take))
        .route("/jobs/{number}/pulls/{version}", get(page::show))
        .route("/jobs/{number}/pulls/{version}/plot.svg", get(page::drawn))
}

/// The stage at which recordings of `phase` stand.
fn stage_of(phase: Phase) -> Stage {
    match phase {
        Phase::AsFound => Stage::Fault,
        Phase::AsLeft => Stage::Proved,
    }
}

/// What recordings attached to `stage` show.
fn phase_of(stage: &str) -> Phase {
    match Stage::parse(stage) {
        Some(Stage::Proved) => Phase::AsLeft,
        _ => Phase::AsFound,
    }
}
