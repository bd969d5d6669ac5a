//! The process that drives Chromium.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

/// Longest wait for its browsers to end.
const SHUT_DOWN: Duration = Duration::from_secs(10);

/// A running chromedriver on a free port; it ends with the test.
pub struct Chromedriver {
    child: Child,
    port: u16,
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
            port,
            url: format!("http://127.0.0.1:{port}"),
        }
    }

    fn shut_down(&mut self) -> std::io::Result<()> {
        let mut line = TcpStream::connect(("127.0.0.1", self.port))?;
        line.set_read_timeout(Some(SHUT_DOWN))?;
        write!(
            line,
            "GET /shutdown HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n"
        )?;
        line.read_to_end(&mut Vec::new())?;
        Ok(())
    }
}

impl Drop for Chromedriver {
    fn drop(&mut self) {
        // Asked over HTTP, it ends its browsers before itself; killed, it would orphan them.
        self.shut_down().ok();
        self.child.kill().ok();
        self.child.wait().ok();
    }
}

/// `… started successfully on port 41234.`
fn port_in(line: &str) -> Option<u16> {
    let (_, rest) = line.split_once("started successfully on port ")?;
    rest.trim_end_matches('.').trim().parse().ok()
}
