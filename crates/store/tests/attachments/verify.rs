//! `verify` looks at every byte of every file.

use jiff::Timestamp;
use shop::entry::{Body, FileAttached};
use store::{Difference, Kept, Request, Store};
use uuid::Uuid;

use crate::Bench;
use crate::keep::recording;

async fn attach(store: &Store, kept: &Kept, version: u32) {
    let subject = Uuid::from_u128(1);
    let by = store.person("Ansa").await.expect("a person");
    let request = Request {
        submission: format!("{version}"),
        subject,
        expected_version: version,
        by,
        at: Timestamp::UNIX_EPOCH,
        serial: None,
    };
    let body: Body = FileAttached {
        name: kept.name.clone(),
        media_type: kept.kind.media_type().to_owned(),
        bytes: kept.bytes,
        sha256: kept.hash.to_string(),
        stage: "fault".to_owned(),
        note: String::new(),
        step: String::new(),
    }
    .into();
    let written = store
        .append(request, move |_| Ok::<_, ()>(vec![(subject, body)]))
        .await;
    written.expect("stored");
}

#[tokio::test]
async fn missing_changed_and_left_over_files_are_found() {
    let bench = Bench::new().await;
    let mut kept = Vec::new();
    for (version, text) in [(0, "whole"), (1, "gone"), (2, "changed")] {
        let name = format!("{text}.txt");
        let file = bench.send(&name, text.as_bytes()).expect("taken");
        attach(&bench.store, &file, version).await;
        kept.push(file);
    }
    let orphan = bench.send("orphan.txt", b"orphan").expect("taken");
    let report = bench.store.verify().await.expect("a report");
    assert!(report.is_clean(), "{report:?}");
    assert_eq!(report.files, 3);
    let hash = orphan.hash.as_str();
    assert_eq!(report.orphans, [format!("{}/{}", &hash[..2], &hash[2..])]);

    std::fs::remove_file(bench.place(&kept[1])).expect("removed");
    std::fs::write(bench.place(&kept[2]), b"changes").expect("written");
    let report = bench.store.verify().await.expect("a report");
    let mut expected = [
        Difference::FileMissing {
            name: "gone.txt".to_owned(),
            hash: kept[1].hash.to_string(),
        },
        Difference::FileChanged {
            name: "changed.txt".to_owned(),
            hash: kept[2].hash.to_string(),
        },
    ];
    let mut found = report.differences;
    found.sort_by_key(|d| format!("{d:?}"));
    expected.sort_by_key(|d| format!("{d:?}"));
    assert_eq!(found, expected);

    // Sent again, it is whole again.
    bench.send("gone.txt", b"gone").expect("taken");
    bench.send("changed.txt", b"changed").expect("taken");
    assert!(bench.store.verify().await.expect("a report").is_clean());
}

#[tokio::test]
async fn a_packed_recording_is_compared_by_what_is_in_it() {
    let bench = Bench::new().await;
    let logged = recording(1_200_000);
    let kept = bench.send("pull.csv", &logged).expect("taken");
    attach(&bench.store, &kept, 0).await;
    assert!(bench.store.verify().await.expect("a report").is_clean());
    let lies = bench.stored(&kept);
    let mut turned = lies.clone();
    turned[lies.len() / 2] ^= 1;
    let behind = [&lies[..], b"more"].concat();
    let cut = &lies[..lies.len() - 9];
    for (how, bytes) in [
        ("turned", &turned[..]),
        ("behind", &behind),
        ("cut", cut),
        ("other", b"1;2\n"),
    ] {
        std::fs::write(bench.place(&kept), bytes).expect("written");
        let report = bench.store.verify().await.expect("a report");
        let changed = Difference::FileChanged {
            name: "pull.csv".to_owned(),
            hash: kept.hash.to_string(),
        };
        assert_eq!(report.differences, [changed], "{how}");
    }
    // Sent again, it is whole again; a copy of the record has it, too.
    bench.send("pull.csv", &logged).expect("taken");
    let beside = tempfile::tempdir().expect("a folder");
    let (copy, back) = (
        beside.path().join("copy"),
        beside.path().join("back.setwright"),
    );
    let at = Timestamp::UNIX_EPOCH;
    store::backup(&bench.path(), &copy, at, &mut |_| {})
        .await
        .expect("a copy");
    let restored = store::restore(&copy, &back, false, at, &mut |_| {}).await;
    assert_eq!(restored.expect("restored").faults, []);
    let store = Store::open_to_read(&back).await.expect("opens");
    let mut given = store.files().open(&kept.hash).expect("read").expect("kept");
    assert_eq!(store::FileHash::of(&mut given).expect("read"), kept.hash);
    store.close().await;
}
