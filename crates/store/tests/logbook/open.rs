//! Opening a record.

use std::fs;

use store::{AppendError, Store, StoreError};

use crate::Bench;
use crate::sample::{Chance, take_in};

#[tokio::test]
async fn a_second_writer_is_refused_until_the_first_is_gone() {
    let bench = Bench::new().await;
    let second = Store::open(&bench.path()).await;
    assert_eq!(second.err(), Some(StoreError::InUse));
    bench.store.person("Ansa").await.expect("the first goes on");
    bench.reopened().await;
}

#[cfg(unix)]
#[tokio::test]
async fn another_name_of_the_same_file_is_the_same_record() {
    let bench = Bench::new().await;
    let link = bench.path().with_file_name("link");
    std::os::unix::fs::symlink(bench.path(), &link).expect("a link");
    assert_eq!(Store::open(&link).await.err(), Some(StoreError::InUse));
}

#[tokio::test]
async fn readers_come_in_while_it_is_written_to() {
    let bench = Bench::new().await;
    let (mut chance, by) = (Chance(1), bench.store.person("Ansa").await.expect("a key"));
    let reader = Store::open_to_read(&bench.path()).await.expect("readable");
    let (job, tool) = (chance.uuid(), chance.uuid());
    let taken = take_in(&bench.store, "a", job, tool, "TB-1", &by).await;
    taken.expect("stored");
    assert_eq!(reader.entries(job).await.expect("entries").len(), 1);
    assert!(reader.verify().await.expect("report").is_clean());
    let refused = take_in(&reader, "b", chance.uuid(), chance.uuid(), "TB-2", &by).await;
    assert_eq!(refused, Err(AppendError::Store(StoreError::ReadOnly)));
    assert_eq!(reader.rebuild().await, Err(StoreError::ReadOnly));
    bench.store.close().await;
    assert_eq!(reader.head().await.expect("head").seq, 2);
    reader.close().await;
}

#[tokio::test]
async fn a_record_can_be_read_when_nobody_writes_to_it() {
    let bench = Bench::new().await;
    let head = bench.store.head().await.expect("head");
    let path = bench.path();
    bench.store.clone().close().await;
    let reader = Store::open_to_read(&path).await.expect("readable");
    assert_eq!(reader.head().await.expect("head"), head);
}

#[tokio::test]
async fn what_is_not_a_record_is_left_as_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let text = folder.path().join("notes.txt");
    let words = "Not a record, but long enough to be looked at as one. ".repeat(50);
    fs::write(&text, &words).expect("written");
    assert_eq!(Store::open(&text).await.err(), Some(StoreError::NotAStore));
    assert_eq!(
        Store::open_to_read(&text).await.err(),
        Some(StoreError::NotAStore)
    );
    assert_eq!(fs::read_to_string(&text).expect("still there"), words);

    let bench = Bench::new().await;
    bench.store.clone().close().await;
    bench.tamper("PRAGMA application_id = 7").await;
    assert_eq!(
        Store::open(&bench.path()).await.err(),
        Some(StoreError::NotAStore)
    );
}

#[tokio::test]
async fn a_newer_record_is_refused() {
    let bench = Bench::new().await;
    bench.store.clone().close().await;
    bench
        .tamper(
            "INSERT INTO _sqlx_migrations (version, description, success, checksum, execution_time)
             VALUES (9999, 'later', 1, x'00', 0)",
        )
        .await;
    let refused = Some(StoreError::OtherVersion);
    assert_eq!(Store::open(&bench.path()).await.err(), refused);
    assert_eq!(Store::open_to_read(&bench.path()).await.err(), refused);
}

#[tokio::test]
async fn a_folder_that_is_not_there_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let nowhere = folder.path().join("no such folder").join("shop.setwright");
    for opened in [
        Store::open(&nowhere).await,
        Store::open_to_read(&nowhere).await,
    ] {
        assert!(matches!(opened.err(), Some(StoreError::CannotOpen { .. })));
    }
    assert!(!nowhere.exists());
}

#[tokio::test]
async fn a_first_opening_that_was_cut_short_is_made_good() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shop.setwright");
    fs::write(&path, b"").expect("an empty file");
    let store = Store::open(&path).await.expect("a new record");
    store.close().await;
}

#[tokio::test]
async fn a_closed_record_says_so() {
    let bench = Bench::new().await;
    bench.store.clone().close().await;
    assert_eq!(bench.store.person("Ansa").await, Err(StoreError::Closed));
    assert_eq!(bench.store.head().await.err(), Some(StoreError::Closed));
}
