//! The pages of the program and their guard.
//!
//! Handlers are thin: read the form, call the shop, save, show. Pages work without JavaScript.

pub mod app;
pub mod assets;
pub mod attachments;
pub mod by_hand;
mod calculators;
mod fleet;
mod form_fields;
pub mod forms;
mod gauges;
mod inbox;
mod job;
mod lists;
mod nose_match;
mod pulls;
mod receive;
mod recordings;
pub mod scenario;
pub mod security;
mod setup;
pub mod shell;
mod show;
mod to_sign;
mod write_again;

pub use app::{App, Clock};
pub use job::names;
pub use pulls::names as pull_names;
pub use recordings::RecordingsFolder;
pub use setup::CardLinks;

use axum::Router;

/// Every page of the program, before the guard: see [`security::protect`].
pub fn pages(app: App) -> Router {
    Router::new()
        .merge(lists::routes())
        .merge(nose_match::routes())
        .merge(receive::routes())
        .merge(job::routes())
        .merge(calculators::routes())
        .merge(attachments::routes())
        .merge(setup::routes())
        .merge(inbox::routes())
        .merge(fleet::routes())
        .merge(gauges::routes())
        .merge(pulls::routes())
        .with_state(app)
}
