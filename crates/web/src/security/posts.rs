//! A posted form must come from one of our own pages, in the same browser, and not be too large.

use axum::body::{Body, to_bytes};
use axum::extract::Request;
use axum::http::header::{CONTENT_LENGTH, CONTENT_TYPE, HeaderMap, ORIGIN};
use axum::http::{Method, StatusCode};

use super::guard::{BODY_LIMIT, CREW_BODY_LIMIT, Guard};
use super::token;
use super::upload::{self, UPLOAD_LIMIT};
use super::who;
use crate::forms::Typed;
use crate::setup;

/// Header that carries the token where the body is not a form.
const TOKEN_HEADER: &str = "x-csrf-token";
/// Field that carries it in a form.
const TOKEN_FIELD: &str = "csrf";

/// Why a post is refused, and what was typed if it may be shown again.
pub(super) struct Refused {
    pub(super) status: StatusCode,
    pub(super) typed: Option<Typed>,
}

impl Refused {
    fn with(status: StatusCode) -> Self {
        Self {
            status,
            typed: None,
        }
    }
}

/// Whether a method changes nothing.
pub(super) fn is_safe(method: &Method) -> bool {
    matches!(*method, Method::GET | Method::HEAD | Method::OPTIONS)
}

/// Whether the browser says that one of our own pages sent it.
fn is_ours(guard: &Guard, headers: &HeaderMap) -> bool {
    let text = |value: &axum::http::HeaderValue| value.to_str().unwrap_or("?").to_owned();
    let site = headers.get("sec-fetch-site").map(text);
    let origin = headers.get(ORIGIN).map(text);
    let site_ok = site.as_deref().is_none_or(|site| site == "same-origin");
    let origin_ok = origin
        .as_deref()
        .is_none_or(|origin| guard.hosts.allow_origin(origin));
    // Every browser of today sends at least one of them with a post.
    (site.is_some() || origin.is_some()) && site_ok && origin_ok
}

/// The request with its body read into memory, if it may pass; of a form that carries files, only its
/// first field is read.
pub(super) async fn check(
    guard: &Guard,
    session: &str,
    request: Request,
) -> Result<Request, Refused> {
    let (parts, body) = request.into_parts();
    if !is_ours(guard, &parts.headers) {
        return Err(Refused::with(StatusCode::FORBIDDEN));
    }
    let announced = parts
        .headers
        .get(CONTENT_LENGTH)
        .and_then(|length| length.to_str().ok()?.parse::<usize>().ok());
    let is_upload = upload::is_upload(&parts.headers);
    // Who holds a card need not know the passphrase: less is taken from there, and no files.
    let is_crew = parts.uri.path() == setup::PATH;
    if is_crew && is_upload {
        return Err(Refused::with(StatusCode::PAYLOAD_TOO_LARGE));
    }
    let body_limit = if is_crew { CREW_BODY_LIMIT } else { BODY_LIMIT };
    let limit = if is_upload { UPLOAD_LIMIT } else { body_limit };
    if announced.is_some_and(|length| length > limit) {
        return Err(Refused::with(StatusCode::PAYLOAD_TOO_LARGE));
    }
    if is_upload {
        let (sent, body) = upload::first_field(TOKEN_FIELD, body).await;
        if token::matches(&guard.secret, session, &sent) {
            return Ok(Request::from_parts(parts, body));
        }
        upload::drain(body).await;
        return Err(Refused::with(StatusCode::FORBIDDEN));
    }
    let Ok(bytes) = to_bytes(body, body_limit).await else {
        return Err(Refused::with(StatusCode::PAYLOAD_TOO_LARGE));
    };
    let is_form = parts
        .headers
        .get(CONTENT_TYPE)
        .and_then(|kind| kind.to_str().ok())
        .is_some_and(|kind| kind.starts_with("application/x-www-form-urlencoded"));
    let typed = is_form.then(|| Typed::from_body(&bytes));
    let sent = match &typed {
        Some(typed) => typed.raw(TOKEN_FIELD),
        None => parts
            .headers
            .get(TOKEN_HEADER)
            .and_then(|token| token.to_str().ok())
            .unwrap_or_default(),
    };
    if !token::matches(&guard.secret, session, sent) {
        return Err(Refused {
            status: StatusCode::FORBIDDEN,
            typed,
        });
    }
    let picked = typed
        .as_ref()
        .and_then(|typed| who::with_form(guard, typed));
    let mut request = Request::from_parts(parts, Body::from(bytes));
    if let Some(picked) = picked {
        request.extensions_mut().insert(picked);
    }
    Ok(request)
}
