//! Forms: a label, a hint, what was typed, and what is wrong with it, beside each other.

use calc::Message;
use maud::{Markup, html};
use uuid::Uuid;

use super::Page;
use super::page::{hidden, names};
use crate::forms::{FieldErrors, Typed};

/// A field of a form: its name in the form and its texts.
#[derive(Clone, Debug, Default)]
pub struct Field<'a> {
    pub(super) name: &'a str,
    pub(super) label: String,
    pub(super) hint: Option<String>,
    pub(super) unit: Option<&'a str>,
    pub(super) value: String,
    pub(super) width: &'static str,
    pub(super) rows: usize,
    pub(super) is_signed: bool,
    pub(super) is_password: bool,
}

impl<'a> Field<'a> {
    /// A field under `name` in the form.
    pub fn new(name: &'a str, label: impl Into<String>) -> Self {
        Self {
            name,
            label: label.into(),
            rows: 3,
            ..Self::default()
        }
    }

    /// A line of help under the label.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// The unit behind the box.
    #[must_use]
    pub fn unit(mut self, symbol: &'a str) -> Self {
        self.unit = Some(symbol);
        self
    }

    /// What stands in it before anything was typed.
    #[must_use]
    pub fn value(mut self, value: impl Into<String>) -> Self {
        self.value = value.into();
        self
    }

    /// A narrow box: a few figures.
    #[must_use]
    pub fn short(mut self) -> Self {
        self.width = "short";
        self
    }

    /// How many lines a text area shows.
    #[must_use]
    pub fn rows(mut self, rows: usize) -> Self {
        self.rows = rows;
        self
    }

    /// Can be below zero: number pads of phones have no minus.
    #[must_use]
    pub fn signed(mut self) -> Self {
        self.is_signed = true;
        self
    }

    /// Not shown while typing.
    #[must_use]
    pub fn password(mut self) -> Self {
        self.is_password = true;
        self
    }
}

/// One of several to pick from.
#[derive(Clone, Debug, Default)]
pub struct Choice {
    pub(super) value: String,
    pub(super) label: String,
    pub(super) hint: Option<String>,
    pub(super) is_chosen: bool,
}

impl Choice {
    /// `value` goes into the form, `label` is read.
    pub fn new(value: impl Into<String>, label: impl Into<String>) -> Self {
        Self {
            value: value.into(),
            label: label.into(),
            ..Self::default()
        }
    }

    /// A line of help under the label.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// Chosen before anything was typed.
    #[must_use]
    pub fn chosen(mut self, is_chosen: bool) -> Self {
        self.is_chosen = is_chosen;
        self
    }
}

static NOTHING: Typed = Typed::new();
static NO_ERRORS: FieldErrors = FieldErrors::new();

/// A form on a page. Its `id` keeps the fields of several forms apart, and is posted as `form`.
#[derive(Clone, Copy)]
pub struct Form<'a> {
    pub(super) page: &'a Page,
    pub(super) id: &'a str,
    pub(super) typed: &'a Typed,
    pub(super) errors: &'a FieldErrors,
}

impl<'a> Form<'a> {
    /// A form with what was typed into it and what is wrong with that.
    pub fn new(page: &'a Page, id: &'a str, typed: &'a Typed, errors: &'a FieldErrors) -> Self {
        Self {
            page,
            id,
            typed,
            errors,
        }
    }

    /// A form that nobody has filled in yet.
    pub fn blank(page: &'a Page, id: &'a str) -> Self {
        Self::new(page, id, &NOTHING, &NO_ERRORS)
    }

    /// The `<form>` around `body`: token, submission key, the version of the job that it was shown
    /// for. A form shown again keeps its key: nothing was stored under it.
    pub fn wrap(&self, action: &str, version: Option<u64>, body: Markup) -> Markup {
        self.wrapped(None, action, version, body)
    }

    /// The same around a form that carries files.
    pub fn wrap_files(&self, action: &str, version: Option<u64>, body: Markup) -> Markup {
        self.wrapped(Some("multipart/form-data"), action, version, body)
    }

    fn wrapped(
        &self,
        encoding: Option<&str>,
        action: &str,
        version: Option<u64>,
        body: Markup,
    ) -> Markup {
        let key = Uuid::parse_str(self.typed.get("submission"))
            .unwrap_or_else(|_| Uuid::new_v4())
            .to_string();
        html! {
            form #(self.id) method="post" action=(action) enctype=[encoding] novalidate autocomplete="off" {
                // First: the guard reads no further than this in a form that carries files.
                (hidden("csrf", &self.page.visitor.csrf_token))
                (hidden("submission", &key))
                (hidden("form", self.id))
                @if let Some(version) = version { (hidden("version", &version.to_string())) }
                // Picked and sent in one: going away to pick would lose what was typed.
                @if self.errors.get("who").is_some() { (names(self.page, self)) }
                (body)
            }
        }
    }

    /// The page that it stands on.
    pub fn page(&self) -> &'a Page {
        self.page
    }

    /// Whether something was typed into the field `key`, or is wrong with it.
    pub fn has(&self, key: &str) -> bool {
        self.typed.filled(key).is_some() || self.errors.get(key).is_some()
    }

    /// What was sent of `key`, and what is wrong with it; `None` where nobody has sent the form yet.
    pub fn sent(&self, key: &str) -> Option<(Vec<&'a str>, Option<&'a Message>)> {
        let was_sent = self.typed.filled("submission").is_some();
        was_sent.then(|| (self.typed.all(key).collect(), self.errors.get(key)))
    }

    /// The id of the field `key` on the page.
    pub(super) fn field_id(&self, key: &str) -> String {
        format!("{}-{key}", self.id)
    }

    /// The mistake of `key` in words.
    pub(super) fn error(&self, key: &str) -> Option<String> {
        self.errors.get(key).map(|message| self.page.say(message))
    }

    /// What stands in the box: what was typed, else what is known.
    pub(super) fn shown<'b>(&'b self, field: &'b Field) -> &'b str {
        if self.typed.has(field.name) {
            self.typed.raw(field.name)
        } else {
            &field.value
        }
    }

    /// Whether a choice is chosen: as typed, else as known.
    pub(super) fn is_chosen(&self, name: &str, choice: &Choice) -> bool {
        if self.typed.is_empty() {
            choice.is_chosen
        } else {
            self.typed.ticked(name, &choice.value)
        }
    }
}

/// The list of what to mend, in focus when the page opens; each line leads to its field, in the
/// order in which the fields stand in `body`. Nothing where nothing is wrong. Mistakes of the whole
/// form, and those of a form that is not on the page (an empty `form`), come first and are only said.
pub fn error_summary(p: &Page, form: &str, errors: &FieldErrors, body: &Markup) -> Markup {
    let mut errors: Vec<(&str, &Message)> = errors.iter().collect();
    errors.sort_by_key(|(key, _)| body.0.find(&format!("id=\"{form}-{key}\"")));
    html! {
        @if !errors.is_empty() {
            div.error-summary role="alert" tabindex="-1" autofocus aria-labelledby="error-summary" {
                h2 #error-summary { (p.t("problem-heading")) }
                ul {
                    @for (key, message) in errors {
                        li {
                            @if form.is_empty() || key.is_empty() { (p.say(message)) }
                            @else { a href={ "#" (form) "-" (key) } { (p.say(message)) } }
                        }
                    }
                }
            }
        }
    }
}
