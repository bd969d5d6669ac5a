//! A form that carries files: its token comes first, and nothing of it is read without one.

use axum::body::Body;
use axum::http::header::{CONTENT_LENGTH, CONTENT_TYPE};
use axum::http::{Method, StatusCode};

use web::security::hash_passphrase;

use crate::shop::{Browser, guard, token_in};

/// A form with a token and a file, in this order or the other.
fn form(token: &str, token_first: bool) -> String {
    let part = |head: &str, value: &str| {
        format!("--x\r\nContent-Disposition: form-data; {head}\r\n\r\n{value}\r\n")
    };
    let mut parts = [
        part("name=\"csrf\"", token),
        part("name=\"file\"; filename=\"a.txt\"", &"pulls ".repeat(1000)),
    ];
    if !token_first {
        parts.reverse();
    }
    parts.concat() + "--x--\r\n"
}

async fn status(browser: &mut Browser, site: &str, body: String) -> StatusCode {
    let request = browser
        .request(Method::POST, "/job")
        .header("sec-fetch-site", site)
        .header(CONTENT_TYPE, "multipart/form-data; boundary=x");
    browser.send(request, Body::from(body)).await.status
}

#[tokio::test]
async fn the_token_of_a_form_with_files_comes_first() {
    let mut browser = Browser::new(guard());
    let token = token_in(&browser.get("/").await.body);
    let own = "same-origin";
    let passes = status(&mut browser, own, form(&token, true)).await;
    assert_eq!(passes, StatusCode::OK);
    for (what, site, body) in [
        ("late", own, form(&token, false)),
        ("none", own, form("", true)),
        ("another's", own, form(&"0".repeat(64), true)),
        ("empty form", own, String::new()),
        ("from elsewhere", "cross-site", form(&token, true)),
    ] {
        let refused = status(&mut browser, site, body).await;
        assert_eq!(refused, StatusCode::FORBIDDEN, "{what}");
    }
}

#[tokio::test]
async fn a_form_with_files_has_a_limit_too() {
    let mut browser = Browser::new(guard());
    let request = browser
        .request(Method::POST, "/job")
        .header("sec-fetch-site", "same-origin")
        .header(CONTENT_TYPE, "multipart/form-data; boundary=x")
        .header(CONTENT_LENGTH, "9999999999");
    let answer = browser.send(request, Body::empty()).await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE);
}

#[tokio::test]
async fn who_is_outside_is_told_so_and_nothing_is_kept() {
    let hash = hash_passphrase("collars before pins").expect("long enough");
    let mut browser = Browser::new(guard().lan(&hash, &[]));
    let token = token_in(&browser.get("/login").await.body);
    let request = browser
        .request(Method::POST, "/job")
        .header("sec-fetch-site", "same-origin")
        .header(CONTENT_TYPE, "multipart/form-data; boundary=x");
    let answer = browser.send(request, Body::from(form(&token, true))).await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
    assert!(answer.body.contains("You are logged out"));
    assert!(!answer.body.contains("pulls"), "not echoed");
}
