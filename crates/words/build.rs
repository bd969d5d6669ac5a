//! Lists every catalogue file under `lang/`, so that a new file is in the program by being there.

use std::path::Path;
use std::{env, fs, io};

fn main() -> io::Result<()> {
    println!("cargo::rerun-if-changed=lang");
    let root = Path::new(&env::var("CARGO_MANIFEST_DIR").map_err(io::Error::other)?).join("lang");
    let mut list = String::from("&[\n");
    for language in sorted(&root)? {
        println!("cargo::rerun-if-changed={}", language.display());
        let tag = name(&language);
        for file in sorted(&language)? {
            if file.extension().is_some_and(|e| e == "ftl") {
                let (file_name, path) = (name(&file), file.display());
                list += &format!("    ({tag:?}, {file_name:?}, include_str!(r\"{path}\")),\n");
            }
        }
    }
    list.push_str("]\n");
    let out = env::var("OUT_DIR").map_err(io::Error::other)?;
    fs::write(Path::new(&out).join("catalogue.rs"), list)
}

/// What a folder holds, in order of name, so that each build gives the same program.
fn sorted(folder: &Path) -> io::Result<Vec<std::path::PathBuf>> {
    let mut paths = fs::read_dir(folder)?
        .map(|entry| entry.map(|e| e.path()))
        .collect::<io::Result<Vec<_>>>()?;
    paths.sort();
    Ok(paths)
}

fn name(path: &Path) -> String {
    path.file_name()
        .map(|n| n.to_string_lossy().into_owned())
        .unwrap_or_default()
}
