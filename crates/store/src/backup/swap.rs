//! A restored record takes the place of another, name by name, so that whatever stops it can be
//! finished later.
//!
//! Beside the record stands a folder for the work. In it `new` holds what was restored and compared;
//! `ready` says that it is whole, and what the old record will be called; `old` takes the old one,
//! piece by piece. Until the new record itself is moved, last, what stands in its place is old.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::{RECORD, Step, Tell};
use crate::durable::{beside, make_folder, parent, put, sync_folder};
use crate::files::Files;

/// What SQLite keeps beside a file, and must never meet another one.
const COMPANIONS: [&str; 3] = ["-wal", "-shm", "-journal"];

/// What `ready` says.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Ready {
    /// Name of the folder that the old record is kept in, beside it.
    pub keep_as: String,
    /// Hash of the manifest of the backup.
    pub manifest: String,
}

/// The folder for the work at `record`.
fn work(record: &Path) -> PathBuf {
    beside(record, ".restoring")
}

/// Where the backup is restored to before it takes the place of `record`.
pub(super) fn new_record(record: &Path) -> PathBuf {
    work(record).join("new").join(RECORD)
}

/// Whether a restore of `record` broke off where it must be finished before anything is read.
pub(crate) fn is_half(record: &Path) -> bool {
    work(record).join("ready").exists() || (work(record).exists() && !record.exists())
}

/// Whether there is anything at the place of `record`.
pub(super) fn is_taken(record: &Path) -> bool {
    let files = Files::of(record);
    record.exists()
        || files.root().exists()
        || COMPANIONS.iter().any(|c| beside(record, c).exists())
}

/// What a restore left that was ready to take its place.
pub(super) fn ready(record: &Path) -> io::Result<Option<Ready>> {
    match fs::read(work(record).join("ready")) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        read => Ok(Some(serde_json::from_slice(&read?)?)),
    }
}

/// Says that the new record is whole: from here on the swap is finished, whatever comes.
pub(super) fn make_ready(record: &Path, ready: &Ready) -> io::Result<()> {
    let file = work(record).join("ready");
    let new = beside(&file, ".new");
    let mut out = File::create(&new)?;
    out.write_all(&serde_json::to_vec(ready)?)?;
    out.sync_all()?;
    put(&new, &file)
}

/// Removes what a restore left that was not ready. Nothing in it is anybody's only copy.
pub(super) fn clear(record: &Path) -> io::Result<()> {
    let work = work(record);
    match fs::remove_dir_all(&work) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
        removed => removed.and_then(|()| sync_folder(parent(&work))),
    }
}

/// Does what is left of the swap. Gives the folder that the old record is kept in, if there was one.
pub(super) fn finish(
    record: &Path,
    ready: &Ready,
    tell: &mut Tell<'_>,
) -> io::Result<Option<PathBuf>> {
    let (new, files) = (new_record(record), Files::of(record));
    if new.exists() {
        aside(record, record, tell)?;
        for companion in COMPANIONS {
            aside(record, &beside(record, companion), tell)?;
        }
        let new_files = Files::of(&new);
        if new_files.root().exists() {
            aside(record, files.root(), tell)?;
            tell(Step::Place);
            put(new_files.root(), files.root())?;
        }
        tell(Step::Place);
        put(&new, record)?;
    }
    tell(Step::Place);
    let (old, kept) = (
        work(record).join("old"),
        parent(record).join(&ready.keep_as),
    );
    if old.exists() {
        put(&old, &kept)?;
    }
    tell(Step::Place);
    fs::remove_file(work(record).join("ready"))?;
    sync_folder(&work(record))?;
    tell(Step::Place);
    clear(record)?;
    Ok(kept.exists().then_some(kept))
}

/// Moves `piece` of the old record out of the way, if it is there.
fn aside(record: &Path, piece: &Path, tell: &mut Tell<'_>) -> io::Result<()> {
    let Some(name) = piece.file_name().filter(|_| piece.exists()) else {
        return Ok(());
    };
    tell(Step::Place);
    let old = work(record).join("old");
    make_folder(&old)?;
    put(piece, &old.join(name))?;
    sync_folder(parent(record))
}
