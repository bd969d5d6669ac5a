//! Several writers at once.

use std::collections::BTreeSet;

use store::AppendError;

use crate::Bench;
use crate::sample::{Chance, request, take_in, work, write};

const WRITERS: u64 = 8;
const EACH: u64 = 10;

#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn eight_writers_lose_no_update() {
    let bench = Bench::new().await;
    let (mut chance, by) = (Chance(1), bench.store.person("Ansa").await.expect("a key"));
    let (job, tool) = (chance.uuid(), chance.uuid());
    let taken = take_in(&bench.store, "a", job, tool, "TB-1", &by).await;
    taken.expect("stored");
    let tasks: Vec<_> = (0..WRITERS)
        .map(|writer| {
            let (store, by) = (bench.store.clone(), by.clone());
            tokio::spawn(async move {
                let (mut conflicts, mut version) = (0, 1);
                for n in 0..EACH {
                    let key = format!("{writer}-{n}");
                    loop {
                        let request = request(&key, job, version, &by);
                        match write(&store, request, work(1 + writer + n)).await {
                            Ok(written) => {
                                version = written.version;
                                break;
                            }
                            Err(AppendError::Conflict { since }) => {
                                conflicts += 1;
                                version = since.last().expect("what was written").version;
                            }
                            Err(other) => panic!("{other:?}"),
                        }
                    }
                }
                conflicts
            })
        })
        .collect();
    let mut conflicts = 0;
    for task in tasks {
        conflicts += task.await.expect("a writer");
    }
    assert!(conflicts > 0, "the writers met");
    let entries = bench.store.entries(job).await.expect("entries");
    let versions: Vec<u32> = entries.iter().map(|e| e.entry.version).collect();
    let all = u32::try_from(WRITERS * EACH).expect("few") + 1;
    assert_eq!(versions, (1..=all).collect::<Vec<_>>());
    assert!(bench.store.verify().await.expect("report").is_clean());
}

#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn jobs_taken_in_together_get_numbers_of_their_own() {
    let bench = Bench::new().await;
    let by = bench.store.person("Ansa").await.expect("a key");
    let tasks: Vec<_> = (0..WRITERS)
        .map(|writer| {
            let (store, by) = (bench.store.clone(), by.clone());
            tokio::spawn(async move {
                let mut chance = Chance(writer);
                let key = format!("{writer}");
                let (job, tool) = (chance.uuid(), chance.uuid());
                let taken = take_in(&store, &key, job, tool, &key, &by).await;
                taken.expect("stored");
                let row = store.job(job).await.expect("a list").expect("the job");
                row.number
            })
        })
        .collect();
    let mut numbers = BTreeSet::new();
    for task in tasks {
        numbers.insert(task.await.expect("a writer"));
    }
    assert_eq!(numbers, (1001..1001 + 8).collect());
}

#[tokio::test]
async fn a_request_whose_asker_went_away_is_still_stored() {
    let bench = Bench::new().await;
    let by = bench.store.person("Ansa").await.expect("a key");
    let mut chance = Chance(7);
    let (job, tool) = (chance.uuid(), chance.uuid());
    {
        let asked = take_in(&bench.store, "a", job, tool, "TB-1", &by);
        tokio::pin!(asked);
        // The request goes into the queue; then the asker leaves without waiting for the answer.
        let waker = std::task::Waker::noop();
        let mut context = std::task::Context::from_waker(waker);
        assert!(asked.as_mut().poll(&mut context).is_pending());
    }
    let again = take_in(&bench.store, "a", job, tool, "TB-1", &by).await;
    assert!(again.expect("answered").repeated);
}
