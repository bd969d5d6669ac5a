//! What a working copy has and a finished tree has not.

use crate::File;
use crate::tree::has_word;

/// Work that was put off. In two pieces, so that this file does not find itself.
const UNFINISHED: &[(&str, &str)] = &[
    ("to", "do!"),
    ("unimple", "mented!"),
    ("db", "g!"),
    ("#[ig", "nore"),
    ("FIX", "ME"),
    ("TO", "DO"),
    ("XX", "X"),
];

/// Where paths of one machine begin.
const FOLDERS: &[(&str, &str)] = &[
    ("/ho", "me/"),
    ("/ro", "ot/"),
    ("/wo", "rk/"),
    ("/tm", "p/"),
    ("/Us", "ers/"),
];

/// Hosts that a file may name: this machine, names for examples, names of formats. A name without a
/// point is none.
const HOSTS: &[&str] = &["127.0.0.1", "evil.test", "www.w3.org", "json-schema.org"];

/// Hosts that one file may name.
const HOSTS_OF: &[(&str, &str)] = &[
    ("crates/store/src/sqlite.rs", "www.sqlite.org"),
    ("crates/web/assets/fonts/LICENSE.txt", "scripts.sil.org"),
    ("crates/paper/fonts/LICENSE-OFL.txt", "scripts.sil.org"),
    ("crates/paper/fonts/LICENSE-OFL.txt", "openfontlicense.org"),
    ("LICENSE-APACHE", "www.apache.org"),
];

/// Where a lock file says that packages come from: the name of the public index, not a mirror.
const INDEX: &str = "registry+https://github.com/rust-lang/crates.io-index";

fn is_code(file: &File) -> bool {
    file.is(&["rs", "js", "css", "typ", "ftl", "toml", "sql", "sh"]) || !file.path.contains('.')
}

/// Work that was put off.
pub fn unfinished(files: &[File]) -> Vec<String> {
    let words: Vec<String> = UNFINISHED.iter().map(|(a, b)| format!("{a}{b}")).collect();
    let mut faults = Vec::new();
    for file in files.iter().filter(|f| is_code(f)) {
        for (line, text) in file.lines() {
            for word in words.iter().filter(|w| has_word(text, w)) {
                faults.push(format!("{}:{line}: {word}", file.path));
            }
        }
    }
    faults
}

/// Absolute paths.
pub fn machine_paths(files: &[File]) -> Vec<String> {
    let folders: Vec<String> = FOLDERS.iter().map(|(a, b)| format!("{a}{b}")).collect();
    let mut faults = Vec::new();
    for file in files {
        let unix = file
            .lines()
            .filter(|(_, text)| folders.iter().any(|folder| begins_a_path(text, folder)));
        // A test may show what a browser of another system sends.
        let drives = file.code().filter(|(_, text)| has_drive(text));
        for (line, text) in unix.chain(drives) {
            faults.push(format!("{}:{line}: {}", file.path, text.trim()));
        }
    }
    faults
}

/// Whether `folder` stands in `line` as the beginning of a path, not in its middle.
fn begins_a_path(line: &str, folder: &str) -> bool {
    line.match_indices(folder).any(|(at, _)| {
        let before = line[..at].chars().next_back();
        !before.is_some_and(|c| c.is_alphanumeric() || "._-~}*".contains(c))
    })
}

/// Whether a path with a drive letter stands in `line`.
fn has_drive(line: &str) -> bool {
    line.match_indices(":\\").any(|(at, _)| {
        let mut before = line[..at].chars().rev();
        let drive = before.next().is_some_and(|c| c.is_ascii_uppercase());
        let alone = !before.next().is_some_and(char::is_alphanumeric);
        let after = line[at + 2..].chars().next();
        drive && alone && after.is_some_and(|c| c == '\\' || c.is_ascii_uppercase())
    })
}

/// Addresses of other machines: a mirror of a registry, a service, a page that may go away.
pub fn addresses(files: &[File]) -> Vec<String> {
    let mut faults = Vec::new();
    for file in files {
        for (line, text) in file.lines() {
            for host in hosts(&text.replace(INDEX, "")) {
                let own = HOSTS_OF.contains(&(file.path.as_str(), host.as_str()));
                if !own && !HOSTS.contains(&host.as_str()) {
                    faults.push(format!("{}:{line}: {host}", file.path));
                }
            }
        }
    }
    faults
}

/// The hosts of the addresses in `line`. Places that a program fills in are none.
fn hosts(line: &str) -> Vec<String> {
    let is_host = |c: char| c.is_ascii_alphanumeric() || c == '.' || c == '-';
    line.match_indices("://")
        .filter_map(|(at, mark)| {
            let rest = &line[at + mark.len()..];
            let end = rest.find(|c| !is_host(c)).unwrap_or(rest.len());
            let host = rest[..end].trim_end_matches('.');
            host.contains('.').then(|| host.to_owned())
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn joined((a, b): &(&str, &str)) -> String {
        format!("{a}{b}")
    }

    #[test]
    fn each_left_over_is_found() {
        for word in UNFINISHED.iter().map(joined) {
            let file = File::new("a.rs", &format!("fine();\n  {word}(x);"));
            assert_eq!(unfinished(&[file]), [format!("a.rs:2: {word}")]);
        }
        let fine = File::new("a.rs", "let todos = mastodon!();");
        assert_eq!(unfinished(&[fine]).len(), 0);
    }

    #[test]
    fn each_machine_path_is_found() {
        for folder in FOLDERS.iter().map(joined) {
            for text in [format!("read(\"{folder}a\")"), format!("cd {folder}a")] {
                assert_eq!(
                    machine_paths(&[File::new("a.md", &text)]).len(),
                    1,
                    "{text}"
                );
            }
            let relative = File::new("a.md", &format!("docs{folder}a ~{folder}a"));
            assert_eq!(machine_paths(&[relative]).len(), 0);
        }
        let drive = File::new("a.rs", concat!("read(\"D", ":\\\\", "shop\")"));
        assert_eq!(machine_paths(&[drive]).len(), 1);
        let text = File::new("a.rs", r#"format!("MADE:\n{x} A:\n")"#);
        assert_eq!(machine_paths(&[text]).len(), 0);
    }

    #[test]
    fn each_foreign_address_is_found() {
        let scheme = "https:";
        for (path, text, count) in [
            ("a.md", format!("{scheme}//mirror.test/simple"), 1),
            (".npmrc", format!("registry={scheme}//npm.test/"), 1),
            (
                "Cargo.lock",
                format!("source = \"sparse+{scheme}//proxy.test/index/\""),
                1,
            ),
            ("Cargo.lock", format!("source = \"{INDEX}\""), 0),
            (
                "a.rs",
                "\"http://127.0.0.1:4517/ http://{host}/\"".to_owned(),
                0,
            ),
            (
                "a.svg",
                "xmlns=\"http://www.w3.org/2000/svg\"".to_owned(),
                0,
            ),
        ] {
            assert_eq!(
                addresses(&[File::new(path, &text)]).len(),
                count,
                "{path}: {text}"
            );
        }
    }
}
