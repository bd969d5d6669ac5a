//! PNG: W3C Recommendation, third edition. Chunks, each with its length, name and checksum.

use std::io::{self, Read, Seek, SeekFrom, Write};

use image::metadata::Orientation;

use super::{Broken, Extent, block, bytes, exif};

const SIGNATURE: [u8; 8] = *b"\x89PNG\r\n\x1a\n";

/// What the picture is made of: size, colours, data, the frames of a moving one.
const KEPT: [&[u8; 4]; 17] = [
    b"IHDR", b"PLTE", b"tRNS", b"cHRM", b"gAMA", b"iCCP", b"sBIT", b"sRGB", b"cICP", b"mDCV",
    b"cLLI", b"bKGD", b"pHYs", b"acTL", b"fcTL", b"fdAT", b"IDAT",
];

/// A chunk: its name, where its content begins, how long that is.
struct Chunk {
    name: [u8; 4],
    at: u64,
    length: u32,
}

pub(super) fn strip(from: &mut (impl Read + Seek), to: &mut impl Write) -> Result<Extent, Broken> {
    if bytes(from)? != SIGNATURE {
        return Err(Broken::Damaged);
    }
    let chunks = chunks(from)?;
    let Some(header @ Chunk { length: 13, .. }) = chunks.first().filter(|c| &c.name == b"IHDR")
    else {
        return Err(Broken::Damaged);
    };
    from.seek(SeekFrom::Start(header.at))?;
    let (width, height) = (
        u32::from_be_bytes(bytes(from)?),
        u32::from_be_bytes(bytes(from)?),
    );
    if width == 0 || height == 0 || !chunks.iter().any(|c| &c.name == b"IDAT") {
        return Err(Broken::Damaged);
    }
    let mut turned = Orientation::NoTransforms;
    if let Some(chunk) = chunks.iter().find(|c| &c.name == b"eXIf") {
        from.seek(SeekFrom::Start(chunk.at))?;
        turned = exif::orientation(&block(from, chunk.length.into())?);
    }
    to.write_all(&SIGNATURE)?;
    for (index, chunk) in chunks.iter().enumerate() {
        if KEPT.contains(&&chunk.name) {
            copy(from, chunk, to)?;
        }
        if let (0, Some(tiff)) = (index, exif::block(turned)) {
            write(b"eXIf", &tiff, to)?;
        }
    }
    write(b"IEND", b"", to)?;
    Ok(Extent { width, height })
}

/// The chunks up to the end of the picture, the end not among them.
fn chunks(from: &mut (impl Read + Seek)) -> Result<Vec<Chunk>, Broken> {
    let mut chunks = Vec::new();
    loop {
        let length = u32::from_be_bytes(bytes(from)?);
        let name = bytes(from)?;
        if &name == b"IEND" {
            let _checksum: [u8; 4] = bytes(from)?;
            return Ok(chunks);
        }
        let at = from.stream_position()?;
        chunks.push(Chunk { name, at, length });
        from.seek(SeekFrom::Start(at + u64::from(length) + 4))?;
    }
}

/// Copies a chunk, and looks whether it still is what its checksum says.
fn copy(from: &mut (impl Read + Seek), chunk: &Chunk, to: &mut impl Write) -> Result<(), Broken> {
    from.seek(SeekFrom::Start(chunk.at))?;
    to.write_all(&chunk.length.to_be_bytes())?;
    to.write_all(&chunk.name)?;
    let mut sum = crc32fast::Hasher::new();
    sum.update(&chunk.name);
    let mut left = u64::from(chunk.length);
    let mut piece = vec![0; 64 * 1024];
    while left > 0 {
        let most = usize::try_from(left).map_or(piece.len(), |left| left.min(piece.len()));
        let read = from.read(&mut piece[..most])?;
        if read == 0 {
            return Err(io::Error::from(io::ErrorKind::UnexpectedEof).into());
        }
        sum.update(&piece[..read]);
        to.write_all(&piece[..read])?;
        left -= read as u64;
    }
    let stored = bytes(from)?;
    if u32::from_be_bytes(stored) != sum.finalize() {
        return Err(Broken::Damaged);
    }
    to.write_all(&stored)?;
    Ok(())
}

fn write(name: &[u8; 4], content: &[u8], to: &mut impl Write) -> io::Result<()> {
    let mut sum = crc32fast::Hasher::new();
    sum.update(name);
    sum.update(content);
    // Only ever called with a few bytes.
    to.write_all(&(content.len() as u32).to_be_bytes())?;
    to.write_all(name)?;
    to.write_all(content)?;
    to.write_all(&sum.finalize().to_be_bytes())
}
