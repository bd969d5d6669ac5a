//! The body of a form with files: fields into memory, files onto the disk, piece by piece.

use axum::body::Bytes;
use axum::extract::Multipart;
use axum::extract::multipart::{Field, MultipartError};
use axum::http::StatusCode;
use calc::Message;
use store::{FileError, Files, Kept, StoreError};
use tokio::sync::mpsc;

use crate::forms::errors::reading_key;
use crate::forms::{FieldErrors, Typed};
use crate::security::UPLOAD_LIMIT;

/// Most bytes of all fields that are no files.
const MOST_TYPED: usize = 64 * 1024;

/// Pieces of a file that wait for the disk.
const WAITING: usize = 8;

/// What a form with files brought.
#[derive(Default)]
pub(crate) struct Received {
    /// Its fields.
    pub typed: Typed,
    /// Files that are kept.
    pub kept: Vec<Kept>,
    /// What was wrong with others.
    pub errors: FieldErrors,
    /// The disk failed.
    pub failed: Option<StoreError>,
}

impl Received {
    /// Notes what is wrong with a file, each under a name of its own.
    pub fn refuse(&mut self, message: Message) {
        let before = self
            .errors
            .iter()
            .filter(|(name, _)| name.starts_with("file"));
        let key = reading_key("file", before.count());
        self.errors.add(key, message);
    }
}

/// Reads the form to its end.
pub(super) async fn receive(mut form: Multipart, files: &Files) -> Received {
    let mut received = Received::default();
    let mut typed_bytes = 0;
    loop {
        let read = match form.next_field().await {
            Ok(None) => return received,
            Ok(Some(field)) if field.file_name().is_some() => {
                file(field, files, &mut received).await
            }
            Ok(Some(field)) => text(field, &mut typed_bytes, &mut received).await,
            Err(error) => Err(error),
        };
        if let Err(error) = read {
            received.refuse(broken_off(&error));
            return received;
        }
    }
}

/// The rest of the form cannot be read.
fn broken_off(error: &MultipartError) -> Message {
    if error.status() == StatusCode::PAYLOAD_TOO_LARGE {
        let most = UPLOAD_LIMIT as f64 / 1e6;
        return Message::new("file-upload-limit").number("most", most, 0);
    }
    Message::new("file-broken-off")
}

async fn text(
    mut field: Field<'_>,
    typed_bytes: &mut usize,
    received: &mut Received,
) -> Result<(), MultipartError> {
    let name = field.name().unwrap_or_default().to_owned();
    let mut value = Vec::new();
    while let Some(piece) = field.chunk().await? {
        *typed_bytes += piece.len();
        if *typed_bytes <= MOST_TYPED {
            value.extend_from_slice(&piece);
        } else {
            received
                .errors
                .add("note", Message::new("file-typed-limit"));
        }
    }
    let typed = std::mem::take(&mut received.typed);
    received.typed = typed.with(name, String::from_utf8_lossy(&value));
    Ok(())
}

/// A piece of a file on its way to the disk, or the word that it is whole.
enum Piece {
    More(Bytes),
    End,
}

async fn file(
    mut field: Field<'_>,
    files: &Files,
    received: &mut Received,
) -> Result<(), MultipartError> {
    let name = field.file_name().unwrap_or_default().to_owned();
    let first = field.chunk().await?;
    // A box in which nothing was picked is sent as a file without a name.
    if name.is_empty() && first.as_ref().is_none_or(Bytes::is_empty) {
        return Ok(());
    }
    let (pieces, mut coming) = mpsc::channel(WAITING);
    let files = files.clone();
    let writing = tokio::task::spawn_blocking(move || {
        let mut incoming = files.receive(&name)?;
        while let Some(piece) = coming.blocking_recv() {
            match piece {
                Piece::More(bytes) => incoming.write(&bytes)?,
                Piece::End => return incoming.keep().map(Some),
            }
        }
        // The sender broke off: what came is let go.
        Ok(None)
    });
    let mut next = first;
    while let Some(piece) = next {
        // A disk that failed takes no more; the rest is read so that the sender gets the answer.
        let _ = pieces.send(Piece::More(piece)).await;
        next = field.chunk().await?;
    }
    let _ = pieces.send(Piece::End).await;
    match writing.await {
        Ok(Ok(Some(kept))) => received.kept.push(kept),
        Ok(Ok(None)) => {}
        Ok(Err(FileError::Refused(message))) => received.refuse(message),
        Ok(Err(FileError::Store(error))) => received.failed = Some(error),
        Err(_) => received.failed = Some(StoreError::Panicked),
    }
    Ok(())
}
