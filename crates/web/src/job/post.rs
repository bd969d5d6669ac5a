//! From a posted form to a command of the shop.

use calc::Message;
use shop::entry::PersonKey;
use shop::job::Command;

use super::view::View;
use super::{
    agreed, certificate, correct, ends, fault, pause, proved, rebuilt, received, returned, set_up,
    set_up_only,
};
use crate::forms::{FieldErrors, Typed};
use crate::pulls;

/// Every kind of form.
const KINDS: &[&str] = &[
    "amend-receipt",
    "symptoms",
    "bench-test",
    "found-joint",
    "pulls",
    "not-safe",
    "clear-energy",
    "check",
    "closed-again",
    "cause",
    "set-up-only",
    "warranty",
    "estimate",
    "answer",
    "route",
    "step",
    "clock",
    "part",
    "fit",
    "stick-out",
    "stroke",
    "joint",
    "set-up-done",
    "proof-done",
    "skip",
    "wait",
    "resume",
    "strike",
    "certificate",
    "certificate-authorise",
    "return",
    "scrap",
    "send",
];

/// Whether there is such a form.
pub fn is_kind(kind: &str) -> bool {
    KINDS.contains(&kind)
}

/// Every kind of form.
pub fn kinds() -> impl Iterator<Item = &'static str> {
    KINDS.iter().copied()
}

/// Names typed into a form or picked at the bench, as keys.
#[derive(Clone, Debug, Default)]
pub struct People {
    /// The name typed into the form.
    pub typed: Option<PersonKey>,
    /// A second name typed into it.
    pub second: Option<PersonKey>,
    /// The name picked at the bench.
    pub picked: Option<PersonKey>,
}

/// The field of `kind` that holds a person's name.
pub fn name_field(kind: &str) -> Option<&'static str> {
    match kind {
        "answer" => Some("name"),
        "return" | "scrap" | "send" => Some("to"),
        "step" => Some("override"),
        _ => None,
    }
}

/// The field of `kind` that holds a second name.
pub fn second_name_field(kind: &str) -> Option<&'static str> {
    match kind {
        "answer" => Some("heard"),
        "scrap" => Some("witness"),
        _ => None,
    }
}

/// The command that a form asks for.
///
/// # Errors
/// Every field that cannot be read.
pub fn command(
    kind: &str,
    typed: &Typed,
    v: &View,
    people: People,
) -> Result<Command, FieldErrors> {
    let mut errors = FieldErrors::new();
    let command = received::parse(kind, typed, v, &mut errors)
        .or_else(|| fault::parse(kind, typed, v, &mut errors))
        .or_else(|| pulls::parse(kind, typed, v, &mut errors))
        .or_else(|| set_up_only::parse(kind, typed))
        .or_else(|| agreed::parse(kind, typed, v, &people, &mut errors))
        .or_else(|| rebuilt::parse(kind, typed, v, people.typed.clone(), &mut errors))
        .or_else(|| set_up::parse(kind, typed, v, &mut errors))
        .or_else(|| proved::parse(kind, typed))
        .or_else(|| certificate::parse(kind, typed, v, &people, &mut errors))
        .or_else(|| ends::parse(kind, typed, &people))
        .or_else(|| returned::parse(kind, typed, people.typed, people.picked))
        .or_else(|| pause::parse(kind, typed, &mut errors))
        .or_else(|| correct::parse(kind, typed));
    match command {
        Some(command) if errors.is_empty() => Ok(command),
        _ => {
            // A form that the job as it is now has no place for.
            if errors.is_empty() {
                errors.add("", Message::new("refuse-not-now"));
            }
            Err(errors)
        }
    }
}
