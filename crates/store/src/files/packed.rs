//! Long recordings lie packed: as gzip (RFC 1952), under the hash of what is in them.
//!
//! No kind that is taken begins as a packed file does, so the first bytes of a kept file say whether it is one. What was
//! sent packed is refused before it comes here: only what was packed here is ever unfolded, and that in pieces.

use std::fs::File;
use std::io::{self, BufReader, Read, Seek, SeekFrom, Write};
use std::path::Path;

use flate2::Compression;
use flate2::bufread::MultiGzDecoder;
use flate2::write::GzEncoder;

/// Text from so many bytes on is packed: less is not worth it.
pub(super) const PACKED_FROM: u64 = 1_000_000;

/// How a packed file begins.
const SIGN: [u8; 2] = [0x1f, 0x8b];

/// A kept file, to be read from its beginning to its end as it was sent.
#[derive(Debug)]
pub struct KeptFile {
    content: Content,
}

#[derive(Debug)]
enum Content {
    Plain(File),
    Packed(Box<MultiGzDecoder<BufReader<File>>>),
}

impl KeptFile {
    /// Opens the file at `path`.
    pub(crate) fn open(path: &Path) -> io::Result<Self> {
        let mut file = File::open(path)?;
        let mut head = Vec::new();
        Read::by_ref(&mut file)
            .take(SIGN.len() as u64)
            .read_to_end(&mut head)?;
        file.seek(SeekFrom::Start(0))?;
        let content = match head == SIGN {
            true => Content::Packed(Box::new(MultiGzDecoder::new(BufReader::with_capacity(
                1 << 16,
                file,
            )))),
            false => Content::Plain(file),
        };
        Ok(Self { content })
    }

    /// The file itself where it lies as it was sent, else what unpacks it.
    pub(super) fn plain(self) -> Result<File, Self> {
        match self.content {
            Content::Plain(file) => Ok(file),
            Content::Packed(_) => Err(self),
        }
    }

    /// Its length as it was sent, where that is known without reading it.
    ///
    /// # Errors
    /// The disk fails.
    pub fn length(&self) -> io::Result<Option<u64>> {
        match &self.content {
            Content::Plain(file) => Ok(Some(file.metadata()?.len())),
            Content::Packed(_) => Ok(None),
        }
    }
}

impl Read for KeptFile {
    fn read(&mut self, piece: &mut [u8]) -> io::Result<usize> {
        match &mut self.content {
            Content::Plain(file) => file.read(piece),
            Content::Packed(packed) => packed.read(piece),
        }
    }
}

/// Writes all of `from`, packed, to `to`.
pub(super) fn pack(from: &mut File, to: File) -> io::Result<File> {
    from.seek(SeekFrom::Start(0))?;
    let mut packed = GzEncoder::new(to, Compression::fast());
    let mut piece = vec![0; 1 << 16];
    loop {
        match from.read(&mut piece)? {
            0 => return packed.finish(),
            length => packed.write_all(&piece[..length])?,
        }
    }
}
