//! Asks why something goes out although readings are in doubt, and keeps which of them were in sight.

use calc::message::Arg;
use maud::{Markup, html};
use shop::entry::InDoubt;
use shop::job::Doubted;

use crate::forms::Typed;
use crate::shell::{Field, Form};

/// The field, where anything is in doubt.
pub(super) fn asked(form: &Form, in_doubt: &[InDoubt], field: Field) -> Markup {
    html! {
        @if !in_doubt.is_empty() {
            @for key in in_sight(form, in_doubt) { input type="hidden" name="doubts" value=(key); }
            (form.area(&field))
        }
    }
}

/// The doubts that whoever sends the form has been told of: those on the page when it was opened; once it was sent, those
/// of then, and the one that was named since.
fn in_sight(form: &Form, in_doubt: &[InDoubt]) -> Vec<String> {
    let all = in_doubt.iter().map(InDoubt::key);
    let Some((seen, _)) = form.sent("doubts") else {
        return all.collect();
    };
    let named = form.sent("doubt").and_then(|(_, message)| message);
    let named = named.filter(|message| message.id == "refuse-doubt-unseen");
    let named = named.and_then(|message| message.args.iter().find(|(name, _)| *name == "key"));
    let is_named =
        |key: &String| named.is_some_and(|(_, arg)| matches!(arg, Arg::Text(text) if text == key));
    all.filter(|key| seen.contains(&key.as_str()) || is_named(key))
        .collect()
}

/// What was typed into it.
pub(super) fn typed(typed: &Typed) -> Doubted {
    Doubted {
        reason: typed.get("doubt").to_owned(),
        seen: typed.all("doubts").map(str::to_owned).collect(),
    }
}
