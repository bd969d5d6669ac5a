//! The name picked at the bench.

use axum::http::StatusCode;

use crate::shop::{Browser, guard};

#[tokio::test]
async fn a_picked_name_stays() {
    let mut browser = Browser::new(guard());
    assert!(browser.get("/whoami").await.body.starts_with("None"));
    let answer = browser
        .post("/who", &[("who", "Óscar Vey"), ("back", "/job?x=1")])
        .await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER);
    assert_eq!(answer.header("location"), "/job?x=1");
    let cookie = answer.header("set-cookie");
    for part in ["Path=/", "HttpOnly", "SameSite=Strict"] {
        assert!(cookie.contains(part), "{cookie}");
    }
    assert!(
        browser
            .get("/whoami")
            .await
            .body
            .starts_with("Some(\"Óscar Vey\")")
    );
    let page = browser.get("/").await.body;
    assert!(page.contains("<b>Óscar Vey</b>") && page.contains("Bench 2"));
}

#[tokio::test]
async fn nobody_else_can_be_picked() {
    let mut browser = Browser::new(guard());
    let answer = browser.post("/who", &[("who", "Somebody")]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    browser
        .cookies
        .push(("setwright_who".to_owned(), "Somebody".to_owned()));
    assert!(browser.get("/whoami").await.body.starts_with("None"));
}

#[tokio::test]
async fn back_does_not_lead_away() {
    let mut browser = Browser::new(guard());
    let answer = browser
        .post("/who", &[("who", "Ansa Reed"), ("back", "//evil.test")])
        .await;
    assert_eq!(answer.header("location"), "/");
}

#[tokio::test]
async fn a_session_is_given_once_and_guarded() {
    let mut browser = Browser::new(guard());
    let first = browser.get("/").await;
    let cookie = first.header("set-cookie");
    assert!(cookie.starts_with("setwright_session="));
    for part in ["Path=/", "HttpOnly", "SameSite=Strict"] {
        assert!(cookie.contains(part), "{cookie}");
    }
    assert!(browser.get("/").await.header("set-cookie").is_empty());
    browser.cookies = vec![("setwright_session".to_owned(), "planted".to_owned())];
    let replaced = browser.get("/").await;
    assert!(
        !replaced.header("set-cookie").is_empty(),
        "not one of our own making"
    );
}
