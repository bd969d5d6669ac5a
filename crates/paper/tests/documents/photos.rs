//! Photos and files on the service report.

use std::process::Command;

use paper::model::{AttachedFile, AttachedPhoto, ServiceReport};
use paper::service_report;
use words::Words;

use crate::{pdf, sample};

/// A small photo of 24 × 16 pixels.
const JPEG: &[u8] = include_bytes!("../../../store/tests/attachments/samples/progressive.jpg");

fn photo(number: usize, caption: &str, jpeg: Option<&[u8]>) -> AttachedPhoto {
    AttachedPhoto {
        jpeg: jpeg.map(<[u8]>::to_vec),
        caption: caption.to_owned(),
        stage: "Fault".to_owned(),
        name: format!("collet-{number}.jpg"),
        by: "24 Nov 08:12, Joren".to_owned(),
        hash: format!("{number:064x}"),
    }
}

fn report(photos: Vec<AttachedPhoto>) -> ServiceReport {
    ServiceReport {
        photos,
        files: vec![AttachedFile {
            name: "pulls.csv".to_owned(),
            caption: "first pulls".to_owned(),
            stage: "Proved".to_owned(),
            hash: "ab".repeat(32),
        }],
        ..sample::report()
    }
}

fn set(report: &ServiceReport) -> Vec<u8> {
    service_report(report, Words::english()).expect("the report sets")
}

/// Whether the hash of photo `number` is there, on as many lines as it needs.
fn has_hash(read: &pdf::Read, number: usize) -> bool {
    read.text
        .replace(' ', "")
        .contains(&format!("{number:064x}"))
}

/// Width and height of each picture in the file, pixels.
fn pictures(name: &str) -> Vec<(String, String)> {
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.pdf"));
    let told = Command::new("pdfimages").arg("-list").arg(path).output();
    let told = told.expect("pdfimages of poppler-utils is installed");
    let lines = String::from_utf8(told.stdout).expect("text");
    let rows = lines.lines().skip(2).map(|line| {
        let cells: Vec<&str> = line.split_whitespace().collect();
        (cells[3].to_owned(), cells[4].to_owned())
    });
    rows.collect()
}

#[test]
fn every_photo_is_there_with_caption_stage_and_hash() {
    let photos: Vec<AttachedPhoto> = (1..=9)
        .map(|n| photo(n, &format!("teeth {n} worn flat"), Some(JPEG)))
        .collect();
    let without = pdf::read("no-photos", &set(&report(Vec::new())));
    let read = pdf::read("photos", &set(&report(photos)));
    for n in 1..=9 {
        read.says(&[&format!("teeth {n} worn flat")]);
        assert!(has_hash(&read, n), "{n}");
    }
    read.says(&["Photos", "Fault, collet-1.jpg, 24 Nov 08:12, Joren"]);
    read.says(&[
        "Files kept with the record",
        "pulls.csv",
        "first pulls",
        "Proved",
    ]);
    let shown = pictures("photos");
    assert_eq!(shown.len() - pictures("no-photos").len(), 9);
    assert!(
        shown
            .iter()
            .all(|size| *size == ("24".to_owned(), "16".to_owned()))
    );
    assert!(!without.text.contains("Photos"));
    assert!(read.pages.len() > without.pages.len());
    let last = read.pages.last().expect("pages");
    assert!(
        last.contains("Authorised by"),
        "the signature comes last: {last}"
    );
}

#[test]
fn a_photo_that_is_lost_or_has_no_caption_keeps_its_place() {
    let photos = vec![photo(1, "", Some(JPEG)), photo(2, "the other side", None)];
    let read = pdf::read("lost-photo", &set(&report(photos)));
    read.says(&[
        "collet-1.jpg Fault, 24 Nov 08:12, Joren",
        "This picture cannot be shown.",
    ]);
    read.says(&["the other side"]);
    assert!(has_hash(&read, 2));
}

#[test]
fn the_same_photos_give_the_same_bytes() {
    let one = || set(&report(vec![photo(1, "worn", Some(JPEG))]));
    assert_eq!(one(), one());
}
