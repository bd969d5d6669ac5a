//! What a file is, judged by its content. Its name is only a claim.

use std::io::{self, Read, Seek, SeekFrom};

use calc::Message;

use super::FileError;
use super::name::ending;

/// A kind of file that is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// A JPEG photo.
    Jpeg,
    /// A PNG picture.
    Png,
    /// A WebP picture.
    WebP,
    /// A PDF document.
    Pdf,
    /// Plain text.
    Text,
    /// Plain text with separated values.
    Csv,
}

impl FileKind {
    const ALL: [Self; 6] = [
        Self::Jpeg,
        Self::Png,
        Self::WebP,
        Self::Pdf,
        Self::Text,
        Self::Csv,
    ];

    /// As stored and as served.
    pub fn media_type(self) -> &'static str {
        match self {
            Self::Jpeg => "image/jpeg",
            Self::Png => "image/png",
            Self::WebP => "image/webp",
            Self::Pdf => "application/pdf",
            Self::Text => "text/plain",
            Self::Csv => "text/csv",
        }
    }

    /// The kind that is stored as `media_type`.
    pub fn of(media_type: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|k| k.media_type() == media_type)
    }

    /// Whether it can be shown as a picture.
    pub fn is_picture(self) -> bool {
        matches!(self, Self::Jpeg | Self::Png | Self::WebP)
    }
}

/// What a file can turn out to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Content {
    Taken(FileKind),
    Svg,
    Html,
    Xml,
    Gif,
    Bmp,
    Tiff,
    Heif,
    Video,
    Sound,
    Zip,
    Office,
    Archive,
    Program,
    Unknown,
}

impl Content {
    /// Its name in the catalogue.
    fn name(self) -> Message {
        Message::new(match self {
            Self::Taken(FileKind::Jpeg) => "file-is-jpeg",
            Self::Taken(FileKind::Png) => "file-is-png",
            Self::Taken(FileKind::WebP) => "file-is-webp",
            Self::Taken(FileKind::Pdf) => "file-is-pdf",
            Self::Taken(FileKind::Text | FileKind::Csv) => "file-is-text",
            Self::Svg => "file-is-svg",
            Self::Html => "file-is-html",
            Self::Xml => "file-is-xml",
            Self::Gif => "file-is-gif",
            Self::Bmp => "file-is-bmp",
            Self::Tiff => "file-is-tiff",
            Self::Heif => "file-is-heif",
            Self::Video => "file-is-video",
            Self::Sound => "file-is-sound",
            Self::Zip => "file-is-zip",
            Self::Office => "file-is-office",
            Self::Archive => "file-is-archive",
            Self::Program => "file-is-program",
            Self::Unknown => "file-is-unknown",
        })
    }
}

/// The kind of `file`, which goes by `name`.
///
/// # Errors
/// A kind that is not taken, or another one than the name says.
pub(crate) fn accepted(file: &mut (impl Read + Seek), name: &str) -> Result<FileKind, FileError> {
    let content = look(file)?;
    named(content, name)
}

/// The kind of a file of which only is known that it is text, and that goes by `name`.
///
/// # Errors
/// The name says another kind.
pub(crate) fn of_text(name: &str) -> Result<FileKind, FileError> {
    named(Content::Taken(FileKind::Text), name)
}

fn named(content: Content, name: &str) -> Result<FileKind, FileError> {
    let Content::Taken(kind) = content else {
        let message = Message::new("file-not-taken")
            .with("name", name)
            .with("is", content.name());
        return Err(FileError::Refused(message));
    };
    let claim = claimed(&ending(name));
    let kind = match (kind, claim) {
        // What the two have in common is told apart by the name alone.
        (FileKind::Text, Some(Content::Taken(FileKind::Csv))) => FileKind::Csv,
        (kind, _) => kind,
    };
    match claim {
        Some(claim) if claim != Content::Taken(kind) => {
            let message = Message::new("file-not-what-it-says")
                .with("name", name)
                .with("says", claim.name())
                .with("is", content.name());
            Err(FileError::Refused(message))
        }
        _ => Ok(kind),
    }
}

/// What an ending of a name says; `None` where it says nothing that is known.
fn claimed(ending: &str) -> Option<Content> {
    Some(match ending {
        "jpg" | "jpeg" | "jpe" | "jfif" => Content::Taken(FileKind::Jpeg),
        "png" => Content::Taken(FileKind::Png),
        "webp" => Content::Taken(FileKind::WebP),
        "pdf" => Content::Taken(FileKind::Pdf),
        "txt" | "text" | "log" | "md" => Content::Taken(FileKind::Text),
        "csv" | "tsv" => Content::Taken(FileKind::Csv),
        "svg" | "svgz" => Content::Svg,
        "htm" | "html" | "xhtml" => Content::Html,
        "xml" => Content::Xml,
        "gif" => Content::Gif,
        "bmp" => Content::Bmp,
        "tif" | "tiff" => Content::Tiff,
        "heic" | "heif" | "avif" => Content::Heif,
        "mp4" | "mov" | "avi" | "webm" => Content::Video,
        "mp3" | "wav" | "m4a" => Content::Sound,
        "zip" | "docx" | "xlsx" | "pptx" | "odt" | "ods" => Content::Zip,
        "doc" | "xls" | "ppt" => Content::Office,
        "gz" | "7z" | "rar" => Content::Archive,
        "exe" | "dll" | "com" | "msi" | "bat" | "cmd" | "scr" => Content::Program,
        _ => return None,
    })
}

/// How much of the beginning is looked at for signs.
const HEAD: u64 = 4096;

fn look(file: &mut (impl Read + Seek)) -> io::Result<Content> {
    file.seek(SeekFrom::Start(0))?;
    let mut head = Vec::new();
    file.by_ref().take(HEAD).read_to_end(&mut head)?;
    if let Some(content) = signed(&head) {
        return Ok(content);
    }
    file.seek(SeekFrom::Start(0))?;
    if !is_text(file)? {
        return Ok(Content::Unknown);
    }
    Ok(marked_up(&head).unwrap_or(Content::Taken(FileKind::Text)))
}

/// What the first bytes say. The signs are those of the formats' own definitions.
fn signed(head: &[u8]) -> Option<Content> {
    let at = |from: usize, sign: &[u8]| head.get(from..).is_some_and(|h| h.starts_with(sign));
    let any = |signs: &[&[u8]]| signs.iter().any(|sign| at(0, sign));
    Some(if any(&[b"\xff\xd8\xff"]) {
        Content::Taken(FileKind::Jpeg)
    } else if any(&[b"\x89PNG\r\n\x1a\n"]) {
        Content::Taken(FileKind::Png)
    } else if at(0, b"RIFF") && at(8, b"WEBP") {
        Content::Taken(FileKind::WebP)
    } else if any(&[b"%PDF-"]) {
        Content::Taken(FileKind::Pdf)
    } else if any(&[b"GIF87a", b"GIF89a"]) {
        Content::Gif
    } else if at(0, b"BM") && at(6, &[0, 0, 0, 0]) {
        Content::Bmp
    } else if any(&[b"II*\0", b"MM\0*"]) {
        Content::Tiff
    } else if at(4, b"ftyp") {
        let stills: [&[u8]; 8] = [
            b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1", b"avif",
        ];
        match stills.iter().any(|brand| at(8, brand)) {
            true => Content::Heif,
            false => Content::Video,
        }
    } else if (at(0, b"RIFF") && at(8, b"AVI ")) || any(&[b"\x1aE\xdf\xa3"]) {
        Content::Video
    } else if (at(0, b"RIFF") && at(8, b"WAVE")) || any(&[b"ID3", b"OggS", b"fLaC"]) {
        Content::Sound
    } else if any(&[b"PK\x03\x04", b"PK\x05\x06"]) {
        Content::Zip
    } else if any(&[b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"]) {
        Content::Office
    } else if any(&[b"\x1f\x8b", b"7z\xbc\xaf\x27\x1c", b"Rar!\x1a\x07"]) {
        Content::Archive
    } else if any(&[b"\x7fELF", b"#!"]) || (at(0, b"MZ") && head.contains(&0)) {
        Content::Program
    } else {
        return None;
    })
}

/// Whether there is nothing but text: no control signs other than tabs and ends of lines and pages.
/// Older encodings than UTF-8 are text, too.
fn is_text(from: &mut impl Read) -> io::Result<bool> {
    let mut piece = vec![0; 64 * 1024];
    loop {
        let read = from.read(&mut piece)?;
        if read == 0 {
            return Ok(true);
        }
        if has_controls(&piece[..read]) {
            return Ok(false);
        }
    }
}

/// Whether a piece of a file holds what no text does.
pub(super) fn has_controls(piece: &[u8]) -> bool {
    let control = |b: &u8| (*b < 0x20 && !matches!(b, 9 | 10 | 12 | 13)) || *b == 0x7f;
    piece.iter().any(control)
}

/// Text that a browser would do more with than show it.
fn marked_up(head: &[u8]) -> Option<Content> {
    let text = String::from_utf8_lossy(head).to_lowercase();
    let text = text.trim_start_matches('\u{feff}').trim_start();
    let tag = text.strip_prefix('<')?;
    if !tag.starts_with(|c: char| c.is_ascii_alphabetic() || "!?/".contains(c)) {
        return None;
    }
    Some(if text.contains("<svg") {
        Content::Svg
    } else if text.contains("<!doctype html") || text.contains("<html") || text.contains("<script")
    {
        Content::Html
    } else {
        Content::Xml
    })
}

#[cfg(test)]
mod tests {
    use std::io::Cursor;

    use super::*;

    fn told(name: &str, bytes: &[u8]) -> Result<FileKind, String> {
        accepted(&mut Cursor::new(bytes), name).map_err(|error| match error {
            FileError::Refused(message) => format!("{message:?}"),
            other => panic!("{other:?}"),
        })
    }

    #[test]
    fn content_decides() {
        for (name, bytes, kind) in [
            ("a.jpg", &b"\xff\xd8\xff\xe0"[..], FileKind::Jpeg),
            ("A.JPEG", b"\xff\xd8\xff\xe1", FileKind::Jpeg),
            ("a.png", b"\x89PNG\r\n\x1a\n", FileKind::Png),
            ("a.webp", b"RIFF\x04\0\0\0WEBP", FileKind::WebP),
            ("a.pdf", b"%PDF-1.7\n\0", FileKind::Pdf),
            ("a.txt", "12.5 µm\r\n".as_bytes(), FileKind::Text),
            ("a.csv", b"t;F\n0,0;1,2\n", FileKind::Csv),
            ("log", b"12.5 \xb5m", FileKind::Text),
            ("notes", b"<5 mm at the nose", FileKind::Text),
        ] {
            assert_eq!(told(name, bytes), Ok(kind), "{name}");
        }
    }

    #[test]
    fn what_is_not_taken_is_called_by_its_name() {
        for (name, bytes, id) in [
            (
                "a.svg",
                &b"<?xml version='1.0'?>\n<SVG/>"[..],
                "file-is-svg",
            ),
            ("a.jpg", b"\xef\xbb\xbf <svg onload='x'>", "file-is-svg"),
            ("a.txt", b"<!-- hello --><svg>", "file-is-svg"),
            ("a.txt", b"<!DOCTYPE html><p>", "file-is-html"),
            ("a.xml", b"<?xml version='1.0'?><x/>", "file-is-xml"),
            ("a.gif", b"GIF89a", "file-is-gif"),
            ("a.jpg", b"\0\0\0\x18ftypheic", "file-is-heif"),
            ("a.mov", b"\0\0\0\x18ftypqt  ", "file-is-video"),
            ("a.docx", b"PK\x03\x04", "file-is-zip"),
            // A recording that is packed is never unfolded: one that unfolds into terabytes is refused as any other.
            ("pull.csv", b"\x1f\x8b\x08\0\0\0\0\0", "file-is-archive"),
            ("pull.csv.gz", b"\x1f\x8b\x08\0\0\0\0\0", "file-is-archive"),
            ("pull.csv", b"PK\x03\x04", "file-is-zip"),
            ("pull.csv", b"PK\x05\x06", "file-is-zip"),
            ("pull.txt", b"7z\xbc\xaf\x27\x1c\0\x04", "file-is-archive"),
            ("pull.csv", b"\x28\xb5\x2f\xfd\x04\0", "file-is-unknown"),
            ("pull.csv", b"BZh91AY&SY\0\x01", "file-is-unknown"),
            ("a.pdf", b"MZ\x90\0", "file-is-program"),
            ("a.sh", b"#!/bin/sh\n", "file-is-program"),
            ("a.txt", b"a\0b", "file-is-unknown"),
            ("a", b"\x01\x02", "file-is-unknown"),
        ] {
            let message = told(name, bytes).expect_err(name);
            assert!(message.contains("file-not-taken"), "{message}");
            assert!(message.contains(id), "{message}");
        }
    }

    #[test]
    fn a_name_that_says_something_else_is_told() {
        for (name, bytes) in [
            ("a.jpg", &b"%PDF-1.7"[..]),
            ("a.pdf", b"\xff\xd8\xff\xe0"),
            ("a.png", b"plain"),
            ("a.txt", b"\xff\xd8\xff\xe0"),
            ("a.exe", b"plain"),
            ("a.svg", b"\x89PNG\r\n\x1a\n"),
        ] {
            let message = told(name, bytes).expect_err(name);
            assert!(message.contains("file-not-what-it-says"), "{message}");
        }
    }
}
