//! The name picked at the bench: it goes into each entry, as said, not as proved.

use axum::extract::State;
use axum::http::header::{LOCATION, SET_COOKIE};
use axum::http::{HeaderMap, HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use std::sync::Arc;

use super::cookies;
use super::guard::Guard;
use crate::forms::Typed;

/// A picked name is kept for a working day.
const KEPT_S: u32 = 12 * 3600;

/// The field that carries the name.
const FIELD: &str = "who";

/// The name in the browser's cookie, if it is one of the shop's people.
pub(super) fn picked(guard: &Guard, headers: &HeaderMap) -> Option<String> {
    cookies::all(headers, cookies::WHO)
        .map(cookies::decoded)
        .find(|name| guard.people.contains(name))
}

/// A name picked in the form that it is sent with.
#[derive(Clone)]
pub(super) struct Picked(pub(super) String);

/// The name that `typed` brings along, if it is one of the shop's people.
pub(super) fn with_form(guard: &Guard, typed: &Typed) -> Option<Picked> {
    let name = typed.filled(FIELD)?;
    let is_known = guard.people.iter().any(|person| person == name);
    is_known.then(|| Picked(name.to_owned()))
}

/// What keeps `name` in the browser.
pub(super) fn cookie(name: &str) -> HeaderValue {
    cookies::set(cookies::WHO, name, Some(KEPT_S))
}

/// The page that a form posted to `path` stands on: where a picked name leads back to.
pub(super) fn page_of(path: &str) -> &str {
    let path = path.split('?').next().unwrap_or_default();
    match path.strip_prefix("/jobs/") {
        Some(rest) => &path[.."/jobs/".len() + rest.find('/').unwrap_or(rest.len())],
        None if path == "/receive" => path,
        None => "/",
    }
}

/// Takes the picked name and goes back to the page.
pub(super) async fn pick(State(guard): State<Arc<Guard>>, typed: Typed) -> Response {
    let name = typed.get(FIELD);
    if !guard.people.iter().any(|person| person == name) {
        return StatusCode::UNPROCESSABLE_ENTITY.into_response();
    }
    let cookie = cookie(name);
    let back = own_path(typed.get("back"));
    (
        StatusCode::SEE_OTHER,
        [(LOCATION, back), (SET_COOKIE, cookie)],
    )
        .into_response()
}

/// `path` if it stays on this server, else the first page.
pub(super) fn own_path(path: &str) -> axum::http::HeaderValue {
    let stays = path.starts_with('/')
        && !path.starts_with("//")
        && !path.contains('\\')
        && path.bytes().all(|b| b.is_ascii_graphic());
    let path = if stays { path } else { "/" };
    axum::http::HeaderValue::from_str(path)
        .unwrap_or_else(|_| axum::http::HeaderValue::from_static("/"))
}

#[cfg(test)]
mod tests {
    use super::{own_path, page_of};

    #[test]
    fn a_form_leads_back_to_the_page_that_it_stands_on() {
        assert_eq!(page_of("/jobs/1001/cause"), "/jobs/1001");
        assert_eq!(page_of("/jobs/1001"), "/jobs/1001");
        assert_eq!(page_of("/receive?model=x"), "/receive");
        assert_eq!(page_of("/login"), "/");
    }

    #[test]
    fn back_stays_on_this_server() {
        assert_eq!(own_path("/jobs/7?x=1#setup"), "/jobs/7?x=1#setup");
        for elsewhere in [
            "//evil.test",
            "/\\evil.test",
            "https://evil.test",
            "",
            "/a\r\nb",
            "/é",
        ] {
            assert_eq!(own_path(elsewhere), "/", "{elsewhere}");
        }
    }
}
