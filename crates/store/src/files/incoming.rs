//! A file on its way in: written piece by piece, looked at, stripped, kept.

use std::fs::{self, File};
use std::io::{BufWriter, Write};
use std::path::PathBuf;

use calc::Message;
use uuid::Uuid;

use super::hash::Hashing;
use super::strip::{Broken, Extent, strip};
use super::{FileError, Files, INCOMING, Kept, MOST_PIXELS, kind, name};
use crate::durable::{make_folder, parent, put};

/// Most bytes of a file, as sent.
pub const MOST_BYTES: u64 = 25_000_000;

/// A file on its way in. Dropped, it leaves nothing behind.
#[derive(Debug)]
pub struct Incoming {
    files: Files,
    name: String,
    _sent: Scratch,
    out: BufWriter<File>,
    bytes: u64,
}

/// A file that is removed when it is let go of.
#[derive(Debug)]
struct Scratch(PathBuf);

impl Drop for Scratch {
    fn drop(&mut self) {
        // It may have been renamed into its place. A leftover is removed at the next opening.
        let _ = fs::remove_file(&self.0);
    }
}

impl Files {
    /// Begins to take in the file that was sent as `name`.
    ///
    /// # Errors
    /// The disk fails.
    pub fn receive(&self, name: &str) -> Result<Incoming, FileError> {
        let (scratch, file) = self.scratch()?;
        Ok(Incoming {
            files: self.clone(),
            name: name::clean(name),
            _sent: scratch,
            out: BufWriter::new(file),
            bytes: 0,
        })
    }

    fn scratch(&self) -> Result<(Scratch, File), FileError> {
        let folder = self.root().join(INCOMING);
        make_folder(&folder)?;
        let path = folder.join(Uuid::new_v4().to_string());
        let file = File::options()
            .read(true)
            .write(true)
            .create_new(true)
            .open(&path)?;
        Ok((Scratch(path), file))
    }
}

impl Incoming {
    /// Takes the next piece. Of a file that is too large the rest is counted and let go, so that
    /// the sender can be told how large it was.
    ///
    /// # Errors
    /// The disk fails.
    pub fn write(&mut self, piece: &[u8]) -> Result<(), FileError> {
        self.bytes += piece.len() as u64;
        if self.bytes <= MOST_BYTES {
            self.out.write_all(piece)?;
        }
        Ok(())
    }

    /// Keeps the file: looks what it is, strips a photo of all that is not the picture, and puts it
    /// in its place for good.
    ///
    /// # Errors
    /// [`FileError::Refused`]: empty, too large, of a kind that is not taken, other than its name
    /// says, cut off, damaged, of too many pixels. Otherwise the disk fails.
    pub fn keep(mut self) -> Result<Kept, FileError> {
        let named = |id| Message::new(id).with("name", self.name.as_str());
        if self.bytes > MOST_BYTES {
            return Err(FileError::Refused(
                named("file-too-large")
                    .number("size", megabytes(self.bytes), 1)
                    .number("most", megabytes(MOST_BYTES), 0),
            ));
        }
        if self.bytes == 0 {
            return Err(FileError::Refused(named("file-empty")));
        }
        self.out.flush()?;
        let sent = self.out.get_mut();
        let kind = kind::accepted(sent, &self.name)?;

        let (clean, file) = self.files.scratch()?;
        let mut through = Hashing::to(BufWriter::new(file));
        let extent = strip(kind, sent, &mut through).map_err(|broken| match broken {
            Broken::Truncated => FileError::Refused(named("file-truncated")),
            Broken::Damaged => FileError::Refused(named("file-damaged")),
            Broken::Disk(error) => error.into(),
        })?;
        if let Some(extent) = extent.filter(|e| e.pixels() > MOST_PIXELS) {
            return Err(FileError::Refused(too_many(named("file-pixels"), extent)));
        }
        let (out, hash, bytes) = through.end();
        let file = out.into_inner().map_err(|error| error.into_error())?;
        file.sync_all()?;
        drop(file);

        let place = self.files.place(&hash);
        make_folder(parent(&place))?;
        // The same content again takes the place of itself.
        put(&clean.0, &place)?;
        Ok(Kept {
            name: std::mem::take(&mut self.name),
            kind,
            bytes,
            hash,
        })
    }
}

fn megabytes(bytes: u64) -> f64 {
    bytes as f64 / 1e6
}

fn too_many(message: Message, extent: Extent) -> Message {
    message
        .number("size", extent.pixels() as f64 / 1e6, 0)
        .number("most", MOST_PIXELS as f64 / 1e6, 0)
}
