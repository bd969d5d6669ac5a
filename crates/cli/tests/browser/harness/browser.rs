//! Headless Chromium at a given size and colour scheme.

use std::path::Path;
use std::time::Duration;

use serde_json::json;
use thirtyfour::prelude::*;

use super::axe;
use super::chromedriver::Chromedriver;
use super::workspace;

/// How long an element may take to appear.
const PATIENCE: Duration = Duration::from_secs(10);

/// What the browser shows pages on.
#[derive(Clone, Copy, Debug)]
pub struct View {
    pub width: u32,
    pub height: u32,
    pub is_dark: bool,
}

pub const PHONE: View = View {
    width: 360,
    height: 780,
    is_dark: false,
};
pub const TABLET: View = View {
    width: 820,
    height: 1180,
    is_dark: false,
};
pub const DESKTOP: View = View {
    width: 1280,
    height: 900,
    is_dark: false,
};

impl View {
    /// The same in the dark.
    pub fn dark(self) -> Self {
        Self {
            is_dark: true,
            ..self
        }
    }

    fn name(self) -> String {
        let dark = if self.is_dark { "-dark" } else { "" };
        format!("{}{dark}", self.width)
    }
}

/// A browser with a profile of its own.
pub struct Browser {
    pub driver: WebDriver,
    view: View,
    _profile: tempfile::TempDir,
    _chromedriver: Chromedriver,
}

impl Browser {
    pub async fn open(view: View) -> Self {
        let chromedriver = Chromedriver::start();
        let profile = tempfile::tempdir().expect("a folder for the profile");
        let mut capabilities = DesiredCapabilities::chrome();
        let data = format!("--user-data-dir={}", profile.path().display());
        for flag in [
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--disable-dev-shm-usage",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--force-prefers-reduced-motion",
            &data,
        ] {
            capabilities.add_arg(flag).expect("a flag");
        }
        let driver = WebDriver::new(&chromedriver.url, capabilities)
            .await
            .expect("chromium starts");
        let patience = driver.set_implicit_wait_timeout(PATIENCE).await;
        patience.expect("a timeout");
        let browser = Self {
            driver,
            view,
            _profile: profile,
            _chromedriver: chromedriver,
        };
        browser.size(view.height).await;
        browser.look(view).await;
        browser
    }

    /// A window cannot be as narrow as a phone; a device can.
    async fn size(&self, height: u32) {
        let metrics = json!({
            "width": self.view.width, "height": height, "deviceScaleFactor": 1,
            "mobile": self.view.width < 600,
        });
        self.cdp("Emulation.setDeviceMetricsOverride", metrics)
            .await;
    }

    async fn look(&self, view: View) {
        let scheme = if view.is_dark { "dark" } else { "light" };
        let media = json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] });
        self.cdp("Emulation.setEmulatedMedia", media).await;
    }

    /// Shows pages as they are printed, from now on.
    pub async fn on_paper(&self) {
        self.cdp("Emulation.setEmulatedMedia", json!({ "media": "print" }))
            .await;
    }

    /// Runs pages without JavaScript from now on.
    pub async fn without_javascript(&self) {
        let off = json!({ "value": true });
        self.cdp("Emulation.setScriptExecutionDisabled", off).await;
    }

    /// One key, as a keyboard sends it, to whatever is in focus.
    pub async fn press(&self, key: char) {
        let (key, code) = match key {
            '\r' => ("Enter".to_owned(), 13),
            other => (other.to_string(), 0),
        };
        let text = if code == 13 { "\r" } else { &key };
        let down = json!({
            "type": "keyDown", "key": key, "text": text, "windowsVirtualKeyCode": code,
        });
        self.cdp("Input.dispatchKeyEvent", down).await;
        let up = json!({ "type": "keyUp", "key": key, "windowsVirtualKeyCode": code });
        self.cdp("Input.dispatchKeyEvent", up).await;
    }

    /// A key without a letter, such as an arrow.
    pub async fn press_named(&self, key: &str) {
        for kind in ["rawKeyDown", "keyUp"] {
            let event = json!({ "type": kind, "key": key, "code": key });
            self.cdp("Input.dispatchKeyEvent", event).await;
        }
    }

    /// Moves the mouse to a place in the window.
    pub async fn point_at(&self, x: f64, y: f64) {
        let event = json!({ "type": "mouseMoved", "x": x, "y": y });
        self.cdp("Input.dispatchMouseEvent", event).await;
    }

    /// Drags the file over the middle of what `css` finds and lets it go there.
    pub async fn drag(&self, file: &Path, css: &str) {
        let middle = format!(
            "(() => {{ const it = document.querySelector('{css}'); it.scrollIntoView({{ block: 'start' }}); \
             const box = it.getBoundingClientRect(); \
             return [box.x + box.width / 2, box.y + Math.min(box.height, 200) / 2]; }})()"
        );
        let at = self.js(&middle).await;
        let files = [file.display().to_string()];
        let data = json!({ "items": [], "files": files, "dragOperationsMask": 1 });
        for kind in ["dragEnter", "dragOver", "drop"] {
            let event = json!({ "type": kind, "x": at[0], "y": at[1], "data": data });
            self.cdp("Input.dispatchDragEvent", event).await;
        }
    }

    async fn cdp(&self, command: &str, parameters: serde_json::Value) {
        self.driver
            .cdp()
            .send_raw(command, parameters)
            .await
            .expect("the browser takes the command");
    }

    pub async fn goto(&self, url: &str) {
        self.driver.goto(url).await.expect("the page opens");
    }

    /// The element that `css` finds, or a failure that names it.
    pub async fn find(&self, css: &str) -> WebElement {
        match self.driver.find(By::Css(css)).await {
            Ok(element) => element,
            Err(error) => panic!("{css} not found: {error}"),
        }
    }

    /// Clicks what `css` finds.
    pub async fn click(&self, css: &str) {
        let it = self.find(css).await;
        it.click().await.unwrap_or_else(|e| panic!("{css}: {e}"));
    }

    /// The value of a JavaScript expression.
    pub async fn js(&self, expression: &str) -> serde_json::Value {
        let script = format!("return {expression};");
        let answer = self.driver.execute(script, Vec::new()).await;
        answer.expect("the expression runs").json().clone()
    }

    /// No tag says a thing twice: browsers take the first and drop the second without a word.
    pub async fn assert_no_attribute_twice(&self) {
        let script = "const done = arguments[arguments.length - 1];
            fetch(location.href).then(r => r.text()).then(html => done(
                (html.match(/<[a-z][^>]*>/g) ?? []).filter(tag => {
                    const names = [...tag.matchAll(/\\s([a-z-]+)=\"[^\"]*\"/g)].map(m => m[1]);
                    return new Set(names).size < names.length;
                })))";
        let twice = self.driver.execute_async(script, Vec::new()).await;
        let twice = twice.expect("the page is fetched").json().clone();
        assert_eq!(twice, json!([]), "{}", self.js("location.pathname").await);
    }

    /// No two elements have one id: a label or a link would lead to the first alone.
    pub async fn assert_no_id_twice(&self) {
        let script = "(() => { const ids = [...document.querySelectorAll('[id]')].map(e => e.id);
            return ids.filter((id, i) => ids.indexOf(id) < i); })()";
        let twice = self.js(script).await;
        assert_eq!(twice, json!([]), "{}", self.js("location.pathname").await);
    }

    /// Nothing on the page sticks out to the side.
    pub async fn assert_fits(&self) {
        let wide = self
            .js("[...document.querySelectorAll('body *')]\
                .filter(e => e.getBoundingClientRect().right > innerWidth + 1 && !e.closest('.scroll, pre'))\
                .map(e => e.tagName + '.' + e.className).slice(0, 5)")
            .await;
        let width = self
            .js("document.documentElement.scrollWidth <= innerWidth")
            .await;
        assert!(
            width == json!(true),
            "{}: too wide: {wide}",
            self.view.name()
        );
    }

    /// The whole page as a picture, in `target/screenshots`.
    pub async fn shot(&self, name: &str) {
        let height = self.js("document.documentElement.scrollHeight").await;
        let height = height.as_u64().and_then(|h| u32::try_from(h).ok());
        self.size(height.unwrap_or(self.view.height).max(self.view.height))
            .await;
        let folder = workspace().join("target/screenshots");
        std::fs::create_dir_all(&folder).expect("a folder for pictures");
        let file = folder.join(format!("{name}-{}.png", self.view.name()));
        self.driver.screenshot(&file).await.expect("a picture");
        self.size(self.view.height).await;
    }

    /// The page as it stands in the window.
    pub async fn shot_of_window(&self, name: &str) {
        let folder = workspace().join("target/screenshots");
        std::fs::create_dir_all(&folder).expect("a folder for pictures");
        let file = folder.join(format!("{name}-window-{}.png", self.view.name()));
        self.driver.screenshot(&file).await.expect("a picture");
    }

    /// What axe finds wrong with the page.
    pub async fn violations(&self) -> Vec<String> {
        axe::violations(&self.driver).await
    }

    /// No rule of WCAG 2.2 A and AA that a machine can check is broken.
    pub async fn assert_accessible(&self) {
        let violations = self.violations().await;
        assert!(
            violations.is_empty(),
            "{} at {}:\n{}",
            self.js("location.pathname").await,
            self.view.name(),
            violations.join("\n")
        );
    }
}

impl Drop for Browser {
    /// Also when a test fails: chromedriver ends its browsers when it is asked to end, and the
    /// driver must not wait for an answer that cannot come any more.
    fn drop(&mut self) {
        self.driver.clone().leak().ok();
    }
}
