//! The working behind a number, in words.

use calc::working::Working;
use serde::Serialize;
use words::Words;

/// A working as it is printed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WorkingView {
    /// What it works out.
    pub title: String,
    /// Values that went in.
    pub given: Vec<WorkingGiven>,
    /// Lines of reckoning.
    pub steps: Vec<WorkingStep>,
    /// Assumptions.
    pub notes: Vec<String>,
    /// Name of the method with its version.
    pub method: String,
    /// Where the formula comes from.
    pub source: String,
}

/// A value that went in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WorkingGiven {
    /// Symbol.
    pub symbol: String,
    /// What it is.
    pub what: String,
    /// Value with unit.
    pub value: String,
    /// Where it comes from; empty if it needs no saying.
    pub from: String,
}

/// A line of reckoning.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WorkingStep {
    /// What the line gives.
    pub symbol: String,
    /// The formula in symbols.
    pub formula: String,
    /// The formula with the numbers put in.
    pub filled: String,
    /// Result with unit.
    pub value: String,
}

impl WorkingView {
    /// `working` in the language of `words`, under `title`.
    pub fn of(words: &Words, title: impl Into<String>, working: &Working) -> Self {
        Self {
            title: title.into(),
            given: working
                .given
                .iter()
                .map(|given| WorkingGiven {
                    symbol: given.symbol.to_owned(),
                    what: words.say(&given.what),
                    value: with_unit(&given.value, given.unit),
                    from: given
                        .from
                        .as_ref()
                        .map(|m| words.say(m))
                        .unwrap_or_default(),
                })
                .collect(),
            steps: working
                .steps
                .iter()
                .map(|step| WorkingStep {
                    symbol: step.symbol.to_owned(),
                    formula: step.formula.to_owned(),
                    filled: step.filled.clone(),
                    value: with_unit(&step.value, step.unit),
                })
                .collect(),
            notes: working.notes.iter().map(|m| words.say(m)).collect(),
            method: format!("{} {}", working.method.name, working.method.version),
            source: working.method.source.to_owned(),
        }
    }
}

fn with_unit(value: &str, unit: &str) -> String {
    match unit {
        "" => value.to_owned(),
        unit => format!("{value}\u{a0}{unit}"),
    }
}
