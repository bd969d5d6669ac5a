//! Photos and files: bytes in a folder beside the record, each under the hash of its content.
//!
//! A file is in its place, synced, before the entry that names it is written, so an entry never
//! names a file that was not kept. `docs/attachments.md` tells the whole of it.

mod error;
mod hash;
mod incoming;
mod kind;
mod name;
mod packed;
mod picture;
mod strip;

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

pub use error::FileError;
pub use hash::FileHash;
pub(crate) use hash::{hash_file, hash_of};
pub use incoming::{Incoming, MOST_BYTES, MOST_RECORDING_BYTES};
pub use kind::FileKind;
pub use packed::KeptFile;
pub use picture::{MOST_PIXELS, PictureSize};

use crate::durable::beside;

/// Files on their way in.
const INCOMING: &str = "incoming";
/// Small pictures, made from the files when they are first asked for.
const THUMBS: &str = "thumbs";

/// The files of one record. Its methods work on the disk and on pictures: call them where waiting
/// is allowed.
#[derive(Clone, Debug)]
pub struct Files {
    root: Arc<Path>,
    /// One picture is decoded at a time: a large one takes hundreds of megabytes.
    decoding: Arc<Mutex<()>>,
}

/// A file that is kept: what an entry says about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// Name, cleaned.
    pub name: String,
    /// What it is.
    pub kind: FileKind,
    /// Length as kept.
    pub bytes: u64,
    /// Hash of what is kept.
    pub hash: FileHash,
}

impl Files {
    /// The files of the record at `record`.
    pub(crate) fn of(record: &Path) -> Self {
        Self {
            root: beside(record, ".files").into(),
            decoding: Arc::default(),
        }
    }

    /// The folder.
    pub(crate) fn root(&self) -> &Path {
        &self.root
    }

    /// Where the file with this hash lies.
    pub(crate) fn place(&self, hash: &FileHash) -> PathBuf {
        self.root.join(hash.path())
    }

    /// The file with this hash, opened, to be read as it was sent; `None` if it is not kept.
    ///
    /// # Errors
    /// The disk fails.
    pub fn open(&self, hash: &FileHash) -> Result<Option<KeptFile>, FileError> {
        match KeptFile::open(&self.place(hash)) {
            Ok(file) => Ok(Some(file)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error.into()),
        }
    }

    /// What is kept under `hash`, looked at anew; `None` if nothing is. For a form that is sent
    /// again after its file was kept and its entry refused.
    ///
    /// # Errors
    /// The disk fails.
    pub fn kept(&self, hash: &FileHash, name: &str) -> Result<Option<Kept>, FileError> {
        let Some(file) = self.open(hash)? else {
            return Ok(None);
        };
        let name = name::clean(name);
        let (bytes, kind) = match file.plain() {
            Ok(mut file) => (file.metadata()?.len(), kind::accepted(&mut file, &name)?),
            // Only text is packed; how much of it there is nobody knows without reading it.
            Err(mut packed) => (
                io::copy(&mut packed, &mut io::sink())?,
                kind::of_text(&name)?,
            ),
        };
        Ok(Some(Kept {
            name,
            kind,
            bytes,
            hash: hash.clone(),
        }))
    }

    /// Takes the file with this hash away; fine where there is none.
    pub(crate) fn remove(&self, hash: &str) -> io::Result<()> {
        let Some(hash) = FileHash::parse(hash) else {
            return Ok(());
        };
        match fs::remove_file(self.place(&hash)) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
            _ => Ok(()),
        }
    }

    /// Every file in the folder but small pictures and those on their way in: its path from the
    /// folder, with the hash if it lies where that hash belongs.
    pub(crate) fn list(&self) -> io::Result<Vec<(String, Option<FileHash>)>> {
        let mut found = Vec::new();
        for (name, path) in inside(&self.root)? {
            if name == INCOMING || name == THUMBS {
                continue;
            }
            if !path.is_dir() {
                found.push((name, None));
                continue;
            }
            for (rest, _) in inside(&path)? {
                let hash = FileHash::parse(&format!("{name}{rest}")).filter(|_| name.len() == 2);
                found.push((format!("{name}/{rest}"), hash));
            }
        }
        Ok(found)
    }

    /// Removes what was on its way in when the program ended. Only for the one that writes.
    pub(crate) fn clear_incoming(&self) {
        // What cannot be removed now is removed at the next opening.
        let _ = fs::remove_dir_all(self.root.join(INCOMING));
    }
}

/// What a folder holds, in order of name; nothing where there is no folder.
fn inside(folder: &Path) -> io::Result<Vec<(String, PathBuf)>> {
    let entries = match fs::read_dir(folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        entries => entries?,
    };
    let mut found = entries
        .map(|entry| {
            let path = entry?.path();
            let name = path.file_name().unwrap_or_default();
            Ok((name.to_string_lossy().into_owned(), path))
        })
        .collect::<io::Result<Vec<_>>>()?;
    found.sort();
    Ok(found)
}
