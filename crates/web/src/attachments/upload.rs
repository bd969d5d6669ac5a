//! The form that attaches files.

use axum::extract::{FromRequest, Multipart, Path, Request, State};
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use store::FileError;

use super::KIND;
use super::attach::{attach, named_kept, with_kept};
use super::picked::with_picked;
use super::receive::{Received, receive};
use crate::app::App;
use crate::forms::Typed;
use crate::job::{self, Trouble};
use crate::shell::{Nav, Page};

/// Takes the files in, attaches them, and goes back to the stage. A form that is refused is shown
/// again with the files that were kept: they need not be sent again.
pub(super) async fn upload(
    State(app): State<App>,
    p: Page,
    Path(number): Path<u32>,
    request: Request,
) -> Result<Response, Response> {
    let p = p.at(Nav::Bench);
    let brought = brought(&app, &p, number, KIND, request).await?;
    let stage = brought.typed.get("stage").to_owned();
    let (p, typed, done) = (brought.p, brought.typed, brought.done);
    job::answer(&app, &p, number, KIND, typed, done, Some(&stage)).await
}

/// What came of a form with files.
pub(crate) struct Brought {
    /// The page, for the name that came with the form.
    pub p: Page,
    /// Its fields, and the files that were kept.
    pub typed: Typed,
    /// Hashes of the files that were kept.
    pub hashes: Vec<String>,
    /// Whether they are attached, and were before.
    pub done: Result<bool, Trouble>,
}

/// Takes the files of a form of `kind` in and attaches them.
///
/// # Errors
/// A form that cannot be read at all.
pub(crate) async fn brought(
    app: &App,
    p: &Page,
    number: u32,
    kind: &str,
    request: Request,
) -> Result<Brought, Response> {
    let (received, failed) = taken_in(app, request).await?;
    let received = with_picked(app, received).await;
    let failed = failed.or(received.failed.clone());
    let Received {
        typed,
        kept,
        errors,
        ..
    } = received;
    let p = p.clone().picking(&typed);
    let typed = with_kept(typed, &kept).with("kind", kind);
    let hashes = kept.iter().map(|kept| kept.hash.to_string()).collect();
    let done = match failed {
        Some(error) => Err(Trouble::Store(error)),
        None if !errors.is_empty() => Err(Trouble::Fields(errors)),
        None => attach(app, &p, number, &typed, kept).await,
    };
    Ok(Brought {
        p,
        typed,
        hashes,
        done,
    })
}

/// A form that may carry files: its fields, the files that are kept, also from an earlier sending, and whether the disk
/// failed.
pub(crate) async fn taken_in(
    app: &App,
    request: Request,
) -> Result<(Received, Option<store::StoreError>), Response> {
    // What was refused for other reasons than its files comes back without them, as a plain form.
    let received = if is_multipart(&request) {
        let form = Multipart::from_request(request, app).await;
        receive(
            form.map_err(IntoResponse::into_response)?,
            app.store.files(),
        )
        .await
    } else {
        Received {
            typed: Typed::from_request(request, app).await?,
            ..Received::default()
        }
    };
    Ok(with_earlier(app, received).await)
}

fn is_multipart(request: &Request) -> bool {
    let kind = request.headers().get(CONTENT_TYPE);
    kind.and_then(|kind| kind.to_str().ok())
        .is_some_and(|kind| kind.starts_with("multipart/"))
}

/// Adds the files that were kept at an earlier sending, looked at anew: the form only names them.
async fn with_earlier(app: &App, mut received: Received) -> (Received, Option<store::StoreError>) {
    let named: Vec<_> = named_kept(&received.typed)
        .map(|(hash, name)| (hash, name.to_owned()))
        .collect();
    let files = app.store.files().clone();
    let look = move || {
        let kept = named
            .into_iter()
            .map(|(hash, name)| files.kept(&hash, &name));
        kept.collect::<Vec<_>>()
    };
    let looked = tokio::task::spawn_blocking(look).await;
    let mut failed = received.failed.take();
    let mut earlier = Vec::new();
    for one in looked.unwrap_or_default() {
        match one {
            Ok(kept) => earlier.extend(kept),
            Err(FileError::Refused(message)) => received.refuse(message),
            Err(FileError::Store(error)) => failed = Some(error),
        }
    }
    earlier.extend(std::mem::take(&mut received.kept));
    received.kept = earlier;
    (received, failed)
}
