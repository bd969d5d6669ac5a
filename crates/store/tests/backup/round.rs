//! There and back.

use store::{BackupError, Difference, Store, StoreError};

use crate::{Place, backup, restore, whole};

#[tokio::test]
async fn what_comes_back_is_what_was_there() {
    let place = Place::make();
    let record = place.record("shop.setwright", 3).await;
    let before = whole(&record).await;
    let made = backup(&record, &place.at("b")).await.expect("made");
    assert_eq!(made.faults, []);
    assert_eq!(made.path, place.at("b"));
    let manifest = &made.manifest;
    assert_eq!(manifest.entries, 9);
    assert_eq!(manifest.kinds["received"], 3);
    assert_eq!(manifest.kinds["file-attached"], 3);
    assert_eq!(manifest.heads[0].hash, before.0.hash);
    assert_eq!(manifest.files.len(), 1 + 3);
    assert_eq!(place.names("b"), ["b"], "nothing else is left");

    let other = place.at("other/shop.setwright");
    let restored = restore(&place.at("b/"), &other, false)
        .await
        .expect("restored");
    assert_eq!(restored.manifest, made.manifest);
    assert_eq!((restored.kept, restored.was_finished), (None, false));
    assert_eq!(whole(&other).await, before);
    let store = Store::open(&other).await.expect("goes on being written to");
    assert_eq!(store.names().await.expect("names").len(), 1);
    store.close().await;
    assert_eq!(whole(&record).await, before, "the first is as it was");
}

#[tokio::test]
async fn a_record_without_entries_and_files_comes_back_too() {
    let place = Place::make();
    let record = place.record("shop.setwright", 0).await;
    backup(&record, &place.at("b")).await.expect("made");
    let other = place.at("other.setwright");
    restore(&place.at("b"), &other, false)
        .await
        .expect("restored");
    assert_eq!(whole(&other).await, whole(&record).await);
}

#[tokio::test]
async fn a_record_is_never_overwritten_but_put_aside_whole() {
    let place = Place::make();
    let old = place.record("shop.setwright", 2).await;
    let (old_end, old_files) = whole(&old).await;
    let record = place.record("next.setwright", 1).await;
    let new_end = whole(&record).await;
    backup(&record, &place.at("b")).await.expect("made");

    let refused = restore(&place.at("b"), &old, false).await;
    let path = old.canonicalize().expect("there");
    assert_eq!(refused, Err(BackupError::StoreExists { path }));
    assert_eq!(whole(&old).await, (old_end.clone(), old_files));

    for _ in 0..2 {
        let restored = restore(&place.at("b"), &old, true).await.expect("restored");
        let kept = restored.kept.expect("the old one is kept");
        assert_eq!(whole(&old).await, new_end);
        assert!(kept.join("shop.setwright").exists());
    }
    let kept = place.names("shop.setwright.old-");
    assert_eq!(
        kept,
        [
            "shop.setwright.old-19700101T000000Z",
            "shop.setwright.old-19700101T000000Z-2"
        ]
    );
    let kept = place.at(&kept[0]).join("shop.setwright");
    assert_eq!(whole(&kept).await, (old_end, old_files));
}

#[tokio::test]
async fn an_old_record_with_entries_in_its_log_alone_is_kept_with_them() {
    let place = Place::make();
    let old = place.record("shop.setwright", 1).await;
    let copy = place.at("crashed.setwright");
    // As after a crash: the newest entries stand in SQLite's log, not in the file.
    let store = Store::open(&old).await.expect("opens");
    store.person("Mirel").await.expect("a person");
    for companion in ["", "-wal"] {
        let name = |path: &std::path::Path| format!("{}{companion}", path.display());
        std::fs::copy(name(&old), name(&copy)).expect("copied");
    }
    let log = std::fs::metadata(format!("{}-wal", copy.display()));
    assert!(log.expect("a log").len() > 0);
    store.close().await;
    backup(&old, &place.at("b")).await.expect("made");
    let restored = restore(&place.at("b"), &copy, true)
        .await
        .expect("restored");
    let kept = restored.kept.expect("kept").join("crashed.setwright");
    let store = Store::open_to_read(&kept).await.expect("opens");
    let names = store.names().await.expect("names");
    assert!(names.values().any(|n| n == "Mirel"), "{names:?}");
    whole(&copy).await;
}

#[tokio::test]
async fn an_open_record_is_backed_up_and_not_restored_over() {
    let place = Place::make();
    let record = place.record("shop.setwright", 1).await;
    let store = Store::open(&record).await.expect("open");
    backup(&record, &place.at("b")).await.expect("made");
    let refused = restore(&place.at("b"), &record, true).await;
    assert_eq!(refused, Err(BackupError::Store(StoreError::InUse)));
    store.close().await;
}

#[tokio::test]
async fn an_erased_name_is_not_in_a_later_backup() {
    let place = Place::make();
    let record = place.record("shop.setwright", 1).await;
    let store = Store::open(&record).await.expect("open");
    let gone = store.person("Ervenhild").await.expect("a person");
    let holds = |name: &str| {
        let bytes = std::fs::read(place.at(name).join("record.setwright")).expect("read");
        bytes.windows(9).any(|w| w == b"Ervenhild")
    };
    backup(&record, &place.at("before")).await.expect("made");
    assert!(holds("before"));
    store.erase_person(&gone).await.expect("erased");
    backup(&record, &place.at("after")).await.expect("made");
    assert!(!holds("after"));
    store.close().await;
}

#[tokio::test]
async fn a_record_with_faults_is_backed_up_as_it_is_and_they_are_told() {
    let place = Place::make();
    let record = place.record("shop.setwright", 2).await;
    let mut lost = Vec::new();
    let files = place.at("shop.setwright.files");
    for folder in std::fs::read_dir(files).expect("files").flatten() {
        for file in std::fs::read_dir(folder.path())
            .into_iter()
            .flatten()
            .flatten()
        {
            lost.push(file.path());
        }
    }
    lost.sort();
    std::fs::remove_file(&lost[0]).expect("removed");
    std::fs::write(&lost[1], b"changed").expect("written");
    let made = backup(&record, &place.at("b"))
        .await
        .expect("made all the same");
    let other = place.at("other.setwright");
    let restored = restore(&place.at("b"), &other, false)
        .await
        .expect("restored");
    for faults in [&made.faults, &restored.faults] {
        assert!(matches!(
            faults[..],
            [
                Difference::FileMissing { .. },
                Difference::FileChanged { .. }
            ]
        ));
    }
}
