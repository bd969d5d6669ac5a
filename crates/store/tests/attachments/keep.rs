//! Where files lie, and that the same file lies there once.

use image::ImageFormat;
use store::{FileHash, FileKind, Store};

use crate::Bench;
use crate::photo::{encoded, phone_jpeg, picture};

#[tokio::test]
async fn the_same_file_twice_is_kept_once() {
    let bench = Bench::new().await;
    let jpeg = encoded(&picture(32, 32), ImageFormat::Jpeg);
    let one = bench.send("one.jpg", &jpeg).expect("taken");
    let two = bench.send("two.jpeg", &jpeg).expect("taken");
    // Two photos that differ only in where they were taken are the same picture.
    let three = bench
        .send("3.jpg", &phone_jpeg(&jpeg, 1)[..])
        .expect("taken");
    assert_eq!(one.hash, two.hash);
    assert_ne!(one.hash, three.hash, "the third has a colour profile");
    assert_eq!(bench.all().len(), 2);
    assert_eq!(
        (one.name.as_str(), two.name.as_str()),
        ("one.jpg", "two.jpeg")
    );
}

#[tokio::test]
async fn what_is_kept_can_be_looked_at_again() {
    let bench = Bench::new().await;
    let sent = bench.send("../t.csv", b"1;2\n").expect("taken");
    assert_eq!((sent.name.as_str(), sent.kind), ("t.csv", FileKind::Csv));
    let files = bench.store.files();
    let again = files.kept(&sent.hash, "../t.csv").expect("read");
    assert_eq!(again.as_ref(), Some(&sent));
    let other = FileHash::parse(&"0".repeat(64)).expect("a hash");
    assert_eq!(files.kept(&other, "t.csv").expect("read"), None);
    assert!(files.open(&other).expect("read").is_none());
}

#[tokio::test]
async fn a_file_on_its_way_leaves_nothing_when_it_is_let_go() {
    let bench = Bench::new().await;
    let mut incoming = bench.store.files().receive("a.jpg").expect("begins");
    incoming.write(b"\xff\xd8\xff").expect("written");
    assert_eq!(bench.all().len(), 1);
    drop(incoming);
    assert_eq!(bench.all().len(), 0);
}

#[tokio::test]
async fn what_was_on_its_way_at_a_crash_is_removed_at_the_next_opening() {
    let bench = Bench::new().await;
    let kept = bench.send("a.txt", b"kept").expect("taken");
    let mut incoming = bench.store.files().receive("a.jpg").expect("begins");
    incoming.write(b"\xff\xd8\xff").expect("written");
    std::mem::forget(incoming);
    bench.store.clone().close().await;
    // A reader takes nothing away: the writer may be at work.
    let reader = Store::open_to_read(&bench.path()).await.expect("opens");
    assert_eq!(bench.all().len(), 2);
    reader.close().await;
    let store = Store::open(&bench.path()).await.expect("opens");
    assert_eq!(bench.all(), [bench.place(&kept)]);
    store.close().await;
}

#[tokio::test]
async fn a_recording_is_kept_byte_for_byte() {
    let bench = Bench::new().await;
    // Mixed line ends, an old encoding, a decimal comma, no last line end: nothing of it is mended.
    let logged = b"Zeit;Kraft\r\nms;kN\n0,0;0,01\r2,5;\xb51,2";
    let kept = bench.send("pull.csv", logged).expect("kept");
    assert_eq!(bench.stored(&kept), logged);
    assert_eq!(kept.bytes, logged.len() as u64);
}

/// Rows of a logger, of so many bytes and more.
pub fn recording(bytes: usize) -> Vec<u8> {
    let mut rows = b"Time (s);Stroke (mm);Force (kN)\n".to_vec();
    while rows.len() < bytes {
        let i = rows.len();
        rows.extend(format!("{i};{};{}\n", i % 977, i % 331).bytes());
    }
    rows
}

#[tokio::test]
async fn a_long_recording_lies_packed_and_comes_back_byte_for_byte() {
    let bench = Bench::new().await;
    let logged = recording(1_500_000);
    let kept = bench.send("pull.csv", &logged).expect("kept");
    // What is hashed and told is what was sent, not what lies there.
    let sent = FileHash::of(&mut logged.as_slice()).expect("hashed");
    assert_eq!((&kept.hash, kept.bytes), (&sent, logged.len() as u64));
    let lies = bench.stored(&kept);
    // RFC 1952, section 2.3.1: how a packed file begins.
    assert!(lies.starts_with(b"\x1f\x8b\x08"));
    assert!(4 * lies.len() < 3 * logged.len(), "{} bytes", lies.len());
    let files = bench.store.files();
    let mut given = Vec::new();
    let mut file = files.open(&kept.hash).expect("read").expect("kept");
    std::io::Read::read_to_end(&mut file, &mut given).expect("read");
    assert!(given == logged);
    // A form that is sent again finds it, and a name that says another kind is still refused.
    let again = files.kept(&kept.hash, "pull.csv").expect("read");
    assert_eq!(again.as_ref(), Some(&kept));
    assert!(files.kept(&kept.hash, "pull.jpg").is_err());
    // The same content again lies there once.
    let same = bench.send("again.csv", &logged).expect("kept");
    assert_eq!((same.hash, bench.all().len()), (kept.hash, 1));
}
