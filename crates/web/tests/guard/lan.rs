//! On the shop's network: nobody in without the passphrase.

use axum::http::StatusCode;
use web::security::{Guard, hash_passphrase};

use crate::shop::{Browser, guard, token_in};

const PASSPHRASE: &str = "  collars before pins  ";

fn lan() -> Guard {
    let hash = hash_passphrase(PASSPHRASE).expect("long enough");
    guard().lan(&hash, &["bench-2".to_owned()])
}

async fn log_in(browser: &mut Browser, passphrase: &str) -> crate::shop::Answer {
    browser
        .post("/login", &[("passphrase", passphrase), ("next", "/whoami")])
        .await
}

#[tokio::test]
async fn everything_leads_to_the_login() {
    let mut browser = Browser::new(lan());
    browser.host = "bench-2:8470".to_owned();
    for path in ["/", "/whoami", "/nowhere", "/find?q=7K"] {
        let answer = browser.get(path).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{path}");
        assert!(answer.header("location").starts_with("/login?next="));
    }
    let login = browser.get("/login?next=%2Ffind%3Fq%3D7K").await;
    assert_eq!(login.status, StatusCode::OK);
    assert!(login.body.contains("value=\"/find?q=7K\""));
    assert!(!login.body.contains("Ansa"), "no names for strangers");
    let style = login
        .body
        .split("href=\"")
        .find(|part| part.contains(".css"));
    let style = style
        .and_then(|part| part.split('"').next())
        .expect("a style sheet");
    assert_eq!(browser.get(style).await.status, StatusCode::OK);
}

#[tokio::test]
async fn the_passphrase_opens_and_leaving_closes() {
    let mut browser = Browser::new(lan());
    browser.get("/login").await;
    let before = browser.cookies.clone();
    let answer = log_in(&mut browser, PASSPHRASE).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER);
    assert_eq!(answer.header("location"), "/whoami");
    assert_ne!(browser.cookies, before, "a new session starts inside");
    assert_eq!(browser.get("/whoami").await.status, StatusCode::OK);

    let inside = browser.cookies.clone();
    assert_eq!(
        browser.post("/logout", &[]).await.status,
        StatusCode::SEE_OTHER
    );
    browser.cookies = inside;
    let answer = browser.get("/whoami").await;
    assert_eq!(
        answer.status,
        StatusCode::SEE_OTHER,
        "the old session opens nothing"
    );
}

#[tokio::test]
async fn a_wrong_passphrase_is_refused_and_then_slowed() {
    let mut browser = Browser::new(lan());
    for wrong in ["", "collars before pins", "x", "y", "z"] {
        let answer = log_in(&mut browser, wrong).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{wrong}");
        assert!(answer.body.contains("<title>Error: "));
        assert!(answer.body.contains("href=\"#login-passphrase\""));
    }
    let answer = log_in(&mut browser, PASSPHRASE).await;
    assert_eq!(
        answer.status,
        StatusCode::TOO_MANY_REQUESTS,
        "even the right one waits"
    );
    assert!(
        answer
            .header("retry-after")
            .parse::<u64>()
            .is_ok_and(|s| s > 800)
    );
}

#[tokio::test]
async fn a_planted_session_is_not_let_in() {
    let mut browser = Browser::new(lan());
    browser.get("/login").await;
    let mut planted = Browser::new(lan());
    planted.cookies = browser.cookies.clone();
    log_in(&mut browser, PASSPHRASE).await;
    assert_eq!(planted.get("/whoami").await.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn a_form_that_was_open_when_the_session_ended_is_not_lost() {
    let mut browser = Browser::new(lan());
    log_in(&mut browser, PASSPHRASE).await;
    let token = token_in(&browser.get("/").await.body);
    // The program starts anew: it knows no session.
    let mut restarted = Browser::new(lan());
    restarted.cookies = browser.cookies.clone();
    let fields = [("csrf", token.as_str()), ("note", "26.20 mm")];
    let answer = restarted.post_as_is("/job", &fields).await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
    assert!(answer.body.contains("26.20 mm") && !answer.body.contains("in the record"));

    let held = answer.body;
    log_in(&mut restarted, PASSPHRASE).await;
    let again = [("csrf", token_in(&held)), ("note", "26.20 mm".to_owned())];
    let again: Vec<_> = again.iter().map(|(n, v)| (*n, v.as_str())).collect();
    let stale = restarted.post_as_is("/job", &again).await;
    assert_eq!(
        stale.status,
        StatusCode::FORBIDDEN,
        "the session is a new one"
    );
    let again = [
        ("csrf", token_in(&stale.body)),
        ("note", "26.20 mm".to_owned()),
    ];
    let again: Vec<_> = again.iter().map(|(n, v)| (*n, v.as_str())).collect();
    assert_eq!(
        restarted.post_as_is("/job", &again).await.body,
        "in the record: 26.20 mm"
    );
}
