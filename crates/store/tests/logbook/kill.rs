//! `kill -9` at random moments: what was acknowledged is there.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, SystemTime};

use store::Store;
use tempfile::TempDir;
use uuid::Uuid;

use crate::sample::{Chance, request, work, write};

/// After so many rounds the record begins anew: openings that make the file are killed too, and
/// verifying stays quick.
const ROUNDS_A_RECORD: u64 = 20;

/// What the hammer said of one submission.
struct Acknowledged {
    key: String,
    seq: u64,
    subject: Uuid,
}

fn start(store: &Path, seed: u64) -> Child {
    Command::new(crate::example("hammer"))
        .arg("write")
        .arg(store)
        .arg(seed.to_string())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the hammer")
}

fn acknowledged(hammer: &mut Child) -> Vec<Acknowledged> {
    let mut lines = BufReader::new(hammer.stdout.take().expect("its output"));
    let (mut all, mut line) = (Vec::new(), String::new());
    while lines.read_line(&mut line).expect("text") > 0 {
        // A line that the kill cut short acknowledged nothing.
        if line.ends_with('\n') {
            let words: Vec<&str> = line.split_whitespace().collect();
            let ["ack", key, seq, subject, _] = words[..] else {
                panic!("{line}");
            };
            all.push(Acknowledged {
                key: key.to_owned(),
                seq: seq.parse().expect("a number"),
                subject: subject.parse().expect("an id"),
            });
        }
        line.clear();
    }
    all
}

/// Every acknowledged submission is stored, where it was said to be, and everything is whole.
async fn check(path: &Path, acknowledged: &[Acknowledged], context: &str) {
    let store = Store::open(path).await.expect("the record opens");
    let by = store.person("Ansa").await.expect("a key");
    for one in acknowledged {
        let request = request(&one.key, one.subject, 0, &by);
        let again = write(&store, request, work(1)).await;
        let again = again.unwrap_or_else(|e| panic!("{context}: {} is lost: {e:?}", one.key));
        assert!(again.repeated, "{context}: {} was not stored", one.key);
        assert_eq!(
            (again.seq, again.subject),
            (one.seq, one.subject),
            "{context}"
        );
    }
    let report = store.verify().await.expect("report");
    assert!(report.is_clean(), "{context}: {:#?}", report.differences);
    store.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn kill_9_loses_nothing_that_was_acknowledged() {
    let number = |name| std::env::var(name).ok().and_then(|n| n.parse::<u64>().ok());
    let rounds = number("SETWRIGHT_KILL_ROUNDS").unwrap_or(200);
    let seed = number("SETWRIGHT_KILL_SEED").unwrap_or_else(|| {
        let now = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH);
        now.map_or(1, |since| u64::from(since.subsec_nanos()))
    });
    let mut chance = Chance(seed);
    let (mut folder, mut all, mut empty): (Option<TempDir>, _, _) = (None, 0, 0);
    for round in 0..rounds {
        let context = format!("SETWRIGHT_KILL_SEED={seed}, round {round}");
        if round % ROUNDS_A_RECORD == 0 {
            folder = Some(tempfile::tempdir().expect("a folder"));
        }
        let folder = folder.as_ref().expect("made in the first round").path();
        let path = folder.join("shop.setwright");
        let mut hammer = start(&path, seed.wrapping_add(round) % 1_000_000_000);
        tokio::time::sleep(Duration::from_micros(chance.below(60_000))).await;
        hammer.kill().expect("SIGKILL");
        let said = acknowledged(&mut hammer);
        hammer.wait().expect("its end");
        all += said.len();
        empty += usize::from(said.is_empty());
        check(&path, &said, &context).await;
    }
    println!("{rounds} rounds, {all} acknowledged, {empty} rounds killed before the first");
    assert!(all as u64 > rounds, "the hammer got to work");
}
