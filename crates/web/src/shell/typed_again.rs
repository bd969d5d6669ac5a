//! What was typed, when the form that it came from is not at hand.

use maud::{Markup, html};

use super::page::{hidden, names};
use super::{Form, Page};
use crate::forms::Typed;

/// Fields that the server gave with the form: carried along, of no interest to the reader.
const OURS: &[&str] = &["submission", "version", "form"];
/// Never carried along: given anew, or not to be shown.
const NOT_AGAIN: &[&str] = &["csrf", "passphrase", "kind"];

/// Everything typed, as a list to read or copy, and a button that sends it again to `action`. The
/// submission key is the same: what had been stored after all is not stored twice.
pub fn typed_again(p: &Page, action: &str, typed: &Typed) -> Markup {
    let form = Form::blank(p, "typed-again");
    let asks_name = p.visitor.inside && p.visitor.who.is_none() && action != "/who";
    let carried = again(typed).filter(|(name, _)| !(asks_name && *name == "who"));
    html! {
        (typed_list(p, typed))
        form #typed-again method="post" action=(action) {
            (hidden("csrf", &p.visitor.csrf_token))
            @for (name, value) in carried { (hidden(name, value)) }
            @if asks_name { (names(p, &form)) }
            div.buttons { button { (p.t("typed-send")) } }
        }
    }
}

/// Everything typed, as a list to read or copy.
pub(crate) fn typed_list(p: &Page, typed: &Typed) -> Markup {
    let shown =
        again(typed).filter(|(name, value)| !OURS.contains(name) && !value.trim().is_empty());
    html! {
        h2 { (p.t("typed-heading")) }
        dl.facts.typed {
            @for (name, value) in shown {
                dt { (name.replace(['_', '-'], " ")) }
                dd { (value) }
            }
        }
    }
}

fn again(typed: &Typed) -> impl Iterator<Item = (&str, &str)> {
    typed.pairs().filter(|(name, _)| !NOT_AGAIN.contains(name))
}
