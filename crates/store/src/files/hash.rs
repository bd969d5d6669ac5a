//! The hash that a file lies under.

use std::fmt;
use std::fs::File;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::chain::hex;

/// SHA-256 of a file in lower-case hex: nothing else can stand in it, so it can stand in a path.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FileHash(String);

impl FileHash {
    /// The hash that `text` is.
    pub fn parse(text: &str) -> Option<Self> {
        let digit = |b: u8| b.is_ascii_digit() || (b'a'..=b'f').contains(&b);
        (text.len() == 64 && text.bytes().all(digit)).then(|| Self(text.to_owned()))
    }

    /// The hash of all that `from` gives, read in pieces.
    ///
    /// # Errors
    /// It cannot be read.
    pub fn of(from: &mut impl Read) -> io::Result<Self> {
        hash_of(from, io::sink()).map(|(hash, _)| hash)
    }

    /// Its 64 digits.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Where it lies in its folder: `ab/cdef…`.
    pub(crate) fn path(&self) -> PathBuf {
        Path::new(&self.0[..2]).join(&self.0[2..])
    }
}

impl fmt::Display for FileHash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Hashes and counts what passes through it to `W`.
#[derive(Debug)]
pub(crate) struct Hashing<W> {
    to: W,
    hasher: Sha256,
    bytes: u64,
}

impl<W: Write> Hashing<W> {
    pub fn to(to: W) -> Self {
        Self {
            to,
            hasher: Sha256::new(),
            bytes: 0,
        }
    }

    /// Where it went, its hash, its length.
    pub fn end(self) -> (W, FileHash, u64) {
        (self.to, FileHash(hex(&self.hasher.finalize())), self.bytes)
    }
}

impl<W: Write> Write for Hashing<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let written = self.to.write(bytes)?;
        self.hasher.update(&bytes[..written]);
        self.bytes += written as u64;
        Ok(written)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.to.flush()
    }
}

/// Copies all of `from` to `to`, in pieces; hash and length of what was copied.
pub(crate) fn hash_of(from: &mut impl Read, to: impl Write) -> io::Result<(FileHash, u64)> {
    let mut through = Hashing::to(to);
    io::copy(from, &mut through)?;
    through.flush()?;
    let (_, hash, bytes) = through.end();
    Ok((hash, bytes))
}

/// Hash and length of the file at `path`.
pub(crate) fn hash_file(path: &Path) -> io::Result<(FileHash, u64)> {
    hash_of(&mut File::open(path)?, io::sink())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn is_that_of_the_content() {
        // FIPS 180-2, appendix B.1: SHA-256 of "abc".
        let published = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        let (hash, bytes) = hash_of(&mut &b"abc"[..], io::sink()).expect("reads");
        assert_eq!((hash.as_str(), bytes), (published, 3));
        assert_eq!(hash.path(), Path::new("ba").join(&published[2..]));
    }

    #[test]
    fn nothing_else_is_a_hash() {
        let digits = "0".repeat(64);
        assert!(FileHash::parse(&digits).is_some());
        for wrong in [
            "",
            "ab",
            &digits[1..],
            &digits.replace('0', "A"),
            &format!("../{}", &digits[3..]),
            &"é".repeat(32),
        ] {
            assert_eq!(FileHash::parse(wrong), None, "{wrong}");
        }
    }
}
