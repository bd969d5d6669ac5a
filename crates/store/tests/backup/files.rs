//! A file is sent and attached, in one go. Shared with the example that is killed on the way.

use shop::entry::{FileAttached, PersonKey};
use store::{FileError, Store, Written};
use uuid::Uuid;

use crate::sample::{request, write};

/// Attaches `bytes` to `subject`, which is at `version`; the hash it lies under.
pub async fn attach(
    store: &Store,
    (subject, version): (Uuid, u32),
    by: &PersonKey,
    name: &str,
    bytes: &[u8],
) -> Result<(String, Written), String> {
    let keep = || {
        let mut incoming = store.files().receive(name)?;
        for piece in bytes.chunks(10_000) {
            incoming.write(piece)?;
        }
        incoming.keep()
    };
    let kept = keep().map_err(|error: FileError| error.to_string())?;
    let hash = kept.hash.to_string();
    let attached = FileAttached {
        name: kept.name,
        media_type: kept.kind.media_type().to_owned(),
        bytes: kept.bytes,
        sha256: hash.clone(),
        stage: "fault".to_owned(),
        note: String::new(),
        step: String::new(),
    };
    let key = Uuid::new_v4().to_string();
    let written = write(store, request(&key, subject, version, by), attached.into()).await;
    Ok((hash, written.map_err(|error| format!("{error:?}"))?))
}
