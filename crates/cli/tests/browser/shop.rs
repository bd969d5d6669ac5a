//! Every page of the demo shop, found by following its links.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::harness::{Browser, DESKTOP, PHONE, Program, View};

/// Every page that links lead to, from the bench on: each visited once.
/// With a `kind` only the first page of each is.
async fn crawl(
    browser: &Browser,
    address: &str,
    kind: fn(&str) -> Option<String>,
    mut visit: impl AsyncFnMut(&str),
) -> usize {
    let mut waiting = vec!["/".to_owned()];
    let mut seen: BTreeSet<String> = waiting.iter().cloned().collect();
    let mut kinds = BTreeSet::new();
    let mut visited = 0;
    while let Some(path) = waiting.pop() {
        browser.goto(&format!("{address}{path}")).await;
        visit(&path).await;
        visited += 1;
        for path in links(browser).await {
            let first_of_its_kind = kind(&path).is_none_or(|kind| kinds.insert(kind));
            if first_of_its_kind && seen.insert(path.clone()) {
                waiting.push(path);
            }
        }
    }
    visited
}

/// The kind of a page that a fault model has hundreds of, one for each of its numbers on each drive: the first of
/// a kind is looked at.
fn kind(path: &str) -> Option<String> {
    let parts: Vec<&str> = path.split('/').collect();
    match parts.as_slice() {
        ["", "fleet", "learned", _, drive, number] => {
            Some(format!("{drive} {}", number.split('.').next()?))
        }
        _ => None,
    }
}

/// The shape of an address: what names one thing of many, it says in digits. Colours are the same on all of a shape.
fn shape(path: &str) -> Option<String> {
    if let Some(kind) = kind(path) {
        return Some(kind);
    }
    let named = |part: &str| part.contains(|c: char| c.is_ascii_digit());
    let parts = path.split(['/', '?', '&']);
    let parts: Vec<&str> = parts
        .map(|part| if named(part) { "#" } else { part })
        .collect();
    Some(parts.join("/"))
}

/// The same, but each job is a page of its own: no two stand alike.
fn shape_but_jobs(path: &str) -> Option<String> {
    let is_job = path
        .strip_prefix("/jobs/")
        .is_some_and(|rest| !rest.contains('/'));
    if is_job { None } else { shape(path) }
}

/// The pages that this page leads to; papers, photos and files are not pages.
async fn links(browser: &Browser) -> Vec<String> {
    let list = browser
        .js(
            "[...document.links].filter(a => a.origin === location.origin)\
            .map(a => a.pathname + a.search).filter(p => !p.endsWith('.pdf') && !p.includes('/files/'))",
        )
        .await;
    let list = list.as_array().cloned().unwrap_or_default();
    list.iter()
        .filter_map(Value::as_str)
        .map(str::to_owned)
        .collect()
}

/// What is folded is looked at, too.
async fn unfold(browser: &Browser) {
    browser
        .js("document.querySelectorAll('main details').forEach(d => d.open = true)")
        .await;
}

async fn look_at_all(view: View, kind: fn(&str) -> Option<String>) {
    let program = Program::demo();
    let browser = Browser::open(view).await;
    let pages = crawl(&browser, &program.address, kind, async |path| {
        let name = format!("shop{}", path.replace(['/', '?', '='], "-"));
        browser.shot(name.trim_end_matches('-')).await;
        unfold(&browser).await;
        browser.assert_no_attribute_twice().await;
        browser.assert_no_id_twice().await;
        browser.assert_fits().await;
        browser.assert_accessible().await;
    })
    .await;
    assert!(pages > 20, "the shop has more than {pages} pages");
}

#[tokio::test]
async fn phone() {
    look_at_all(PHONE, kind).await;
}

#[tokio::test]
async fn desktop() {
    // The phone looks at every page: there is the least room.
    look_at_all(DESKTOP, shape_but_jobs).await;
}

#[tokio::test]
async fn desktop_dark() {
    look_at_all(DESKTOP.dark(), shape).await;
}
