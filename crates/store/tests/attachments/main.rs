//! Photos and files from outside: what is taken, what is left out of a photo, what is refused.

mod keep;
mod noise;
mod photo;
mod pictures;
mod refuse;
mod strip;
mod verify;

use std::path::PathBuf;

use store::{FileError, Kept, Store};
use tempfile::TempDir;

/// A record in a folder of its own.
pub struct Bench {
    folder: TempDir,
    /// The record, open.
    pub store: Store,
}

impl Bench {
    /// A new record.
    pub async fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open(&folder.path().join("shop.setwright")).await;
        let store = store.expect("a new record");
        Self { folder, store }
    }

    /// Sends `bytes` as `name`, in two pieces.
    pub fn send(&self, name: &str, bytes: &[u8]) -> Result<Kept, FileError> {
        let mut incoming = self.store.files().receive(name)?;
        let (one, two) = bytes.split_at(bytes.len() / 2);
        incoming.write(one)?;
        incoming.write(two)?;
        incoming.keep()
    }

    /// What is kept under the hash of `kept`.
    pub fn stored(&self, kept: &Kept) -> Vec<u8> {
        std::fs::read(self.place(kept)).expect("kept in its place")
    }

    /// Where it lies.
    pub fn place(&self, kept: &Kept) -> PathBuf {
        let hash = kept.hash.as_str();
        self.root().join(&hash[..2]).join(&hash[2..])
    }

    /// The folder of the files.
    pub fn root(&self) -> PathBuf {
        self.folder.path().join("shop.setwright.files")
    }

    /// The record's file.
    pub fn path(&self) -> PathBuf {
        self.folder.path().join("shop.setwright")
    }

    /// Every file under the folder, from there.
    pub fn all(&self) -> Vec<PathBuf> {
        let mut found = Vec::new();
        let mut open = vec![self.root()];
        while let Some(folder) = open.pop() {
            for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
                match entry.path() {
                    path if path.is_dir() => open.push(path),
                    path => found.push(path),
                }
            }
        }
        found
    }
}
