//! Only the server's own names are answered.

use axum::http::StatusCode;

use crate::shop::{Browser, guard};

#[tokio::test]
async fn another_name_is_sent_to_the_right_one() {
    let mut browser = Browser::new(guard());
    for host in [
        "evil.test:8470",
        "127.0.0.1:9999",
        "127.0.0.1",
        "shop.local:8470",
    ] {
        browser.host = host.to_owned();
        let answer = browser.get("/whoami").await;
        assert_eq!(answer.status, StatusCode::MISDIRECTED_REQUEST, "{host}");
        assert!(answer.body.contains("http://127.0.0.1:8470"));
        assert!(!answer.body.contains("Ansa"), "no names for strangers");
    }
    for host in ["localhost:8470", "[::1]:8470"] {
        browser.host = host.to_owned();
        assert_eq!(
            browser.get("/whoami").await.status,
            StatusCode::OK,
            "{host}"
        );
    }
}
