//! The addresses under which this server answers. Any other name that leads here was made by a
//! page that tries to reach into the shop (DNS rebinding).

use axum::http::Uri;
use axum::http::header::{HOST, HeaderMap};

/// The allowed values of the Host header.
#[derive(Clone, Debug)]
pub(super) struct Hosts(Vec<String>);

impl Hosts {
    /// This machine's own names, with `port`.
    pub(super) fn local(port: u16) -> Self {
        let mut hosts = Self(Vec::new());
        for name in ["127.0.0.1", "localhost", "[::1]"] {
            hosts.add(name, port);
        }
        hosts
    }

    /// One more name or address under which the shop reaches this server. An IPv6 address may
    /// stand without its brackets.
    pub(super) fn add(&mut self, name: &str, port: u16) {
        let name = name.trim().to_ascii_lowercase();
        let name = if name.matches(':').count() > 1 && !name.starts_with('[') {
            format!("[{name}]")
        } else {
            name
        };
        self.0.push(format!("{name}:{port}"));
        // Browsers leave out the port that a scheme implies.
        if port == 80 {
            self.0.push(name);
        }
    }

    /// Whether the request was sent to one of them.
    pub(super) fn allow(&self, headers: &HeaderMap, uri: &Uri) -> bool {
        let mut sent = headers.get_all(HOST).iter();
        let host = sent.next().and_then(|host| host.to_str().ok());
        let authority = uri.authority().map(|a| a.as_str());
        // Two Host lines, or two different names, are an attempt to confuse.
        sent.next().is_none()
            && host.or(authority).is_some_and(|host| self.has(host))
            && authority.is_none_or(|name| self.has(name))
    }

    /// Whether `origin` (`http://host:port`) is one of them.
    pub(super) fn allow_origin(&self, origin: &str) -> bool {
        origin
            .strip_prefix("http://")
            .or_else(|| origin.strip_prefix("https://"))
            .is_some_and(|host| self.has(host))
    }

    /// The first of them: where the refused are sent.
    pub(super) fn first(&self) -> &str {
        self.0.first().map_or("", String::as_str)
    }

    fn has(&self, host: &str) -> bool {
        self.0.iter().any(|own| own.eq_ignore_ascii_case(host))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::HeaderValue;

    fn asks(hosts: &Hosts, host: &'static str) -> bool {
        let mut headers = HeaderMap::new();
        headers.insert(HOST, HeaderValue::from_static(host));
        hosts.allow(&headers, &Uri::from_static("/"))
    }

    #[test]
    fn own_names_only() {
        let mut hosts = Hosts::local(8470);
        hosts.add("Bench-2", 8470);
        hosts.add("fe80::1", 8470);
        for own in [
            "127.0.0.1:8470",
            "LOCALHOST:8470",
            "[::1]:8470",
            "bench-2:8470",
            "[fe80::1]:8470",
        ] {
            assert!(asks(&hosts, own), "{own}");
        }
        for other in [
            "127.0.0.1",
            "127.0.0.1:80",
            "evil.test:8470",
            "localhost.evil.test:8470",
            "",
        ] {
            assert!(!asks(&hosts, other), "{other}");
        }
        assert!(!hosts.allow(&HeaderMap::new(), &Uri::from_static("/")));
        assert!(asks(&Hosts::local(80), "localhost"));
    }

    #[test]
    fn two_names_are_refused() {
        let hosts = Hosts::local(8470);
        let mut headers = HeaderMap::new();
        headers.append(HOST, HeaderValue::from_static("localhost:8470"));
        let elsewhere = Uri::from_static("http://evil.test/");
        assert!(!hosts.allow(&headers, &elsewhere));
        headers.append(HOST, HeaderValue::from_static("localhost:8470"));
        assert!(!hosts.allow(&headers, &Uri::from_static("/")));
    }

    #[test]
    fn origins() {
        let hosts = Hosts::local(8470);
        assert!(hosts.allow_origin("http://localhost:8470"));
        for other in [
            "null",
            "http://evil.test",
            "http://localhost:1",
            "file://",
            "",
        ] {
            assert!(!hosts.allow_origin(other), "{other}");
        }
    }
}
