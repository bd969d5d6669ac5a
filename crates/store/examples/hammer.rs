//! Writes to a record as fast as it can, and says on standard output what was acknowledged, a line
//! each. Tests kill it, or take its disk away, and look whether it spoke the truth.
//!
//! `hammer write STORE SEED` until killed; `hammer fill FOLDER` until the disk of the folder is
//! full, then makes room and goes on.

#[path = "../tests/logbook/sample.rs"]
mod sample;

use std::io::Write as _;
use std::path::Path;

use sample::{Chance, request, take_in, work, write};
use shop::entry::PersonKey;
use store::{AppendError, JobFilter, Store, StoreError, Written};

/// Tasks that write at the same time.
const TASKS: u64 = 4;

type Fallible<T> = Result<T, Box<dyn std::error::Error>>;

#[tokio::main(flavor = "multi_thread", worker_threads = 2)]
async fn main() -> Fallible<()> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match arguments.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        ["write", store, seed] => hammer(Path::new(store), seed.parse()?).await,
        ["fill", folder] => fill(Path::new(folder)).await,
        _ => Err("hammer write STORE SEED | hammer fill FOLDER".into()),
    }
}

/// One line, in one write, so that a kill leaves it whole or absent.
fn say(line: &str) {
    let mut out = std::io::stdout().lock();
    let _ = out.write_all(format!("{line}\n").as_bytes());
    let _ = out.flush();
}

async fn hammer(path: &Path, seed: u64) -> Fallible<()> {
    let store = Store::open(path).await?;
    let by = store.person(&format!("Ansa {seed}")).await?;
    let tasks: Vec<_> = (0..TASKS)
        .map(|task| tokio::spawn(jobs(store.clone(), by.clone(), Chance(seed * TASKS + task))))
        .collect();
    for task in tasks {
        task.await?;
    }
    Ok(())
}

/// Job after job, until the record fails ten times in a row.
async fn jobs(store: Store, by: PersonKey, mut chance: Chance) {
    let mut failures = 0;
    while failures < 10 {
        let (job, tool) = (chance.uuid(), chance.uuid());
        let key = chance.uuid().to_string();
        let taken = take_in(&store, &key, job, tool, &format!("TB-{tool}"), &by).await;
        tell(&store, &key, &taken, &mut failures).await;
        let Ok(mut last) = taken else { continue };
        for _ in 0..chance.below(6) {
            let key = chance.uuid().to_string();
            let body = work(chance.below(1000));
            let written = write(&store, request(&key, job, last.version, &by), body).await;
            tell(&store, &key, &written, &mut failures).await;
            match written {
                Ok(written) => last = written,
                Err(_) => break,
            }
        }
    }
}

async fn tell(
    store: &Store,
    key: &str,
    done: &Result<Written, AppendError<String>>,
    failures: &mut u32,
) {
    match done {
        Ok(written) => {
            *failures = 0;
            say(&format!(
                "ack {key} {} {} {}",
                written.seq, written.subject, written.version
            ));
        }
        Err(error) => {
            *failures += 1;
            let what = match error {
                AppendError::Store(error) => error.message().id,
                _ => "not-a-failure-of-the-record",
            };
            let reads = store.jobs(&JobFilter::default()).await.is_ok();
            say(&format!("error {key} {what} reads={reads}"));
        }
    }
}

/// Fills the disk, looks, makes room, goes on.
async fn fill(folder: &Path) -> Fallible<()> {
    let ballast = folder.join("ballast");
    std::fs::write(&ballast, vec![1; 256 * 1024])?;
    let store = Store::open(&folder.join("shop.setwright")).await?;
    let by = store.person("Ansa").await?;
    let mut chance = Chance(1);
    let (key, job, tool) = loop {
        let (key, job, tool) = (chance.uuid().to_string(), chance.uuid(), chance.uuid());
        match take_in(&store, &key, job, tool, &tool.to_string(), &by).await {
            Ok(_) => {}
            Err(AppendError::Store(StoreError::Full)) => break (key, job, tool),
            Err(other) => return Err(format!("{other:?}").into()),
        }
    };
    let before = store.head().await?;
    say(&format!("full after {}", before.seq));
    let report = store.verify().await?;
    say(&format!("clean while full: {}", report.is_clean()));
    std::fs::remove_file(&ballast)?;
    let again = take_in(&store, &key, job, tool, &tool.to_string(), &by).await;
    let written = again.map_err(|error| format!("{error:?}"))?;
    say(&format!(
        "went on: {} new: {}",
        written.seq == before.seq + 2,
        !written.repeated
    ));
    say(&format!(
        "clean after: {}",
        store.verify().await?.is_clean()
    ));
    store.close().await;
    Ok(())
}
