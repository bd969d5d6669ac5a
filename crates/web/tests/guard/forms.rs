//! The frame of pages and the fields of forms, as HTML.

use calc::Message;
use maud::html;
use web::forms::errors::reading_key;
use web::forms::{FieldErrors, Typed};
use web::shell::{Choice, Field, Form, Nav, Page, page_with_errors};

use axum::Router;
use axum::response::Html;
use axum::routing::get;
use std::sync::Arc;
use tower::ServiceExt;
use web::security::protect;

/// The page that `draw` makes, through the guard.
async fn drawn(draw: fn(Page) -> String) -> String {
    let routes = Router::new().route("/", get(move |p: Page| async move { Html(draw(p)) }));
    let router = protect(routes, Arc::new(crate::shop::guard()));
    let request = axum::http::Request::get("/")
        .header("host", crate::shop::HOST_NAME)
        .body(axum::body::Body::empty())
        .expect("a request");
    let answer = router.oneshot(request).await.expect("cannot fail");
    let bytes = axum::body::to_bytes(answer.into_body(), usize::MAX).await;
    String::from_utf8(bytes.expect("whole").to_vec()).expect("UTF-8")
}

#[tokio::test]
async fn a_refused_form_shows_what_was_typed_and_what_is_wrong() {
    let html = drawn(|p| {
        let p = p.at(Nav::Tools);
        let typed: Typed = [
            ("serial", " 7K-<0412> "),
            ("stick_out", "26.20"),
            ("stick_out", "abc"),
            ("came", "charger"),
        ]
        .into_iter()
        .collect();
        let mut errors = FieldErrors::one("serial", Message::new("count-missing"));
        errors.add(reading_key("stick_out", 1), Message::new("count-missing"));
        let form = Form::new(&p, "receive", &typed, &errors);
        let came = [
            Choice::new("battery", "Battery").chosen(true),
            Choice::new("charger", "Charger"),
        ];
        let body = form.wrap(
            "/jobs",
            Some(4),
            html! {
                (form.text(&Field::new("serial", "Serial").hint("On the plate").value("known")))
                (form.readings(&Field::new("stick_out", "Stick-out").unit("mm"), 3))
                (form.ticks(&Field::new("came", "Came with it"), &came))
            },
        );
        page_with_errors(&p, "Receive", "receive", &errors, body).into_string()
    })
    .await;
    for expected in [
        "<title>Error: Receive · setwright</title>",
        "href=\"#receive-serial\"",
        "href=\"#receive-stick_out-2\"",
        "id=\"receive-stick_out-2\"",
        "value=\" 7K-&lt;0412&gt; \"",
        "aria-describedby=\"receive-serial-hint receive-serial-error\"",
        "value=\"abc\"",
        "<a href=\"/tools\" aria-current=\"page\">",
        "name=\"version\" value=\"4\"",
        "Reading 2 of 3",
    ] {
        assert!(html.contains(expected), "{expected}\n{html}");
    }
    assert!(
        !html.contains("value=\"known\""),
        "what was typed goes before what is known"
    );
    assert!(html.contains("value=\"charger\" checked"), "{html}");
    assert!(
        !html.contains("value=\"battery\" checked"),
        "unticked stays unticked"
    );
    let heading = html.find("There is a problem").expect("a summary");
    assert!(heading < html.find("<form id=\"receive\"").expect("the form"));
}

#[tokio::test]
async fn a_blank_form_shows_what_is_known_and_has_a_key_of_its_own() {
    fn draw(p: Page) -> String {
        let form = Form::blank(&p, "a");
        let choices = [Choice::new("x", "X").chosen(true), Choice::new("y", "Y")];
        let body = form.wrap(
            "/a",
            None,
            html! {
                (form.number(&Field::new("n", "N").value("4.2").unit("mm")))
                (form.select(&Field::new("s", "S"), &choices))
                (form.radios(&Field::new("r", "R"), &choices))
                (form.area(&Field::new("t", "T").value("\nsecond line")))
            },
        );
        page_with_errors(&p, "A", "a", &FieldErrors::new(), body).into_string()
    }
    let html = drawn(draw).await;
    for expected in [
        "<title>A · setwright</title>",
        "value=\"4.2\"",
        "inputmode=\"decimal\"",
        "<option value=\"x\" selected>",
        "value=\"x\" checked",
        ">\n\nsecond line</textarea>",
    ] {
        assert!(html.contains(expected), "{expected}\n{html}");
    }
    assert!(!html.contains("There is a problem") && !html.contains("required"));
    let key = |html: &str| {
        let (_, rest) = html
            .split_once("name=\"submission\" value=\"")
            .expect("a key");
        rest.split('"').next().expect("closed").to_owned()
    };
    assert_ne!(key(&html), key(&drawn(draw).await));
}
