//! Every text that the code asks for is in the catalogue, and every text of the catalogue is asked
//! for by the code.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use words::Words;

/// Ids that the code builds at run time, by how they start. Keep this short: an id that stands
/// whole in the code can be found by searching for it.
const BUILT_AT_RUN_TIME: &[&str] = &[];

/// Calls that take an id as their first argument.
const CALLS: &[&str] = &["Message::new(", ".text(", "t(", "t!("];

#[test]
fn every_text_asked_for_exists() {
    let words = Words::english();
    let mut missing = Vec::new();
    for (path, code) in sources() {
        for id in asked_for(&code) {
            if !words.has(id) {
                missing.push(format!("{}: {id}", path.display()));
            }
        }
    }
    assert!(
        missing.is_empty(),
        "not in lang/en:\n{}",
        missing.join("\n")
    );
}

#[test]
fn every_text_is_used() {
    let mut used = BTreeSet::new();
    for (_, code) in sources() {
        for literal in code.split('"').filter(|l| l.len() < 80) {
            used.insert(literal.to_owned());
        }
    }
    let dead: Vec<&str> = Words::english()
        .ids()
        .filter(|id| !used.contains(*id))
        .filter(|id| !BUILT_AT_RUN_TIME.iter().any(|start| id.starts_with(start)))
        .collect();
    assert!(dead.is_empty(), "used nowhere:\n{}", dead.join("\n"));
}

#[test]
fn the_scan_sees_each_way_of_asking() {
    let code = r#"Message::new("a"); words.text(
        "b"); p.t("c"); t!("d"); insert("e"); t(name)"#;
    assert_eq!(asked_for(code).collect::<Vec<_>>(), ["a", "b", "c", "d"]);
}

/// The ids in calls of [`CALLS`] with a literal, in order of place.
fn asked_for(code: &str) -> impl Iterator<Item = &str> {
    let mut found = Vec::new();
    for call in CALLS {
        for (at, _) in code.match_indices(call) {
            let before = code[..at].chars().next_back();
            let inside_a_name = before.is_some_and(|c| c.is_alphanumeric() || c == '_');
            let rest = code[at + call.len()..].trim_start();
            if let Some(rest) = rest
                .strip_prefix('"')
                .filter(|_| !inside_a_name || call.starts_with('.'))
            {
                found.push((at, rest.split('"').next().unwrap_or_default()));
            }
        }
    }
    found.sort_unstable();
    found.into_iter().map(|(_, id)| id)
}

/// Rust and Typst sources of all crates, without tests.
fn sources() -> Vec<(PathBuf, String)> {
    let crates = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let mut files = Vec::new();
    for entry in fs::read_dir(crates).expect("crates folder").flatten() {
        for part in ["src", "templates"] {
            collect(&entry.path().join(part), &mut files);
        }
    }
    assert!(files.len() > 10, "the scan found the sources");
    files
}

fn collect(folder: &Path, files: &mut Vec<(PathBuf, String)>) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for path in entries.flatten().map(|e| e.path()) {
        let extension = path.extension().and_then(|e| e.to_str());
        if path.is_dir() {
            collect(&path, files);
        } else if matches!(extension, Some("rs" | "typ")) {
            let text = fs::read_to_string(&path).expect("source is UTF-8");
            let code = text
                .split("#[cfg(test)]\nmod tests {")
                .next()
                .unwrap_or_default();
            files.push((path, code.to_owned()));
        }
    }
}
