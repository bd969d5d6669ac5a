//! The files of the demo shop.

use std::fs;
use std::path::Path;

/// Every demo sheet: path below the demo folder, text.
pub fn demo_files() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sheets/demo");
    let mut folders = vec![root.clone()];
    let mut files = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("demo folder").flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "toml") && !path.ends_with("jobs.toml")
            {
                // The demo shop's jobs and photos are no sheets.
                files.push((
                    named(&root, &path),
                    fs::read_to_string(&path).expect("UTF-8"),
                ));
            }
        }
    }
    files.sort();
    files
}

fn named(root: &Path, path: &Path) -> String {
    let below = path.strip_prefix(root).expect("below the demo folder");
    below.to_string_lossy().replace('\\', "/")
}
