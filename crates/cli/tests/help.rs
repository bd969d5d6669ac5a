//! The help at the prompt: every page of it as last agreed, and every example in it runs.
//!
//! After a wanted change: `UPDATE_HELP=1 cargo test -p cli --test help`, and read the difference.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

mod played;

const BINARY: &str = env!("CARGO_BIN_EXE_setwright");

/// The pages of help: the command line that a page is for, and its text.
fn pages() -> Vec<(String, String)> {
    let mut waiting = vec![Vec::<String>::new()];
    let mut pages = Vec::new();
    while let Some(words) = waiting.pop() {
        let mut command = Command::new(BINARY);
        command.args(&words).arg("--help");
        let out = command
            .env_remove("SETWRIGHT_STORE")
            .output()
            .expect("runs");
        assert!(out.status.success(), "{words:?}");
        let text = String::from_utf8(out.stdout).expect("text");
        for name in subcommands(&text).into_iter().rev() {
            waiting.push([words.clone(), vec![name]].concat());
        }
        pages.push((
            format!("setwright {}", words.join(" ")).trim().to_owned(),
            text,
        ));
    }
    pages
}

fn subcommands(help: &str) -> Vec<String> {
    let list = help.split("\nCommands:\n").nth(1).unwrap_or_default();
    list.lines()
        .take_while(|line| line.starts_with("  "))
        .filter_map(|line| line.split_whitespace().next())
        .filter(|name| *name != "help")
        .map(str::to_owned)
        .collect()
}

#[test]
fn every_page_of_help_is_as_agreed() {
    let shown: String = pages()
        .into_iter()
        .map(|(command, text)| format!("## {command}\n\n{text}\n"))
        .collect();
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/help.txt");
    if std::env::var_os("UPDATE_HELP").is_some() {
        fs::write(&file, &shown).expect("writes");
    }
    let agreed = fs::read_to_string(&file).expect("tests/help.txt");
    for (i, (now, then)) in shown.lines().zip(agreed.lines()).enumerate() {
        assert_eq!(now, then, "line {} of tests/help.txt", i + 1);
    }
    assert_eq!(shown.lines().count(), agreed.lines().count());
}

/// The examples of a page, lines that go on joined.
fn examples(help: &str) -> Vec<String> {
    let joined = help.replace("\\\n", " ");
    joined
        .lines()
        .filter_map(|line| {
            let line = line.trim().trim_start_matches("Example:").trim();
            line.starts_with("setwright ").then(|| line.to_owned())
        })
        .collect()
}

/// A folder with what the examples name: a store, sheets, a photo, a file of checks.
fn workplace() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let store = folder.path().join("shop.setwright");
    played::demo_at(&store);
    let repository = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let copy = |from: &str, to: &str| {
        let to = folder.path().join(to);
        fs::create_dir_all(to.parent().expect("a parent")).expect("a folder");
        let copied = Command::new("cp")
            .arg("-r")
            .arg(repository.join(from))
            .arg(to)
            .status();
        assert!(copied.expect("cp").success());
    };
    copy("sheets/demo", "sheets/demo");
    copy("sheets/demo", "my-sheets");
    copy("checks/torque-adapter.toml", "my-checks.toml");
    copy("docs/screens/bench-360.png", "collet.jpg");
    copy("sheets/demo/recordings/ah-1187-d6-as-left.csv", "d6.csv");
    copy("sheets/demo/recordings/ah-1301-stall.csv", "stall.csv");
    (folder, store)
}

fn wait_for_address(program: &mut std::process::Child) {
    use std::io::{BufRead, BufReader};
    let out = program.stdout.take().expect("piped");
    let told = BufReader::new(out)
        .lines()
        .map_while(Result::ok)
        .any(|line| line.contains("http://"));
    assert!(told, "the program says its address");
    program.kill().expect("ends");
    program.wait().expect("ended");
}

fn run(line: &str, folder: &Path, store: &Path) -> Output {
    let path = Path::new(BINARY).parent().expect("a folder").display();
    Command::new("bash")
        .args(["-c", line])
        .current_dir(folder)
        .env("PATH", format!("{path}:/usr/bin:/bin"))
        .env("SETWRIGHT_STORE", store)
        .output()
        .expect("runs")
}

#[test]
fn every_example_runs() {
    let (folder, store) = workplace();
    let start = Instant::now();
    let mut run_through = 0;
    let mut hash = String::new();
    for (page, text) in pages() {
        for example in examples(&text) {
            if page == "setwright demo" || page == "setwright serve" {
                // These go on until they are stopped: they are asked to say where they are.
                let mut words = example
                    .split_whitespace()
                    .skip(1)
                    .map(|w| w.trim_matches('"'));
                let first = words.next().expect("a command");
                let mut child = Command::new(BINARY)
                    .args([first, "--port", "0"])
                    .env("SETWRIGHT_STORE", &store)
                    .stdout(Stdio::piped())
                    .spawn()
                    .expect("starts");
                wait_for_address(&mut child);
            } else {
                // A file is named by the first digits of its hash: the one that was added before.
                let line = example.replace("3f786850", &hash);
                let line = if line.contains("files add") {
                    line.replace("collet.jpg", "collet.png")
                } else {
                    line
                };
                if line.contains("collet.png") {
                    fs::copy(
                        folder.path().join("collet.jpg"),
                        folder.path().join("collet.png"),
                    )
                    .expect("copies");
                }
                let out = run(&line, folder.path(), &store);
                let said = String::from_utf8_lossy(&out.stdout).into_owned();
                let failed = String::from_utf8_lossy(&out.stderr).into_owned();
                assert!(out.status.success(), "{line}\n{said}{failed}");
                if line.contains("files add") {
                    let listed = run("setwright files list 1010 --json", folder.path(), &store);
                    let listed = String::from_utf8_lossy(&listed.stdout).into_owned();
                    let at =
                        listed.find("\"sha256\": \"").expect("a hash") + "\"sha256\": \"".len();
                    hash = listed[at..at + 8].to_owned();
                }
            }
            run_through += 1;
        }
    }
    assert!(run_through >= 25, "{run_through} examples");
    assert!(
        start.elapsed() < Duration::from_secs(120),
        "examples are quick"
    );
}
