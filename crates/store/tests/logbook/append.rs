//! Storing entries.

use shop::entry::{Body, Resumed};
use store::{AppendError, FIRST_NUMBER, StoreError};
use uuid::Uuid;

use crate::Bench;
use crate::sample::{Chance, request, take_in, work, write};

/// A second entry with the subject and version of the first.
macro_rules! first_again {
    ($verb:literal) => {
        concat!(
            $verb,
            " SELECT origin, 9, subject, version, schema, kind, at, \"by\", '{}', prev_hash, hash",
            " FROM entries WHERE seq = 1"
        )
    };
}

#[tokio::test]
async fn what_was_stored_reads_back() {
    let bench = Bench::new().await;
    let (mut chance, by) = (Chance(1), bench.store.person("Ansa").await.expect("a key"));
    let (job, tool) = (chance.uuid(), chance.uuid());
    let taken = take_in(&bench.store, "a", job, tool, "TB-1", &by).await;
    let taken = taken.expect("stored");
    assert_eq!((taken.seq, taken.version, taken.repeated), (2, 1, false));
    let body = work(3);
    let worked = write(&bench.store, request("b", job, 1, &by), body.clone()).await;
    assert_eq!(worked.expect("stored").version, 2);

    let bench = bench.reopened().await;
    let entries = bench.store.entries(job).await.expect("entries");
    assert_eq!(entries.len(), 2);
    assert_eq!(entries[1].entry.body, body);
    assert_eq!(entries[1].entry.by, by);
    assert_eq!(
        entries[1].entry.at.to_string(),
        "2026-11-25T09:30:00.123456Z"
    );
    assert_eq!((entries[1].seq, entries[1].entry.version), (3, 2));
    let head = bench.store.head().await.expect("head");
    assert_eq!((head.seq, head.hash), (3, entries[1].hash.clone()));
    let of_tool = bench.store.entries(tool).await.expect("entries");
    assert!(matches!(of_tool[0].entry.body, Body::ToolRegistered(_)));
    assert!(bench.store.verify().await.expect("report").is_clean());
}

#[tokio::test]
async fn the_same_submission_is_stored_once() {
    let bench = Bench::new().await;
    let (mut chance, by) = (Chance(2), bench.store.person("Ansa").await.expect("a key"));
    let (job, tool) = (chance.uuid(), chance.uuid());
    let first = take_in(&bench.store, "a", job, tool, "TB-1", &by).await;
    let first = first.expect("stored");
    let double_click = take_in(&bench.store, "a", job, tool, "TB-1", &by).await;
    let double_click = double_click.expect("answered");
    assert!(double_click.repeated);
    // A retry may have drawn a new id for the same new job.
    let bench = bench.reopened().await;
    let retry = take_in(&bench.store, "a", chance.uuid(), chance.uuid(), "TB-1", &by).await;
    let retry = retry.expect("answered");
    assert_eq!((retry.subject, retry.seq), (first.subject, first.seq));
    assert_eq!((retry.version, retry.repeated), (first.version, true));
    assert_eq!(bench.store.head().await.expect("head").seq, 2);
}

#[tokio::test]
async fn a_conflict_shows_what_others_wrote() {
    let bench = Bench::new().await;
    let (mut chance, by) = (Chance(3), bench.store.person("Ansa").await.expect("a key"));
    let (job, tool) = (chance.uuid(), chance.uuid());
    let taken = take_in(&bench.store, "a", job, tool, "TB-1", &by).await;
    taken.expect("stored");
    let other = write(&bench.store, request("b", job, 1, &by), work(2)).await;
    other.expect("stored");
    let late = write(&bench.store, request("c", job, 1, &by), work(3)).await;
    let Err(AppendError::Conflict { since }) = late else {
        panic!("{late:?}");
    };
    assert_eq!(since.len(), 1);
    assert_eq!((since[0].version, &since[0].body), (2, &work(2)));
    let ahead = write(&bench.store, request("d", job, 9, &by), work(3)).await;
    assert_eq!(ahead, Err(AppendError::Conflict { since: Vec::new() }));
    // Nothing of a refused form is kept: the same key may be sent again.
    let again = write(&bench.store, request("c", job, 2, &by), work(3)).await;
    assert!(!again.expect("stored").repeated);
}

#[tokio::test]
async fn a_refusal_comes_back_and_stores_nothing() {
    let bench = Bench::new().await;
    let by = bench.store.person("Ansa").await.expect("a key");
    let refused = bench
        .store
        .append(request("a", Uuid::from_u128(1), 0, &by), |scene| {
            assert!(scene.entries.is_empty());
            Err(scene.next_number)
        })
        .await;
    assert_eq!(refused, Err(AppendError::Refused(FIRST_NUMBER)));
    assert_eq!(bench.store.head().await.expect("head").seq, 0);
}

#[tokio::test]
async fn a_decision_without_drafts_stores_nothing() {
    let bench = Bench::new().await;
    let by = bench.store.person("Ansa").await.expect("a key");
    let empty = bench
        .store
        .append::<()>(request("a", Uuid::from_u128(1), 0, &by), |_| Ok(Vec::new()))
        .await
        .expect("nothing to store");
    assert_eq!((empty.seq, empty.version, empty.repeated), (0, 0, false));
    assert!(bench.store.verify().await.expect("report").is_clean());
}

#[tokio::test]
async fn the_scene_shows_the_tool_and_its_open_job() {
    let bench = Bench::new().await;
    let (mut chance, by) = (Chance(4), bench.store.person("Ansa").await.expect("a key"));
    let (job, tool) = (chance.uuid(), chance.uuid());
    let taken = take_in(&bench.store, "a", job, tool, "TB-1", &by).await;
    taken.expect("stored");
    let mut request = request("b", chance.uuid(), 0, &by);
    request.serial = Some(" tb-1 ".to_owned());
    let seen = bench
        .store
        .append(request, |scene| {
            let tools: Vec<_> = scene.tools.iter().map(|t| t.tool).collect();
            let jobs: Vec<_> = scene.tool_open_jobs.iter().map(|j| j.job).collect();
            Err((tools, jobs, scene.next_number))
        })
        .await;
    let expected = (vec![tool], vec![job], FIRST_NUMBER + 1);
    assert_eq!(seen, Err(AppendError::Refused(expected)));
}

#[tokio::test]
async fn the_writer_survives_a_decision_that_panics() {
    let bench = Bench::new().await;
    let by = bench.store.person("Ansa").await.expect("a key");
    let job = Uuid::from_u128(1);
    let done = bench
        .store
        .append::<()>(request("a", job, 0, &by), |_| panic!("as a test asks"))
        .await;
    assert_eq!(done, Err(AppendError::Store(StoreError::Panicked)));
    let next = write(&bench.store, request("a", job, 0, &by), Resumed {}.into()).await;
    assert!(!next.expect("stored").repeated);
}

#[tokio::test]
async fn a_clock_that_jumps_back_changes_neither_time_nor_order() {
    let bench = Bench::new().await;
    let by = bench.store.person("Ansa").await.expect("a key");
    let job = Uuid::from_u128(1);
    let times = ["2026-11-25T10:00:00Z", "2026-11-25T09:00:00.5Z"];
    for (version, time) in (0..).zip(times) {
        let mut request = request(time, job, version, &by);
        request.at = time.parse().expect("a time");
        let written = write(&bench.store, request, Resumed {}.into()).await;
        written.expect("stored");
    }
    let entries = bench.store.entries(job).await.expect("entries");
    let read: Vec<_> = entries.iter().map(|e| e.entry.at.to_string()).collect();
    assert_eq!(read, times);
    assert!(bench.store.verify().await.expect("report").is_clean());
}

#[tokio::test]
async fn entries_cannot_be_changed_removed_or_replaced() {
    let bench = Bench::new().await;
    let (mut chance, by) = (Chance(5), bench.store.person("Ansa").await.expect("a key"));
    let taken = take_in(&bench.store, "a", chance.uuid(), chance.uuid(), "TB-1", &by).await;
    taken.expect("stored");
    let statements: [(&'static str, &str); 4] = [
        (
            "UPDATE entries SET body = '{}' WHERE seq = 1",
            "never changed",
        ),
        ("DELETE FROM entries WHERE seq = 2", "never removed"),
        (first_again!("INSERT INTO entries"), "never replaced"),
        (
            first_again!("INSERT OR REPLACE INTO entries"),
            "never replaced",
        ),
    ];
    for (statement, words) in statements {
        let refused = bench.raw(statement).await.expect_err(statement);
        assert!(refused.to_string().contains(words), "{refused}");
    }
    // Without the triggers, the key of subject and version still holds.
    let doubled = bench
        .raw(concat!(
            "DROP TRIGGER entries_are_not_replaced;",
            first_again!("INSERT INTO entries")
        ))
        .await
        .expect_err("a version twice");
    assert!(doubled.to_string().contains("UNIQUE"), "{doubled}");
}
