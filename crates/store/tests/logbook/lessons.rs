//! What closed jobs teach: its table, what is kept in memory, and records from before there was one.

use shop::entry::Body;
use store::Store;
use uuid::Uuid;

use crate::Bench;
use crate::sample::{confirmed, receive, register, request, returned, write};

const JOB: Uuid = Uuid::from_u128(1);

/// A record with one closed job.
async fn taught() -> Bench {
    let bench = Bench::new().await;
    let by = bench.store.person("Ansa").await.expect("a key");
    let tool = Uuid::from_u128(2);
    let all = vec![
        (tool, register("S-1", &by)),
        (JOB, receive(1001, tool, "S-1", &by)),
        (JOB, confirmed(&[])),
        (JOB, returned(&by)),
    ];
    let written = bench.store.append(request("k", JOB, 0, &by), move |_| {
        Ok::<Vec<(Uuid, Body)>, ()>(all)
    });
    written.await.expect("stored");
    let lessons = bench.store.lessons();
    assert_eq!(lessons.len(), 1);
    assert_eq!(
        lessons[0].checks,
        [
            ("load-hold-60s".to_owned(), false),
            ("stall-force".to_owned(), true)
        ]
    );
    bench
}

#[tokio::test]
async fn what_is_kept_in_memory_is_what_the_table_says() {
    let bench = taught().await;
    let was = bench.store.lessons();
    bench.store.rebuild().await.expect("rebuilt");
    assert_eq!(bench.store.lessons(), was);
    let bench = bench.reopened().await;
    assert_eq!(bench.store.lessons(), was);
    assert!(bench.store.verify().await.expect("report").is_clean());
}

#[tokio::test]
async fn a_return_that_is_struck_teaches_nothing_any_more() {
    let bench = taught().await;
    let by = bench.store.person("Ansa").await.expect("a key");
    let struck = shop::entry::Struck {
        version: 3,
        reason: "wrong tool".to_owned(),
    };
    let written = write(&bench.store, request("s", JOB, 3, &by), struck.into()).await;
    written.expect("stored");
    assert_eq!(bench.store.lessons().len(), 0);
    let bench = bench.reopened().await;
    assert_eq!(bench.store.lessons().len(), 0);
}

#[tokio::test]
async fn a_lesson_that_was_tampered_with_is_told() {
    let bench = taught().await;
    bench
        .tamper("UPDATE lessons SET yes = 'lens-on-teeth'")
        .await;
    let report = bench.store.verify().await.expect("report");
    assert_eq!(report.differences.len(), 1, "{:?}", report.differences);
}

/// Takes the record back to the form that it had before there were lessons.
const OLDER: &str = "DROP TABLE lessons; DELETE FROM _sqlx_migrations WHERE version = 3;
                     PRAGMA user_version = 0";

#[tokio::test]
async fn an_older_record_teaches_from_its_first_opening_on() {
    let bench = taught().await;
    bench.store.clone().close().await;
    bench.tamper(OLDER).await;
    let store = Store::open(&bench.path()).await.expect("opened");
    assert_eq!(store.lessons().len(), 1);
}

#[tokio::test]
async fn an_upgrade_that_was_cut_short_is_made_good() {
    let bench = taught().await;
    bench.store.clone().close().await;
    bench.tamper(OLDER).await;
    // The tables cannot be computed, as after a kill or on a full disk.
    bench
        .tamper("ALTER TABLE inboxes RENAME TO elsewhere")
        .await;
    assert!(Store::open(&bench.path()).await.is_err());
    bench
        .tamper("ALTER TABLE elsewhere RENAME TO inboxes")
        .await;
    let store = Store::open(&bench.path()).await.expect("opened");
    assert_eq!(store.lessons().len(), 1);
}
