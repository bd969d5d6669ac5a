//! `kill -9` at random moments: while files are attached, backed up, restored.

use std::io::Read as _;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant, SystemTime};

use store::{BackupError, Store, StoreError};

use crate::sample::Chance;
use crate::{Place, example, restore, whole};

fn start(arguments: [&str; 3], last: &str) -> Child {
    Command::new(example("copyist"))
        .args(arguments)
        .arg(last)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("starts")
}

/// Kills it after a random time of up to `most`.
async fn killed(mut child: Child, chance: &mut Chance, most: Duration) -> String {
    let micros = u64::try_from(most.as_micros()).expect("short");
    tokio::time::sleep(Duration::from_micros(chance.below(micros))).await;
    child.kill().expect("SIGKILL");
    let mut said = String::new();
    let mut out = child.stdout.take().expect("piped");
    out.read_to_string(&mut said).expect("text");
    child.wait().expect("its end");
    said
}

fn chance() -> (u64, Chance, u64) {
    let number = |name| std::env::var(name).ok().and_then(|n| n.parse::<u64>().ok());
    let seed = number("SETWRIGHT_KILL_SEED").unwrap_or_else(|| {
        let now = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH);
        now.map_or(1, |since| u64::from(since.subsec_nanos()))
    });
    let rounds = number("SETWRIGHT_KILL_ROUNDS").unwrap_or(60);
    (seed, Chance(seed), rounds)
}

fn text(path: &Path) -> &str {
    path.to_str().expect("a plain path")
}

#[tokio::test]
async fn kill_9_leaves_no_entry_without_its_file() {
    let (seed, mut chance, rounds) = chance();
    let (mut place, mut in_record, mut all) = (Place::make(), 0, 0);
    for round in 0..rounds {
        // A new record now and then: verifying stays quick, and first openings are killed, too.
        if round % 12 == 0 {
            (place, in_record) = (Place::make(), 0);
        }
        let record = place.at("shop.setwright");
        let seed_now = (seed.wrapping_add(round) % 1_000_000_000).to_string();
        let mut child = Command::new(example("copyist"));
        child.args(["attach", text(&record), &seed_now]);
        let child = child.stdout(Stdio::piped()).stderr(Stdio::null()).spawn();
        let child = child.expect("starts");
        let said = killed(child, &mut chance, Duration::from_millis(150)).await;
        let store = Store::open(&record).await.expect("opens");
        let report = store.verify().await.expect("a report");
        let context = format!("SETWRIGHT_KILL_SEED={seed}, round {round}");
        assert!(report.is_clean(), "{context}: {:#?}", report.differences);
        let whole_lines = said.rsplit_once('\n').map_or("", |(lines, _)| lines);
        for line in whole_lines.lines() {
            in_record += 1;
            all += 1;
            let hash = line.strip_prefix("ack ").and_then(store::FileHash::parse);
            let file = store.files().open(&hash.expect("a hash"));
            assert!(file.expect("read").is_some(), "{context}: {line}");
        }
        assert!(
            report.files >= in_record,
            "{context}: an acknowledged entry is gone"
        );
        store.close().await;
    }
    assert!(all > rounds / 2, "it got to work: {all}");
}

#[tokio::test]
async fn kill_9_leaves_half_backups_that_say_so_and_restores_that_can_be_finished() {
    let (seed, mut chance, rounds) = chance();
    let place = Place::make();
    let record = place.record("shop.setwright", 12).await;
    let end = whole(&record).await;
    let began = Instant::now();
    let mut timed = start(["backup", text(&record), text(&place.at("b"))], "1000000");
    assert!(timed.wait().expect("its end").success());
    let long = began.elapsed() + Duration::from_millis(20);
    let (mut half, mut cut) = (0, 0);
    for round in 0..rounds {
        let context = format!("SETWRIGHT_KILL_SEED={seed}, round {round}");
        let into = place.at(&format!("b{round}"));
        let child = start(["backup", text(&record), text(&into)], "1000000");
        killed(child, &mut chance, long).await;
        let target = place.at(&format!("t{round}.setwright"));
        match restore(&into, &target, false).await {
            Ok(_) => assert_eq!(whole(&target).await, end, "{context}"),
            Err(BackupError::Half { path }) => {
                half += 1;
                assert_eq!(path, place.at(&format!("b{round}.partial")), "{context}");
            }
            // Killed before it began.
            Err(BackupError::NotABackup { .. }) => assert!(!into.exists(), "{context}"),
            other => panic!("{context}: {other:?}"),
        }

        let over = place.record(&format!("o{round}.setwright"), 1).await;
        let old = whole(&over).await;
        let child = start(["restore", text(&place.at("b")), text(&over)], "1000000");
        killed(child, &mut chance, long).await;
        match Store::open(&over).await {
            Ok(store) => store.close().await,
            Err(StoreError::HalfRestored) => cut += 1,
            other => panic!("{context}: {other:?}"),
        }
        restore(&place.at("b"), &over, true).await.expect(&context);
        assert_eq!(whole(&over).await, end, "{context}");
        let mut kept = Vec::new();
        for folder in place.names(&format!("o{round}.setwright.old-")) {
            kept.push(whole(&place.at(&folder).join(format!("o{round}.setwright"))).await);
        }
        assert!(kept.contains(&old), "{context}: {kept:?}");
    }
    println!("{rounds} rounds: {half} half backups, {cut} restores to be finished");
    assert!(half > 0, "no kill came in time");
}
