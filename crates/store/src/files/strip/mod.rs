//! Photos without what they tell beside the picture: place, camera, owner, embedded previews.
//!
//! What is kept is listed, not what is dropped, so that a field nobody thought of is dropped too.
//! The picture's own bytes are copied as they are: no pixel changes. Of the EXIF block one field is
//! written anew, the orientation, without which a phone's photo would lie on its side.

mod exif;
mod jpeg;
mod png;
mod webp;

use std::io::{self, BufReader, Read, Seek, SeekFrom, Write};

use super::FileKind;

/// Width and height of a picture, pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Extent {
    pub width: u32,
    pub height: u32,
}

impl Extent {
    pub fn pixels(self) -> u64 {
        u64::from(self.width) * u64::from(self.height)
    }
}

/// Why a picture cannot be read.
#[derive(Debug)]
pub(crate) enum Broken {
    /// It ends too early.
    Truncated,
    /// It is not what its format asks for.
    Damaged,
    /// The disk fails.
    Disk(io::Error),
}

impl From<io::Error> for Broken {
    fn from(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::UnexpectedEof => Self::Truncated,
            _ => Self::Disk(error),
        }
    }
}

/// Writes the picture of `from`, and nothing else that it holds, to `to`. What is no picture is
/// copied.
pub(crate) fn strip(
    kind: FileKind,
    from: &mut (impl Read + Seek),
    to: &mut impl Write,
) -> Result<Option<Extent>, Broken> {
    from.seek(SeekFrom::Start(0))?;
    match kind {
        FileKind::Jpeg => jpeg::strip(&mut BufReader::with_capacity(1 << 16, from), to).map(Some),
        FileKind::Png => png::strip(from, to).map(Some),
        FileKind::WebP => webp::strip(from, to).map(Some),
        FileKind::Pdf | FileKind::Text | FileKind::Csv => {
            io::copy(from, to)?;
            Ok(None)
        }
    }
}

/// `N` bytes of `from`.
fn bytes<const N: usize>(from: &mut impl Read) -> io::Result<[u8; N]> {
    let mut bytes = [0; N];
    from.read_exact(&mut bytes)?;
    Ok(bytes)
}

/// `length` bytes of `from`, without trusting `length` with memory.
fn block(from: &mut impl Read, length: u64) -> io::Result<Vec<u8>> {
    let mut block = Vec::new();
    from.take(length).read_to_end(&mut block)?;
    if (block.len() as u64) < length {
        return Err(io::ErrorKind::UnexpectedEof.into());
    }
    Ok(block)
}
