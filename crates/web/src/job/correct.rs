//! Striking an entry: a small form beside it, and the list of what was struck.

use calc::Message;
use maud::{Markup, html};
use shop::job::Command;

use super::view::View;
use crate::forms::Typed;
use crate::shell::Field;

/// The form that strikes entry `version`; nothing where later work stands on it.
pub fn strike(v: &View, version: u32) -> Markup {
    if !v.job.may_strike(version) {
        return html! {};
    }
    let id = format!("strike-{version}");
    let form = v.form(&id);
    html! {
        details.strike open[v.is_refused(&id)] {
            summary { (v.t("strike-summary")) }
            (v.wrap(&form, "strike", html! {
                input type="hidden" name="entry" value=(version);
                (form.text(&Field::new("reason", v.t("field-strike-reason"))))
            }, "button-strike"))
        }
    }
}

/// What was struck in this job, and why.
pub fn struck(v: &View) -> Markup {
    html! {
        @if !v.job.struck.is_empty() {
            details.struck {
                summary {
                    (v.say(&Message::new("struck-summary").with("count", v.job.struck.len())))
                }
                ul {
                    @for (entry, by) in &v.job.struck {
                        li {
                            s { (super::log::line(v, entry)) }
                            " " (by.body.reason)
                            small { (v.stamp(by.at, &by.by)) }
                        }
                    }
                }
            }
        }
    }
}

/// The command of the form.
pub fn parse(kind: &str, typed: &Typed) -> Option<Command> {
    (kind == "strike").then(|| Command::Strike {
        version: typed.get("entry").parse().unwrap_or(0),
        reason: typed.get("reason").to_owned(),
    })
}
