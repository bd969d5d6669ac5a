//! The files of the project, and what all rules ask of them.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

/// A file of the project.
pub struct File {
    /// Path from the root, with `/`.
    pub path: String,
    /// Text; empty for what is no text.
    pub text: String,
}

impl File {
    /// A file that a test makes up.
    #[cfg(test)]
    pub fn new(path: &str, text: &str) -> Self {
        Self {
            path: path.to_owned(),
            text: text.to_owned(),
        }
    }

    /// Whether the name ends with one of these, without the point.
    pub fn is(&self, extensions: &[&str]) -> bool {
        let extension = self.path.rsplit_once('.').map(|(_, e)| e);
        extension.is_some_and(|e| extensions.contains(&e))
    }

    /// The folder of the crate that it belongs to, and the path within it.
    pub fn in_crate(&self) -> Option<(&str, &str)> {
        self.path.strip_prefix("crates/")?.split_once('/')
    }

    /// Its lines from 1, without comments and without the tests at its end.
    pub fn code(&self) -> impl Iterator<Item = (usize, &str)> {
        let tests = ["#[cfg(test)]", "mod tests {"].join("\n");
        let end = self.text.find(&tests).unwrap_or(self.text.len());
        numbered(&self.text[..end]).filter(|(_, line)| !line.trim_start().starts_with("//"))
    }

    /// All its lines, from 1.
    pub fn lines(&self) -> impl Iterator<Item = (usize, &str)> {
        numbered(&self.text)
    }
}

fn numbered(text: &str) -> impl Iterator<Item = (usize, &str)> {
    text.lines().enumerate().map(|(i, line)| (i + 1, line))
}

/// Whether `word` stands in `line` and not inside a longer word.
pub fn has_word(line: &str, word: &str) -> bool {
    let is_name = |c: char| c.is_alphanumeric() || c == '_';
    let starts_as_name = word.starts_with(is_name);
    let ends_as_name = word.ends_with(is_name);
    line.match_indices(word).any(|(at, _)| {
        let before = line[..at].chars().next_back();
        let after = line[at + word.len()..].chars().next();
        let goes_on_before = starts_as_name && before.is_some_and(is_name);
        let goes_on_after = ends_as_name && after.is_some_and(is_name);
        !goes_on_before && !goes_on_after
    })
}

/// `target` as a path from the root, seen from the file `file`.
pub fn resolved(file: &str, target: &str) -> String {
    let mut parts: Vec<&str> = file.split('/').collect();
    parts.pop();
    for part in target.split('/') {
        match part {
            "" | "." => {}
            ".." => drop(parts.pop()),
            part => parts.push(part),
        }
    }
    parts.join("/")
}

/// The root of the project.
fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Every file of the project that git knows or would take; without git, every file that is not
/// built or fetched.
pub fn tree() -> &'static [File] {
    static TREE: OnceLock<Vec<File>> = OnceLock::new();
    TREE.get_or_init(|| {
        let root = root();
        let mut paths = listed(&root).unwrap_or_else(|| walked(&root));
        paths.sort();
        let files: Vec<File> = paths.iter().filter_map(|path| read(&root, path)).collect();
        let rust = files.iter().filter(|f| f.is(&["rs"])).count();
        assert!(rust > 100, "{rust} Rust files: the tree was not found");
        files
    })
}

fn read(root: &Path, path: &str) -> Option<File> {
    // Git lists a file that was just deleted until that is committed.
    let bytes = fs::read(root.join(path)).ok()?;
    Some(File {
        path: path.to_owned(),
        text: String::from_utf8(bytes).unwrap_or_default(),
    })
}

fn listed(root: &Path) -> Option<Vec<String>> {
    let asked = [
        "ls-files",
        "-z",
        "--cached",
        "--others",
        "--exclude-standard",
    ];
    let answer = Command::new("git").args(asked).current_dir(root).output();
    let answer = answer.ok().filter(|a| a.status.success())?;
    let names = String::from_utf8(answer.stdout).ok()?;
    let paths: Vec<String> = names
        .split('\0')
        .filter(|name| !name.is_empty())
        .map(str::to_owned)
        .collect();
    // A copy inside somebody else's repository is not known to that.
    (!paths.is_empty()).then_some(paths)
}

fn walked(root: &Path) -> Vec<String> {
    let mut folders = vec![root.to_owned()];
    let mut paths = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("a folder").flatten() {
            let path = entry.path();
            let name = entry.file_name();
            if !path.is_dir() {
                let below = path.strip_prefix(root).expect("below the root");
                paths.push(below.to_string_lossy().replace('\\', "/"));
            } else if !["target", "node_modules", ".git"]
                .iter()
                .any(|n| name == *n)
            {
                folders.push(path);
            }
        }
    }
    paths
}

#[test]
fn words_are_whole() {
    assert!(has_word("let x = fs::read(p);", "fs::"));
    assert!(!has_word("let x = offs::read(p);", "fs::"));
    assert!(has_word("(print!(x))", "print!"));
    assert!(!has_word("eprint!(x)", "print!"));
    assert!(!has_word("UPDATED a", "UPDATE"));
}

#[test]
fn code_is_without_comments_and_tests() {
    let file = File::new(
        "a.rs",
        "// one\nlet two;\n#[cfg(test)]\nmod tests {\nlet three;\n}",
    );
    assert_eq!(file.code().collect::<Vec<_>>(), [(2, "let two;")]);
    assert_eq!(file.lines().count(), 6);
}

#[test]
fn both_ways_of_listing_agree_on_sources() {
    let sources = |paths: Vec<String>| {
        let mut sources: Vec<String> = paths
            .into_iter()
            .filter(|p| p.starts_with("crates/") && p.ends_with(".rs"))
            .filter(|p| root().join(p).exists())
            .collect();
        sources.sort();
        sources
    };
    if let Some(listed) = listed(&root()) {
        assert_eq!(sources(walked(&root())), sources(listed));
    }
}
