//! Each style page at each width, light and dark: a picture, nothing too wide, nothing that axe
//! objects to.

use super::server::Server;
use crate::harness::{Browser, DESKTOP, PHONE, TABLET, View};

const PAGES: &[(&str, &str)] = &[
    ("/", "style-job"),
    ("/bench", "style-bench"),
    ("/forms", "style-forms"),
    ("/refused", "style-refused"),
    ("/nowhere", "style-missing"),
    ("/broken", "style-broken"),
    ("/unwritten", "style-unwritten"),
];

async fn look_at_all(view: View) {
    let server = Server::start().await;
    let browser = Browser::open(view).await;
    for (path, name) in PAGES {
        browser.goto(&format!("{}{path}", server.address)).await;
        open_all(&browser).await;
        browser.assert_fits().await;
        browser.assert_accessible().await;
        browser.shot(name).await;
    }
    browser.quit().await;
}

/// What is folded is looked at, too.
async fn open_all(browser: &Browser) {
    browser
        .js("document.querySelectorAll('main details').forEach(d => d.open = true)")
        .await;
}

#[tokio::test]
async fn phone() {
    look_at_all(PHONE).await;
}

#[tokio::test]
async fn phone_dark() {
    look_at_all(PHONE.dark()).await;
}

#[tokio::test]
async fn tablet() {
    look_at_all(TABLET).await;
}

#[tokio::test]
async fn desktop() {
    look_at_all(DESKTOP).await;
}

#[tokio::test]
async fn desktop_dark() {
    look_at_all(DESKTOP.dark()).await;
}

#[tokio::test]
async fn names_and_passphrase() {
    for view in [PHONE, DESKTOP] {
        let server = Server::start().await;
        let browser = Browser::open(view).await;
        browser.goto(&server.address).await;
        browser
            .find(".who summary")
            .await
            .click()
            .await
            .expect("opens");
        browser.assert_fits().await;
        browser.assert_accessible().await;
        browser.shot_of_window("style-who").await;
        browser
            .find(".sheet-of-names button")
            .await
            .click()
            .await
            .expect("picks");
        let name = browser
            .find(".who summary b")
            .await
            .text()
            .await
            .expect("a name");
        assert_eq!(name, "Ansa Reed");

        let closed = Server::with_passphrase().await;
        browser.goto(&format!("{}/bench", closed.address)).await;
        browser.assert_accessible().await;
        browser.shot_of_window("style-login").await;
        let field = browser.find("#login-passphrase").await;
        field.send_keys("collars before pins").await.expect("typed");
        browser
            .find("#login button")
            .await
            .click()
            .await
            .expect("sent");
        assert_eq!(browser.js("location.pathname").await, "/bench");
        browser.quit().await;
    }
}

/// Touch targets are 44 px and more, but for links inside text.
#[tokio::test]
async fn touch_targets() {
    let server = Server::start().await;
    let browser = Browser::open(PHONE).await;
    for path in ["/", "/bench", "/forms", "/refused"] {
        browser.goto(&format!("{}{path}", server.address)).await;
        open_all(&browser).await;
        let small = browser
            .js("[...document.querySelectorAll('button, summary, input:not([type=hidden]), select, textarea, .rule a, .top a, .ticks label, .radios label, .button')]\
                .filter(e => !e.matches('.ticks input, .radios input') && e.checkVisibility())\
                .map(e => [e, e.getBoundingClientRect()])\
                .filter(([e, r]) => r.height < 43.9 || (r.width < 43.9 && !e.matches('.mark')))\
                .map(([e, r]) => `${e.tagName}.${e.className} ${e.textContent.trim().slice(0, 20)} ${r.width}x${r.height}`)")
            .await;
        assert_eq!(small, serde_json::json!([]), "{path}");
    }
    browser.quit().await;
}

/// Every class of the style sheet is on a style page: nothing in it is unseen or dead.
#[tokio::test]
async fn every_class_is_shown() {
    let server = Server::start().await;
    let browser = Browser::open(DESKTOP).await;
    let mut unseen: Option<std::collections::BTreeSet<String>> = None;
    for (path, _) in PAGES {
        browser.goto(&format!("{}{path}", server.address)).await;
        let missing = browser
            .js("(() => { const all = new Set();\
                const walk = (rules) => { for (const r of rules) {\
                    if (r.selectorText) for (const m of r.selectorText.matchAll(/\\.([a-z][a-z0-9-]*)/g)) all.add(m[1]);\
                    if (r.cssRules) walk(r.cssRules); } };\
                for (const sheet of document.styleSheets) walk(sheet.cssRules);\
                return [...all].filter(c => !document.getElementsByClassName(c).length); })()")
            .await;
        let missing = missing.as_array().expect("a list").iter();
        let missing = missing.map(|c| c.as_str().expect("a name").to_owned());
        let missing: std::collections::BTreeSet<String> = missing.collect();
        unseen = Some(match unseen {
            None => missing,
            Some(before) => before.intersection(&missing).cloned().collect(),
        });
    }
    assert_eq!(unseen.unwrap_or_default(), Default::default());
    browser.quit().await;
}
