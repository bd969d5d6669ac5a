//! Pauses, and stages that are not needed.

use maud::{Markup, html};
use shop::entry::WaitFor;
use shop::job::{Command, Stage};

use super::names;
use super::view::View;
use crate::forms::{FieldErrors, Typed};
use crate::shell::{Choice, Field};
use calc::Message;

const WAITS: [(&str, WaitFor); 3] = [
    ("parts", WaitFor::Parts),
    ("yes", WaitFor::Yes),
    ("tool", WaitFor::Tool),
];

/// What the job waits for, or the form that lets it wait.
pub fn waiting(v: &View) -> Markup {
    let form = v.form("wait");
    let choices = WAITS.map(|(key, wait)| Choice::new(key, v.t(names::wait_for(wait))));
    html! {
        @if v.job.returned.is_some() {}
        @else if let Some(w) = &v.job.waiting {
            div.waiting {
                p { span.wait { (v.t(names::wait_for(w.body.wait_for))) } " " (w.body.note) small { (v.stamp(w.at, &w.by)) } }
                (v.wrap(&v.form("resume"), "resume", html! {}, "button-resume"))
            }
        } @else {
            details.waiting open[v.is_refused("wait")] {
                summary { (v.t("wait-summary")) }
                (v.wrap(&form, "wait", html! {
                    (form.radios(&Field::new("for", v.t("field-wait")), &choices))
                    (form.text(&Field::new("note", v.t("field-note"))))
                }, "button-wait"))
            }
        }
    }
}

/// The form that leaves `stage` out.
pub fn skip_form(v: &View, stage: Stage) -> Markup {
    let id = format!("skip-{}", stage.key());
    let form = v.form(&id);
    html! {
        details open[v.is_refused(&id)] {
            summary { (v.t("skip-summary")) }
            (v.wrap(&form, "skip", html! {
                input type="hidden" name="stage" value=(stage.key());
                (form.text(&Field::new("reason", v.t("field-skip-reason"))))
            }, "button-skip"))
        }
    }
}

/// The commands of these forms.
pub fn parse(kind: &str, typed: &Typed, errors: &mut FieldErrors) -> Option<Command> {
    Some(match kind {
        "skip" => Command::Skip {
            stage: Stage::parse(typed.get("stage"))?,
            reason: typed.get("reason").to_owned(),
        },
        "wait" => {
            let Some((_, wait_for)) = WAITS.into_iter().find(|(key, _)| *key == typed.get("for"))
            else {
                errors.add("for", Message::new("refuse-wait"));
                return None;
            };
            Command::Wait {
                wait_for,
                note: typed.get("note").to_owned(),
            }
        }
        "resume" => Command::Resume,
        _ => return None,
    })
}
