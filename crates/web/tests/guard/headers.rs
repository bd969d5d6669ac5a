//! Every answer carries the headers, whatever it says.

use axum::body::Body;
use axum::http::{Method, StatusCode};

use crate::shop::{Answer, Browser, guard};

fn assert_hardened(answer: &Answer) {
    let status = answer.status;
    let policy = answer.header("content-security-policy");
    for rule in [
        "default-src 'none'",
        "style-src 'self'",
        "script-src 'self'",
        "img-src 'self' data:",
        "font-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
        "connect-src 'self'",
    ] {
        assert!(
            policy.split("; ").any(|own| own == rule),
            "{status}: {policy}"
        );
    }
    assert!(!policy.contains("unsafe"), "{status}: {policy}");
    assert_eq!(
        answer.header("x-content-type-options"),
        "nosniff",
        "{status}"
    );
    assert_eq!(answer.header("referrer-policy"), "same-origin", "{status}");
    assert_eq!(answer.header("x-frame-options"), "DENY", "{status}");
    assert!(!answer.header("permissions-policy").is_empty(), "{status}");
    assert_eq!(answer.header("cache-control"), "no-store", "{status}");
}

#[tokio::test]
async fn on_every_kind_of_answer() {
    let mut browser = Browser::new(guard());
    let ok = browser.get("/").await;
    let missing = browser.get("/nowhere").await;
    let method = browser.post("/whoami", &[]).await;
    let broken = browser.get("/broken").await;
    let panicked = browser.get("/panic").await;
    let forged = browser.post_as_is("/job", &[("csrf", "0")]).await;
    let full = browser.post("/full", &[("note", "x")]).await;
    let large = "x".repeat((1 << 20) + 1);
    let large = browser.post("/job", &[("note", &large)]).await;
    browser.host = "evil.test".to_owned();
    let host = browser.get("/").await;
    for (answer, status) in [
        (ok, 200),
        (missing, 404),
        (method, 405),
        (broken, 500),
        (panicked, 500),
        (forged, 403),
        (full, 503),
        (large, 413),
        (host, 421),
    ] {
        assert_eq!(answer.status.as_u16(), status);
        assert_hardened(&answer);
        let html = answer.header("content-type").starts_with("text/html");
        assert!(
            html && answer.body.contains("<h1>") || status == 200,
            "{status}"
        );
    }
}

#[tokio::test]
async fn a_wrong_method_says_which_are_right() {
    let mut browser = Browser::new(guard());
    let answer = browser.post("/whoami", &[]).await;
    assert_eq!(answer.header("allow"), "GET,HEAD");
}

#[tokio::test]
async fn no_page_has_inline_style_or_script() {
    let mut browser = Browser::new(guard());
    for path in ["/", "/nowhere", "/broken"] {
        let page = browser.get(path).await.body;
        assert!(page.contains("<!DOCTYPE html>"), "{path}");
        assert!(!page.contains("style="), "{path}");
        assert!(!page.contains("<style"), "{path}");
        assert!(!page.contains(" onclick="), "{path}");
        let scripts = page.matches("<script").count();
        assert_eq!(
            scripts,
            page.matches("<script type=\"module\" src=\"").count()
        );
    }
}

#[tokio::test]
async fn head_is_answered_without_a_body() {
    let mut browser = Browser::new(guard());
    let answer = browser
        .send(browser.request(Method::HEAD, "/"), Body::empty())
        .await;
    assert_eq!(answer.status, StatusCode::OK);
    assert!(answer.body.is_empty());
    assert_hardened(&answer);
}
