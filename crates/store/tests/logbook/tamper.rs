//! Every kind of tampering is found, and what can be mended is.

use std::fs::File;
use std::io::{Seek, SeekFrom, Write as _};
use std::path::Path;

use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, Connection as _, SqliteConnection};
use store::{Difference, Store, VerifyReport};
use uuid::Uuid;

use crate::Bench;
use crate::sample::{Chance, request, take_in, work, write};

const UNGUARDED: &str = "DROP TRIGGER entries_are_not_changed;
     DROP TRIGGER entries_are_not_removed;
     DROP TRIGGER entries_are_not_replaced;";

/// A record of eight entries: two tools, two jobs, two more entries each.
async fn sample() -> Bench {
    let bench = Bench::new().await;
    let (mut chance, by) = (Chance(1), bench.store.person("Ansa").await.expect("a key"));
    for serial in ["TB-1", "TB-2"] {
        let (job, tool) = (chance.uuid(), chance.uuid());
        let taken = take_in(&bench.store, serial, job, tool, serial, &by).await;
        taken.expect("stored");
        for version in [1, 2] {
            let key = format!("{serial} {version}");
            let request = request(&key, job, version, &by);
            let written = write(&bench.store, request, work(2 + u64::from(version))).await;
            written.expect("stored");
        }
    }
    let report = bench.store.verify().await.expect("report");
    assert_eq!((report.entries, report.rows), (8, 4));
    assert!(report.is_clean(), "{report:?}");
    bench
}

async fn after(sql: &'static str) -> VerifyReport {
    let bench = sample().await;
    bench.tamper(UNGUARDED).await;
    bench.tamper(sql).await;
    bench.store.verify().await.expect("report")
}

/// Numbers of the entries that `pick` finds among the differences.
fn entries(report: &VerifyReport, pick: fn(&Difference) -> Option<i64>) -> Vec<i64> {
    report.differences.iter().filter_map(pick).collect()
}

fn changed(difference: &Difference) -> Option<i64> {
    match difference {
        Difference::Changed { seq, .. } => Some(*seq),
        _ => None,
    }
}

fn unlinked(difference: &Difference) -> Option<i64> {
    match difference {
        Difference::Unlinked { seq, .. } => Some(*seq),
        _ => None,
    }
}

#[tokio::test]
async fn any_changed_field_is_found() {
    for sql in [
        "UPDATE entries SET body = replace(body, 'check-3', 'check-4') WHERE seq = 3",
        "UPDATE entries SET at = '2026-11-24T09:30:00.123456Z' WHERE seq = 3",
        "UPDATE entries SET \"by\" = 'another' WHERE seq = 3",
        "UPDATE entries SET kind = 'resumed' WHERE seq = 3",
        "UPDATE entries SET version = 9 WHERE seq = 3",
    ] {
        let report = after(sql).await;
        assert_eq!(entries(&report, changed), [3], "{sql}: {report:?}");
    }
}

#[tokio::test]
async fn a_forged_hash_breaks_the_link_after_it() {
    let report =
        after("UPDATE entries SET hash = replace(hex(zeroblob(32)), '0', 'a') WHERE seq = 3").await;
    assert_eq!(entries(&report, changed), [3]);
    assert_eq!(entries(&report, unlinked), [4]);
}

#[tokio::test]
async fn a_removed_entry_is_found() {
    let report = after("DELETE FROM entries WHERE seq = 3").await;
    assert_eq!(entries(&report, unlinked), [4]);
    let has = |wanted: fn(&Difference) -> bool| report.differences.iter().any(wanted);
    assert!(has(|d| matches!(d, Difference::Gap { seq: 4, .. })));
    assert!(has(|d| matches!(d, Difference::Versions { .. })));
    assert!(has(
        |d| matches!(d, Difference::Submission { key } if key == "TB-1 1")
    ));
}

#[tokio::test]
async fn a_cut_off_end_is_found() {
    let report = after("DELETE FROM entries WHERE seq = 8").await;
    let submission = Difference::Submission {
        key: "TB-2 2".to_owned(),
    };
    assert!(report.differences.contains(&submission), "{report:?}");
    assert!(report.differences.iter().any(|d| {
        matches!(d, Difference::Column { column: "version", stored, replayed, .. }
                 if stored == "3" && replayed == "2")
    }));
}

#[tokio::test]
async fn entries_in_another_order_are_found() {
    let report = after(
        "UPDATE entries SET seq = 99 WHERE seq = 3;
         UPDATE entries SET seq = 3 WHERE seq = 4;
         UPDATE entries SET seq = 4 WHERE seq = 99;",
    )
    .await;
    assert_eq!(entries(&report, changed), [3, 4]);
    assert_eq!(entries(&report, unlinked), [3, 4, 5]);
}

#[tokio::test]
async fn an_entry_that_does_not_read_is_found() {
    let report = after("UPDATE entries SET kind = 'unheard-of' WHERE seq = 3").await;
    let unreadable = report.differences.iter().any(
        |d| matches!(d, Difference::Unreadable { seq: 3, why, .. } if why.contains("unheard-of")),
    );
    assert!(unreadable, "{report:?}");
}

#[tokio::test]
async fn changed_rows_are_found_and_rebuilt() {
    let bench = sample().await;
    let list = bench.store.jobs(&store::JobFilter::default()).await;
    let list = list.expect("jobs");
    bench
        .tamper(
            "UPDATE jobs SET stage = 'returned' WHERE number = 1001;
             DELETE FROM jobs WHERE number = 1002;
             UPDATE tools SET counter = 1 WHERE serial = 'TB-1';
             DELETE FROM tools WHERE serial = 'TB-2';
             INSERT INTO tools SELECT 'made-up', 'TB-9', model, model_revision, owner, counter,
                 last_job, version, 'tb-9' FROM tools;",
        )
        .await;
    let report = bench.store.verify().await.expect("report");
    let tools = bench.store.tools_by_serial("TB-2").await.expect("tools");
    assert!(tools.is_empty());
    let (first, second) = (list[0].job.to_string(), list[1].job.to_string());
    let tool = list[0].tool.to_string();
    let column = |table, key: &String, column, stored: &str, replayed: &str| Difference::Column {
        table,
        key: key.clone(),
        column,
        stored: stored.to_owned(),
        replayed: replayed.to_owned(),
    };
    let mut expected = vec![
        column("jobs", &first, "stage", "returned", &list[0].stage),
        Difference::RowMissing {
            table: "jobs",
            key: second,
        },
        column("tools", &tool, "counter", "1", "62481"),
        Difference::RowMissing {
            table: "tools",
            key: list[1].tool.to_string(),
        },
        Difference::RowExtra {
            table: "tools",
            key: "made-up".to_owned(),
        },
    ];
    let mut found = report.differences;
    let order = |d: &Difference| format!("{d:?}");
    expected.sort_by_key(order);
    found.sort_by_key(order);
    assert_eq!(found, expected);

    let rebuilt = bench.store.rebuild().await.expect("rebuilt");
    assert_eq!((rebuilt.jobs, rebuilt.tools), (2, 2));
    assert!(bench.store.verify().await.expect("report").is_clean());
    let again = bench.store.jobs(&store::JobFilter::default()).await;
    assert_eq!(again.expect("jobs"), list);
}

#[tokio::test]
async fn a_subject_that_is_no_id_is_told_not_stumbled_over() {
    let report = after("UPDATE entries SET subject = 'nobody' WHERE seq = 3").await;
    assert_eq!(entries(&report, changed), [3]);
    assert!("nobody".parse::<Uuid>().is_err());
}

/// Overwrites the root page of a table or index of a closed record with zeros.
async fn blot_out(path: &Path, name: &str) {
    let mut stranger: SqliteConnection = SqliteConnectOptions::new()
        .filename(path)
        .connect()
        .await
        .expect("a connection");
    let (root, size): (i64, i64) = sqlx::query_as(
        "SELECT rootpage, page_size FROM sqlite_schema, pragma_page_size WHERE name = $1",
    )
    .bind(name)
    .fetch_one(&mut stranger)
    .await
    .expect("where it stands");
    stranger.close().await.expect("closed");
    let mut file = File::options().write(true).open(path).expect("the file");
    let start = ((root - 1) * size).unsigned_abs();
    file.seek(SeekFrom::Start(start)).expect("its root page");
    let zeros = vec![0; usize::try_from(size).expect("a page")];
    file.write_all(&zeros).expect("blotted out");
}

#[tokio::test]
async fn a_damaged_file_is_told() {
    for (name, entries) in [("tools_by_serial", 8), ("jobs", 8), ("submissions", 8)] {
        let bench = sample().await;
        bench.store.clone().close().await;
        blot_out(&bench.path(), name).await;
        let store = Store::open(&bench.path()).await.expect("it opens");
        let report = store.verify().await.expect("report");
        let file = |d: &Difference| matches!(d, Difference::File { .. });
        assert!(report.differences.iter().any(file), "{name}: {report:?}");
        assert_eq!(report.entries, entries, "{name}: the chain is still walked");
    }
}
