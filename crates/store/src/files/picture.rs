//! Small upright pictures of photos, for lists and papers: made when first asked for, kept beside
//! the files, never part of a backup.

use std::fs::{self, File};
use std::io::{BufReader, Write};
use std::path::PathBuf;
use std::sync::PoisonError;

use calc::Message;
use image::codecs::jpeg::JpegEncoder;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits, Rgb, RgbImage};
use uuid::Uuid;

use super::{FileError, FileHash, Files, INCOMING, THUMBS};
use crate::durable::{make_folder, parent};

/// Most pixels of a photo: a small file can unfold into more than a machine has room for.
pub const MOST_PIXELS: u64 = 60_000_000;

/// Most memory that decoding may take: 60 million pixels of four channels, and what the decoder
/// needs beside them.
const MOST_MEMORY: u64 = 512 << 20;

/// How large a small picture is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PictureSize {
    /// For the job page.
    Thumbnail,
    /// For a paper.
    Print,
}

impl PictureSize {
    /// Longest side, pixels.
    fn side(self) -> u32 {
        match self {
            Self::Thumbnail => 320,
            Self::Print => 1000,
        }
    }

    /// Quality of the JPEG, of 100.
    fn quality(self) -> u8 {
        match self {
            Self::Thumbnail => 78,
            Self::Print => 84,
        }
    }
}

impl Files {
    /// The photo under `hash`, small and upright, as JPEG. The same photo gives the same bytes.
    ///
    /// # Errors
    /// [`FileError::Refused`] for what is not there, no picture, damaged or too large.
    pub fn picture(&self, hash: &FileHash, size: PictureSize) -> Result<Vec<u8>, FileError> {
        let small = self.small(hash, size);
        if let Ok(made) = fs::read(&small) {
            return Ok(made);
        }
        let _one_at_a_time = self.decoding.lock().unwrap_or_else(PoisonError::into_inner);
        // Another may have made it while this one waited.
        if let Ok(made) = fs::read(&small) {
            return Ok(made);
        }
        let file = self.open(hash)?.and_then(|kept| kept.plain().ok());
        let file = file.ok_or_else(unreadable)?;
        let made = shrunk(file, size)?;
        // Where it cannot be put away it is made again next time.
        let _ = self.put_away(&small, &made);
        Ok(made)
    }

    fn small(&self, hash: &FileHash, size: PictureSize) -> PathBuf {
        let folder = self.root().join(THUMBS).join(size.side().to_string());
        folder.join(hash.path()).with_extension("jpg")
    }

    fn put_away(&self, small: &std::path::Path, made: &[u8]) -> std::io::Result<()> {
        let incoming = self.root().join(INCOMING);
        make_folder(&incoming)?;
        make_folder(parent(small))?;
        let scratch = incoming.join(Uuid::new_v4().to_string());
        let mut file = File::create_new(&scratch)?;
        // A small picture that is cut short would be shown for ever.
        file.write_all(made)?;
        file.sync_all()?;
        fs::rename(scratch, small)
    }
}

fn unreadable() -> FileError {
    FileError::Refused(Message::new("file-unreadable"))
}

fn shrunk(file: File, size: PictureSize) -> Result<Vec<u8>, FileError> {
    let mut reader = ImageReader::new(BufReader::new(file)).with_guessed_format()?;
    let known = [ImageFormat::Jpeg, ImageFormat::Png, ImageFormat::WebP];
    if !reader.format().is_some_and(|f| known.contains(&f)) {
        return Err(unreadable());
    }
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(|_| unreadable())?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(unreadable());
    }
    let turned = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let mut picture = DynamicImage::from_decoder(decoder).map_err(|_| unreadable())?;
    let side = size.side();
    if width > side || height > side {
        picture = picture.thumbnail(side, side);
    }
    picture.apply_orientation(turned);
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, size.quality())
        .encode_image(&on_white(picture))
        .map_err(|_| unreadable())?;
    Ok(jpeg)
}

/// What can be seen through lies on white, as on paper.
fn on_white(picture: DynamicImage) -> RgbImage {
    if !picture.color().has_alpha() {
        return picture.into_rgb8();
    }
    let seen = picture.into_rgba8();
    RgbImage::from_fn(seen.width(), seen.height(), |x, y| {
        let [r, g, b, a] = seen.get_pixel(x, y).0.map(u32::from);
        let over = |c: u32| u8::try_from((c * a + 255 * (255 - a)) / 255).unwrap_or(u8::MAX);
        Rgb([over(r), over(g), over(b)])
    })
}
