//! The form that brings a recording: it is attached, and its page opens.

use axum::extract::{Path, Request, State};
use axum::response::{IntoResponse, Redirect, Response};

use super::BRING;
use crate::app::App;
use crate::attachments;
use crate::job;
use crate::shell::{Nav, Page};

/// Takes the files in and attaches them; then the page of the one file, or the stage where several stand.
pub(super) async fn upload(
    State(app): State<App>,
    p: Page,
    Path(number): Path<u32>,
    request: Request,
) -> Result<Response, Response> {
    let p = p.at(Nav::Bench);
    let brought = attachments::brought(&app, &p, number, BRING, request).await?;
    let stage = brought.typed.get("stage").to_owned();
    let one = match (&brought.done, brought.hashes.as_slice()) {
        (Ok(_), [hash]) => Some(hash.clone()),
        _ => None,
    };
    if let Some(hash) = one {
        let asked = read_as(brought.typed.get("rig"), brought.typed.get("fastener"));
        let loaded = job::load(&app, &p, number).await?;
        if let Some(file) = loaded.file_of(&hash) {
            let there = format!("/jobs/{number}/pulls/{file}?{asked}");
            return Ok(Redirect::to(&there).into_response());
        }
    }
    let (p, typed, done) = (brought.p, brought.typed, brought.done);
    job::answer(&app, &p, number, BRING, typed, done, Some(&stage)).await
}

/// The part of an address that says how a recording is to be read.
fn read_as(rig: &str, fastener: &str) -> String {
    let mut asked = form_urlencoded::Serializer::new(String::new());
    asked.extend_pairs([("rig", rig), ("fastener", fastener)]);
    asked.finish()
}
