//! Files that are whole or not there, also after a power cut: written elsewhere, synced, renamed
//! into place, and the folder synced.

use std::fs::{self, File};
use std::io;
use std::path::Path;

/// Makes the names in a folder last. Systems that cannot sync a folder do it by themselves.
pub(crate) fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()?;
    }
    Ok(())
}

/// Makes `folder` and what is missing above it, each made to last in the one above.
pub(crate) fn make_folder(folder: &Path) -> io::Result<()> {
    if folder.is_dir() {
        return Ok(());
    }
    let above = parent(folder);
    make_folder(above)?;
    match fs::create_dir(folder) {
        Err(error) if error.kind() != io::ErrorKind::AlreadyExists => Err(error),
        _ => sync_folder(above),
    }
}

/// Renames `from`, whose content is synced already, to `to`, in the place of what is there.
pub(crate) fn put(from: &Path, to: &Path) -> io::Result<()> {
    fs::rename(from, to)?;
    sync_folder(parent(to))
}

/// The folder that `path` stands in.
pub(crate) fn parent(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

/// `path` with `ending` after its name.
pub(crate) fn beside(path: &Path, ending: &str) -> std::path::PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    name.into()
}
