//! JPEG: ITU-T T.81, annex B. Segments up to the first scan, scans, the end; what follows the end
//! (a film, a second picture) is dropped.

use std::io::{BufRead, Write};

use image::metadata::Orientation;

use super::{Broken, Extent, block, bytes, exif};

const SOI: u8 = 0xd8;
const EOI: u8 = 0xd9;
const SOS: u8 = 0xda;
const JFIF: u8 = 0xe0;
const EXIF: u8 = 0xe1;
const ICC: u8 = 0xe2;
const ADOBE: u8 = 0xee;
const COMMENT: u8 = 0xfe;

/// A segment up to the first scan: its marker and what it holds.
struct Segment {
    marker: u8,
    content: Vec<u8>,
}

impl Segment {
    fn write(&self, to: &mut impl Write) -> Result<(), Broken> {
        let length = u16::try_from(self.content.len() + 2).map_err(|_| Broken::Damaged)?;
        to.write_all(&[0xff, self.marker])?;
        to.write_all(&length.to_be_bytes())?;
        to.write_all(&self.content)?;
        Ok(())
    }
}

pub(super) fn strip(from: &mut impl BufRead, to: &mut impl Write) -> Result<Extent, Broken> {
    if bytes(from)? != [0xff, SOI] {
        return Err(Broken::Damaged);
    }
    let mut turned = Orientation::NoTransforms;
    let mut kept = Vec::new();
    let mut extent = None;
    let scan = loop {
        let segment = segment(from)?;
        match segment.marker {
            SOS => break segment,
            EXIF => {
                if let Some(tiff) = segment.content.strip_prefix(b"Exif\0\0") {
                    turned = exif::orientation(tiff);
                }
            }
            marker if is_frame(marker) => {
                extent = Some(frame(&segment.content)?);
                kept.push(segment);
            }
            _ => kept.extend(picture_part(segment)),
        }
    };
    let extent = extent.ok_or(Broken::Damaged)?;

    to.write_all(&[0xff, SOI])?;
    let leads = kept.first().is_some_and(|s| s.marker == JFIF);
    let (lead, rest) = kept.split_at(usize::from(leads));
    for segment in lead {
        segment.write(to)?;
    }
    if let Some(tiff) = exif::block(turned) {
        let content = [b"Exif\0\0", &tiff[..]].concat();
        let marker = EXIF;
        Segment { marker, content }.write(to)?;
    }
    for segment in rest {
        segment.write(to)?;
    }
    scan.write(to)?;
    scans(from, to)?;
    Ok(extent)
}

/// What the picture needs of a segment: tables, colour profile, colour transform, no more.
fn picture_part(mut segment: Segment) -> Option<Segment> {
    let content = &segment.content;
    let keep = match segment.marker {
        JFIF => content.starts_with(b"JFIF\0") && content.len() >= 14,
        ICC => content.starts_with(b"ICC_PROFILE\0"),
        ADOBE => content.starts_with(b"Adobe"),
        JFIF..=0xef | COMMENT => false,
        _ => true,
    };
    if segment.marker == JFIF && keep {
        // Without its own small picture: width and height of it become zero.
        segment.content.truncate(14);
        segment.content[12..].fill(0);
    }
    keep.then_some(segment)
}

/// From the first scan's data to the end of the picture. Tables may stand between scans.
fn scans(from: &mut impl BufRead, to: &mut impl Write) -> Result<(), Broken> {
    loop {
        let marker = data(from, to)?;
        if marker == EOI {
            to.write_all(&[0xff, EOI])?;
            return Ok(());
        }
        let segment = content(marker, from)?;
        if let Some(segment) = picture_part(segment) {
            segment.write(to)?;
        }
    }
}

/// Copies coded data up to the next marker that is neither a stuffed byte nor a restart; gives that
/// marker.
fn data(from: &mut impl BufRead, to: &mut impl Write) -> Result<u8, Broken> {
    loop {
        let piece = from.fill_buf()?;
        if piece.is_empty() {
            return Err(Broken::Truncated);
        }
        let length = piece.len();
        let run = piece.iter().position(|b| *b == 0xff).unwrap_or(length);
        to.write_all(&piece[..run])?;
        from.consume(run);
        if run == length {
            continue;
        }
        match marker(from)? {
            same @ (0x00 | 0xd0..=0xd7) => to.write_all(&[0xff, same])?,
            marker => return Ok(marker),
        }
    }
}

fn segment(from: &mut impl BufRead) -> Result<Segment, Broken> {
    let marker = marker(from)?;
    content(marker, from)
}

/// The marker that begins here. Any number of FF may lead it.
fn marker(from: &mut impl BufRead) -> Result<u8, Broken> {
    if bytes(from)? != [0xff] {
        return Err(Broken::Damaged);
    }
    loop {
        match bytes(from)? {
            [0xff] => {}
            [marker] => return Ok(marker),
        }
    }
}

fn content(marker: u8, from: &mut impl BufRead) -> Result<Segment, Broken> {
    if matches!(marker, 0x00..=0x01 | 0xd0..=EOI) {
        return Err(Broken::Damaged);
    }
    let length = u16::from_be_bytes(bytes(from)?);
    let length = length.checked_sub(2).ok_or(Broken::Damaged)?;
    let content = block(from, length.into())?;
    Ok(Segment { marker, content })
}

/// Whether a marker begins a frame header: SOF0 to SOF15 without DHT, JPG and DAC.
fn is_frame(marker: u8) -> bool {
    matches!(marker, 0xc0..=0xcf) && !matches!(marker, 0xc4 | 0xc8 | 0xcc)
}

/// Height and width stand after one byte of precision.
fn frame(content: &[u8]) -> Result<Extent, Broken> {
    let [_, h1, h0, w1, w0, ..] = *content else {
        return Err(Broken::Damaged);
    };
    let (width, height) = (u16::from_be_bytes([w1, w0]), u16::from_be_bytes([h1, h0]));
    if width == 0 || height == 0 {
        return Err(Broken::Damaged);
    }
    Ok(Extent {
        width: width.into(),
        height: height.into(),
    })
}
