//! Backup and restore from outside: what comes back is what was there, whatever happens meanwhile.

mod broken;
#[path = "../built/mod.rs"]
mod built;
mod files;
mod kill;
mod load;
mod random;
mod round;
#[path = "../logbook/sample.rs"]
#[expect(dead_code, reason = "others use the rest of it")]
mod sample;

use std::path::{Path, PathBuf};

use jiff::Timestamp;
use store::{BackupError, BackupReport, Head, RestoreReport, Store};
use tempfile::TempDir;
use uuid::Uuid;

use built::example;
use sample::take_in;

/// A folder for records and backups.
pub struct Place(TempDir);

impl Place {
    /// A new one.
    pub fn make() -> Self {
        Self(tempfile::tempdir().expect("a folder"))
    }

    /// The path of `name` in it.
    pub fn at(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    /// Makes the record `name` with `jobs` jobs, each with a file of its own.
    pub async fn record(&self, name: &str, jobs: u32) -> PathBuf {
        let path = self.at(name);
        let store = Store::open(&path).await.expect("a new record");
        let by = store.person("Ansa").await.expect("a person");
        for n in 0..jobs {
            let (job, tool) = (Uuid::new_v4(), Uuid::new_v4());
            let taken = take_in(&store, &job.to_string(), job, tool, &format!("TB-{n}"), &by).await;
            let version = taken.expect("taken in").version;
            let text = format!("{name} file {n}");
            let attached = files::attach(&store, (job, version), &by, "a.txt", text.as_bytes());
            attached.await.expect("attached");
        }
        store.close().await;
        path
    }

    /// The names in the folder that begin with `start`.
    pub fn names(&self, start: &str) -> Vec<String> {
        let inside = std::fs::read_dir(self.0.path()).expect("a folder");
        let names = inside.map(|e| e.expect("a name").file_name());
        let names = names.map(|n| n.to_string_lossy().into_owned());
        let mut names: Vec<String> = names.filter(|n| n.starts_with(start)).collect();
        names.sort();
        names
    }
}

/// Backs up, at a fixed time.
pub async fn backup(record: &Path, into: &Path) -> Result<BackupReport, BackupError> {
    store::backup(record, into, Timestamp::UNIX_EPOCH, &mut |_| {}).await
}

/// Restores, at a fixed time.
pub async fn restore(
    backup: &Path,
    record: &Path,
    keep_old: bool,
) -> Result<RestoreReport, BackupError> {
    store::restore(backup, record, keep_old, Timestamp::UNIX_EPOCH, &mut |_| {}).await
}

/// Opens the record to read: it must be whole. Where it ends, and how many files it has.
pub async fn whole(record: &Path) -> (Head, u64) {
    let store = Store::open_to_read(record).await.expect("opens");
    let report = store.verify().await.expect("a report");
    store.close().await;
    assert!(report.is_clean(), "{record:?}: {:#?}", report.differences);
    (report.head, report.files)
}
