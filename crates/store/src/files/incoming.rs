//! A file on its way in: written piece by piece, looked at, stripped, kept.

use std::fs::{self, File};
use std::io::{BufWriter, Write};
use std::path::PathBuf;

use calc::Message;
use uuid::Uuid;

use super::hash::Hashing;
use super::packed::{self, PACKED_FROM};
use super::strip::{Broken, Extent, strip};
use super::{FileError, FileHash, FileKind, Files, INCOMING, Kept, MOST_PIXELS, kind, name};
use crate::durable::{make_folder, parent, put};

/// Most bytes of a photo or paper, as sent.
pub const MOST_BYTES: u64 = 25_000_000;

/// Most bytes of a recording, as sent: of text, which goes to the disk as it comes and is never held whole.
pub const MOST_RECORDING_BYTES: u64 = 1_000_000_000;

/// A file on its way in. Dropped, it leaves nothing behind.
#[derive(Debug)]
pub struct Incoming {
    files: Files,
    name: String,
    sent: Scratch,
    out: Hashing<BufWriter<File>>,
    bytes: u64,
    /// Nothing but text came so far.
    is_text: bool,
    most: Most,
}

/// How large a file may be.
#[derive(Clone, Copy, Debug)]
struct Most {
    text: u64,
    other: u64,
}

impl Most {
    const USUAL: Self = Self {
        text: MOST_RECORDING_BYTES,
        other: MOST_BYTES,
    };

    fn of(self, is_text: bool) -> u64 {
        if is_text { self.text } else { self.other }
    }
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
        self.receive_at_most(name, Most::USUAL)
    }

    fn receive_at_most(&self, name: &str, most: Most) -> Result<Incoming, FileError> {
        let (sent, file) = self.scratch()?;
        Ok(Incoming {
            files: self.clone(),
            name: name::clean(name),
            sent,
            out: Hashing::to(BufWriter::new(file)),
            bytes: 0,
            is_text: true,
            most,
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
        self.is_text = self.is_text && !kind::has_controls(piece);
        if self.bytes <= self.most.of(self.is_text) {
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
    pub fn keep(self) -> Result<Kept, FileError> {
        let Self {
            files,
            name,
            sent,
            out,
            bytes: came,
            is_text,
            most,
        } = self;
        refuse_too_large(&name, came, is_text, most)?;
        if came == 0 {
            let message = Message::new("file-empty").with("name", name);
            return Err(FileError::Refused(message));
        }
        let (out, hash, bytes) = out.end();
        let mut file = out.into_inner().map_err(|error| error.into_error())?;
        let kind = kind::accepted(&mut file, &name)?;
        let is_text = matches!(kind, FileKind::Text | FileKind::Csv);
        // What begins as a paper may go on as text.
        refuse_too_large(&name, came, is_text, most)?;
        let (hash, bytes) = if kind.is_picture() {
            files.stripped(kind, &mut file, &name)?
        } else if is_text && came >= PACKED_FROM {
            let (packed, to) = files.scratch()?;
            packed::pack(&mut file, to)?.sync_all()?;
            files.put(&packed, &hash)?;
            (hash, bytes)
        } else {
            // As it was sent: it lies on the disk and is hashed already.
            file.sync_all()?;
            files.put(&sent, &hash)?;
            (hash, bytes)
        };
        Ok(Kept {
            name,
            kind,
            bytes,
            hash,
        })
    }
}

impl Files {
    /// Keeps what is a picture in `sent`, and nothing else of it.
    fn stripped(
        &self,
        kind: FileKind,
        sent: &mut File,
        name: &str,
    ) -> Result<(FileHash, u64), FileError> {
        let named = |id| Message::new(id).with("name", name);
        let (clean, file) = self.scratch()?;
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
        self.put(&clean, &hash)?;
        Ok((hash, bytes))
    }

    /// Puts a file, synced already, in its place for good. The same content again takes the place of itself.
    fn put(&self, scratch: &Scratch, hash: &FileHash) -> Result<(), FileError> {
        let place = self.place(hash);
        make_folder(parent(&place))?;
        put(&scratch.0, &place)?;
        Ok(())
    }
}

fn refuse_too_large(name: &str, bytes: u64, is_text: bool, most: Most) -> Result<(), FileError> {
    let most = most.of(is_text);
    if bytes <= most {
        return Ok(());
    }
    let id = match is_text {
        true => "file-recording-too-large",
        false => "file-too-large",
    };
    Err(FileError::Refused(
        Message::new(id)
            .with("name", name)
            .number("size", megabytes(bytes), 1)
            .number("most", megabytes(most), 0),
    ))
}

fn megabytes(bytes: u64) -> f64 {
    bytes as f64 / 1e6
}

fn too_many(message: Message, extent: Extent) -> Message {
    message
        .number("size", extent.pixels() as f64 / 1e6, 0)
        .number("most", MOST_PIXELS as f64 / 1e6, 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sends `pieces` where text may have 400 bytes and all else 100; the most that lay on the disk meanwhile.
    fn sent(name: &str, pieces: &[&[u8]]) -> (Result<Kept, FileError>, u64) {
        let folder = tempfile::tempdir().expect("a folder");
        let files = Files::of(&folder.path().join("shop.setwright"));
        let most = Most {
            text: 400,
            other: 100,
        };
        let mut incoming = files.receive_at_most(name, most).expect("begins");
        for piece in pieces {
            incoming.write(piece).expect("written or counted");
        }
        incoming.out.flush().expect("written");
        let lay = fs::metadata(&incoming.sent.0).expect("there").len();
        (incoming.keep(), lay)
    }

    fn told(kept: Result<Kept, FileError>) -> &'static str {
        match kept {
            Err(FileError::Refused(message)) => message.id,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_recording_may_be_larger_than_a_photo() {
        let rows = "0,1;2,5\n".repeat(50);
        let (kept, _) = sent("pull.csv", &[rows.as_bytes()]);
        let kept = kept.expect("400 bytes");
        assert_eq!((kept.bytes, kept.kind), (400, FileKind::Csv));
        let (kept, lay) = sent("pull.csv", &[rows.as_bytes(), b"0", b";", b"1\n"]);
        assert_eq!((told(kept), lay), ("file-recording-too-large", 400));
    }

    #[test]
    fn what_is_no_text_is_not_taken_for_a_recording() {
        // Of a photo no more goes to the disk than a photo may have, whatever its name says.
        let photo = [&b"\xff\xd8\xff\0"[..], &[7; 90]].concat();
        let (kept, lay) = sent("pull.csv", &[&photo, &[8; 40], &[9; 40]]);
        assert_eq!((told(kept), lay), ("file-too-large", 94));
        // A paper that looks like text at first.
        let paper = ["%PDF-1.7\n", &"x".repeat(150)].concat();
        assert_eq!(told(sent("a.pdf", &[paper.as_bytes()]).0), "file-too-large");
        // Controls that come late end it, too.
        let late = ["1;2\n".repeat(50).as_bytes(), &[0; 8]].concat();
        assert_eq!(told(sent("a.csv", &[&late]).0), "file-too-large");
    }
}
