//! Giving the passphrase, and leaving.

use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::sync::Arc;
use std::time::Instant;

use axum::extract::{ConnectInfo, Query, State};
use axum::http::header::{LOCATION, RETRY_AFTER, SET_COOKIE};
use axum::http::{Extensions, StatusCode};
use axum::response::{Html, IntoResponse, Response};
use calc::Message;
use serde::Deserialize;

use super::attempts::ALLOWED;
use super::guard::Guard;
use super::who::own_path;
use super::{cookies, token};
use crate::forms::{FieldErrors, Typed};
use crate::shell::Page;
use crate::shell::login_page;

/// Where to go once inside.
#[derive(Deserialize)]
pub(super) struct Next {
    #[serde(default)]
    next: String,
}

/// Shows the form.
pub(super) async fn show(
    page: Page,
    State(guard): State<Arc<Guard>>,
    Query(Next { next }): Query<Next>,
) -> Response {
    if guard.door.is_none() || page.visitor.inside {
        return (StatusCode::SEE_OTHER, [(LOCATION, own_path(&next))]).into_response();
    }
    Html(login_page(&page, &next, &FieldErrors::new()).into_string()).into_response()
}

/// Checks the passphrase. A new session starts inside: a name that somebody planted before is
/// worth nothing.
pub(super) async fn enter(
    page: Page,
    State(guard): State<Arc<Guard>>,
    extensions: Extensions,
    typed: Typed,
) -> Response {
    let Some(door) = &guard.door else {
        return (StatusCode::SEE_OTHER, [(LOCATION, own_path("/"))]).into_response();
    };
    let from = address(&extensions);
    if let Some(wait) = guard.attempts.take(from, Instant::now()) {
        eprintln!("login refused: {from} has tried too often");
        let minutes = wait.as_secs().div_ceil(60);
        let message = Message::new("login-wait")
            .with("tries", ALLOWED)
            .with("minutes", minutes);
        let answer = refused(&page, &typed, message, StatusCode::TOO_MANY_REQUESTS);
        return ([(RETRY_AFTER, wait.as_secs().to_string())], answer).into_response();
    }
    if !door.opens(typed.raw("passphrase").to_owned()).await {
        eprintln!("login refused: wrong passphrase from {from}");
        let message = Message::new("login-wrong");
        return refused(&page, &typed, message, StatusCode::UNPROCESSABLE_ENTITY);
    }
    guard.attempts.forgive(from);
    let session = token::fresh_session();
    door.dismiss(&page.visitor.session);
    door.admit(&session, Instant::now());
    let cookie = cookies::set(cookies::SESSION, &session, None);
    let next = own_path(typed.get("next"));
    let to = [(LOCATION, next), (SET_COOKIE, cookie)];
    (StatusCode::SEE_OTHER, to).into_response()
}

/// Ends the session on the server, too.
pub(super) async fn leave(page: Page, State(guard): State<Arc<Guard>>) -> Response {
    if let Some(door) = &guard.door {
        door.dismiss(&page.visitor.session);
    }
    (StatusCode::SEE_OTHER, [(LOCATION, "/login")]).into_response()
}

fn refused(page: &Page, typed: &Typed, message: Message, status: StatusCode) -> Response {
    let errors = FieldErrors::one("passphrase", message);
    let body = login_page(page, typed.get("next"), &errors).into_string();
    (status, Html(body)).into_response()
}

/// The caller's address. A server that does not say shares one limit among all callers.
pub(super) fn address(extensions: &Extensions) -> IpAddr {
    extensions
        .get::<ConnectInfo<SocketAddr>>()
        .map_or(IpAddr::V4(Ipv4Addr::UNSPECIFIED), |info| info.0.ip())
}
