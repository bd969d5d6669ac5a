//! What is not taken, with the reason; and that nothing of it is left.

use image::ImageFormat;
use store::{FileError, MOST_BYTES};

use crate::Bench;
use crate::photo::{chunk, encoded, phone_webp, picture};

/// Sends it, and gives the id of the refusal.
async fn refused(name: &str, bytes: &[u8]) -> &'static str {
    let bench = Bench::new().await;
    let refused = bench.send(name, bytes);
    assert_eq!(bench.all().len(), 0, "{name}: nothing is left");
    match refused {
        Err(FileError::Refused(message)) => message.id,
        other => panic!("{name}: {other:?}"),
    }
}

#[tokio::test]
async fn photos_that_break_off() {
    let small = picture(64, 40);
    let formats = [
        ("a.jpg", encoded(&small, ImageFormat::Jpeg)),
        ("a.png", encoded(&small, ImageFormat::Png)),
        ("a.webp", encoded(&small, ImageFormat::WebP)),
    ];
    for (name, photo) in formats {
        for cut in [1, 3, photo.len() / 2, photo.len() - 20] {
            let part = &photo[..photo.len() - cut];
            assert_eq!(refused(name, part).await, "file-truncated", "{name} {cut}");
        }
    }
}

#[tokio::test]
async fn photos_that_are_damaged() {
    let mut png = encoded(&picture(64, 40), ImageFormat::Png);
    let middle = png.len() / 2;
    png[middle] ^= 1;
    assert_eq!(refused("a.png", &png).await, "file-damaged");
    let jpeg = encoded(&picture(64, 40), ImageFormat::Jpeg);
    let no_frame = [&jpeg[..2], &[0xff, 0xda, 0, 2, 0xff, 0xd9][..]].concat();
    assert_eq!(
        refused("a.jpg", &[&no_frame[..], b"\xff"].concat()).await,
        "file-damaged"
    );
}

/// The beginning of a PNG of 60 000 × 60 000 pixels in a hundred bytes.
fn bomb() -> Vec<u8> {
    let side = 60_000u32.to_be_bytes();
    let header = [&side[..], &side, &[8, 2, 0, 0, 0]].concat();
    [
        &b"\x89PNG\r\n\x1a\n"[..],
        &chunk(b"IHDR", &header),
        &chunk(b"IDAT", b"\x78\x9c\x03\0\0\0\0\x01"),
        &chunk(b"IEND", b""),
    ]
    .concat()
}

#[tokio::test]
async fn pictures_that_unfold_into_too_much() {
    assert_eq!(refused("a.png", &bomb()).await, "file-pixels");
    let webp = encoded(&picture(24, 16), ImageFormat::WebP);
    let wide = phone_webp(&webp, (16_000, 16_000), 1);
    assert_eq!(refused("a.webp", &wide).await, "file-pixels");
}

#[tokio::test]
async fn a_bomb_that_got_in_by_another_way_is_not_unfolded() {
    let bench = Bench::new().await;
    let kept = bench.send("a.txt", b"plain").expect("taken");
    std::fs::write(bench.place(&kept), bomb()).expect("written");
    let size = store::PictureSize::Thumbnail;
    let refused = bench.store.files().picture(&kept.hash, size);
    let message = refused.expect_err("not unfolded").message();
    assert_eq!(message.id, "file-unreadable");
}

#[tokio::test]
async fn files_that_are_too_large_or_empty() {
    assert_eq!(refused("a.jpg", b"").await, "file-empty");
    let bench = Bench::new().await;
    let mut incoming = bench.store.files().receive("big.jpg").expect("begins");
    incoming.write(b"\xff\xd8\xff").expect("written");
    let piece = vec![7; 1_000_000];
    let mut most = 0;
    for _ in 0..30 {
        incoming.write(&piece).expect("written or counted");
        let held = bench
            .all()
            .into_iter()
            .map(|p| p.metadata().map_or(0, |m| m.len()));
        most = most.max(held.sum::<u64>());
    }
    assert!(most <= MOST_BYTES, "{most} bytes were written");
    let Err(FileError::Refused(message)) = incoming.keep() else {
        panic!("it is too large");
    };
    let told = format!("{message:?}");
    assert!(
        told.contains("file-too-large") && told.contains("30"),
        "{told}"
    );
    assert_eq!(bench.all().len(), 0);
}

#[tokio::test]
async fn other_kinds_and_false_names() {
    let jpeg = encoded(&picture(8, 8), ImageFormat::Jpeg);
    for (name, bytes, id) in [
        (
            "drawing.svg",
            &b"<svg xmlns='x'><script/></svg>"[..],
            "file-not-taken",
        ),
        ("photo.jpg", b"<svg onload='x'/>", "file-not-taken"),
        (
            "photo.heic",
            b"\0\0\0\x18ftypheic\0\0\0\0",
            "file-not-taken",
        ),
        ("photo.jpg", b"%PDF-1.7", "file-not-what-it-says"),
        ("paper.pdf", &jpeg, "file-not-what-it-says"),
        ("setup.exe", b"MZ\x90\0\x03\0", "file-not-taken"),
    ] {
        assert_eq!(refused(name, bytes).await, id, "{name}");
    }
}
