//! Every component of the style sheet is on a style page.

use std::collections::BTreeSet;

use super::look::PAGES;
use super::server::Server;
use crate::harness::{Browser, DESKTOP};

/// Classes in the rules of the style sheet that no element of the page has.
const UNSEEN: &str = "(() => {
    const all = new Set();
    const walk = (rules) => {
        for (const rule of rules) {
            for (const [, name] of (rule.selectorText ?? '').matchAll(/\\.([a-z][a-z0-9-]*)/g)) all.add(name);
            if (rule.cssRules) walk(rule.cssRules);
        }
    };
    for (const sheet of document.styleSheets) walk(sheet.cssRules);
    return [...all].filter((name) => !document.getElementsByClassName(name).length);
})()";

#[tokio::test]
async fn every_class_is_shown() {
    let server = Server::start().await;
    let browser = Browser::open(DESKTOP).await;
    let mut unseen: Option<BTreeSet<String>> = None;
    for (path, _) in PAGES {
        browser.goto(&format!("{}{path}", server.address)).await;
        let missing = browser.js(UNSEEN).await;
        let missing = missing.as_array().expect("a list").iter();
        let missing: BTreeSet<String> = missing
            .filter_map(|name| name.as_str().map(str::to_owned))
            .collect();
        unseen = Some(match unseen {
            None => missing,
            Some(before) => &before & &missing,
        });
    }
    assert_eq!(unseen.unwrap_or_default(), BTreeSet::new());
}
