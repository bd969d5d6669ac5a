//! A technician at a browser: fills forms, reads what comes back, and looks at every page on the way.

use serde_json::Value;
use thirtyfour::prelude::*;

use crate::harness::{Browser, Program, View};

const BENCH: &str = "Ansa";

/// A technician at a browser.
pub struct Technician {
    pub browser: Browser,
    pub steps: usize,
    /// Whether every page on the way is looked at.
    pub looks: bool,
    address: String,
}

impl Technician {
    pub async fn at(program: &Program, view: View) -> Self {
        Self {
            browser: Browser::open(view).await,
            address: program.address.clone(),
            steps: 0,
            looks: true,
        }
    }

    pub async fn open(&mut self, path: &str) {
        self.browser.goto(&format!("{}{path}", self.address)).await;
    }

    /// Picks the name at the top of the page.
    pub async fn pick_name(&self) {
        self.pick(BENCH).await;
    }

    /// Picks another one.
    pub async fn pick(&self, name: &str) {
        self.browser.click(".who summary").await;
        let button = format!(".who button[value='{name}']");
        self.browser.click(&button).await;
        self.browser.find(".who summary b").await;
    }

    /// Fills the form `id` and sends it. A value `✓` ticks or picks.
    pub async fn send(&mut self, id: &str, fields: &[(&str, &str)]) {
        // A form may be folded away.
        let unfold = format!(
            "(() => {{ for (let d = document.getElementById('{id}'); d; d = d.parentElement) \
             if (d.tagName === 'DETAILS') d.open = true; return !!document.getElementById('{id}'); }})()"
        );
        let there = self.browser.js(&unfold).await;
        assert_eq!(
            there,
            Value::Bool(true),
            "no form {id} on {}",
            self.place().await
        );
        for (name, value) in fields {
            self.unfold(id, name).await;
            self.fill(id, name, value).await;
        }
        let button = self.browser.find(&format!("#{id} .buttons button")).await;
        let before = self.browser.find("html").await;
        button.scroll_into_view().await.expect("scrolls");
        button.click().await.expect("sends");
        // The old page is gone when its root is stale.
        for _ in 0..200 {
            if before.tag_name().await.is_err() {
                break;
            }
            tokio::time::sleep(std::time::Duration::from_millis(20)).await;
        }
        self.browser.find("main").await;
        self.steps += 1;
        // The bar that stays in place covers what is scrolled under it; that is not a fault.
        self.browser.js("window.scrollTo(0, 0)").await;
        if self.looks {
            self.browser.assert_no_id_twice().await;
            self.browser.assert_accessible().await;
            self.browser.assert_fits().await;
        }
    }

    /// A field may be folded away inside its form, too.
    async fn unfold(&self, id: &str, name: &str) {
        let name = name.split(['=', '#']).next().unwrap_or(name);
        let unfold = format!(
            "document.querySelectorAll(\"#{id} [name='{name}']\").forEach(field => {{ \
             for (let d = field; d; d = d.parentElement) if (d.tagName === 'DETAILS') d.open = true; }})"
        );
        self.browser.js(&unfold).await;
    }

    async fn fill(&self, id: &str, name: &str, value: &str) {
        if value == "✓" {
            let (name, choice) = name.split_once('=').expect("name=choice");
            let css = format!("#{id} [name='{name}'][value='{choice}']");
            let input = self.browser.find(&css).await;
            if !input.is_selected().await.expect("a choice") {
                input.scroll_into_view().await.expect("scrolls");
                input.click().await.expect("ticks");
            }
            return;
        }
        let (name, nth) = name.split_once('#').unwrap_or((name, "0"));
        let all = By::Css(format!("#{id} [name='{name}']"));
        let found = self.browser.driver.find_all(all).await.expect("fields");
        let nth: usize = nth.parse().expect("a number");
        let field = found
            .get(nth)
            .unwrap_or_else(|| panic!("{id} has no {name} {nth}"));
        if field.tag_name().await.expect("a field") == "select" {
            let option = format!("#{id} [name='{name}'] option[value='{value}']");
            let option = self.browser.find(&option).await;
            option.click().await.expect("chooses");
        } else {
            field.scroll_into_view().await.expect("scrolls");
            field.clear().await.expect("clears");
            field.send_keys(value).await.expect("types");
        }
    }

    /// The mistakes shown beside fields.
    pub async fn errors(&self) -> String {
        let errors = self
            .browser
            .js("[...document.querySelectorAll('p.error')].map(e => e.textContent).join(' | ')")
            .await;
        errors.as_str().unwrap_or_default().to_owned()
    }

    pub async fn text(&self, css: &str) -> String {
        self.browser.find(css).await.text().await.expect("text")
    }

    pub async fn place(&self) -> String {
        self.browser.js("location.href").await.to_string()
    }

    pub async fn stage_is(&self, name: &str) {
        let now = self
            .browser
            .js("document.querySelector('.rule .now b')?.textContent ?? 'none'")
            .await;
        assert_eq!(now, Value::from(name), "errors: {}", self.errors().await);
    }

    /// How many bytes of PDF are behind `path`.
    pub async fn pdf(&self, path: &str) -> u64 {
        let script = format!(
            "const done = arguments[0]; fetch('{path}').then(r => r.arrayBuffer()).then(b => \
             done([b.byteLength, new TextDecoder().decode(b.slice(0, 5))]))"
        );
        let answer = self.browser.driver.execute_async(script, Vec::new()).await;
        let answer = answer.expect("the paper comes").json().clone();
        assert_eq!(answer[1], "%PDF-", "{path}");
        answer[0].as_u64().unwrap_or_default()
    }
}
