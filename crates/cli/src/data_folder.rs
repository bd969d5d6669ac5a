//! Where the shop's store lives when nobody says otherwise.

use std::path::PathBuf;
use std::{env, fs};

use calc::Message;

use crate::failure::Failure;
use crate::print::say;

/// The store file asked for, or the one in the user's data folder, which is made if it is not
/// there.
pub fn store_file(asked: Option<PathBuf>) -> Result<PathBuf, Failure> {
    if let Some(file) = asked {
        return Ok(file);
    }
    let folder =
        data_folder().ok_or_else(|| Failure::refused(say(&Message::new("prompt-no-folder"))))?;
    fs::create_dir_all(&folder).map_err(Failure::at(&folder))?;
    Ok(folder.join("shop.setwright"))
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
