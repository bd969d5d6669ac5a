//! A browser reduced to one connection that stays open.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

/// A connection, with the session that the server gave.
pub struct Client {
    stream: BufReader<TcpStream>,
    host: String,
    cookie: String,
}

/// An answer.
pub struct Answer {
    /// Status.
    pub status: u16,
    /// Content.
    pub body: Vec<u8>,
}

impl Client {
    /// Connects to `host:port`.
    pub fn connect(host: &str) -> Self {
        let stream = TcpStream::connect(host).expect("the server listens");
        stream.set_nodelay(true).expect("a socket option");
        Self {
            stream: BufReader::new(stream),
            host: host.to_owned(),
            cookie: String::new(),
        }
    }

    /// The answer to a request for `path`.
    pub fn get(&mut self, path: &str) -> Answer {
        let (host, cookie) = (&self.host, &self.cookie);
        let request = format!("GET {path} HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n\r\n");
        let written = self.stream.get_mut().write_all(request.as_bytes());
        written.expect("the server takes a request");
        let status = self.line();
        let status = status.split(' ').nth(1).and_then(|s| s.parse().ok());
        let mut length = 0;
        loop {
            let line = self.line();
            if line.is_empty() {
                break;
            }
            let (name, value) = line.split_once(": ").expect("a header");
            match name {
                "content-length" => length = value.parse().expect("a length"),
                "transfer-encoding" => panic!("{path}: an answer without a length"),
                "set-cookie" => value
                    .split(';')
                    .next()
                    .unwrap_or_default()
                    .clone_into(&mut self.cookie),
                _ => {}
            }
        }
        let mut body = vec![0; length];
        self.stream.read_exact(&mut body).expect("the whole answer");
        Answer {
            status: status.expect("a status"),
            body,
        }
    }

    /// How long the answer to a request for `path` takes; it must be a good one.
    pub fn timed(&mut self, path: &str) -> Duration {
        let begin = Instant::now();
        let status = self.get(path).status;
        let took = begin.elapsed();
        assert_eq!(status, 200, "{path}");
        took
    }

    fn line(&mut self) -> String {
        let mut line = String::new();
        self.stream.read_line(&mut line).expect("a line");
        line.trim_end().to_owned()
    }
}
