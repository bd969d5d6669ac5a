//! Whatever is sent, the program answers: it takes it or says why not.

use proptest::prelude::*;
use store::{FileError, PictureSize};

use crate::Bench;
use crate::photo::{encoded, phone_jpeg, phone_png, phone_webp, picture};

/// A photo with some of its bytes changed and its end cut off.
fn spoilt() -> impl Strategy<Value = Vec<u8>> {
    let small = picture(9, 7);
    let photos = vec![
        phone_jpeg(&encoded(&small, image::ImageFormat::Jpeg), 5),
        phone_jpeg(include_bytes!("samples/progressive.jpg"), 5),
        phone_png(&encoded(&small, image::ImageFormat::Png), 5),
        phone_webp(&encoded(&small, image::ImageFormat::WebP), (9, 7), 5),
        phone_webp(include_bytes!("samples/lossy.webp"), (24, 16), 5),
    ];
    let changes = prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 0..6);
    let cut = prop_oneof![3 => Just(None), 1 => any::<prop::sample::Index>().prop_map(Some)];
    (prop::sample::select(photos), changes, cut).prop_map(|(mut photo, changes, cut)| {
        for (at, byte) in changes {
            let at = at.index(photo.len());
            photo[at] = byte;
        }
        if let Some(cut) = cut {
            photo.truncate(cut.index(photo.len()));
        }
        photo
    })
}

#[test]
fn spoilt_photos_are_taken_or_refused_never_more() {
    let runtime = tokio::runtime::Runtime::new().expect("a runtime");
    let bench = runtime.block_on(Bench::new());
    proptest!(|(photo in spoilt())| {
        match bench.send("a.jpg", &photo).or_else(|_| bench.send("a", &photo)) {
            // A picture or the word that there is none.
            Ok(kept) => {
                let files = bench.store.files();
                let small = files.picture(&kept.hash, PictureSize::Thumbnail);
                if let Err(error) = small {
                    prop_assert!(matches!(error, FileError::Refused(_)), "{error:?}");
                }
            }
            Err(error) => prop_assert!(matches!(error, FileError::Refused(_)), "{error:?}"),
        }
    });
}
