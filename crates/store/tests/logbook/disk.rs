//! A disk that gives out while the record is written to.

#![cfg(unix)]

use std::process::Command;

use store::Store;

use crate::example;
use crate::sample::{request, work, write};

/// A limit on the size of files makes the commit itself fail: then it is not known whether the
/// entries are there.
#[tokio::test]
async fn a_failed_commit_is_unknown_and_its_retry_stores_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shop.setwright");
    let ran = Command::new("sh")
        // 6000 blocks of 512 bytes; without the trap the signal would end the program.
        .args(["-c", "trap '' XFSZ; ulimit -f 6000; exec \"$0\" \"$@\""])
        .arg(example("hammer"))
        .arg("write")
        .arg(&path)
        .arg("1")
        .output()
        .expect("the hammer");
    assert!(ran.status.success(), "{ran:?}");
    let said = String::from_utf8(ran.stdout).expect("text");
    let (mut acknowledged, mut unknown) = (Vec::new(), Vec::new());
    for line in said.lines() {
        match line.split(' ').collect::<Vec<_>>()[..] {
            ["ack", key, ..] => acknowledged.push(key),
            ["error", key, "store-unknown", "reads=true"] => unknown.push(key),
            _ => panic!("{line}"),
        }
    }
    assert!(acknowledged.len() > 20, "{said}");
    assert!(unknown.len() > 5, "{said}");

    let store = Store::open(&path).await.expect("the record opens");
    assert!(store.verify().await.expect("report").is_clean());
    let by = store.person("Ansa").await.expect("a key");
    let mut subjects = 0..;
    let mut send = async |key: &str| {
        let subject = uuid::Uuid::from_u128(subjects.next().expect("endless"));
        let written = write(&store, request(key, subject, 0, &by), work(1)).await;
        written.expect("stored").repeated
    };
    for key in acknowledged {
        assert!(send(key).await, "{key} was acknowledged");
    }
    for key in unknown {
        send(key).await;
        assert!(send(key).await, "{key} is stored once");
    }
    assert!(store.verify().await.expect("report").is_clean());
}

/// A file system of one megabyte, where the system lets this user make one.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told_and_the_record_goes_on_when_there_is_room() {
    let folder = tempfile::tempdir().expect("a folder");
    let in_a_small_world = |script: &str| {
        Command::new("unshare")
            .args(["-r", "-m", "sh", "-c", script])
            .arg(example("hammer"))
            .arg(folder.path())
            .output()
    };
    let mount = "mount -t tmpfs -o size=1m tmpfs \"$1\"";
    let allowed = in_a_small_world(mount).is_ok_and(|ran| ran.status.success());
    if !allowed {
        println!("no file system can be made here; the size limit of SQLite stands in for it");
        return;
    }
    let ran = in_a_small_world(&format!("{mount} && exec \"$0\" fill \"$1\""));
    let ran = ran.expect("the hammer");
    let said = String::from_utf8_lossy(&ran.stdout);
    assert!(
        ran.status.success(),
        "{said} {}",
        String::from_utf8_lossy(&ran.stderr)
    );
    let lines: Vec<&str> = said.lines().collect();
    assert!(lines[0].starts_with("full after "), "{said}");
    assert_eq!(
        lines[1..],
        [
            "clean while full: true",
            "went on: true new: true",
            "clean after: true"
        ]
    );
}
