//! Style sheet, script and font.

use axum::body::Body;
use axum::http::header::ACCEPT_ENCODING;
use axum::http::{Method, StatusCode};
use web::assets;

use crate::shop::{Browser, guard};

#[tokio::test]
async fn kept_for_good_under_a_name_of_their_content() {
    let mut browser = Browser::new(guard());
    for (name, kind) in [
        ("setwright.css", "text/css; charset=utf-8"),
        ("setwright.js", "text/javascript; charset=utf-8"),
        ("fonts/inter.woff2", "font/woff2"),
        ("icon.svg", "image/svg+xml"),
    ] {
        let answer = browser.get(&assets::url(name)).await;
        assert_eq!(answer.status, StatusCode::OK, "{name}");
        assert_eq!(answer.header("content-type"), kind);
        assert!(answer.header("cache-control").contains("immutable"));
        assert_eq!(answer.header("x-content-type-options"), "nosniff");
        assert!(!answer.body.is_empty(), "{name}");
    }
    for path in [
        "/assets/0000000000000000/setwright.css",
        "/assets/x",
        "/assets/x/../../Cargo.toml",
    ] {
        let answer = browser.get(path).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{path}");
        assert_eq!(answer.header("cache-control"), "no-store", "{path}");
    }
}

#[tokio::test]
async fn text_is_compressed_pages_and_fonts_are_not() {
    let mut browser = Browser::new(guard());
    for (path, encoding) in [
        (assets::url("setwright.css"), "gzip"),
        (assets::url("setwright.js"), "gzip"),
        (assets::url("fonts/inter.woff2"), ""),
        ("/".to_owned(), ""),
    ] {
        let request = browser
            .request(Method::GET, &path)
            .header(ACCEPT_ENCODING, "gzip, br");
        let answer = browser.send(request, Body::empty()).await;
        assert_eq!(answer.header("content-encoding"), encoding, "{path}");
    }
}
