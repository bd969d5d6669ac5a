//! A failure inside shows a reference, and nothing of the inside.

use axum::http::StatusCode;

use crate::shop::{Browser, guard};

#[tokio::test]
async fn failures_show_a_reference_only() {
    let mut browser = Browser::new(guard());
    for path in ["/panic", "/broken"] {
        let answer = browser.get(path).await;
        assert_eq!(answer.status, StatusCode::INTERNAL_SERVER_ERROR);
        assert!(answer.body.contains("Reference"), "{path}");
        assert!(!answer.body.contains("secret"), "{path}");
    }
    assert_eq!(
        browser.get("/").await.status,
        StatusCode::OK,
        "still serving"
    );
}
