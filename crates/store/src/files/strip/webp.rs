//! WebP: RFC 9649. A RIFF file of chunks; the extended form begins with a chunk that says which
//! others there are.

use std::io::{self, Read, Seek, SeekFrom, Write};

use image::metadata::Orientation;

use super::{Broken, Extent, block, bytes, exif};

/// What the picture is made of.
const KEPT: [&[u8; 4]; 6] = [b"ICCP", b"ANIM", b"ANMF", b"ALPH", b"VP8 ", b"VP8L"];

/// Bits of the first chunk that say that EXIF and XMP follow.
const EXIF_FLAG: u8 = 0x08;
const XMP_FLAG: u8 = 0x04;

struct Chunk {
    name: [u8; 4],
    at: u64,
    length: u32,
}

impl Chunk {
    /// Its length in the file: name, length, content, and a byte to make it even.
    fn whole(&self) -> u64 {
        8 + u64::from(self.length) + u64::from(self.length % 2)
    }
}

pub(super) fn strip(from: &mut (impl Read + Seek), to: &mut impl Write) -> Result<Extent, Broken> {
    let chunks = chunks(from)?;
    let find = |name: &[u8; 4]| chunks.iter().find(|c| &c.name == name);
    let mut turned = Orientation::NoTransforms;
    if let Some(chunk) = find(b"EXIF") {
        from.seek(SeekFrom::Start(chunk.at))?;
        turned = exif::orientation(&block(from, chunk.length.into())?);
    }
    let extended = match find(b"VP8X") {
        Some(chunk) => {
            from.seek(SeekFrom::Start(chunk.at))?;
            Some(bytes::<10>(from)?)
        }
        None => None,
    };
    let extent = match &extended {
        Some(head) => canvas(head),
        None => still(from, &chunks)?,
    };
    if !chunks.iter().any(|c| is_picture(&c.name)) {
        return Err(Broken::Damaged);
    }

    // Only the extended form can say how the picture is turned; only it has an EXIF chunk to read.
    let tiff = extended.and(exif::block(turned));
    let kept: Vec<&Chunk> = chunks.iter().filter(|c| KEPT.contains(&&c.name)).collect();
    let length = 4
        + extended.map_or(0, |_| 18)
        + kept.iter().map(|c| c.whole()).sum::<u64>()
        + tiff.map_or(0, |tiff| 8 + tiff.len() as u64);
    let length = u32::try_from(length).map_err(|_| Broken::Damaged)?;
    to.write_all(b"RIFF")?;
    to.write_all(&length.to_le_bytes())?;
    to.write_all(b"WEBP")?;
    if let Some(mut head) = extended {
        head[0] &= !(EXIF_FLAG | XMP_FLAG);
        if tiff.is_some() {
            head[0] |= EXIF_FLAG;
        }
        write(b"VP8X", &head, to)?;
    }
    for chunk in kept {
        copy(from, chunk, to)?;
    }
    if let Some(tiff) = tiff {
        write(b"EXIF", &tiff, to)?;
    }
    Ok(extent)
}

/// The chunks of the file. What follows its stated length is none of the picture's.
fn chunks(from: &mut (impl Read + Seek)) -> Result<Vec<Chunk>, Broken> {
    if &bytes(from)? != b"RIFF" {
        return Err(Broken::Damaged);
    }
    let end = 8 + u64::from(u32::from_le_bytes(bytes(from)?));
    if &bytes(from)? != b"WEBP" {
        return Err(Broken::Damaged);
    }
    let here = from.stream_position()?;
    if from.seek(SeekFrom::End(0))? < end {
        return Err(Broken::Truncated);
    }
    let mut at = here;
    let mut chunks = Vec::new();
    while at + 8 <= end {
        from.seek(SeekFrom::Start(at))?;
        let chunk = Chunk {
            name: bytes(from)?,
            length: u32::from_le_bytes(bytes(from)?),
            at: at + 8,
        };
        at += chunk.whole();
        // The last byte that evens a length out may be missing.
        if at > end + 1 {
            return Err(Broken::Damaged);
        }
        chunks.push(chunk);
    }
    Ok(chunks)
}

fn is_picture(name: &[u8; 4]) -> bool {
    [b"VP8 ", b"VP8L", b"ANMF"].contains(&name)
}

/// Width and height less one, of three bytes each, at the end of the first chunk.
fn canvas(head: &[u8; 10]) -> Extent {
    let three = |at: usize| u32::from_le_bytes([head[at], head[at + 1], head[at + 2], 0]);
    Extent {
        width: three(4) + 1,
        height: three(7) + 1,
    }
}

/// The size of a picture in the simple form.
fn still(from: &mut (impl Read + Seek), chunks: &[Chunk]) -> Result<Extent, Broken> {
    let chunk = chunks
        .iter()
        .find(|c| is_picture(&c.name))
        .ok_or(Broken::Damaged)?;
    from.seek(SeekFrom::Start(chunk.at))?;
    let head: [u8; 10] = bytes(from)?;
    let extent = if &chunk.name == b"VP8L" {
        // RFC 9649, 3.4: a signature, then width and height less one in fourteen bits each.
        let bits = u32::from_le_bytes([head[1], head[2], head[3], head[4]]);
        Extent {
            width: (bits & 0x3fff) + 1,
            height: ((bits >> 14) & 0x3fff) + 1,
        }
    } else {
        // RFC 6386, 9.1: a frame tag, a start code, then width and height in fourteen bits each.
        let side = |at: usize| u32::from(u16::from_le_bytes([head[at], head[at + 1]]) & 0x3fff);
        Extent {
            width: side(6),
            height: side(8),
        }
    };
    if extent.pixels() == 0 {
        return Err(Broken::Damaged);
    }
    Ok(extent)
}

fn copy(from: &mut (impl Read + Seek), chunk: &Chunk, to: &mut impl Write) -> Result<(), Broken> {
    from.seek(SeekFrom::Start(chunk.at))?;
    to.write_all(&chunk.name)?;
    to.write_all(&chunk.length.to_le_bytes())?;
    let copied = io::copy(&mut from.take(chunk.length.into()), to)?;
    if copied < u64::from(chunk.length) {
        return Err(Broken::Truncated);
    }
    if chunk.length % 2 == 1 {
        to.write_all(&[0])?;
    }
    Ok(())
}

fn write(name: &[u8; 4], content: &[u8], to: &mut impl Write) -> io::Result<()> {
    // Only ever called with a few bytes, and an even number of them.
    to.write_all(name)?;
    to.write_all(&(content.len() as u32).to_le_bytes())?;
    to.write_all(content)
}
