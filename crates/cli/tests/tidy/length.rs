//! Files stay small enough to be read.

use crate::File;

/// No source file has more lines.
const MOST: usize = 600;
/// Half of the Rust files have no more lines.
const MEDIAN: usize = 200;

/// Files that are too long, and a median that is.
pub fn faults(files: &[File]) -> Vec<String> {
    let lines = |file: &File| file.text.lines().count();
    let mut faults: Vec<String> = files
        .iter()
        .filter(|f| f.is(&["rs", "js", "css", "typ"]) && lines(f) > MOST)
        .map(|f| format!("{}: {} lines, at most {MOST}", f.path, lines(f)))
        .collect();
    let mut rust: Vec<usize> = files.iter().filter(|f| f.is(&["rs"])).map(lines).collect();
    rust.sort_unstable();
    let median = rust.get(rust.len() / 2).copied().unwrap_or(0);
    if median > MEDIAN {
        faults.push(format!(
            "half of the Rust files have over {median} lines, at most {MEDIAN}"
        ));
    }
    faults
}

#[test]
fn long_files_are_found() {
    let long = |name: &str, lines: usize| File::new(name, &"x\n".repeat(lines));
    assert_eq!(faults(&[long("a.rs", 10), long("b.css", 601)]).len(), 1);
    assert_eq!(faults(&[long("a.rs", 10), long("b.md", 601)]).len(), 0);
    let two_of_three = [long("a.rs", 10), long("b.rs", 201), long("c.rs", 202)];
    assert_eq!(faults(&two_of_three).len(), 1);
}
