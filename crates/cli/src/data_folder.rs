//! Where the shop's store lives when nobody says otherwise.

use std::path::{Path, PathBuf};
use std::{env, fs};

use crate::failure::Failure;

/// The store file asked for, or the one in the user's data folder, which is made if it is not
/// there.
pub fn store_file(asked: Option<PathBuf>) -> Result<PathBuf, Failure> {
    if let Some(file) = asked {
        return Ok(file);
    }
    let folder = data_folder().ok_or_else(|| {
        Failure::refused("No data folder is known. Name a store file with --store FILE.")
    })?;
    fs::create_dir_all(&folder).map_err(|e| cannot(&folder, &e))?;
    Ok(folder.join("shop.setwright"))
}

fn cannot(path: &Path, error: &std::io::Error) -> Failure {
    Failure::storage(format!("{}: {error}", path.display()))
}

/// `XDG_DATA_HOME`, `LOCALAPPDATA`, or the home folder's usual place.
fn data_folder() -> Option<PathBuf> {
    let set = |name| {
        env::var_os(name)
            .filter(|v| !v.is_empty())
            .map(PathBuf::from)
    };
    let base = set("XDG_DATA_HOME")
        .or_else(|| set("LOCALAPPDATA"))
        .or_else(|| {
            let home = set("HOME")?;
            Some(if cfg!(target_os = "macos") {
                home.join("Library/Application Support")
            } else {
                home.join(".local/share")
            })
        })?;
    Some(base.join("setwright"))
}
