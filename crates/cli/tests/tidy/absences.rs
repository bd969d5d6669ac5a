//! What must not be found in a crate's sources.

use crate::File;
use crate::tree::has_word;

/// Words that have no place under some paths.
struct Absence {
    what: &'static str,
    applies: fn(crate_name: &str, path: &str) -> bool,
    words: &'static [&'static str],
}

const ABSENCES: &[Absence] = &[
    Absence {
        what: "no clock",
        applies: |name, _| is_pure(name),
        words: &["SystemTime", "Instant", "now()", "TimeZone::system"],
    },
    Absence {
        what: "no disk, network, environment or process",
        applies: |name, _| is_pure(name),
        words: &[
            "fs::",
            "net::",
            "env::",
            "process::",
            "io::",
            "thread::",
            "println!",
            "eprintln!",
        ],
    },
    Absence {
        what: "no randomness",
        applies: |name, _| is_pure(name),
        words: &["new_v4", "now_v7", "rand::", "getrandom"],
    },
    Absence {
        what: "nothing waits",
        applies: |name, _| is_pure(name),
        words: &["async", "await"],
    },
    Absence {
        what: "state is not stored: only entries have a stored form",
        applies: |name, path| name == "shop" && !path.starts_with("src/entry/"),
        words: &["Serialize", "Deserialize"],
    },
    Absence {
        what: "no SQL outside the store",
        applies: |name, _| name != "store",
        words: &["sqlx", "\"SELECT", "INSERT INTO", "DELETE FROM", "ORDER BY"],
    },
];

/// Same input, same output: what these crates do follows from what they are given.
fn is_pure(name: &str) -> bool {
    ["calc", "methods", "words", "shop", "paper"].contains(&name)
}

/// Every such word.
pub fn faults(files: &[File]) -> Vec<String> {
    let mut faults = Vec::new();
    for file in files.iter().filter(|f| f.is(&["rs"])) {
        let Some((name, path)) = file.in_crate() else {
            continue;
        };
        let absences = ABSENCES.iter().filter(|a| (a.applies)(name, path));
        for absence in absences.filter(|_| path.starts_with("src/")) {
            for (line, text) in file.code() {
                for word in absence.words.iter().filter(|w| has_word(text, w)) {
                    faults.push(format!("{}:{line}: {word} ({})", file.path, absence.what));
                }
            }
        }
    }
    faults
}

#[test]
fn each_absence_is_held() {
    for (path, text) in [
        ("crates/shop/src/a.rs", "let t = jiff::Timestamp::now();"),
        ("crates/calc/src/a.rs", "let t = Instant::now();"),
        ("crates/shop/src/a.rs", "use std::fs::read;"),
        (
            "crates/paper/src/a.rs",
            "use std::{fs, io}; let b = fs::read(p)?;",
        ),
        ("crates/shop/src/a.rs", "let id = Uuid::new_v4();"),
        ("crates/calc/src/a.rs", "pub async fn mean() {}"),
        ("crates/shop/src/job/mod.rs", "#[derive(Clone, Serialize)]"),
        ("crates/web/src/a.rs", "let q = \"SELECT * FROM entries\";"),
        ("crates/cli/src/a.rs", "sqlx::query(sql)"),
    ] {
        let found = faults(&[File::new(path, text)]);
        assert!(!found.is_empty(), "{path}: {text}");
    }
    let fine = [
        File::new(
            "crates/store/src/a.rs",
            "let q = \"SELECT 1\"; Instant::now();",
        ),
        File::new("crates/shop/src/entry/a.rs", "#[derive(Serialize)]"),
        File::new(
            "crates/calc/src/a.rs",
            "pub const SELECT: Method = Method {",
        ),
        File::new(
            "crates/shop/src/a.rs",
            "// fs:: is not for us\nlet offs = known();",
        ),
        File::new("crates/shop/tests/a.rs", "fs::read(p)"),
    ];
    assert_eq!(faults(&fine), [] as [&str; 0]);
}
