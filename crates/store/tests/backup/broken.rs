//! Backups that are not whole are told by name and never restored.

use std::fs;
use std::path::{Path, PathBuf};

use store::{BackupError, StoreError};

use crate::{Place, backup, restore, whole};

/// Every file of a backup.
fn all(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder").flatten() {
        match entry.path() {
            path if path.is_dir() => found.extend(all(&path)),
            path => found.push(path),
        }
    }
    found.sort();
    found
}

#[tokio::test]
async fn one_changed_or_missing_byte_anywhere_is_found() {
    let place = Place::make();
    let record = place.record("shop.setwright", 2).await;
    backup(&record, &place.at("b")).await.expect("made");
    let target = place.at("other.setwright");
    let files = all(&place.at("b"));
    assert_eq!(files.len(), 1 + 1 + 2);
    for file in files.iter().filter(|f| !f.ends_with("manifest.json")) {
        let sound = fs::read(file).expect("read");
        let mut changed = sound.clone();
        let middle = changed.len() / 2;
        changed[middle] ^= 1;
        for broken in [Some(changed), Some(sound[..sound.len() - 1].to_vec()), None] {
            match &broken {
                Some(bytes) => fs::write(file, bytes).expect("written"),
                None => fs::remove_file(file).expect("removed"),
            }
            let refused = restore(&place.at("b"), &target, false).await;
            let Err(BackupError::Differs { path, what, .. }) = refused else {
                panic!("{file:?}: {refused:?}");
            };
            assert_eq!(path, place.at("b"));
            assert!(file.ends_with(&what), "{what}");
            assert!(!target.exists());
        }
        fs::write(file, sound).expect("mended");
    }
    restore(&place.at("b"), &target, false)
        .await
        .expect("whole again");
    whole(&target).await;
}

#[tokio::test]
async fn a_manifest_that_was_changed_is_found() {
    let place = Place::make();
    let record = place.record("shop.setwright", 1).await;
    let made = backup(&record, &place.at("b")).await.expect("made");
    let file = place.at("b/manifest.json");
    let text = fs::read_to_string(&file).expect("text");
    let head = &made.manifest.heads[0].hash;
    let digit = if head.starts_with('0') { "1" } else { "0" };
    let other_head = format!("{digit}{}", &head[1..]);
    let outside = "\"name\": \"../record.setwright\"";
    for (from, to, what) in [
        ("\"entries\": 3", "\"entries\": 4", "entries"),
        ("\"received\": 1", "\"received\": 2", "received"),
        (head.as_str(), other_head.as_str(), "heads"),
        ("\"name\": \"record.setwright\"", outside, "manifest.json"),
        ("\"heads\"", "\"tails\"", "manifest.json"),
        ("{", "", "manifest.json"),
    ] {
        assert!(text.contains(from), "{from}");
        fs::write(&file, text.replacen(from, to, 1)).expect("written");
        let target = place.at("other.setwright");
        let refused = restore(&place.at("b"), &target, false).await;
        assert!(
            matches!(&refused, Err(BackupError::Differs { what: told, .. }) if told == what),
            "{from}: {refused:?}"
        );
        assert!(!target.exists());
    }
    let newer = text.replacen("\"form\": 1", "\"form\": 2", 1);
    fs::write(&file, newer).expect("written");
    let refused = restore(&place.at("b"), &place.at("o"), false).await;
    let Err(BackupError::OtherVersion { program, .. }) = refused else {
        panic!("{refused:?}");
    };
    assert_eq!(program, env!("CARGO_PKG_VERSION"));
}

#[tokio::test]
async fn what_is_no_backup_or_half_a_one_is_called_so() {
    let place = Place::make();
    let record = place.record("shop.setwright", 1).await;
    let target = place.at("other.setwright");
    backup(&record, &place.at("b")).await.expect("made");
    for none in ["nowhere", "shop.setwright"] {
        let refused = restore(&place.at(none), &target, false).await;
        let path = place.at(none);
        assert_eq!(refused, Err(BackupError::NotABackup { path }));
    }
    // The mark of one that broke off, also when its whole brother is asked for.
    fs::rename(place.at("b"), place.at("b.partial")).expect("renamed");
    for asked in ["b", "b.partial"] {
        let refused = restore(&place.at(asked), &target, false).await;
        let path = place.at("b.partial");
        assert_eq!(refused, Err(BackupError::Half { path }), "{asked}");
    }
    // Its name mended by hand, its manifest is still missing.
    fs::rename(place.at("b.partial"), place.at("b")).expect("renamed");
    fs::remove_file(place.at("b/manifest.json")).expect("removed");
    let refused = restore(&place.at("b"), &target, false).await;
    assert_eq!(
        refused,
        Err(BackupError::Half {
            path: place.at("b")
        })
    );
}

#[tokio::test]
async fn nothing_of_others_is_overwritten_or_removed() {
    let place = Place::make();
    let record = place.record("shop.setwright", 1).await;
    fs::create_dir(place.at("mine")).expect("a folder");
    let refused = backup(&record, &place.at("mine")).await;
    let path = place.at("mine");
    assert_eq!(refused, Err(BackupError::Exists { path }));
    // A folder that is called like a half backup and is none.
    fs::create_dir(place.at("b.partial")).expect("a folder");
    fs::write(place.at("b.partial/thesis.txt"), "years of work").expect("written");
    let refused = backup(&record, &place.at("b")).await;
    let path = place.at("b.partial");
    assert_eq!(refused, Err(BackupError::Exists { path }));
    assert!(place.at("b.partial/thesis.txt").exists());

    let refused = backup(&place.at("no.setwright"), &place.at("c")).await;
    assert!(
        matches!(
            refused,
            Err(BackupError::Store(StoreError::CannotOpen { .. }))
        ),
        "{refused:?}"
    );
    assert_eq!(place.names("c"), [""; 0]);
}
