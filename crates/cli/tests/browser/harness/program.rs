//! The program itself, as a user starts it.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::time::Duration;

use tempfile::TempDir;

use crate::played::demo_at;

/// Longest time from start to the address.
const START: Duration = Duration::from_secs(20);

/// A running `setwright` that serves pages; it ends with the test.
#[allow(dead_code, reason = "for the tests of the whole program")]
pub struct Program {
    child: Child,
    /// What it serves from; gone when it is.
    folder: Option<TempDir>,
    /// `http://127.0.0.1:PORT`.
    pub address: String,
}

#[allow(dead_code, reason = "for the tests of the whole program")]
impl Program {
    /// The demo shop in a throw-away store.
    pub fn demo() -> Self {
        Self::demo_with(&[])
    }

    /// The same, served with more `arguments`.
    pub fn demo_with(arguments: &[&str]) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let store = folder.path().join("demo.setwright");
        demo_at(&store);
        let keep = [
            "demo",
            "--port",
            "0",
            "--keep",
            store.to_str().expect("plain"),
        ];
        let mut program = Self::start(&[&keep[..], arguments].concat());
        program.folder = Some(folder);
        program
    }

    /// `setwright` with `arguments`; waits until it says where it listens.
    pub fn start(arguments: &[&str]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_setwright"))
            .args(arguments)
            .stdout(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let stdout = child.stdout.take().expect("piped");
        let (tell, told) = mpsc::channel();
        std::thread::spawn(move || {
            for line in BufReader::new(stdout).lines().map_while(Result::ok) {
                if let Some(address) = address_in(&line) {
                    tell.send(address).ok();
                }
            }
        });
        let address = told.recv_timeout(START);
        if address.is_err() {
            child.kill().ok();
            child.wait().ok();
        }
        Self {
            child,
            folder: None,
            address: address.expect("the program says its address"),
        }
    }
}

impl Drop for Program {
    fn drop(&mut self) {
        self.child.kill().ok();
        self.child.wait().ok();
    }
}

fn address_in(line: &str) -> Option<String> {
    let at = line.find("http://")?;
    let address = line[at..].split_whitespace().next()?;
    Some(address.trim_end_matches('/').to_owned())
}
