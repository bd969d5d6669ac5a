//! Entry by a measuring tool that types like a keyboard, and what protects a form from haste.

use std::sync::atomic::Ordering;

use super::pick_first_name;
use super::server::Server;
use crate::harness::{Browser, DESKTOP};

/// Presses keys as a keyboard does, wherever the focus is.
async fn type_keys(browser: &Browser, text: &str) {
    for key in text.chars() {
        browser.press(key).await;
    }
}

async fn focus(browser: &Browser) -> String {
    let id = browser
        .js("document.activeElement.id || document.activeElement.value")
        .await;
    id.as_str().unwrap_or_default().to_owned()
}

/// What is told to those who do not see the boxes.
async fn live(browser: &Browser) -> String {
    let told = browser.find(".live").await.inner_html().await;
    told.expect("text")
}

#[tokio::test]
async fn enter_goes_to_the_next_reading_and_never_sends() {
    let server = Server::start().await;
    let browser = Browser::open(DESKTOP).await;
    browser.goto(&format!("{}/forms", server.address)).await;
    browser.click("#receive-stick_out").await;
    assert_eq!(live(&browser).await, "Reading 1 of 3");
    // Some tools end a reading with one line end, some with two.
    type_keys(&browser, "+0026.20 mm\r").await;
    assert_eq!(focus(&browser).await, "receive-stick_out-2");
    assert_eq!(live(&browser).await, "Reading 2 of 3");
    type_keys(&browser, "26,22\r\r").await;
    assert_eq!(focus(&browser).await, "receive-stick_out-3");
    type_keys(&browser, "26.21mmmm\r\r").await;
    assert_eq!(focus(&browser).await, "keep");
    assert_eq!(server.posts.load(Ordering::SeqCst), 0, "nothing was sent");

    tokio::time::sleep(std::time::Duration::from_millis(300)).await;
    type_keys(&browser, "\r").await;
    browser.find("h1").await;
    let raw = browser
        .js("[...document.querySelectorAll('.raw')].map(e => e.textContent)")
        .await;
    assert_eq!(
        raw,
        serde_json::json!(["+0026.20 mm", "26,22", "26.21mmmm"])
    );
}

#[tokio::test]
async fn twenty_readings_at_full_speed_lose_nothing() {
    let server = Server::start().await;
    let browser = Browser::open(DESKTOP).await;
    browser.goto(&format!("{}/forms", server.address)).await;
    for round in 0..7 {
        browser.click("#receive-stick_out").await;
        let readings: Vec<String> = (0..3)
            .map(|i| format!("{}.{i}{round}", 24 + round))
            .collect();
        type_keys(&browser, &readings.join("\r")).await;
        let typed = browser
            .js("[...document.querySelectorAll('.readings input')].map(e => e.value)")
            .await;
        assert_eq!(typed, serde_json::json!(readings));
    }
}

#[tokio::test]
async fn a_double_press_sends_once_and_back_can_send_again() {
    let server = Server::start().await;
    let browser = Browser::open(DESKTOP).await;
    browser.goto(&format!("{}/forms", server.address)).await;
    browser
        .js("(() => { const b = document.querySelector('.buttons .quiet'); b.click(); b.click(); b.click(); })()")
        .await;
    browser.find(".pressed").await;
    assert_eq!(server.posts.load(Ordering::SeqCst), 1);
    let pressed = browser.find(".pressed").await.text().await.expect("text");
    assert_eq!(
        pressed, "keep and next",
        "the pressed button goes with the form"
    );
    browser.driver.back().await.expect("back");
    let again = browser.find(".buttons .quiet").await;
    again.click().await.expect("can be pressed again");
    browser.find(".pressed").await;
    assert_eq!(server.posts.load(Ordering::SeqCst), 2);
}

#[tokio::test]
async fn forms_work_without_javascript() {
    let server = Server::start().await;
    let browser = Browser::open(DESKTOP).await;
    browser.without_javascript().await;
    browser.goto(&format!("{}/forms", server.address)).await;
    let field = browser.find("#receive-stick_out").await;
    field.send_keys("26.20").await.expect("typed");
    browser.click(".buttons button").await;
    let raw = browser.find(".raw").await.text().await.expect("text");
    assert_eq!(raw, "26.20");
    browser.click(".who summary").await;
    pick_first_name(&browser).await;
}

#[tokio::test]
async fn a_refused_form_opens_with_its_mistakes_in_focus() {
    let server = Server::start().await;
    let browser = Browser::open(DESKTOP).await;
    browser.goto(&format!("{}/refused", server.address)).await;
    let class = browser.js("document.activeElement.className").await;
    assert_eq!(class, "error-summary");
    browser.click(".error-summary li:nth-child(4) a").await;
    assert_eq!(focus(&browser).await, "receive-stick_out-2");
}
