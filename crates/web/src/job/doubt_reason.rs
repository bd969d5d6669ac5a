//! Asks why something goes out although readings are in doubt, and keeps which of them were in sight.

use maud::{Markup, html};
use shop::entry::InDoubt;
use shop::job::Doubted;

use crate::forms::Typed;
use crate::shell::{Field, Form};

/// The field, where anything is in doubt.
pub(super) fn asked(form: &Form, in_doubt: &[InDoubt], field: Field) -> Markup {
    html! {
        @if !in_doubt.is_empty() {
            @for doubt in in_doubt { input type="hidden" name="doubts" value=(doubt.key()); }
            (form.area(&field))
        }
    }
}

/// What was typed into it.
pub(super) fn typed(typed: &Typed) -> Doubted {
    Doubted {
        reason: typed.get("doubt").to_owned(),
        seen: typed.all("doubts").map(str::to_owned).collect(),
    }
}
