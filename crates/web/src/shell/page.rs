//! One page: its frame, and what the frame needs to know.

use std::sync::Arc;

use axum::extract::FromRequestParts;
use axum::http::request::Parts;
use axum::response::Response;
use calc::Message;
use maud::{DOCTYPE, Markup, html};
use words::Words;

use super::{Choice, Field, Form, Nav, error_summary, internal};
use crate::assets;
use crate::forms::{FieldErrors, Typed};
use crate::security::{Guard, Visitor};

/// What a page knows before its handler has done anything: the words, who looks, where.
#[derive(Clone)]
pub struct Page {
    /// The texts of the reader's language.
    pub words: &'static Words,
    /// Who looks at it.
    pub visitor: Visitor,
    /// The place in the navigation that it belongs to.
    pub nav: Option<Nav>,
    /// Path and query under which it was asked for.
    pub path: String,
    people: Arc<[String]>,
    bench: Arc<str>,
    has_door: bool,
    refused: bool,
    holds_form: bool,
}

impl Page {
    pub(crate) fn new(guard: &Guard, visitor: Visitor, path: &str) -> Self {
        Self {
            words: Words::english(),
            visitor,
            nav: None,
            path: path.to_owned(),
            people: guard.people.clone(),
            bench: guard.bench.clone(),
            has_door: guard.has_door(),
            refused: false,
            holds_form: false,
        }
    }

    /// A page for `who` where no browser asks: a scenario that is played.
    pub(crate) fn of_person(guard: &Guard, who: &str) -> Self {
        let visitor = Visitor {
            session: String::new(),
            csrf_token: String::new(),
            who: Some(who.to_owned()),
            inside: true,
        };
        Self::new(guard, visitor, "/")
    }

    /// The same page in its place of the navigation.
    #[must_use]
    pub fn at(mut self, nav: Nav) -> Self {
        self.nav = Some(nav);
        self
    }

    /// The same page with a form on it that was not carried out: leaving it would lose what was typed.
    #[must_use]
    pub(crate) fn holding_form(mut self) -> Self {
        self.holds_form = true;
        self
    }

    /// The same page for the name that came with a form, if it is one of the shop's people.
    #[must_use]
    pub(crate) fn picking(mut self, typed: &Typed) -> Self {
        let name = typed.filled("who");
        if let Some(name) = name.filter(|name| self.people.iter().any(|person| person == name)) {
            self.visitor.who = Some(name.to_owned());
        }
        self
    }

    /// The text `id`.
    pub fn t(&self, id: &str) -> String {
        self.words.text(id)
    }

    /// A text with its values.
    pub fn say(&self, message: &Message) -> String {
        self.words.say(message)
    }
}

impl<S: Send + Sync> FromRequestParts<S> for Page {
    type Rejection = Response;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Response> {
        parts
            .extensions
            .get::<Page>()
            .cloned()
            .ok_or_else(|| internal("the guard does not stand before this route"))
    }
}

/// `body` in the frame of the program. `body` is the content of `<main>`.
pub fn page(p: &Page, title: &str, body: Markup) -> Markup {
    let title = if p.refused {
        p.say(&Message::new("title-error").with("title", title))
    } else {
        title.to_owned()
    };
    html! {
        (DOCTYPE)
        html lang=(p.t("language-tag")) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " · " (p.t("program-name")) }
                link rel="icon" href=(assets::url("icon.svg")) type="image/svg+xml";
                link rel="stylesheet" href=(assets::url("setwright.css"));
                script type="module" src=(assets::url("setwright.js")) {}
                script type="module" src=(assets::url("drafts.js")) {}
            }
            body {
                a.skip href="#main" { (p.t("skip-to-content")) }
                (top(p))
                main #main tabindex="-1" { (body) }
            }
        }
    }
}

/// A page that shows a refused form again: the title says so, and the list of what to mend stands
/// first, in focus.
pub fn page_with_errors(
    p: &Page,
    title: &str,
    form: &str,
    errors: &FieldErrors,
    body: Markup,
) -> Markup {
    let p = Page {
        refused: !errors.is_empty(),
        holds_form: p.holds_form || !errors.is_empty(),
        ..p.clone()
    };
    let body = html! { (error_summary(&p, form, errors, &body)) (body) };
    page(&p, title, body)
}

fn top(p: &Page) -> Markup {
    html! {
        header.top {
            a.mark href="/" { (p.t("program-name")) }
            @if p.visitor.inside {
                nav aria-label=(p.t("nav-label")) {
                    ul {
                        @for nav in Nav::ALL {
                            li {
                                a href=(nav.path())
                                    aria-current=[(p.nav == Some(*nav)).then_some("page")]
                                    { (nav.name(p)) }
                            }
                        }
                    }
                }
                form.find role="search" action="/find" method="get" {
                    label.hidden for="find" { (p.t("find-label")) }
                    input #find name="q" type="search" autocomplete="off" spellcheck="false"
                        placeholder=(p.t("find-hint"));
                    button { (p.t("find-go")) }
                }
                (who(p))
            }
        }
    }
}

/// Bench and name, and the names to pick from. Works without JavaScript.
fn who(p: &Page) -> Markup {
    let name = p.visitor.who.as_deref();
    html! {
        details.who {
            summary {
                @if let Some(name) = name { b { (name) } } @else { b { (p.t("who-nobody")) } }
                @if !p.bench.is_empty() { small { (p.bench) } }
            }
            div.sheet-of-names {
                @if p.people.is_empty() { p { (p.t("who-none")) } }
                @else if p.holds_form { p { (p.t("who-form-first")) } }
                @else {
                    form method="post" action="/who" {
                        (hidden("csrf", &p.visitor.csrf_token))
                        (hidden("back", &p.path))
                        p #who-label { (p.t("who-pick")) }
                        @for person in p.people.iter() {
                            button name="who" value=(person)
                                aria-pressed=(if name == Some(person) { "true" } else { "false" })
                                { (person) }
                        }
                    }
                }
                @if p.has_door {
                    form method="post" action="/logout" {
                        (hidden("csrf", &p.visitor.csrf_token))
                        button.quiet { (p.t("log-out")) }
                    }
                }
            }
        }
    }
}

/// The names to pick from in `form`, to be sent with it.
pub(super) fn names(p: &Page, form: &Form) -> Markup {
    let names: Vec<Choice> = p
        .people
        .iter()
        .map(|name| Choice::new(name, name))
        .collect();
    html! {
        @if names.is_empty() {
            p.note #(form.field_id("who")) { (p.t("who-none")) }
        } @else {
            (form.radios(&Field::new("who", p.t("who-field")).hint(p.t("who-pick")), &names))
        }
    }
}

pub(super) fn hidden(name: &str, value: &str) -> Markup {
    html! { input type="hidden" name=(name) value=(value); }
}
