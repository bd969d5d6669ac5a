//! Photos made here: pictures with what a camera writes beside them.

use std::io::Cursor;

use image::{ImageFormat, Rgb, RgbImage};

/// Words that a stripped photo must not hold any more.
pub const SECRETS: [&str; 6] = [
    "GPSREF",
    "xmpmeta",
    "Mara's phone",
    "IPTC-PLACE",
    "a comment",
    "film with a place",
];

/// A picture of which each corner looks different: `width` × `height`.
pub fn picture(width: u32, height: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, y| {
        let side = |at: u32, of: u32| u8::try_from(at * 255 / of.max(1)).unwrap_or(255);
        Rgb([side(x, width), side(y, height), 90])
    })
}

/// The bytes of `picture` in `format`.
pub fn encoded(picture: &RgbImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, format).expect("encodes");
    bytes.into_inner()
}

/// The pixels of `bytes`, as they are stored.
pub fn pixels(bytes: &[u8]) -> RgbImage {
    image::load_from_memory(bytes).expect("decodes").into_rgb8()
}

/// A TIFF block with an orientation, a GPS directory that says 48° 12′ north, and the camera's
/// owner. Big-endian, as many cameras write it. TIFF 6.0; EXIF 2.3, 4.6.6 for the GPS tags.
pub fn exif(orientation: u8) -> Vec<u8> {
    let mut block = b"MM\0*\0\0\0\x08".to_vec();
    let entry = |tag: u16, kind: u16, count: u32, value: [u8; 4]| {
        let mut entry = tag.to_be_bytes().to_vec();
        entry.extend(kind.to_be_bytes());
        entry.extend(count.to_be_bytes());
        entry.extend(value);
        entry
    };
    // Three fields in the first directory: it ends at 8 + 2 + 36 + 4 = 50.
    block.extend(3u16.to_be_bytes());
    block.extend(entry(0x0112, 3, 1, [0, orientation, 0, 0]));
    block.extend(entry(0x013b, 2, 13, 50u32.to_be_bytes()));
    block.extend(entry(0x8825, 4, 1, 64u32.to_be_bytes()));
    block.extend(0u32.to_be_bytes());
    block.extend(b"Mara's phone\0\0");
    // GPS directory at 64: reference and latitude as three rationals at 94.
    block.extend(2u16.to_be_bytes());
    block.extend(entry(1, 2, 2, *b"N\0\0\0"));
    block.extend(entry(2, 5, 3, 94u32.to_be_bytes()));
    block.extend(0u32.to_be_bytes());
    for (over, under) in [(48u32, 1u32), (12, 1), (0, 1)] {
        block.extend(over.to_be_bytes());
        block.extend(under.to_be_bytes());
    }
    block.extend(b"GPSREF");
    block
}

/// A JPEG segment.
pub fn segment(marker: u8, content: &[u8]) -> Vec<u8> {
    let length = u16::try_from(content.len() + 2).expect("a short segment");
    [&[0xff, marker][..], &length.to_be_bytes(), content].concat()
}

/// `jpeg` with all that a phone adds: EXIF with GPS, XMP, IPTC, a comment, a maker's own segment, a
/// second picture's index, and a film after the end.
pub fn phone_jpeg(jpeg: &[u8], orientation: u8) -> Vec<u8> {
    let xmp = b"http://ns/xap/1.0/\0<x:xmpmeta exif:GPSLatitude='48,12N'/>";
    let iptc = b"Photoshop 3.0\x008BIM\x04\x04\0\0IPTC-PLACE";
    let mut photo = jpeg[..2].to_vec();
    photo.extend(segment(
        0xe1,
        &[b"Exif\0\0", &exif(orientation)[..]].concat(),
    ));
    photo.extend(segment(0xe1, xmp));
    photo.extend(segment(0xed, iptc));
    photo.extend(segment(0xe2, b"MPF\0GPSREF"));
    photo.extend(segment(0xe7, b"GPSREF of the maker"));
    photo.extend(segment(0xfe, b"a comment"));
    photo.extend(segment(0xe2, b"ICC_PROFILE\0\x01\x01profile"));
    photo.extend(&jpeg[2..]);
    photo.extend(b"film with a place GPSREF");
    photo
}

/// A PNG chunk.
pub fn chunk(name: &[u8; 4], content: &[u8]) -> Vec<u8> {
    let length = u32::try_from(content.len()).expect("a short chunk");
    let sum = crc32fast::hash(&[name, content].concat());
    let parts = [&length.to_be_bytes()[..], name, content, &sum.to_be_bytes()];
    parts.concat()
}

/// `png` with EXIF, texts, a time, a private chunk, and something after the end.
pub fn phone_png(png: &[u8], orientation: u8) -> Vec<u8> {
    // Signature and header: 8 + 25 bytes.
    let (head, rest) = png.split_at(33);
    [
        head,
        &chunk(b"eXIf", &exif(orientation)),
        &chunk(b"tEXt", b"Comment\0a comment GPSREF"),
        &chunk(b"iTXt", b"XML:com.adobe.xmp\0\0\0\0\0<x:xmpmeta/>"),
        &chunk(b"tIME", &[7, 0xea, 11, 25, 9, 30, 0]),
        &chunk(b"prVt", b"IPTC-PLACE"),
        &chunk(b"pHYs", &[0, 0, 0x0b, 0x13, 0, 0, 0x0b, 0x13, 1]),
        rest,
        b"film with a place",
    ]
    .concat()
}

/// A RIFF chunk.
pub fn riff(name: &[u8; 4], content: &[u8]) -> Vec<u8> {
    let length = u32::try_from(content.len()).expect("a short chunk");
    let even = vec![0; content.len() % 2];
    [&name[..], &length.to_le_bytes(), content, &even].concat()
}

/// The simple `webp` of `width` × `height` in the extended form, with EXIF and XMP.
pub fn phone_webp(webp: &[u8], (width, height): (u32, u32), orientation: u8) -> Vec<u8> {
    let mut head = vec![0x08 | 0x04, 0, 0, 0];
    head.extend(&(width - 1).to_le_bytes()[..3]);
    head.extend(&(height - 1).to_le_bytes()[..3]);
    let chunks = [
        b"WEBP".to_vec(),
        riff(b"VP8X", &head),
        webp[12..].to_vec(),
        riff(b"EXIF", &exif(orientation)),
        riff(b"XMP ", b"<x:xmpmeta/>!"),
        riff(b"PRIV", b"IPTC-PLACE"),
    ]
    .concat();
    let mut file = riff(b"RIFF", &chunks);
    file.extend(b"film with a place");
    file
}

/// Whether `bytes` hold `words`.
pub fn holds(bytes: &[u8], words: &str) -> bool {
    bytes.windows(words.len()).any(|w| w == words.as_bytes())
}

#[test]
fn the_photos_made_here_hold_what_must_go() {
    let small = picture(16, 8);
    let photos = [
        phone_jpeg(&encoded(&small, ImageFormat::Jpeg), 6),
        phone_png(&encoded(&small, ImageFormat::Png), 6),
        phone_webp(&encoded(&small, ImageFormat::WebP), (16, 8), 6),
    ];
    for photo in photos {
        for secret in ["GPSREF", "xmpmeta", "Mara's phone", "IPTC-PLACE"] {
            assert!(holds(&photo, secret), "{secret}");
        }
        // They are photos that others read, orientation and all.
        let mut reader = image::ImageReader::new(Cursor::new(&photo))
            .with_guessed_format()
            .expect("known")
            .into_decoder()
            .expect("decodes");
        let turned = image::ImageDecoder::orientation(&mut reader).expect("read");
        assert_eq!(turned.to_exif(), 6);
    }
}
