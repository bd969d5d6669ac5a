//! The guard before a router.
//!
//! From the outside in: headers on every answer; a last catch for panics; the checks and the error
//! pages; a catch for panics of handlers, which get an error page with a reference.

use std::any::Any;
use std::sync::Arc;
use std::time::Instant;

use axum::Router;
use axum::extract::{FromRequest, Request, State};
use axum::http::header::{HeaderMap, LOCATION, SET_COOKIE};
use axum::http::{Method, StatusCode};
use axum::middleware::{self, Next};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use tower_http::catch_panic::CatchPanicLayer;

use super::Visitor;
use super::guard::Guard;
use super::must_wait::MustWait;
use super::posts::{self, Refused};
use super::{cookies, headers, login, token, upload, who};
use crate::assets;
use crate::forms::Typed;
use crate::setup;
use crate::shell::{self, Page};

/// Puts the guard before `router`, and adds the routes that belong to it: the assets, the name
/// picked at the bench, the passphrase.
pub fn protect(router: Router, guard: Arc<Guard>) -> Router {
    let own = Router::new()
        .route("/who", post(who::pick))
        .route("/login", get(login::show).post(login::enter))
        .route("/logout", post(login::leave))
        .with_state(guard.clone());
    router
        .merge(own)
        .merge(assets::router())
        .layer(CatchPanicLayer::custom(handler_panicked))
        .layer(middleware::from_fn_with_state(guard, enter))
        .layer(CatchPanicLayer::custom(guard_panicked))
        .layer(middleware::map_response(headers::harden))
}

async fn enter(State(guard): State<Arc<Guard>>, mut request: Request, next: Next) -> Response {
    let path = request
        .uri()
        .path_and_query()
        .map_or("/", |path| path.as_str())
        .to_owned();
    let (visitor, is_new) = recognise(&guard, &request);
    let is_post = !posts::is_safe(request.method());
    let back = if is_post { who::page_of(&path) } else { &path };
    let mut page = Page::new(&guard, visitor, back);
    let mut picked = None;
    if !guard.hosts.allow(request.headers(), request.uri()) {
        return shell::wrong_host(&page, guard.hosts.first());
    }
    let is_open = is_open(request.method(), request.uri().path());
    let mut answer = if !page.visitor.inside && !is_open {
        outside(&page, request, &guard, &path).await
    } else {
        request.extensions_mut().insert(page.clone());
        let passed = if posts::is_safe(request.method()) {
            Ok(request)
        } else {
            posts::check(&guard, &page.visitor.session, request).await
        };
        match passed {
            Ok(mut request) => {
                if is_post && request.uri().path() == setup::PATH {
                    let from = login::address(request.extensions());
                    let wait = guard.crews.take(from, Instant::now());
                    request.extensions_mut().insert(MustWait(wait));
                }
                // A name picked in the form goes with it, and stays picked.
                if let Some(who::Picked(name)) = request.extensions_mut().remove() {
                    page.visitor.who = Some(name.clone());
                    request.extensions_mut().insert(page.clone());
                    picked = Some(name);
                }
                shell::dressed(&page, next.run(request).await).await
            }
            Err(refused) => refuse(&page, &path, refused),
        }
    };
    if is_new && !sets(answer.headers(), cookies::SESSION) {
        let cookie = cookies::set(cookies::SESSION, &page.visitor.session, None);
        answer.headers_mut().append(SET_COOKIE, cookie);
    }
    if let Some(name) = picked
        && !sets(answer.headers(), cookies::WHO)
    {
        let cookie = who::cookie(&name);
        answer.headers_mut().append(SET_COOKIE, cookie);
    }
    answer
}

/// What is answered without the passphrase: the door itself, what pages are dressed with, and the crew's
/// page, where the link on a card stands for the passphrase of whoever sends.
fn is_open(method: &Method, path: &str) -> bool {
    path.starts_with("/assets/")
        || path == "/login"
        || (path == setup::PATH && (posts::is_safe(method) || method == Method::POST))
}

/// Whether an answer sets the cookie `name` by itself.
fn sets(headers: &HeaderMap, name: &str) -> bool {
    let mut lines = headers.get_all(SET_COOKIE).iter();
    lines.any(|line| {
        let rest = line.as_bytes().strip_prefix(name.as_bytes());
        rest.is_some_and(|rest| rest.starts_with(b"="))
    })
}

/// Who asks, and whether this browser is new here.
fn recognise(guard: &Guard, request: &Request) -> (Visitor, bool) {
    let known = |session: &&str| match &guard.door {
        Some(door) => door.knows(session, Instant::now()),
        None => true,
    };
    let sent: Vec<&str> = cookies::all(request.headers(), cookies::SESSION)
        .filter(|session| token::is_session(session))
        .collect();
    let inside = sent.iter().copied().find(known);
    let session = inside.or(sent.first().copied());
    let is_new = session.is_none();
    let is_inside = inside.is_some() || guard.door.is_none();
    let session = session.map_or_else(token::fresh_session, str::to_owned);
    let visitor = Visitor {
        csrf_token: token::token(&guard.secret, &session),
        who: who::picked(guard, request.headers()),
        session,
        inside: is_inside,
    };
    (visitor, is_new)
}

/// What those see who have not given the passphrase. A form is not lost: it can be sent again once
/// they have.
async fn outside(page: &Page, request: Request, guard: &Guard, path: &str) -> Response {
    if posts::is_safe(request.method()) {
        let next: String = form_urlencoded::byte_serialize(path.as_bytes()).collect();
        let to = format!("/login?next={next}");
        return (StatusCode::SEE_OTHER, [(LOCATION, to)]).into_response();
    }
    match posts::check(guard, &page.visitor.session, request).await {
        // The files are not kept for somebody who is outside.
        Ok(request) if upload::is_upload(request.headers()) => {
            upload::drain(request.into_body()).await;
            shell::logged_out(page, path, &Typed::new())
        }
        Ok(request) => match Typed::from_request(request, &()).await {
            Ok(typed) => shell::logged_out(page, path, &typed),
            Err(answer) => answer,
        },
        Err(Refused {
            typed: Some(typed), ..
        }) => shell::logged_out(page, path, &typed),
        Err(refused) => refuse(page, path, refused),
    }
}

fn refuse(page: &Page, path: &str, refused: Refused) -> Response {
    match refused.typed {
        Some(typed) => shell::stale_form(page, path, &typed),
        None => shell::error_page(page, refused.status, None),
    }
}

fn handler_panicked(panic: Box<dyn Any + Send>) -> Response {
    shell::internal(said(panic.as_ref()))
}

/// Without a page to stand in: this is the guard's own failure.
fn guard_panicked(panic: Box<dyn Any + Send>) -> Response {
    eprintln!("the guard failed: {:?}", said(panic.as_ref()));
    StatusCode::INTERNAL_SERVER_ERROR.into_response()
}

fn said(panic: &(dyn Any + Send)) -> String {
    panic
        .downcast_ref::<String>()
        .cloned()
        .or_else(|| panic.downcast_ref::<&str>().map(|text| (*text).to_owned()))
        .unwrap_or_else(|| "panic without words".to_owned())
}
