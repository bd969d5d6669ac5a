//! What a page of the documentation points to is there.

use crate::File;
use crate::tree::resolved;

/// Pages that name tests: a promise without a test behind it is none.
const PAGES_WITH_TESTS: &[&str] = &["ARCHITECTURE.md", "CONTRIBUTING.md"];

/// Folders of the tree: a path in backticks that begins with one is a path.
const FOLDERS: &[&str] = &["crates/", "docs/", "sheets/", "checks/", ".ci/"];

/// Links, paths and test names that lead nowhere.
pub fn faults(files: &[File]) -> Vec<String> {
    let mut faults = Vec::new();
    for page in files.iter().filter(|f| f.is(&["md"])) {
        let mut is_example = false;
        for (line, text) in page.lines() {
            is_example ^= text.trim_start().starts_with("```");
            if is_example {
                continue;
            }
            let mut fault = |what: &str| faults.push(format!("{}:{line}: {what}", page.path));
            for target in targets(text) {
                if !exists(files, &resolved(&page.path, target)) {
                    fault(target);
                }
            }
            for word in between(text, '`') {
                let is_path = FOLDERS.iter().any(|folder| word.starts_with(folder));
                if is_path && !exists(files, whole_part(word)) {
                    fault(word);
                }
                if PAGES_WITH_TESTS.contains(&page.path.as_str())
                    && is_test_name(word)
                    && !is_function(files, word)
                {
                    fault(word);
                }
            }
        }
    }
    faults
}

/// The targets of links in `line` that lead to files.
fn targets(line: &str) -> Vec<&str> {
    line.split("](")
        .skip(1)
        .filter_map(|rest| rest.split(')').next())
        .map(|target| target.split(['#', ' ']).next().unwrap_or_default())
        .filter(|target| !target.is_empty() && !target.contains(':'))
        .collect()
}

/// What stands between pairs of `mark`.
fn between(line: &str, mark: char) -> impl Iterator<Item = &str> {
    line.split(mark).skip(1).step_by(2)
}

/// A path up to the part that stands for any name.
fn whole_part(path: &str) -> &str {
    let end = path.find(['*', '<', '{', '…', ' ']).unwrap_or(path.len());
    let path = &path[..end];
    match end == path.len() && path.ends_with('/') {
        true => path.trim_end_matches('/'),
        false => path,
    }
}

fn exists(files: &[File], path: &str) -> bool {
    let path = path.trim_end_matches('/');
    let is_below = |file: &str| {
        file.strip_prefix(path)
            .is_some_and(|rest| rest.starts_with('/'))
    };
    files.iter().any(|f| f.path == path || is_below(&f.path))
}

/// Names of tests are sentences: four words or more.
fn is_test_name(word: &str) -> bool {
    let is_letter = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
    word.matches('_').count() >= 3 && word.chars().all(is_letter)
}

fn is_function(files: &[File], name: &str) -> bool {
    let head = format!("fn {name}(");
    files
        .iter()
        .any(|f| f.is(&["rs"]) && f.text.contains(&head))
}

#[test]
fn what_leads_nowhere_is_found() {
    let files = [
        File::new(
            "docs/README.md",
            "[a](sheets.md#gauge) [b](../README.md) [c](gone.md)",
        ),
        File::new(
            "docs/sheets.md",
            "`sheets/demo` `sheets/gone.toml` `sheets/*.toml` `m_to_turns`",
        ),
        File::new(
            "README.md",
            "![p](docs/screens/x.png) [w](mailto:x) [h](#top)\n```\n[e](e)\n```",
        ),
        File::new("sheets/demo/a.toml", ""),
        File::new(
            "ARCHITECTURE.md",
            "`it_is_held_here` `it_is_not_held` `crates/a/src/b.rs`",
        ),
        File::new("crates/a/src/lib.rs", "#[test]\nfn it_is_held_here() {}"),
    ];
    assert_eq!(
        faults(&files),
        [
            "docs/README.md:1: gone.md",
            "docs/sheets.md:1: sheets/gone.toml",
            "README.md:1: docs/screens/x.png",
            "ARCHITECTURE.md:1: it_is_not_held",
            "ARCHITECTURE.md:1: crates/a/src/b.rs",
        ]
    );
}
