//! Reading and writing the program's cookies.

use axum::http::header::{COOKIE, HeaderMap, HeaderValue};

/// The browser session.
pub(super) const SESSION: &str = "setwright_session";
/// The name picked at the bench.
pub(super) const WHO: &str = "setwright_who";

/// What was set last from this browser: ids of sheets and a tool's serial, nothing about a person.
pub(super) const SETUP: &str = "setwright_setup";

/// The values of the cookie `name`, as sent. There can be several: other programs on this machine
/// share the browser's cookies.
pub(super) fn all<'a>(headers: &'a HeaderMap, name: &str) -> impl Iterator<Item = &'a str> {
    headers
        .get_all(COOKIE)
        .into_iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|line| line.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .filter(move |(found, _)| *found == name)
        .map(|(_, value)| value)
}

/// A `Set-Cookie` line that no script can read and no other site can use. Without `Secure`: the
/// program speaks plain HTTP.
pub(super) fn set(name: &str, value: &str, max_age_s: Option<u32>) -> HeaderValue {
    let value: String = form_urlencoded::byte_serialize(value.as_bytes()).collect();
    let age = max_age_s.map_or(String::new(), |s| format!("; Max-Age={s}"));
    let line = format!("{name}={value}; Path=/; HttpOnly; SameSite=Strict{age}");
    // Encoded values are plain ASCII, so this always holds.
    HeaderValue::from_str(&line).unwrap_or_else(|_| HeaderValue::from_static(""))
}

/// A value as it was before [`set`] encoded it.
pub(super) fn decoded(value: &str) -> String {
    let line = format!("v={value}");
    form_urlencoded::parse(line.as_bytes())
        .next()
        .map(|(_, value)| value.into_owned())
        .unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_one_among_others() {
        let mut headers = HeaderMap::new();
        headers.append(COOKIE, HeaderValue::from_static("a=1; setwright_who=x"));
        headers.append(COOKIE, HeaderValue::from_static("setwright_who=y; b"));
        assert_eq!(all(&headers, WHO).collect::<Vec<_>>(), ["x", "y"]);
        assert_eq!(all(&headers, SESSION).count(), 0);
    }

    #[test]
    fn any_name_fits_into_a_cookie() {
        for name in ["Mara", "Óscar; Path=/evil", "a=b&c%+\r\nSet-Cookie: x"] {
            let line = set(WHO, name, None);
            let line = line.to_str().expect("plain");
            let value = line.split(';').next().expect("first part");
            let (_, value) = value.split_once('=').expect("name=value");
            assert_eq!(decoded(value), name);
            assert!(line.ends_with("; Path=/; HttpOnly; SameSite=Strict"));
        }
    }
}
