//! What a photo tells beside the picture is gone, the picture is as it was.

use image::{ImageDecoder, ImageFormat, ImageReader};
use store::FileKind;

use crate::Bench;
use crate::photo::{
    SECRETS, encoded, holds, phone_jpeg, phone_png, phone_webp, picture, pixels, riff,
};

/// How the stored photo says that it is turned.
fn orientation(bytes: &[u8]) -> u8 {
    let reader = ImageReader::new(std::io::Cursor::new(bytes)).with_guessed_format();
    let mut decoder = reader.expect("known").into_decoder().expect("a picture");
    decoder.orientation().expect("read").to_exif()
}

async fn stripped(name: &str, photo: &[u8]) -> Vec<u8> {
    let bench = Bench::new().await;
    let kept = bench.send(name, photo).expect("taken");
    let stored = bench.stored(&kept);
    assert_eq!(kept.bytes, stored.len() as u64);
    for secret in SECRETS {
        assert!(!holds(&stored, secret), "{name}: {secret}");
    }
    assert_eq!(pixels(photo), pixels(&stored), "{name}: pixels");
    stored
}

#[tokio::test]
async fn a_jpeg_loses_its_place_and_keeps_its_pixels() {
    let jpeg = encoded(&picture(64, 40), ImageFormat::Jpeg);
    for turned in 1..=8 {
        let stored = stripped("a.jpg", &phone_jpeg(&jpeg, turned)).await;
        assert_eq!(orientation(&stored), turned);
        assert!(holds(&stored, "ICC_PROFILE"), "colours stay right");
        assert!(stored.ends_with(&[0xff, 0xd9]), "nothing after the end");
        assert_eq!(holds(&stored, "Exif"), turned != 1, "no block without need");
    }
}

#[tokio::test]
async fn a_plain_jpeg_stays_byte_for_byte() {
    let jpeg = encoded(&picture(64, 40), ImageFormat::Jpeg);
    assert_eq!(stripped("a.jpg", &jpeg).await, jpeg);
}

#[tokio::test]
async fn a_jpeg_in_many_scans_loses_its_place_and_keeps_its_pixels() {
    // Made for this test from a colour gradient, progressive, by a drawing program.
    let progressive = include_bytes!("samples/progressive.jpg");
    assert_eq!(stripped("a.jpg", progressive).await, progressive);
    let stored = stripped("a.jpg", &phone_jpeg(progressive, 3)).await;
    assert_eq!(orientation(&stored), 3);
}

#[tokio::test]
async fn a_png_loses_its_place_and_keeps_its_pixels() {
    let png = encoded(&picture(33, 20), ImageFormat::Png);
    for turned in [1, 8] {
        let stored = stripped("a.png", &phone_png(&png, turned)).await;
        assert_eq!(orientation(&stored), turned);
        assert!(holds(&stored, "pHYs"), "what the picture needs stays");
    }
    assert_eq!(stripped("a.png", &png).await, png);
}

#[tokio::test]
async fn a_webp_loses_its_place_and_keeps_its_pixels() {
    let lossless = encoded(&picture(24, 16), ImageFormat::WebP);
    // Made for this test from a colour gradient by a drawing program.
    let lossy = include_bytes!("samples/lossy.webp");
    for webp in [&lossless[..], lossy] {
        for turned in [1, 6] {
            let photo = phone_webp(webp, (24, 16), turned);
            let stored = stripped("a.webp", &photo).await;
            assert_eq!(orientation(&stored), turned);
            let length = u32::try_from(stored.len() - 8).expect("short");
            assert_eq!(stored[4..8], length.to_le_bytes());
        }
        assert_eq!(stripped("a.webp", webp).await, webp);
    }
}

#[tokio::test]
async fn a_webp_with_a_place_in_the_simple_form_loses_it_too() {
    let webp = encoded(&picture(24, 16), ImageFormat::WebP);
    let chunks = [&webp[8..], &riff(b"XMP ", b"<x:xmpmeta/>")[..]].concat();
    assert_eq!(stripped("a.webp", &riff(b"RIFF", &chunks)).await, webp);
}

#[tokio::test]
async fn documents_and_text_stay_as_they_are() {
    let bench = Bench::new().await;
    for (name, bytes, kind) in [
        (
            "a.pdf",
            &b"%PDF-1.7\n/Author (x)\n%%EOF\n"[..],
            FileKind::Pdf,
        ),
        ("a.csv", b"t;F\r\n0,0;12,5\r\n", FileKind::Csv),
    ] {
        let kept = bench.send(name, bytes).expect("taken");
        assert_eq!(kept.kind, kind);
        assert_eq!(bench.stored(&kept), bytes);
    }
}
