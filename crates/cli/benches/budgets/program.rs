//! The program, started as a user starts it.

use std::fs;
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::Duration;

/// A running server; it ends with this.
pub struct Program {
    child: Child,
    /// `127.0.0.1:PORT`.
    pub address: String,
}

/// Makes a store that holds the demo shop.
pub fn store_with_demo(store: &Path) {
    let arguments = ["demo".as_ref(), "--keep".as_ref(), store.as_os_str()];
    Program::start(Command::new(PROGRAM).args(arguments));
}

const PROGRAM: &str = env!("CARGO_BIN_EXE_setwright");

impl Program {
    /// Serves `store` on a free port.
    pub fn serve(store: &Path) -> Self {
        let arguments = [
            "serve".as_ref(),
            "--port=0".as_ref(),
            "--store".as_ref(),
            store.as_os_str(),
        ];
        Self::start(Command::new(PROGRAM).args(arguments))
    }

    fn start(command: &mut Command) -> Self {
        let mut child = command
            .stdout(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let stdout = child.stdout.take().expect("piped");
        let mut lines = BufReader::new(stdout).lines().map_while(Result::ok);
        let address = lines.find_map(|line| {
            let (_, rest) = line.split_once("http://")?;
            rest.split('/').next().map(str::to_owned)
        });
        Self {
            child,
            address: address.expect("the program says its address"),
        }
    }

    /// Memory in use after a rest, in millions of bytes; `None` where the system does not tell.
    pub fn resident_megabytes(&self, rest: Duration) -> Option<f64> {
        thread::sleep(rest);
        let status = fs::read_to_string(format!("/proc/{}/status", self.child.id())).ok()?;
        let line = status
            .lines()
            .find_map(|line| line.strip_prefix("VmRSS:"))?;
        let kibibytes: f64 = line.trim().strip_suffix(" kB")?.parse().ok()?;
        Some(kibibytes * 1024.0 / 1e6)
    }
}

impl Drop for Program {
    /// Asks it to end, so that the next start finds a closed store.
    fn drop(&mut self) {
        let asked = Command::new("kill")
            .arg(self.child.id().to_string())
            .status();
        if !asked.is_ok_and(|status| status.success()) {
            self.child.kill().ok();
        }
        self.child.wait().ok();
    }
}
