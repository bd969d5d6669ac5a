//! Forms come from our own pages, in the browser that they were shown to.

use axum::body::Body;
use axum::http::header::{CONTENT_LENGTH, CONTENT_TYPE};
use axum::http::{Method, StatusCode};

use crate::shop::{Browser, encoded, guard, own_origin, token_in};

#[tokio::test]
async fn our_own_form_passes() {
    let mut browser = Browser::new(guard());
    let answer = browser.post("/job", &[("note", "26.2 mm")]).await;
    assert_eq!(answer.status, StatusCode::OK);
    assert_eq!(answer.body, "in the record: 26.2 mm");
}

#[tokio::test]
async fn a_form_survives_a_restart() {
    let mut before = Browser::new(guard());
    let token = token_in(&before.get("/").await.body);
    let mut after = Browser::new(guard());
    after.cookies = before.cookies;
    let answer = after
        .post_as_is("/job", &[("csrf", &token), ("note", "x")])
        .await;
    assert_eq!(answer.body, "in the record: x");
}

#[tokio::test]
async fn a_token_of_another_browser_is_refused() {
    let mut mine = Browser::new(guard());
    let mut theirs = Browser::new(guard());
    let token = token_in(&theirs.get("/").await.body);
    mine.get("/").await;
    let answer = mine
        .post_as_is("/job", &[("csrf", &token), ("note", "26.2 <b>mm</b>")])
        .await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
    assert!(
        answer.body.contains("26.2 &lt;b&gt;mm&lt;/b&gt;"),
        "shown again, escaped"
    );
    assert!(!answer.body.contains("in the record"));

    let again = token_in(&answer.body);
    let answer = mine
        .post_as_is("/job", &[("csrf", &again), ("note", "x")])
        .await;
    assert_eq!(answer.body, "in the record: x", "it can be sent again");
}

#[tokio::test]
async fn a_form_of_another_site_is_refused() {
    let mut browser = Browser::new(guard());
    let token = token_in(&browser.get("/").await.body);
    let fields = [("csrf", token.as_str()), ("note", "theirs")];
    let (_, own) = own_origin();
    for from in [
        &[("origin", "http://evil.test")][..],
        &[("origin", "null")],
        &[("sec-fetch-site", "cross-site")],
        &[("sec-fetch-site", "same-site")],
        &[("sec-fetch-site", "none")],
        &[("sec-fetch-site", "cross-site"), ("origin", &own)],
        &[
            ("sec-fetch-site", "same-origin"),
            ("origin", "http://evil.test"),
        ],
        &[],
    ] {
        let answer = browser.post_from("/job", &fields, from).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "{from:?}");
        assert!(!answer.body.contains("theirs"), "not echoed: {from:?}");
    }
    let answer = browser
        .post_from("/job", &fields, &[("origin", &own)])
        .await;
    assert_eq!(
        answer.status,
        StatusCode::OK,
        "plain HTTP browsers send the origin only"
    );
}

#[tokio::test]
async fn every_method_that_changes_is_checked() {
    let mut browser = Browser::new(guard());
    for method in [Method::PUT, Method::DELETE, Method::PATCH] {
        let answer = browser
            .send(browser.request(method.clone(), "/job"), Body::empty())
            .await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "{method}");
    }
}

#[tokio::test]
async fn other_bodies_carry_the_token_in_a_header() {
    let mut browser = Browser::new(guard());
    let token = token_in(&browser.get("/").await.body);
    for (sent, status) in [
        (token.as_str(), StatusCode::OK),
        ("", StatusCode::FORBIDDEN),
    ] {
        let request = browser
            .request(Method::POST, "/job")
            .header("sec-fetch-site", "same-origin")
            .header(CONTENT_TYPE, "application/octet-stream")
            .header("x-csrf-token", sent);
        assert_eq!(
            browser.send(request, Body::from("note=x")).await.status,
            status
        );
    }
}

#[tokio::test]
async fn a_body_is_refused_where_it_grows_too_large() {
    let mut browser = Browser::new(guard());
    let token = token_in(&browser.get("/").await.body);
    let fits = "x".repeat((1 << 20) - 200);
    let answer = browser
        .post_as_is("/job", &[("csrf", &token), ("note", &fits)])
        .await;
    assert_eq!(answer.status, StatusCode::OK);

    // Announced: refused unread. Not announced: refused when it has grown too large.
    let announced = browser
        .request(Method::POST, "/job")
        .header("sec-fetch-site", "same-origin")
        .header(CONTENT_LENGTH, "99999999");
    let answer = browser.send(announced, Body::empty()).await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE);
    let body = encoded(&[("csrf", &token), ("note", &"x".repeat(1 << 20))]);
    let request = browser
        .request(Method::POST, "/job")
        .header("sec-fetch-site", "same-origin")
        .header(CONTENT_TYPE, "application/x-www-form-urlencoded");
    let answer = browser.send(request, Body::from(body)).await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE);
    assert!(answer.body.contains("1 MB"));
}

#[tokio::test]
async fn what_could_not_be_written_can_be_sent_again() {
    let mut browser = Browser::new(guard());
    let key = "6f9619ff-8b86-4d01-b42d-00cf4fc964ff";
    let fields = [
        ("submission", key),
        ("stick_out", "26.20"),
        ("stick_out", "26.22"),
    ];
    let answer = browser.post("/full", &fields).await;
    assert_eq!(answer.status, StatusCode::SERVICE_UNAVAILABLE);
    let same_key = format!("name=\"submission\" value=\"{key}\"");
    assert!(
        answer.body.contains(&same_key),
        "in the record: once, however often it is sent"
    );
    assert!(answer.body.contains("<dd>26.20</dd>") && answer.body.contains("<dd>26.22</dd>"));
}
