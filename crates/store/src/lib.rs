//! The record: an append-only logbook on SQLite, the names beside it, and the read tables that
//! follow from it. `docs/logbook.md` tells what is stored and what can be relied on.
//!
//! ```no_run
//! # async fn example() -> Result<(), Box<dyn std::error::Error>> {
//! use shop::entry::Resumed;
//! use store::{Request, Store};
//!
//! let store = Store::open(std::path::Path::new("shop.setwright")).await?;
//! let by = store.person("Ansa").await?;
//! let job = store.job_by_number(1001).await?.ok_or("no such job")?;
//! let request = Request {
//!     submission: "key of the form".to_owned(),
//!     subject: job.job,
//!     expected_version: job.version,
//!     by,
//!     at: jiff::Timestamp::now(),
//!     serial: None,
//! };
//! let written = store
//!     .append(request, move |scene| match scene.entries {
//!         [] => Err("the job is not there"),
//!         _ => Ok(vec![(job.job, Resumed {}.into())]),
//!     })
//!     .await;
//! # let _ = written;
//! # Ok(()) }
//! ```

mod append;
mod backup;
mod chain;
mod durable;
mod error;
mod files;
mod find;
#[cfg(test)]
mod full_disk;
mod lock;
mod log;
mod papers;
mod people;
mod reading;
mod rebuild;
mod request;
mod shared;
mod shelf;
mod sqlite;
mod store;
mod stored;
mod submissions;
mod tables;
mod verify;
mod writer;

pub use backup::{
    BackupError, BackupReport, Manifest, ManifestFile, ManifestHead, RestoreReport, Step, backup,
    restore,
};
pub use error::{AppendError, StoreError};
pub use files::{
    FileError, FileHash, FileKind, Files, Incoming, Kept, KeptFile, MOST_BYTES, MOST_PIXELS,
    MOST_RECORDING_BYTES, PictureSize,
};
pub use find::Found;
pub use log::{Head, Logged};
pub use rebuild::RebuildReport;
pub use request::{FIRST_NUMBER, Request, Scene, Written};
pub use shared::Names;
pub use store::Store;
pub use tables::jobs::{JobFilter, Which};
pub use tables::tools::ToolFilter;
pub use verify::{Difference, VerifyReport};
