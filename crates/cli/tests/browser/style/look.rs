//! Each style page at each width, light and dark: a picture, nothing too wide, nothing that axe
//! objects to.

use super::pick_first_name;
use super::server::Server;
use crate::harness::{Browser, DESKTOP, PHONE, TABLET, View};

pub const PAGES: &[(&str, &str)] = &[
    ("/", "style-job"),
    ("/parts", "style-parts"),
    ("/drawn", "style-drawn"),
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

/// WCAG 1.4.10: 320 px wide, as at 400 % on a desktop.
#[tokio::test]
async fn narrow() {
    let view = View {
        width: 320,
        ..PHONE
    };
    let server = Server::start().await;
    let browser = Browser::open(view).await;
    for (path, _) in PAGES {
        browser.goto(&format!("{}{path}", server.address)).await;
        open_all(&browser).await;
        browser.assert_fits().await;
    }
}

/// Paper has no bar, no buttons, no forms, and is black on white.
#[tokio::test]
async fn print() {
    let server = Server::start().await;
    let browser = Browser::open(DESKTOP).await;
    for (path, name) in [("/", "print-job"), ("/parts", "print-parts")] {
        browser.goto(&format!("{}{path}", server.address)).await;
        open_all(&browser).await;
        browser.on_paper().await;
        let shown = browser
            .js("[...document.querySelectorAll('.top, .buttons, .strike, form, .rule')].filter(e => e.checkVisibility()).length")
            .await;
        assert_eq!(shown, 0, "{path}");
        browser.assert_accessible().await;
        browser.shot(name).await;
    }
}

/// WCAG 2.4.11: what is in focus is not under the strip of stages.
#[tokio::test]
async fn focus_is_never_covered() {
    let server = Server::start().await;
    let browser = Browser::open(PHONE).await;
    browser.goto(&server.address).await;
    open_all(&browser).await;
    let covered = browser
        .js("(() => {
            const all = [...document.querySelectorAll('article :is(a, summary, [tabindex])')].reverse();
            return all.filter((e) => {
                e.focus();
                const box = e.getBoundingClientRect();
                const strip = document.querySelector('.sheet > nav').getBoundingClientRect();
                return document.activeElement !== e || box.top < strip.bottom - 1 && box.bottom > strip.top;
            }).map((e) => e.textContent.trim().slice(0, 30));
        })()")
        .await;
    assert_eq!(covered, serde_json::json!([]));
}

#[tokio::test]
async fn names_and_passphrase() {
    for view in [PHONE, DESKTOP] {
        let server = Server::start().await;
        let browser = Browser::open(view).await;
        browser.goto(&server.address).await;
        browser.click(".who summary").await;
        browser.assert_fits().await;
        browser.assert_accessible().await;
        browser.shot_of_window("style-who").await;
        pick_first_name(&browser).await;

        let closed = Server::with_passphrase().await;
        browser.goto(&format!("{}/bench", closed.address)).await;
        browser.assert_accessible().await;
        browser.shot_of_window("style-login").await;
        let field = browser.find("#login-passphrase").await;
        field.send_keys("collars before pins").await.expect("typed");
        browser.click("#login button").await;
        browser.find("ul.cards").await;
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
}

/// The check of accessibility sees what is wrong.
#[tokio::test]
async fn axe_finds_planted_faults() {
    let server = Server::start().await;
    let browser = Browser::open(PHONE).await;
    browser.goto(&format!("{}/forms", server.address)).await;
    assert_eq!(browser.violations().await, Vec::<String>::new());
    browser
        .js("(() => {\
            const image = document.createElement('img'); image.src = 'data:,';\
            const small = document.createElement('div');\
            small.append(...['x', 'y'].map(t => Object.assign(document.createElement('button'), { textContent: t + ' press' })));\
            document.querySelector('main').append(image, small);\
            for (const b of small.children) Object.assign(b.style, { minHeight: '0', height: '9px', overflow: 'visible', width: '9px', padding: '0', border: '0', fontSize: '9px', color: '#567', background: '#678' });\
        })()")
        .await;
    let found = browser.violations().await.join("\n");
    for rule in ["image-alt", "target-size", "color-contrast"] {
        assert!(found.contains(rule), "{rule} not found: {found}");
    }
}
