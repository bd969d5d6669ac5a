//! Every Rust file is part of something that is built.

use std::collections::BTreeSet;

use crate::File;
use crate::tree::resolved;

/// Files that no target reaches.
pub fn faults(files: &[File]) -> Vec<String> {
    let ours = |f: &&File| f.is(&["rs"]) && f.in_crate().is_some();
    let known: BTreeSet<&str> = files.iter().filter(ours).map(|f| f.path.as_str()).collect();
    let mut open: Vec<&str> = known.iter().copied().filter(|p| is_root(p)).collect();
    let mut reached: BTreeSet<&str> = open.iter().copied().collect();
    while let Some(path) = open.pop() {
        let file = files.iter().find(|f| f.path == path);
        let places = file.into_iter().flat_map(modules);
        for place in places.filter_map(|place| known.get(place.as_str())) {
            if reached.insert(place) {
                open.push(place);
            }
        }
    }
    known
        .difference(&reached)
        .map(|path| format!("{path}: no `mod` leads here"))
        .collect()
}

/// Whether cargo builds `path` of itself.
fn is_root(path: &str) -> bool {
    let parts: Vec<&str> = path.split('/').skip(2).collect();
    matches!(
        parts.as_slice(),
        ["build.rs"]
            | ["src", "lib.rs" | "main.rs"]
            | ["src", "bin", _]
            | ["tests" | "benches" | "examples", _]
            | ["tests" | "benches" | "examples", _, "main.rs"]
    )
}

/// Where the modules of `path` stand.
fn folder(path: &str) -> &str {
    let (folder, name) = path.rsplit_once('/').unwrap_or(("", path));
    // The roots of targets and `mod.rs` stand beside their modules, others above a folder.
    if name == "mod.rs" || is_root(path) {
        return folder;
    }
    path.strip_suffix(".rs").unwrap_or(path)
}

/// Where the modules may stand that a file declares and does not hold itself.
fn modules(file: &File) -> Vec<String> {
    let mut places = Vec::new();
    let mut named = None;
    for (_, line) in file.lines() {
        let line = line.trim();
        if let Some(rest) = line.strip_prefix("#[path = \"") {
            named = rest.split('"').next();
        } else if let Some(module) = declared(line) {
            let folder = folder(&file.path);
            match named.take() {
                Some(path) => places.push(resolved(&file.path, path)),
                None => places.extend([
                    format!("{folder}/{module}.rs"),
                    format!("{folder}/{module}/mod.rs"),
                ]),
            }
        }
    }
    places
}

/// The name in `mod name;`, whoever may see it.
fn declared(line: &str) -> Option<&str> {
    let line = match line.strip_prefix("pub") {
        Some(rest) => ["(crate)", "(super)"]
            .iter()
            .find_map(|who| rest.strip_prefix(who))
            .unwrap_or(rest),
        None => line,
    };
    line.trim_start().strip_prefix("mod ")?.strip_suffix(';')
}

#[test]
fn a_forgotten_file_is_found() {
    let files = [
        File::new(
            "crates/a/src/lib.rs",
            "mod b;\npub(crate) mod c;\n// mod gone;",
        ),
        File::new("crates/a/src/b.rs", "pub mod d;"),
        File::new("crates/a/src/b/d.rs", ""),
        File::new("crates/a/src/c/mod.rs", "mod e;"),
        File::new("crates/a/src/c/e.rs", ""),
        File::new("crates/a/src/gone.rs", ""),
        File::new("crates/a/src/d.rs", ""),
        File::new(
            "crates/a/tests/t/main.rs",
            "mod u;\n#[path = \"../v/x.rs\"]\nmod x;",
        ),
        File::new("crates/a/tests/v/x.rs", ""),
        File::new("crates/a/tests/t/u.rs", ""),
        File::new("crates/a/tests/t/w.rs", ""),
    ];
    let lost: Vec<String> = faults(&files);
    let expected = [
        "crates/a/src/d.rs",
        "crates/a/src/gone.rs",
        "crates/a/tests/t/w.rs",
    ];
    assert_eq!(lost.len(), 3, "{lost:#?}");
    for (fault, path) in lost.iter().zip(expected) {
        assert!(fault.starts_with(path), "{fault}");
    }
}
