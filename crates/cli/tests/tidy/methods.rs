//! A calculation says where it comes from and is held against something.

use crate::File;

/// Modules of `calc` that reckon nothing of their own.
const NO_METHODS: &[&str] = &["lib.rs", "error.rs", "message.rs", "working.rs"];

/// Modules of `calc` without a source or without tests.
pub fn faults(files: &[File]) -> Vec<String> {
    let mut faults = Vec::new();
    for file in files.iter().filter(|f| f.is(&["rs"])) {
        let Some(("calc", path)) = file.in_crate() else {
            continue;
        };
        let Some(name) = path.strip_prefix("src/") else {
            continue;
        };
        let reckons = !NO_METHODS.contains(&name) && !name.ends_with("/mod.rs");
        for needed in ["//! # Source\n", "#[test]\n"].iter().filter(|_| reckons) {
            if !file.text.contains(needed) {
                faults.push(format!("{}: no {}", file.path, needed.trim()));
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
        File::new("crates/shop/src/e.rs", ""),
    ];
    assert_eq!(faults(&files).len(), 2);
}
