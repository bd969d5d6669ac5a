//! Takes every demo sheet and photo and every check file into the program, so that the demo shop opens and the
//! validation runs from anywhere.

use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    take("sheets/demo", &["toml"], "include_str", "demo_files.rs")?;
    take(
        "sheets/demo",
        &["jpg", "csv"],
        "include_bytes",
        "demo_photos.rs",
    )?;
    take("checks", &["toml", "csv"], "include_str", "check_files.rs")
}

/// Writes the list of the files below `folder` that end so: name below the folder, what is in it.
fn take(folder: &str, ends: &[&str], how: &str, list_file: &str) -> io::Result<()> {
    let root = Path::new(&env::var("CARGO_MANIFEST_DIR").map_err(io::Error::other)?)
        .join("../..")
        .join(folder);
    let mut files = Vec::new();
    collect(&root, ends, &mut files)?;
    files.sort();
    let mut list = String::from("&[\n");
    for file in files {
        let name = file
            .strip_prefix(&root)
            .unwrap_or(&file)
            .display()
            .to_string();
        list += &format!("    ({name:?}, {how}!(r\"{}\")),\n", file.display());
    }
    list.push_str("]\n");
    let out = env::var("OUT_DIR").map_err(io::Error::other)?;
    fs::write(Path::new(&out).join(list_file), list)
}

fn collect(folder: &Path, ends: &[&str], files: &mut Vec<PathBuf>) -> io::Result<()> {
    println!("cargo::rerun-if-changed={}", folder.display());
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            collect(&path, ends, files)?;
        } else if path
            .extension()
            .is_some_and(|e| ends.iter().any(|end| e == *end))
        {
            println!("cargo::rerun-if-changed={}", path.display());
            files.push(path);
        }
    }
    Ok(())
}
