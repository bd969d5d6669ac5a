//! A browser without a screen: cookies, forms with what the server put into them.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::Duration;

/// One browser.
#[derive(Clone)]
pub struct Client {
    address: String,
    cookies: Vec<(String, String)>,
}

/// An answer.
#[derive(Clone, Debug)]
pub struct Answer {
    pub status: u16,
    pub location: String,
    /// Status line and headers.
    pub head: String,
    pub body: String,
    /// The body as it came.
    pub bytes: Vec<u8>,
}

impl Answer {
    /// The mistakes beside fields.
    pub fn errors(&self) -> Vec<&str> {
        let after = self.body.split("class=\"error\"").skip(1);
        after
            .filter_map(|part| part.split_once('>')?.1.split('<').next())
            .collect()
    }

    /// The form was sent back with a mistake at the box with this id.
    #[track_caller]
    pub fn refused_at(&self, box_id: &str) {
        let at = format!("id=\"{box_id}-error\"");
        let refused = self.status == 422 && self.body.contains(&at);
        assert!(refused, "{} {:?}", self.status, self.errors());
    }

    /// The value of the box `name` in the form `id`, unescaped as far as tests need it.
    pub fn value(&self, id: &str, name: &str) -> Option<String> {
        let form = form(&self.body, id)?;
        let tag = form
            .split('<')
            .find(|tag| tag.contains(&format!("name=\"{name}\"")))?;
        attribute(tag, "value")
    }
}

impl Client {
    /// A browser in which Joren has picked his name.
    pub fn at(address: &str) -> Self {
        Self::of(address, "Joren")
    }

    /// A browser in which nobody has picked a name.
    pub fn nameless(address: &str) -> Self {
        Self {
            address: address.to_owned(),
            cookies: Vec::new(),
        }
    }

    pub fn of(address: &str, who: &str) -> Self {
        let mut client = Self::nameless(address);
        let page = client.get("/");
        let csrf = hidden(&page.body, "csrf").expect("a token");
        let picked = client.post("/who", &[("csrf", &csrf), ("who", who), ("back", "/")]);
        assert_eq!(picked.status, 303, "{}", picked.body);
        client
    }

    pub fn get(&mut self, path: &str) -> Answer {
        self.ask("GET", path, FORM, &[])
            .expect("the server answers")
    }

    pub fn post(&mut self, path: &str, fields: &[(&str, &str)]) -> Answer {
        self.try_post(path, fields).expect("the server answers")
    }

    /// Nothing if the connection breaks.
    pub fn try_post(&mut self, path: &str, fields: &[(&str, &str)]) -> Option<Answer> {
        let body: Vec<String> = fields
            .iter()
            .map(|(name, value)| format!("{}={}", encoded(name), encoded(value)))
            .collect();
        self.ask("POST", path, FORM, body.join("&").as_bytes())
    }

    /// Sends the form `id` of `page`, with what the server put into it.
    pub fn send(&mut self, page: &Answer, id: &str, fields: &[(&str, &str)]) -> Answer {
        let (action, ours) = ready(page, id);
        let ours = ours.iter().map(|(n, v)| (n.as_str(), v.as_str()));
        let all: Vec<(&str, &str)> = ours.chain(fields.iter().copied()).collect();
        self.post(&action, &all)
    }

    /// Sends the form `id` of `page` with files: name of the box, name of the file, content.
    pub fn upload(
        &mut self,
        page: &Answer,
        id: &str,
        fields: &[(&str, &str)],
        files: &[(&str, &str, &[u8])],
    ) -> Answer {
        let (action, ours) = ready(page, id);
        let ours = ours.iter().map(|(n, v)| (n.as_str(), v.as_str()));
        let all: Vec<(&str, &str)> = ours.chain(fields.iter().copied()).collect();
        self.post_files(&action, &all, files)
    }

    /// A form with files as browsers send it (RFC 7578).
    pub fn post_files(
        &mut self,
        path: &str,
        fields: &[(&str, &str)],
        files: &[(&str, &str, &[u8])],
    ) -> Answer {
        let body = multipart(fields, files);
        self.ask("POST", path, MULTIPART, &body)
            .expect("the server answers")
    }

    /// What goes before the body of a form with files, for tests that send it in pieces.
    pub fn head_of_upload(&self, path: &str, length: usize) -> String {
        self.head("POST", path, MULTIPART, length)
    }

    fn head(&self, method: &str, path: &str, kind: &str, length: usize) -> String {
        let cookies: Vec<String> = self
            .cookies
            .iter()
            .map(|(n, v)| format!("{n}={v}"))
            .collect();
        format!(
            "{method} {path} HTTP/1.1\r\nHost: {}\r\nOrigin: http://{}\r\nSec-Fetch-Site: same-origin\r\n\
             Cookie: {}\r\nConnection: close\r\nContent-Type: {kind}\r\n\
             Content-Length: {length}\r\n\r\n",
            self.address,
            self.address,
            cookies.join("; "),
        )
    }

    fn ask(&mut self, method: &str, path: &str, kind: &str, body: &[u8]) -> Option<Answer> {
        let mut stream = TcpStream::connect(&self.address).ok()?;
        stream
            .set_read_timeout(Some(Duration::from_secs(20)))
            .ok()?;
        let head = self.head(method, path, kind, body.len());
        stream.write_all(&[head.as_bytes(), body].concat()).ok()?;
        let mut bytes = Vec::new();
        stream.read_to_end(&mut bytes).ok()?;
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let (head, body) = text.split_once("\r\n\r\n")?;
        let mut location = String::new();
        for line in head.lines().skip(1) {
            let (name, value) = line.split_once(':')?;
            match name.to_ascii_lowercase().as_str() {
                "set-cookie" => self.keep(value.trim()),
                "location" => location = value.trim().to_owned(),
                _ => {}
            }
        }
        Some(Answer {
            status: head.split(' ').nth(1)?.parse().ok()?,
            location,
            head: head.to_owned(),
            body: body.to_owned(),
            bytes: body_of(&bytes).to_vec(),
        })
    }

    fn keep(&mut self, cookie: &str) {
        let pair = cookie.split(';').next().unwrap_or_default();
        if let Some((name, value)) = pair.split_once('=') {
            self.cookies.retain(|(n, _)| n != name);
            self.cookies.push((name.to_owned(), value.to_owned()));
        }
    }
}

const FORM: &str = "application/x-www-form-urlencoded";
const MULTIPART: &str = "multipart/form-data; boundary=between";

/// Fields first, as they stand in the form, then the files.
pub fn multipart(fields: &[(&str, &str)], files: &[(&str, &str, &[u8])]) -> Vec<u8> {
    let mut body = Vec::new();
    let part = |name: &str| format!("--between\r\nContent-Disposition: form-data; name=\"{name}\"");
    for (name, value) in fields {
        body.extend(format!("{}\r\n\r\n{value}\r\n", part(name)).bytes());
    }
    for (name, file, content) in files {
        let kind = "Content-Type: application/octet-stream";
        body.extend(format!("{}; filename=\"{file}\"\r\n{kind}\r\n\r\n", part(name)).bytes());
        body.extend(*content);
        body.extend(b"\r\n");
    }
    body.extend(b"--between--\r\n");
    body
}

/// What follows the empty line.
fn body_of(bytes: &[u8]) -> &[u8] {
    let end = bytes.windows(4).position(|w| w == b"\r\n\r\n");
    &bytes[end.map_or(bytes.len(), |end| end + 4)..]
}

/// Where the form `id` goes, and its hidden fields.
pub fn ready(page: &Answer, id: &str) -> (String, Vec<(String, String)>) {
    let form = form(&page.body, id).unwrap_or_else(|| panic!("no form {id}:\n{}", page.body));
    let action = attribute(form, "action").expect("an action");
    let hidden = form
        .split('<')
        .filter(|tag| tag.contains("type=\"hidden\""));
    let fields = hidden.filter_map(|tag| Some((attribute(tag, "name")?, attribute(tag, "value")?)));
    (action, fields.collect())
}

/// The form `id`, without its end.
pub fn form<'a>(body: &'a str, id: &str) -> Option<&'a str> {
    let start = body.find(&format!("<form id=\"{id}\""))?;
    let end = body[start..].find("</form>")?;
    Some(&body[start..start + end])
}

fn hidden(body: &str, name: &str) -> Option<String> {
    let tag = body
        .split('<')
        .find(|tag| tag.contains(&format!("name=\"{name}\"")))?;
    attribute(tag, "value")
}

fn attribute(tag: &str, name: &str) -> Option<String> {
    let rest = tag.split(&format!(" {name}=\"")).nth(1)?;
    Some(rest.split('"').next()?.replace("&amp;", "&"))
}

fn encoded(text: &str) -> String {
    let byte = |b: u8| match b {
        b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'_' | b'.' => char::from(b).to_string(),
        other => format!("%{other:02X}"),
    };
    text.bytes().map(byte).collect()
}

/// Sends a form of the page of `job`, which takes it; the page after it.
#[track_caller]
pub fn done(client: &mut Client, job: &str, form: &str, fields: &[(&str, &str)]) -> Answer {
    let page = client.get(job);
    let done = client.send(&page, form, fields);
    assert_eq!(done.status, 303, "{form}: {:?}", done.errors());
    client.get(job)
}

/// Takes a battery tool in; the path of its job.
pub fn receive(client: &mut Client, serial: &str) -> String {
    let page = client.get("/receive?model=tulvane-tb-32");
    let answer = client.send(
        &page,
        "receive",
        &[
            ("serial", serial),
            ("new_tool", "yes"),
            ("customer", "Fennholt Glasshouse Frames"),
            ("counter", "26400"),
            ("complaint", "slips"),
            ("symptoms", "jaws-slip"),
            ("made_safe", "pack-out"),
            ("made_safe", "trigger-pressed"),
            ("kit-1", "1"),
            ("kit-4", "1"),
            ("pack", "none"),
        ],
    );
    assert_eq!(answer.status, 303, "{:?}", answer.errors());
    answer
        .location
        .split('#')
        .next()
        .expect("a path")
        .to_owned()
}
