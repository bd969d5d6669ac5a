//! A tool that came for a set-up alone: said at the fault stage, instead of a fault that nobody complained of.

use maud::{Markup, html};
use shop::job::Command;

use super::view::View;
use crate::forms::Typed;
use crate::shell::Field;

/// The form's kind.
pub const KIND: &str = "set-up-only";

/// The form; nothing where something speaks against it, unless that is what was refused.
pub fn form(v: &View) -> Markup {
    let form = v.form(KIND);
    let offered = v.job.against_set_up_only(&v.desk).is_none();
    html! {
        @if offered || v.is_refused(KIND) {
            details open[v.is_refused(KIND)] {
                summary { (v.t("set-up-only-summary")) }
                p.hint { (v.t("set-up-only-hint")) }
                (v.wrap(&form, KIND, html! {
                    (form.text(&Field::new("note", v.t("field-note"))))
                }, "button-set-up-only"))
            }
        }
    }
}

/// What stands at the fault stage once it was said; `None` where it was not.
pub fn said(v: &View) -> Option<Markup> {
    let cause = v.job.cause.as_ref().filter(|c| c.body.set_up_only)?;
    Some(html! {
        div.answer {
            p.mid { (v.t("cause-set-up-only")) }
            @if !cause.body.note.is_empty() { p { (cause.body.note) } }
            p.pm { (v.stamp(cause.at, &cause.by)) }
            (super::correct::strike(v, cause.version))
        }
        @if v.job.returned.is_none() { p.hint { (v.t("set-up-only-then")) } }
    })
}

/// The command of the form.
pub fn parse(kind: &str, typed: &Typed) -> Option<Command> {
    (kind == KIND).then(|| Command::SetUpOnly {
        note: typed.get("note").to_owned(),
    })
}
