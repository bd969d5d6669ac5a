//! Backup and restore: a folder with a copy of the record, its photos and files, and a manifest
//! that is written last. `docs/backup.md` tells what can be relied on.
//!
//! A backup grows under another name and gets its own when it has been restored into a scratch
//! folder and compared: what bears the name is whole.

mod check;
mod error;
mod make;
mod manifest;
mod restore;
mod step;
pub(crate) mod swap;
mod unpack;

pub use error::BackupError;
pub use make::{BackupReport, backup};
pub use manifest::{Manifest, ManifestFile, ManifestHead};
pub use restore::{RestoreReport, restore};
pub use step::{Step, Tell};

/// The record within a backup.
const RECORD: &str = "record.setwright";
/// The folder of photos and files within a backup.
const FILES: &str = "files";
/// The manifest within a backup.
const MANIFEST: &str = "manifest.json";
/// What follows the name of a backup that is not whole yet.
const PARTIAL: &str = ".partial";

/// Does `work` on a thread that may wait for the disk.
async fn on_disk<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, BackupError> + Send + 'static,
) -> Result<T, BackupError> {
    match tokio::task::spawn_blocking(work).await {
        Ok(done) => done,
        Err(_) => Err(crate::StoreError::Panicked.into()),
    }
}
