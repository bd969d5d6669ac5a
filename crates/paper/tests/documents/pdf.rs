//! A PDF read back with the poppler tools, as a reader would see it.

use std::fs;
use std::path::Path;
use std::process::Command;

/// What a document says.
pub struct Read {
    /// Its text, with runs of white space as one space.
    pub text: String,
    /// The text of each page.
    pub pages: Vec<String>,
}

impl Read {
    /// Fails unless each of `parts` stands in the text.
    pub fn says(&self, parts: &[&str]) {
        for part in parts {
            assert!(self.text.contains(part), "missing: {part}\n{}", self.text);
        }
    }
}

/// Reads `bytes` back; `name` keeps the files of tests that run side by side apart.
pub fn read(name: &str, bytes: &[u8]) -> Read {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.pdf"));
    fs::write(&path, bytes).expect("temporary folder takes a file");
    let told = Command::new("pdftotext")
        .args(["-raw".as_ref(), path.as_os_str(), "-".as_ref()])
        .output()
        .expect("pdftotext of poppler-utils is installed");
    assert!(
        told.status.success(),
        "{}",
        String::from_utf8_lossy(&told.stderr)
    );
    let raw = String::from_utf8(told.stdout).expect("pdftotext writes UTF-8");
    let pages: Vec<String> = raw
        .trim_end_matches('\u{c}')
        .split('\u{c}')
        .map(flat)
        .collect();
    let read = Read {
        text: flat(&raw),
        pages,
    };
    assert!(!read.text.contains('⟦'), "a text is missing\n{}", read.text);
    read
}

fn flat(text: &str) -> String {
    let visible = text.replace('\u{200b}', "");
    visible.split_whitespace().collect::<Vec<_>>().join(" ")
}
