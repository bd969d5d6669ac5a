//! The pages of those who cannot get what they asked for. They say what to do next, never what went
//! wrong inside.

use std::fmt::Display;

use axum::http::StatusCode;
use axum::http::header::{CONTENT_TYPE, HeaderMap};
use axum::response::{Html, IntoResponse, Response};
use calc::Message;
use maud::{Markup, html};
use uuid::Uuid;

use super::{Page, page, typed_again};
use crate::forms::Typed;

/// What went wrong inside: for the log of this machine.
#[derive(Clone)]
struct Detail(String);

/// An answer for a failure of our own. The guard logs `detail` and shows a page with a reference.
pub fn internal(detail: impl Display) -> Response {
    let mut answer = StatusCode::INTERNAL_SERVER_ERROR.into_response();
    answer.extensions_mut().insert(Detail(detail.to_string()));
    answer
}

/// The page for `status`. With `action_and_typed` it shows what was typed and sends it again.
pub fn error_page(p: &Page, status: StatusCode, again: Option<(&str, &Typed)>) -> Response {
    let (title, text) = words_of(status);
    let p = &match again {
        Some(_) => p.clone().holding_form(),
        None => p.clone(),
    };
    refusal(
        p,
        status,
        &title,
        &text,
        html! {
            @if let Some((action, typed)) = again { (typed_again(p, action, typed)) }
        },
    )
}

/// The record could not be written: nothing typed is lost.
pub fn not_written(p: &Page, action: &str, typed: &Typed) -> Response {
    error_page(p, StatusCode::SERVICE_UNAVAILABLE, Some((action, typed)))
}

/// A failure of our own (`answer`) while a form was read: nothing typed is lost. Other answers go out
/// as they are.
pub(crate) fn read_failed(p: &Page, action: &str, typed: &Typed, answer: Response) -> Response {
    if answer.status() != StatusCode::INTERNAL_SERVER_ERROR {
        return answer;
    }
    let detail = answer.extensions().get::<Detail>();
    eprintln!("{action}: {:?}", detail.map(|detail| &detail.0));
    not_written(p, action, typed)
}

/// The form came without its token: from a browser whose cookies were cleared, or that has logged
/// in since. It came from our own page, so it may be sent again.
pub(crate) fn stale_form(p: &Page, action: &str, typed: &Typed) -> Response {
    let p = &p.clone().holding_form();
    let (title, text) = (Message::new("stale-title"), Message::new("stale-text"));
    let again = typed_again(p, action, typed);
    refusal(p, StatusCode::FORBIDDEN, &title, &text, again)
}

/// The session ended while the form was open.
pub(crate) fn logged_out(p: &Page, action: &str, typed: &Typed) -> Response {
    let (title, text) = (
        Message::new("logged-out-title"),
        Message::new("logged-out-text"),
    );
    let p = &p.clone().holding_form();
    let body = html! {
        p { a href="/login" target="_blank" { (p.t("logged-out-link")) } }
        (typed_again(p, action, typed))
    };
    refusal(p, StatusCode::FORBIDDEN, &title, &text, body)
}

/// The server was asked for under a name that is not its own.
pub(crate) fn wrong_host(p: &Page, own: &str) -> Response {
    let (title, text) = words_of(StatusCode::MISDIRECTED_REQUEST);
    let text = text.with("address", format!("http://{own}"));
    let mut p = p.clone();
    p.visitor.inside = false;
    refusal(&p, StatusCode::MISDIRECTED_REQUEST, &title, &text, html! {})
}

/// An answer as it may leave: failures that are not pages yet become pages.
pub(crate) async fn dressed(p: &Page, answer: Response) -> Response {
    let status = answer.status();
    if !(status.is_client_error() || status.is_server_error()) || is_finished(answer.headers()) {
        return answer;
    }
    if status != StatusCode::INTERNAL_SERVER_ERROR {
        let mut dressed = error_page(p, status, None);
        // `Allow` of a 405 and `Retry-After` of a 503 belong to the answer.
        for (name, value) in answer.headers() {
            if name != CONTENT_TYPE && name != "content-length" {
                dressed.headers_mut().insert(name, value.clone());
            }
        }
        return dressed;
    }
    let reference = Uuid::new_v4().simple().to_string();
    let reference = &reference[..8];
    let detail = match answer.extensions().get::<Detail>() {
        Some(Detail(detail)) => detail.clone(),
        None => String::from("no detail"),
    };
    // Debug form: a line break in it cannot forge a line of the log.
    eprintln!("error {reference}: {detail:?}");
    let (title, text) = words_of(status);
    let text = text.with("reference", reference);
    refusal(p, status, &title, &text, html! {})
}

fn is_finished(headers: &HeaderMap) -> bool {
    headers
        .get(CONTENT_TYPE)
        .and_then(|kind| kind.to_str().ok())
        .is_some_and(|kind| kind.starts_with("text/html") || kind.starts_with("application/json"))
}

fn words_of(status: StatusCode) -> (Message, Message) {
    match status {
        StatusCode::NOT_FOUND => (Message::new("e404-title"), Message::new("e404-text")),
        StatusCode::FORBIDDEN => (Message::new("e403-title"), Message::new("e403-text")),
        StatusCode::METHOD_NOT_ALLOWED => (Message::new("e405-title"), Message::new("e405-text")),
        StatusCode::PAYLOAD_TOO_LARGE => (Message::new("e413-title"), Message::new("e413-text")),
        StatusCode::MISDIRECTED_REQUEST => (Message::new("e421-title"), Message::new("e421-text")),
        StatusCode::SERVICE_UNAVAILABLE => (Message::new("e503-title"), Message::new("e503-text")),
        status if status.is_server_error() => {
            (Message::new("e500-title"), Message::new("e500-text"))
        }
        _ => (Message::new("e400-title"), Message::new("e400-text")),
    }
}

/// A page that says why nothing is shown or done.
pub(crate) fn refusal(
    p: &Page,
    status: StatusCode,
    title: &Message,
    text: &Message,
    more: Markup,
) -> Response {
    let title = p.say(title);
    let body = html! {
        div.plain.narrow {
            h1 { (title) }
            p { (p.say(text)) }
            (more)
            p { a href="/" { (p.t("to-the-bench")) } }
        }
    };
    (status, Html(page(p, &title, body).into_string())).into_response()
}

#[cfg(test)]
mod tests {
    use axum::body::to_bytes;

    use super::*;
    use crate::security::Guard;

    fn read(answer: Response) -> Response {
        let p = Page::of_person(&Guard::local([0; 32], 0), "Ansa");
        let typed = Typed::new().with("note", "flat crests");
        read_failed(&p, "/jobs/1001/wait", &typed, answer)
    }

    #[tokio::test]
    async fn a_failure_while_a_form_is_read_keeps_what_was_typed() {
        let answer = read(internal("pool is empty"));
        assert_eq!(answer.status(), StatusCode::SERVICE_UNAVAILABLE);
        let body = to_bytes(answer.into_body(), usize::MAX).await;
        let body = String::from_utf8_lossy(&body.expect("a page")).into_owned();
        assert!(body.contains("<dd>flat crests</dd>") && body.contains("/jobs/1001/wait"));
        assert!(!body.contains("pool is empty"), "that is for the log");
    }

    #[test]
    fn a_job_that_is_not_there_is_no_failure() {
        let not_there = StatusCode::NOT_FOUND.into_response();
        assert_eq!(read(not_there).status(), StatusCode::NOT_FOUND);
    }
}
