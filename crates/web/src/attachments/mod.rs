//! Photos and files of a job: sent with a form or at the prompt, shown at their stage, printed on the
//! report.

mod attach;
mod disposition;
mod picked;
mod printed;
mod receive;
mod section;
mod serve;
mod upload;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::routing::{get, post};

use crate::app::App;
use crate::security::UPLOAD_LIMIT;

pub use attach::{NewFile, add};
pub(crate) use attach::{named_kept, with_kept};
pub(crate) use picked::PICKED;
pub(crate) use printed::{files, photos, with_pictures};
pub(crate) use section::kept_again;
pub(crate) use section::{place, section, size};
pub(crate) use serve::give;
pub(crate) use upload::brought;
pub(crate) use upload::taken_in;

/// The last part of the address that files are sent to.
pub(crate) const KIND: &str = "files";

/// The routes of files.
pub(crate) fn routes() -> Router<App> {
    let limit = DefaultBodyLimit::max(UPLOAD_LIMIT);
    Router::new()
        .route("/jobs/{number}/files", post(upload::upload).layer(limit))
        .route("/jobs/{number}/files/{version}", get(serve::file))
        .route(
            "/jobs/{number}/files/{version}/thumbnail",
            get(serve::thumbnail),
        )
}
