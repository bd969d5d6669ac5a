//! Takes every demo sheet into the program, so that the demo shop opens from anywhere.

use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let root = Path::new(&env::var("CARGO_MANIFEST_DIR").map_err(io::Error::other)?)
        .join("../../sheets/demo");
    let mut files = Vec::new();
    collect(&root, &mut files)?;
    files.sort();
    let mut list = String::from("&[\n");
    for file in files {
        let name = file
            .strip_prefix(&root)
            .unwrap_or(&file)
            .display()
            .to_string();
        list += &format!("    ({name:?}, include_str!(r\"{}\")),\n", file.display());
    }
    list.push_str("]\n");
    let out = env::var("OUT_DIR").map_err(io::Error::other)?;
    fs::write(Path::new(&out).join("demo_files.rs"), list)
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) -> io::Result<()> {
    println!("cargo::rerun-if-changed={}", folder.display());
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            collect(&path, files)?;
        } else if path.extension().is_some_and(|e| e == "toml") {
            println!("cargo::rerun-if-changed={}", path.display());
            files.push(path);
        }
    }
    Ok(())
}
