//! The working behind a number, in words.

use calc::working::{Given, Working};
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
                .chunk_by(|a, b| (&a.what, a.unit, &a.from) == (&b.what, b.unit, &b.from))
                .filter_map(|alike| given(words, alike))
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

/// Values of one kind in one row: ten readings are a line, not a column.
fn given(words: &Words, alike: &[Given]) -> Option<WorkingGiven> {
    let (first, last) = (alike.first()?, alike.last()?);
    let values: Vec<&str> = alike.iter().map(|given| given.value.as_str()).collect();
    let from = first.from.as_ref().map(|from| words.say(from));
    Some(WorkingGiven {
        symbol: if alike.len() > 1 {
            format!("{} … {}", first.symbol, last.symbol)
        } else {
            first.symbol.to_owned()
        },
        what: words.say(&first.what),
        value: with_unit(&values.join(", "), first.unit),
        from: from.unwrap_or_default(),
    })
}

fn with_unit(value: &str, unit: &str) -> String {
    match unit {
        "" => value.to_owned(),
        unit => format!("{value}\u{a0}{unit}"),
    }
}

#[cfg(test)]
mod tests {
    use calc::repeated::{GaugeDoubt, working};
    use calc::units::Unit;

    use super::*;

    #[test]
    fn readings_of_one_kind_share_a_row_and_none_is_lost() {
        let gauge = GaugeDoubt {
            expanded: 0.03,
            resolution: 0.01,
        };
        let of = |readings: &[f64]| {
            let working = working(readings, gauge, Unit::Millimetre, 2);
            let view = WorkingView::of(Words::english(), "Stick-out", &working);
            (view.given[0].symbol.clone(), view.given[0].value.clone())
        };
        let three = of(&[26.2, 26.15, 26.25]);
        assert_eq!(three.0, "x₁ … x₃");
        assert_eq!(three.1, "26.20, 26.15, 26.25\u{a0}mm");
        assert_eq!(of(&[26.2]).0, "x₁");
    }
}
