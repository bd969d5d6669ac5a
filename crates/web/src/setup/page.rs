//! The page as a whole: what is set, the measurement, make-safe, the setting, the joints.

use calc::Message;
use calc::working::{fixed, places};
use jiff::tz::TimeZone;
use maud::{Markup, html};
use shop::job::{Desk, SetUpSheets};

use super::choice::Choice;
use super::known::Known;
use super::link::Link;
use super::measure::Asked;
use super::{PATH, send, serial, steps};
use crate::forms::{FieldErrors, Typed};
use crate::shell::{Choice as Item, Field, Form, Page, page_with_errors};

/// What the parts of the page see.
pub struct View<'a> {
    pub p: &'a Page,
    pub typed: &'a Typed,
    pub desk: Desk<'a>,
    /// Time zone of the shop.
    pub zone: &'a TimeZone,
    pub choice: &'a Choice<'a>,
    pub asked: &'a Asked,
    pub link: &'a Link,
    /// What is known of the tool behind a good link.
    pub known: &'a Known,
    /// What stands in the way of the joints that were sent.
    pub sending: Option<&'a FieldErrors>,
    pub is_remembered: bool,
}

/// The form for what is set.
const CHOOSE: &str = "choose";

impl View<'_> {
    /// The text `id`.
    pub fn t(&self, id: &str) -> String {
        self.p.t(id)
    }

    /// A text with values.
    pub fn say(&self, message: &Message) -> String {
        self.p.say(message)
    }

    /// The page.
    pub fn whole(&self) -> Markup {
        let sheets = self.choice.sheets();
        let title = match &sheets {
            Some(s) => self.title(s),
            None => self.t("crew-title"),
        };
        let body = html! {
            div.plain.narrow {
                h1 { (title) }
                (self.tool())
                (self.link_said())
                (self.sent())
                @match &sheets {
                    Some(s) => {
                        (steps::steps(self, s))
                        details { summary { (self.t("crew-other")) } (self.choose()) }
                    }
                    None => {
                        p { (self.t("crew-what-for")) }
                        (self.choose())
                    }
                }
            }
        };
        // What was sent comes first: whether it was stored is what matters most.
        let (form, errors) = match self.sending {
            Some(errors) if body.0.contains("<form id=\"joints\"") => (send::JOINTS, errors),
            Some(errors) => ("", errors),
            None if !self.choice.errors.is_empty() => (CHOOSE, &self.choice.errors),
            None => (steps::MEASURE, &self.asked.errors),
        };
        page_with_errors(self.p, &title, form, errors, body)
    }

    fn title(&self, s: &SetUpSheets) -> String {
        let code = s
            .code
            .map(|code| Message::new("code-of").with("code", code.code.as_str()));
        let name = s.fastener.name.clone();
        code.map_or(name.clone(), |code| format!("{name}, {}", self.say(&code)))
    }

    /// The tool, as far as it is known.
    fn tool(&self) -> Markup {
        let nose = self.choice.nose.filter(|_| self.choice.sheets().is_some());
        html! {
            @if let Some(model) = self.choice.model {
                p.kick {
                    @match serial(self.typed) {
                        Some(serial) => {
                            (self.say(&Message::new("job-tool").with("model", model.name.as_str()).with("serial", serial)))
                        }
                        None => { (model.name) }
                    }
                    @if let Some(nose) = nose { " · " (nose.name) }
                }
            }
            @if self.is_remembered { p.hint { (self.t("crew-remembered")) } }
        }
    }

    /// A link that is not good, before the answer that does without it.
    fn link_said(&self) -> Markup {
        match self.link {
            Link::Void(_) => html! { p.warn { (self.t("crew-link-void-top")) } },
            Link::Wrong => html! { p.warn { (self.t("crew-link-wrong-top")) } },
            Link::Holds(_) if self.known.has_newer_card => {
                html! { p.warn { (self.t("crew-newer-card")) } }
            }
            Link::None | Link::Holds(_) => html! {},
        }
    }

    /// Whether a bad joint was sent just now.
    pub fn was_bad(&self) -> bool {
        self.typed.get("sent") == send::BAD && self.link.held().is_some()
    }

    /// What was sent last; after a bad joint, what to do now.
    fn sent(&self) -> Markup {
        if !self.typed.has("sent") || self.link.held().is_none() {
            return html! {};
        }
        html! {
            @if self.was_bad() {
                div.answer.no {
                    p.big { (self.t("crew-stop")) }
                    p { (self.t("crew-sent-bad")) }
                    p.hint { (self.t("crew-bad-joint-left")) }
                }
                @if self.typed.has(send::LEFT_OUT) { p.note { (self.t("crew-stick-out-left-out")) } }
            } @else { p.note.ok { (self.t("crew-sent")) } }
        }
    }

    /// What can be picked next; everything before it can be changed.
    fn choose(&self) -> Markup {
        let c = self.choice;
        let form = Form::new(self.p, CHOOSE, self.typed, &c.errors);
        let none = FieldErrors::new();
        let plain = Form::new(self.p, CHOOSE, self.typed, &none);
        let form = if c.errors.is_empty() { plain } else { form };
        let models: Vec<Item> = c
            .models
            .iter()
            .map(|m| {
                Item::new(&m.id, &m.name).chosen(c.model.is_some_and(|model| model.id == m.id))
            })
            .collect();
        let fasteners: Vec<Item> = c
            .fasteners
            .iter()
            .map(|f| Item::new(&f.id, &f.name).chosen(c.fastener.is_some_and(|one| one.id == f.id)))
            .collect();
        let noses: Vec<Item> = c
            .noses
            .iter()
            .map(|n| Item::new(&n.id, &n.name).chosen(c.nose.is_some_and(|nose| nose.id == n.id)))
            .collect();
        let codes: Vec<Item> = c.fastener.map_or(Vec::new(), |f| {
            f.codes
                .iter()
                .map(|code| {
                    let decimals = places(code.min_mm, 1).max(places(code.max_mm, 1));
                    let label = Message::new("crew-code")
                        .with("code", code.code.as_str())
                        .with("min", fixed(code.min_mm, decimals))
                        .with("max", fixed(code.max_mm, decimals));
                    Item::new(&code.code, self.say(&label))
                        .chosen(c.code.is_some_and(|one| one.code == code.code))
                })
                .collect()
        });
        html! {
            form #(CHOOSE) method="get" action=(PATH) autocomplete="off" {
                @if let Some(serial) = serial(self.typed) { input type="hidden" name="tool" value=(serial); }
                @if c.models.is_empty() { p.empty { (self.t("crew-no-sheets")) } }
                @else {
                    (form.select(&Field::new("model", self.t("crew-tool")), &models))
                    @if c.model.is_some() {
                        @if fasteners.is_empty() { p.note { (self.t("crew-no-fastener")) } }
                        @else { (form.select(&Field::new("fastener", self.t("field-fastener")), &fasteners)) }
                    }
                    @if !codes.is_empty() {
                        (form.select(&Field::new("code", self.t("field-code")).hint(self.t("crew-code-hint")), &codes))
                    }
                    @if noses.len() > 1 || c.errors.get("nose").is_some() {
                        (form.select(&Field::new("nose", self.t("field-nose")), &noses))
                    }
                    div.buttons { button { (self.t("crew-next")) } }
                }
            }
        }
    }
}
