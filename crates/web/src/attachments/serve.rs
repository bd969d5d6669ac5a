//! Files as they are given out: only by job and entry, with nothing that they could do in a browser.

use std::io::{self, Read};
use std::pin::Pin;
use std::task::{Context, Poll};

use axum::body::{Body, Bytes, HttpBody};
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::http::header::{
    CONTENT_DISPOSITION, CONTENT_LENGTH, CONTENT_SECURITY_POLICY, CONTENT_TYPE,
};
use axum::response::{IntoResponse, Response};
use http_body::Frame;
use shop::entry::{Body as EntryBody, FileAttached};
use store::{FileError, FileHash, FileKind, KeptFile, PictureSize};
use tokio::sync::mpsc;

use super::disposition::disposition;
use crate::app::App;
use crate::job::load;
use crate::shell::{Page, error_page, internal};

/// A file may not run, load, send or frame anything, and belongs to no origin.
const POLICY: &str =
    "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; sandbox";

/// Pieces that wait for the browser.
const WAITING: usize = 4;

/// The file of the entry with this version, as it is kept.
pub(super) async fn file(
    State(app): State<App>,
    p: Page,
    Path((number, version)): Path<(u32, u32)>,
) -> Result<Response, Response> {
    let (attached, hash) = find(&app, &p, number, version).await?;
    give(&app, &p, &attached, hash).await
}

/// An attached file, as it is kept.
pub(crate) async fn give(
    app: &App,
    p: &Page,
    attached: &FileAttached,
    hash: FileHash,
) -> Result<Response, Response> {
    let files = app.store.files().clone();
    let opened = tokio::task::spawn_blocking(move || files.open(&hash)).await;
    let opened = opened.map_err(internal)?.map_err(internal)?;
    let file = opened.ok_or_else(|| not_here(p))?;
    // A long recording lies packed: its length as it was sent stands in its entry.
    let length = file.length().map_err(internal)?;
    let length = length.unwrap_or(attached.bytes);
    // A kind that is not known any more is saved, not shown.
    let kind = FileKind::of(&attached.media_type);
    let media_type = kind.map_or("application/octet-stream", FileKind::media_type);
    let is_shown = kind.is_some_and(FileKind::is_picture);
    let headers = [
        (CONTENT_TYPE, media_type.to_owned()),
        (CONTENT_LENGTH, length.to_string()),
        (CONTENT_DISPOSITION, disposition(is_shown, &attached.name)),
        (CONTENT_SECURITY_POLICY, POLICY.to_owned()),
    ];
    Ok((headers, pieces(file)).into_response())
}

/// The photo of the entry with this version, small and upright.
pub(super) async fn thumbnail(
    State(app): State<App>,
    p: Page,
    Path((number, version)): Path<(u32, u32)>,
) -> Result<Response, Response> {
    let (_, hash) = find(&app, &p, number, version).await?;
    let files = app.store.files().clone();
    let made = move || files.picture(&hash, PictureSize::Thumbnail);
    let made = tokio::task::spawn_blocking(made).await.map_err(internal)?;
    let made = made.map_err(|error| match error {
        FileError::Refused(_) => not_here(&p),
        FileError::Store(error) => internal(error),
    })?;
    let headers = [
        (CONTENT_TYPE, "image/jpeg"),
        (CONTENT_SECURITY_POLICY, POLICY),
    ];
    Ok((headers, made).into_response())
}

/// The file that entry `version` of job `number` names. One that was struck is still shown to whoever
/// follows the record.
async fn find(
    app: &App,
    p: &Page,
    number: u32,
    version: u32,
) -> Result<(FileAttached, FileHash), Response> {
    let loaded = load(app, p, number).await?;
    let entry = loaded.entries.into_iter().find(|e| e.version == version);
    match entry.map(|entry| entry.body) {
        Some(EntryBody::FileAttached(file)) => {
            let hash = FileHash::parse(&file.sha256).ok_or_else(|| not_here(p))?;
            Ok((file, hash))
        }
        _ => Err(not_here(p)),
    }
}

fn not_here(p: &Page) -> Response {
    error_page(p, StatusCode::NOT_FOUND, None)
}

/// The file, read as fast as the browser takes it.
fn pieces(mut file: KeptFile) -> Body {
    let (send, receive) = mpsc::channel(WAITING);
    tokio::task::spawn_blocking(move || {
        loop {
            let mut piece = vec![0; 64 * 1024];
            let read = file.read(&mut piece).map(|read| {
                piece.truncate(read);
                Bytes::from(piece)
            });
            let is_last = read.as_ref().map_or(true, Bytes::is_empty);
            if is_last && read.is_ok() {
                return;
            }
            // A browser that went away takes no more.
            if send.blocking_send(read).is_err() || is_last {
                return;
            }
        }
    });
    Body::new(Pieces(receive))
}

struct Pieces(mpsc::Receiver<io::Result<Bytes>>);

impl HttpBody for Pieces {
    type Data = Bytes;
    type Error = io::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
    ) -> Poll<Option<io::Result<Frame<Bytes>>>> {
        let piece = self.0.poll_recv(cx);
        piece.map(|piece| piece.map(|piece| piece.map(Frame::data)))
    }
}
