//! The kinds of field.

use maud::{Markup, html};

use super::form::{Choice, Field, Form};
use crate::forms::errors::reading_key;
use calc::Message;

impl Form<'_> {
    /// A line of text.
    pub fn text(&self, field: &Field) -> Markup {
        let kind = if field.is_password {
            "password"
        } else {
            "text"
        };
        self.line(field, kind, None)
    }

    /// A measured value: not `type=number`, which swallows what it cannot read.
    pub fn number(&self, field: &Field) -> Markup {
        let mode = (!field.is_signed).then_some("decimal");
        self.line(field, "text", mode)
    }

    /// A whole number.
    pub fn count(&self, field: &Field) -> Markup {
        self.line(field, "text", Some("numeric"))
    }

    fn line(&self, field: &Field, kind: &str, mode: Option<&str>) -> Markup {
        let id = self.field_id(field.name);
        let password = field.is_password.then_some("current-password");
        let shown = if field.is_password {
            ""
        } else {
            self.shown(field)
        };
        let spell = mode.is_some().then_some("false");
        self.around(
            field,
            html! {
                div.box {
                    input #(id) class=[class(field.width)] name=(field.name) type=(kind)
                        inputmode=[mode] spellcheck=[spell] autocomplete=[password]
                        value=(shown) aria-describedby=[self.described(field)]
                        aria-invalid=[self.invalid(field.name)];
                    @if let Some(unit) = field.unit { span.unit { (unit) } }
                }
            },
        )
    }

    /// Several lines of text.
    pub fn area(&self, field: &Field) -> Markup {
        let id = self.field_id(field.name);
        self.around(
            field,
            html! {
                textarea #(id) name=(field.name) rows=(field.rows)
                    aria-describedby=[self.described(field)]
                    aria-invalid=[self.invalid(field.name)]
                    // The parser drops one line break after the tag: this one, not a typed one.
                    { "\n" (self.shown(field)) }
            },
        )
    }

    /// Files from the disk, of the kinds in `accept`.
    pub fn files(&self, field: &Field, accept: &str) -> Markup {
        self.file(field, accept, None)
    }

    /// A photo taken now, where there is a camera.
    pub fn camera(&self, field: &Field) -> Markup {
        self.file(field, "image/*", Some("environment"))
    }

    fn file(&self, field: &Field, accept: &str, capture: Option<&str>) -> Markup {
        let id = self.field_id(field.name);
        // The first file's mistake stands with the field's own.
        let others = (1..).map(|index| reading_key(field.name, index));
        let others = others.map_while(|key| Some((self.field_id(&key), self.error(&key)?)));
        self.around(
            field,
            html! {
                @for (id, error) in others { p.error #(id) { (error) } }
                input #(id) name=(field.name) type="file" accept=(accept) capture=[capture]
                    multiple[capture.is_none()] aria-describedby=[self.described(field)]
                    aria-invalid=[self.invalid(field.name)];
            },
        )
    }

    /// One of several, in a list that opens. The first line is empty unless one is chosen.
    pub fn select(&self, field: &Field, choices: &[Choice]) -> Markup {
        let id = self.field_id(field.name);
        self.around(
            field,
            html! {
                select #(id) name=(field.name) aria-describedby=[self.described(field)]
                    aria-invalid=[self.invalid(field.name)] {
                    option value="" { (self.page.t("select-none")) }
                    @for choice in choices {
                        option value=(choice.value) selected[self.is_chosen(field.name, choice)] {
                            (choice.label)
                        }
                    }
                }
            },
        )
    }

    /// Any of several.
    pub fn ticks(&self, field: &Field, choices: &[Choice]) -> Markup {
        self.choices(field, choices, "checkbox", "ticks")
    }

    /// One of several, all in sight.
    pub fn radios(&self, field: &Field, choices: &[Choice]) -> Markup {
        self.choices(field, choices, "radio", "radios")
    }

    /// One of a few short answers, in one row where they fit.
    pub fn answers(&self, field: &Field, choices: &[Choice]) -> Markup {
        self.choices(field, choices, "radio", "radios few")
    }

    fn choices(&self, field: &Field, choices: &[Choice], kind: &str, list: &str) -> Markup {
        // The first has the field's own id: the field's mistakes lead there. The others must not have the
        // id of a numbered field, such as the second of several questions.
        let id_of = |index: usize| match index {
            0 => self.field_id(field.name),
            _ => format!("{}-choice-{}", self.field_id(field.name), index + 1),
        };
        self.group(
            field,
            1,
            html! {
                div class=(list) {
                    @for (index, choice) in choices.iter().enumerate() {
                        @let id = id_of(index);
                        label for=(id) {
                            input #(id) type=(kind) name=(field.name) value=(choice.value)
                                checked[self.is_chosen(field.name, choice)];
                            span {
                                (choice.label)
                                @if let Some(hint) = &choice.hint { small { (hint) } }
                            }
                        }
                    }
                }
            },
        )
    }

    /// A row of `boxes` readings of one quantity. The caliper's Enter goes to the next; a mistake in
    /// one of them is named by [`reading_key`].
    pub fn readings(&self, field: &Field, boxes: usize) -> Markup {
        let typed: Vec<&str> = self.typed.all(field.name).collect();
        let mode = (!field.is_signed).then_some("decimal");
        let key = |index| reading_key(field.name, index);
        self.group(
            field,
            boxes,
            html! {
                // The first box's mistake stands with the group's own.
                @for index in 1..boxes {
                    @if let Some(error) = self.error(&key(index)) {
                        p.error #{ (self.field_id(&key(index))) "-error" } { (error) }
                    }
                }
                div.readings {
                    @for index in 0..boxes {
                        @let id = self.field_id(&key(index));
                        @let saying = self.page.say(&Message::new("reading-of")
                            .with("n", index + 1).with("of", boxes));
                        div.box {
                            label for=(id) { span.hidden { (field.label) ", " (saying) } }
                            input #(id) name=(field.name) type="text" inputmode=[mode]
                                spellcheck="false" value=(typed.get(index).unwrap_or(&""))
                                data-say=(saying)
                                aria-invalid=[self.invalid(&key(index))]
                                aria-describedby=[self.invalid(&key(index)).map(|_| format!("{id}-error"))];
                        }
                    }
                    @if let Some(unit) = field.unit { span.unit { (unit) } }
                }
                p.live.hidden aria-live="polite" {}
            },
        )
    }

    /// Label, hint and mistake around one box.
    fn around(&self, field: &Field, input: Markup) -> Markup {
        let id = self.field_id(field.name);
        let error = self.error(field.name);
        html! {
            div.field.wrong[error.is_some()] {
                label for=(id) { (field.label) }
                (self.notes(field, error))
                (input)
            }
        }
    }

    /// Legend, hint and mistake around several boxes.
    fn group(&self, field: &Field, boxes: usize, inputs: Markup) -> Markup {
        let error = self.error(field.name);
        let wrong = (0..boxes).any(|i| self.errors.get(&reading_key(field.name, i)).is_some());
        html! {
            fieldset.field.wrong[wrong] aria-describedby=[self.described(field)] {
                legend { (field.label) }
                (self.notes(field, error))
                (inputs)
            }
        }
    }

    fn notes(&self, field: &Field, error: Option<String>) -> Markup {
        let id = self.field_id(field.name);
        html! {
            @if let Some(hint) = &field.hint { p.hint #{ (id) "-hint" } { (hint) } }
            @if let Some(error) = error { p.error #{ (id) "-error" } { (error) } }
        }
    }

    /// The ids of hint and mistake, for `aria-describedby`.
    fn described(&self, field: &Field) -> Option<String> {
        let id = self.field_id(field.name);
        let hint = field.hint.as_ref().map(|_| format!("{id}-hint"));
        let error = self.errors.get(field.name).map(|_| format!("{id}-error"));
        match (hint, error) {
            (Some(hint), Some(error)) => Some(format!("{hint} {error}")),
            (hint, error) => hint.or(error),
        }
    }

    fn invalid(&self, key: &str) -> Option<&'static str> {
        self.errors.get(key).map(|_| "true")
    }
}

fn class(name: &'static str) -> Option<&'static str> {
    Some(name).filter(|name| !name.is_empty())
}
