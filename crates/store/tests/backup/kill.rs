//! `kill -9` at each step of a backup and of a restore.

use std::path::Path;
use std::process::{Command, Output};

use store::{BackupError, Head, Store, StoreError};

use crate::{Place, backup, example, restore, whole};

fn copyist(work: &str, from: &Path, to: &Path, last: usize) -> Output {
    let mut command = Command::new(example("copyist"));
    command.arg(work).arg(from).arg(to).arg(last.to_string());
    command.output().expect("runs")
}

/// How many steps there are, counted by doing it.
fn steps(work: &str, from: &Path, to: &Path) -> usize {
    let done = copyist(work, from, to, usize::MAX);
    let said = String::from_utf8_lossy(&done.stdout).into_owned();
    said.trim().parse().unwrap_or_else(|_| panic!("{done:?}"))
}

#[tokio::test]
async fn a_backup_killed_at_any_step_is_half_or_whole_and_says_which() {
    let place = Place::make();
    let record = place.record("shop.setwright", 2).await;
    let end = whole(&record).await;
    let of = steps("backup", &record, &place.at("all"));
    let (mut half, mut made) = (0, 0);
    for last in 1..=of {
        let into = place.at(&format!("b{last}"));
        let killed = copyist("backup", &record, &into, last);
        assert_eq!(killed.status.code(), None, "killed at {last}: {killed:?}");
        let target = place.at(&format!("r{last}.setwright"));
        let restored = restore(&into, &target, false).await;
        if into.exists() {
            made += 1;
            restored.expect("what bears the name is whole");
            assert_eq!(whole(&target).await, end);
        } else {
            half += 1;
            let path = place.at(&format!("b{last}.partial"));
            assert_eq!(restored, Err(BackupError::Half { path }), "step {last}");
            assert!(!target.exists());
            backup(&record, &into).await.expect("made anew");
            let names = place.names(&format!("b{last}"));
            assert_eq!(names, [format!("b{last}")]);
        }
    }
    assert!(half > 5 && made > 0, "{half} half, {made} whole");
    assert_eq!(whole(&record).await, end, "the record does not notice");
}

/// What stands at the record after a kill.
async fn standing(record: &Path) -> Result<Head, StoreError> {
    let store = Store::open(record).await?;
    let report = store.verify().await?;
    assert!(report.is_clean(), "{:#?}", report.differences);
    store.close().await;
    Ok(report.head)
}

#[tokio::test]
async fn a_restore_killed_at_any_step_can_be_finished_and_loses_nothing() {
    let place = Place::make();
    let source = place.record("source.setwright", 2).await;
    let (new, _) = whole(&source).await;
    backup(&source, &place.at("b")).await.expect("made");
    let counted = place.record("count.setwright", 1).await;
    // Looking at a record leaves files beside it, which must go with it.
    whole(&counted).await;
    let of = steps("restore", &place.at("b"), &counted);
    let mut seen = [0; 3];
    for last in 1..=of {
        let name = format!("shop{last}.setwright");
        let record = place.record(&name, 1).await;
        let (old, old_files) = whole(&record).await;
        let killed = copyist("restore", &place.at("b"), &record, last);
        assert_eq!(killed.status.code(), None, "killed at {last}: {killed:?}");

        // The old record, the new one, or the word that it must be finished: never anything else.
        match standing(&record).await {
            Ok(head) if head == old => seen[0] += 1,
            Err(StoreError::HalfRestored) => {
                seen[1] += 1;
                let reading = Store::open_to_read(&record).await;
                assert_eq!(reading.map(|_| ()), Err(StoreError::HalfRestored));
            }
            Ok(head) if head == new => seen[2] += 1,
            other => panic!("step {last}: {other:?}"),
        }
        let finished = restore(&place.at("b"), &record, true).await;
        let finished = finished.unwrap_or_else(|e| panic!("step {last}: {e:?}"));
        assert_eq!(finished.faults, []);
        assert_eq!(standing(&record).await, Ok(new.clone()));
        let left = place.names(&format!("{name}.restoring"));
        assert_eq!(left, [""; 0]);
        let mut kept = Vec::new();
        for folder in place.names(&format!("{name}.old-")) {
            kept.push(whole(&place.at(&folder).join(&name)).await);
        }
        assert!(kept.contains(&(old, old_files)), "step {last}: {kept:?}");
    }
    assert!(seen.iter().all(|n| *n > 0), "{seen:?}");
}

#[tokio::test]
async fn a_first_restore_that_broke_off_is_not_taken_for_an_empty_record() {
    let place = Place::make();
    let source = place.record("source.setwright", 1).await;
    backup(&source, &place.at("b")).await.expect("made");
    let of = steps("restore", &place.at("b"), &place.at("count.setwright"));
    for last in 2..=of {
        let record = place.at(&format!("shop{last}.setwright"));
        let killed = copyist("restore", &place.at("b"), &record, last);
        assert_eq!(killed.status.code(), None, "killed at {last}: {killed:?}");
        match standing(&record).await {
            Err(StoreError::HalfRestored) => {}
            Ok(head) => assert_eq!(head, whole(&source).await.0, "step {last}"),
            other => panic!("step {last}: {other:?}"),
        }
        // Without keeping anything: there was no record.
        let finished = restore(&place.at("b"), &record, false).await;
        match finished {
            Ok(_) => {}
            Err(BackupError::StoreExists { .. }) => assert!(last >= of - 1, "step {last}"),
            other => panic!("step {last}: {other:?}"),
        }
        assert_eq!(whole(&record).await, whole(&source).await);
    }
}
