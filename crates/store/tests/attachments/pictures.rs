//! Small pictures: upright, small, the same every time.

use image::{ImageFormat, Rgb};
use store::PictureSize;

use crate::Bench;
use crate::photo::{encoded, phone_jpeg, phone_png, phone_webp, picture, pixels};

#[tokio::test]
async fn small_pictures_stand_upright() {
    // Red grows to the right, green downwards.
    let wide = picture(640, 400);
    let photos = [
        ("a.jpg", phone_jpeg(&encoded(&wide, ImageFormat::Jpeg), 6)),
        ("a.png", phone_png(&encoded(&wide, ImageFormat::Png), 6)),
        (
            "a.webp",
            phone_webp(&encoded(&wide, ImageFormat::WebP), (640, 400), 6),
        ),
    ];
    for (name, photo) in photos {
        let bench = Bench::new().await;
        let kept = bench.send(name, &photo).expect("taken");
        let files = bench.store.files();
        let made = files.picture(&kept.hash, PictureSize::Thumbnail);
        let made = made.expect("made");
        let small = pixels(&made);
        assert_eq!(
            small.dimensions(),
            (200, 320),
            "{name}: turned by a quarter"
        );
        // EXIF orientation 6: the row that is stored first stands at the right.
        let Rgb([red, green, _]) = *small.get_pixel(195, 5);
        assert!(red < 40 && green < 40, "{name}: {red} {green}");
        let Rgb([red, green, _]) = *small.get_pixel(5, 315);
        assert!(red > 215 && green > 215, "{name}: {red} {green}");
        let again = files.picture(&kept.hash, PictureSize::Thumbnail);
        assert_eq!(again.expect("kept"), made);
    }
}

#[tokio::test]
async fn the_same_photo_gives_the_same_small_picture_on_another_bench() {
    let photo = encoded(&picture(1300, 900), ImageFormat::Jpeg);
    let mut seen = Vec::new();
    for _ in 0..2 {
        let bench = Bench::new().await;
        let kept = bench.send("a.jpg", &photo).expect("taken");
        let made = bench.store.files().picture(&kept.hash, PictureSize::Print);
        seen.push(made.expect("made"));
    }
    assert_eq!(seen[0], seen[1]);
    assert_eq!(pixels(&seen[0]).width(), 1000);
}

#[tokio::test]
async fn a_small_photo_is_not_blown_up_and_glass_lies_on_white() {
    let bench = Bench::new().await;
    let glass = image::RgbaImage::from_pixel(20, 10, image::Rgba([0, 0, 0, 0]));
    let mut png = std::io::Cursor::new(Vec::new());
    glass.write_to(&mut png, ImageFormat::Png).expect("encodes");
    let kept = bench.send("a.png", png.get_ref()).expect("taken");
    let made = bench
        .store
        .files()
        .picture(&kept.hash, PictureSize::Thumbnail);
    let small = pixels(&made.expect("made"));
    assert_eq!(small.dimensions(), (20, 10));
    assert!(small.get_pixel(3, 3).0.iter().all(|c| *c > 250));
}

#[tokio::test]
async fn what_is_no_picture_has_none() {
    let bench = Bench::new().await;
    let kept = bench.send("a.pdf", b"%PDF-1.7").expect("taken");
    let files = bench.store.files();
    let refused = files.picture(&kept.hash, PictureSize::Thumbnail);
    assert_eq!(refused.expect_err("none").message().id, "file-unreadable");
}
