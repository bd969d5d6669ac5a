//! The reader of sheets, against the demo sheets and against broken ones.

mod broken;
mod demo;
mod docs;
mod noise;
mod texts;
mod together;

use std::fs;
use std::path::Path;

use shop::sheet::{self, Mistake, Sheet};

/// Every demo sheet: path below the demo folder, text.
fn demo_files() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sheets/demo");
    let mut folders = vec![root.clone()];
    let mut files = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("demo folder").flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
            } else if !path.ends_with("jobs.toml") {
                // The demo shop's jobs are no sheet.
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

/// The text of one demo sheet.
fn demo(file: &str) -> String {
    let found = demo_files().into_iter().find(|(name, _)| name == file);
    found.expect("a demo sheet").1
}

/// Every demo sheet, read.
fn demo_sheets() -> Vec<(String, Sheet)> {
    demo_files()
        .into_iter()
        .map(|(file, text)| {
            let sheet = sheet::read(&file, &text);
            (file, sheet.expect("a demo sheet without mistakes"))
        })
        .collect()
}

/// Mistakes as lines of text, for messages of failed tests.
fn listed(mistakes: &[Mistake]) -> String {
    mistakes
        .iter()
        .map(|m| {
            format!(
                "{}:{}: {} = {}: {:?}\n",
                m.file, m.line, m.key, m.value, m.problem
            )
        })
        .collect()
}
