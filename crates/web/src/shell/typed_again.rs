//! What was typed, when the form that it came from is not at hand.

use maud::{Markup, html};

use super::Page;
use super::page::hidden;
use crate::forms::Typed;

/// Fields that the server gave with the form: carried along, of no interest to the reader.
const OURS: &[&str] = &["submission", "version", "form"];
/// Never carried along: given anew, or not to be shown.
const NOT_AGAIN: &[&str] = &["csrf", "passphrase"];

/// Everything typed, as a list to read or copy, and a button that sends it again to `action`. The
/// submission key is the same: what had been stored after all is not stored twice.
pub fn typed_again(p: &Page, action: &str, typed: &Typed) -> Markup {
    let again = || typed.pairs().filter(|(name, _)| !NOT_AGAIN.contains(name));
    let shown = again().filter(|(name, value)| !OURS.contains(name) && !value.trim().is_empty());
    html! {
        h2 { (p.t("typed-heading")) }
        dl.facts.typed {
            @for (name, value) in shown {
                dt { (name.replace(['_', '-'], " ")) }
                dd { (value) }
            }
        }
        form method="post" action=(action) {
            (hidden("csrf", &p.visitor.csrf_token))
            @for (name, value) in again() { (hidden(name, value)) }
            div.buttons { button { (p.t("typed-send")) } }
        }
    }
}
