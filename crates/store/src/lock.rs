//! One writer a record: an advisory lock on a file beside it, held as long as the record is open.
//!
//! The lock lives with the open file, so the system lets go of it however the program ends.

use std::ffi::OsString;
use std::fs::{File, OpenOptions, TryLockError};
use std::path::{Path, PathBuf};

use crate::error::StoreError;

/// Takes the lock of the record at `path`.
///
/// # Errors
/// [`StoreError::InUse`] if another has it; [`StoreError::CannotOpen`] if the file cannot be made.
pub(crate) fn take(path: &Path) -> Result<File, StoreError> {
    let cannot = |error: std::io::Error| StoreError::CannotOpen {
        why: error.to_string(),
    };
    let file = OpenOptions::new()
        .create(true)
        .truncate(false)
        .write(true)
        .open(lock_path(path))
        .map_err(cannot)?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(StoreError::InUse),
        Err(TryLockError::Error(error)) => Err(cannot(error)),
    }
}

/// The record's own name with `.lock` after it.
fn lock_path(path: &Path) -> PathBuf {
    let mut name = OsString::from(path);
    name.push(".lock");
    PathBuf::from(name)
}
