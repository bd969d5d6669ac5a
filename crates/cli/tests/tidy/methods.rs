//! A calculation says where it comes from and is held against something.

use std::collections::BTreeMap;

use crate::File;

/// Modules of `calc` that reckon nothing of their own.
const NO_METHODS: &[&str] = &["lib.rs", "error.rs", "message.rs", "working.rs"];

/// Modules of `calc` without a source or without tests. A folder is one module.
pub fn faults(files: &[File]) -> Vec<String> {
    let mut modules: BTreeMap<&str, String> = BTreeMap::new();
    for file in files.iter().filter(|f| f.is(&["rs"])) {
        let Some(("calc", path)) = file.in_crate() else {
            continue;
        };
        let Some(path) = path.strip_prefix("src/") else {
            continue;
        };
        let name = path.split_once('/').map_or(path, |(folder, _)| folder);
        modules.entry(name).or_default().push_str(&file.text);
    }
    let mut faults = Vec::new();
    for (name, text) in modules {
        let reckons = !NO_METHODS.contains(&name);
        for needed in ["//! # Source\n", "#[test]\n"].iter().filter(|_| reckons) {
            if !text.contains(needed) {
                faults.push(format!("crates/calc/src/{name}: no {}", needed.trim()));
            }
        }
    }
    faults
}

#[test]
fn a_method_without_source_or_test_is_found() {
    let files = [
        File::new("crates/calc/src/lib.rs", "pub mod a;"),
        File::new(
            "crates/calc/src/a.rs",
            "//! # Source\n//! A book.\n#[test]\nfn b() {}",
        ),
        File::new("crates/calc/src/c.rs", "pub fn d() -> f64 { 1.0 }"),
        File::new("crates/calc/src/f/mod.rs", "//! # Source\n//! A book."),
        File::new("crates/calc/src/f/g.rs", "#[test]\nfn h() {}"),
        File::new("crates/calc/src/i/mod.rs", "//! # Source\n//! A book."),
        File::new("crates/shop/src/e.rs", ""),
    ];
    assert_eq!(faults(&files).len(), 3);
}
