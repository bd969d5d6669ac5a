//! The process that drives Chromium.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};

/// A running chromedriver on a free port; it ends with the test.
pub struct Chromedriver {
    child: Child,
    pub url: String,
}

impl Chromedriver {
    pub fn start() -> Self {
        let mut child = Command::new("chromedriver")
            .arg("--port=0")
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("chromedriver is not installed: run ./test");
        let stdout = child.stdout.take().expect("piped");
        let mut lines = BufReader::new(stdout).lines();
        let port = lines
            .by_ref()
            .map_while(Result::ok)
            .find_map(|line| port_in(&line))
            .expect("chromedriver says its port");
        // Read on, or its output would fill the pipe and stop it.
        std::thread::spawn(move || lines.for_each(drop));
        Self {
            child,
            url: format!("http://127.0.0.1:{port}"),
        }
    }
}

impl Drop for Chromedriver {
    fn drop(&mut self) {
        self.child.kill().ok();
        self.child.wait().ok();
    }
}

/// `… started successfully on port 41234.`
fn port_in(line: &str) -> Option<u16> {
    let (_, rest) = line.split_once("started successfully on port ")?;
    rest.trim_end_matches('.').trim().parse().ok()
}
