//! From a posted form to a command of the shop.

use shop::entry::PersonKey;
use shop::job::{Command, Stage};

use super::view::View;
use super::{agreed, correct, fault, pause, proved, rebuilt, received, returned, set_up};
use crate::forms::{FieldErrors, Typed};

/// Forms by kind, with the stage that they belong to.
const KINDS: &[(&str, Option<Stage>)] = &[
    ("amend-receipt", Some(Stage::Received)),
    ("symptoms", Some(Stage::Fault)),
    ("bench-test", None),
    ("not-safe", Some(Stage::Fault)),
    ("check", Some(Stage::Fault)),
    ("cause", Some(Stage::Fault)),
    ("warranty", Some(Stage::Agreed)),
    ("estimate", Some(Stage::Agreed)),
    ("answer", Some(Stage::Agreed)),
    ("route", Some(Stage::Rebuilt)),
    ("step", Some(Stage::Rebuilt)),
    ("part", Some(Stage::Rebuilt)),
    ("fit", Some(Stage::SetUp)),
    ("stick-out", Some(Stage::SetUp)),
    ("stroke", Some(Stage::SetUp)),
    ("joint", Some(Stage::SetUp)),
    ("set-up-done", Some(Stage::SetUp)),
    ("proof-done", Some(Stage::Proved)),
    ("skip", None),
    ("wait", None),
    ("resume", None),
    ("strike", None),
    ("return", Some(Stage::Returned)),
];

/// Whether there is such a form.
pub fn is_kind(kind: &str) -> bool {
    KINDS.iter().any(|(k, _)| *k == kind)
}

/// Every kind of form.
pub fn kinds() -> impl Iterator<Item = &'static str> {
    KINDS.iter().map(|(kind, _)| *kind)
}

/// The stage that a kind of form belongs to; `None` if it stands in several.
pub fn stage_of(kind: &str) -> Option<Stage> {
    KINDS.iter().find(|(k, _)| *k == kind)?.1
}

/// Names typed into a form or picked at the bench, as keys.
#[derive(Clone, Debug, Default)]
pub struct People {
    /// The name typed into the form.
    pub typed: Option<PersonKey>,
    /// The name picked at the bench.
    pub picked: Option<PersonKey>,
}

/// The field of `kind` that holds a person's name.
pub fn name_field(kind: &str) -> Option<&'static str> {
    match kind {
        "answer" => Some("name"),
        "return" => Some("to"),
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
        .or_else(|| agreed::parse(kind, typed, v, people.typed.clone(), &mut errors))
        .or_else(|| rebuilt::parse(kind, typed, v, &mut errors))
        .or_else(|| set_up::parse(kind, typed, v, &mut errors))
        .or_else(|| proved::parse(kind, typed))
        .or_else(|| returned::parse(kind, typed, people.typed, people.picked))
        .or_else(|| pause::parse(kind, typed, &mut errors))
        .or_else(|| correct::parse(kind, typed));
    match command {
        Some(command) if errors.is_empty() => Ok(command),
        _ => Err(errors),
    }
}
