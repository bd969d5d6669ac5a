//! Every component of the style sheet, on pages of its own, in a browser.

mod bench;
mod caliper;
mod classes;
mod components;
mod drawn;
mod forms;
mod job;
mod look;
mod parts;
mod server;

use crate::harness::Browser;

/// Picks the first name of the open list, and waits for the page that shows it as picked.
async fn pick_first_name(browser: &Browser) {
    browser.click(".sheet-of-names button").await;
    let picked = browser.find(".sheet-of-names [aria-pressed=true]").await;
    let name = picked.attr("value").await.expect("a value");
    assert_eq!(name.as_deref(), Some("Ansa Reed"));
}
