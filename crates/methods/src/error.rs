//! Why a method refuses: the field, its value, what is allowed.

use calc::{CalcError, Message};
use serde_json::Value;

/// A refusal.
#[derive(Clone, Debug, PartialEq)]
pub struct MethodError {
    /// Where, as `components[1].half_width`; empty for the input as a whole.
    pub field: String,
    /// What stood there, shortened; empty if nothing did.
    pub value: String,
    /// What is wrong with it.
    pub why: Why,
}

/// What is wrong with a field.
#[derive(Clone, Debug, PartialEq)]
pub enum Why {
    /// It must be there.
    Missing,
    /// There is no such field. The one that was probably meant, if any comes near.
    Unknown {
        /// Nearest name.
        nearest: Option<String>,
    },
    /// It is something else than this.
    Kind {
        /// What it must be.
        needed: Kind,
    },
    /// It is none of these, or not inside these limits.
    NotAllowed {
        /// What is allowed, in signs.
        allowed: String,
    },
    /// There are too few or too many.
    Count {
        /// How many there are.
        have: usize,
        /// How many there must be.
        need: usize,
    },
    /// A table's first column does not increase at this row.
    NotIncreasing {
        /// Row, from 1.
        row: usize,
    },
    /// It does not change, so nothing can be read back from it.
    Flat {
        /// Its symbol.
        input: &'static str,
    },
    /// Its values are all the same, so they have no spread.
    Alike,
    /// What was seen cannot be.
    Impossible,
}

/// What a JSON value can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A number.
    Number,
    /// A whole number from 0.
    Count,
    /// A text.
    Text,
    /// `true` or `false`.
    Truth,
    /// A list.
    List,
    /// Names with values.
    Table,
}

impl MethodError {
    /// A refusal of `value`; the field's name is put on by what reads it.
    pub fn new(value: &Value, why: Why) -> Self {
        Self {
            field: String::new(),
            value: shortened(&value.to_string()),
            why,
        }
    }

    /// A refusal of the field `field`.
    pub fn at(field: impl Into<String>, value: impl ToString, why: Why) -> Self {
        Self {
            field: field.into(),
            value: shortened(&value.to_string()),
            why,
        }
    }

    /// The same, seen from the table in which the field stands under `key`.
    #[must_use]
    pub fn under(mut self, key: &str) -> Self {
        let joint = match self.field.chars().next() {
            None | Some('[') => "",
            Some(_) => ".",
        };
        self.field = format!("{key}{joint}{}", self.field);
        self
    }

    /// The same, seen from the list in which it is item `index`.
    #[must_use]
    pub fn item(self, index: usize) -> Self {
        self.under(&format!("[{index}]"))
    }

    /// With the symbol of a formula replaced by the field that it stands for.
    #[must_use]
    pub(crate) fn renamed(mut self, names: &[(&str, &str)]) -> Self {
        if let Some((_, field)) = names.iter().find(|(symbol, _)| *symbol == self.field) {
            self.field = (*field).to_owned();
        }
        self
    }

    /// What is allowed, in signs: `> 0`, `[0, 1]`, `right | left`; empty where that says nothing.
    pub fn allowed(&self) -> &str {
        match &self.why {
            Why::NotAllowed { allowed } => allowed,
            _ => "",
        }
    }

    /// The refusal as a catalogue text.
    pub fn message(&self) -> Message {
        let field = self.field.as_str();
        let with_field = |id| Message::new(id).with("field", field);
        match &self.why {
            Why::Missing => with_field("method-missing"),
            Why::Unknown { nearest: None } => with_field("method-unknown"),
            Why::Unknown {
                nearest: Some(nearest),
            } => with_field("method-unknown-nearest").with("nearest", nearest.as_str()),
            Why::Kind { needed } if field.is_empty() => {
                Message::new("method-input-kind").with("needed", needed.message())
            }
            Why::Kind { needed } => with_field("method-kind")
                .with("value", self.value.as_str())
                .with("needed", needed.message()),
            Why::NotAllowed { allowed } => with_field("method-not-allowed")
                .with("value", self.value.as_str())
                .with("allowed", allowed.as_str()),
            Why::Count { have, need } => with_field("method-count")
                .with("have", *have)
                .with("need", *need),
            Why::NotIncreasing { row } => with_field("method-not-increasing").with("row", *row),
            Why::Flat { input } => Message::new("calc-flat").with("input", *input),
            Why::Alike => Message::new("calc-alike").with("input", field),
            Why::Impossible => Message::new("calc-impossible"),
        }
    }
}

impl Kind {
    fn message(self) -> Message {
        Message::new(match self {
            Self::Number => "method-kind-number",
            Self::Count => "method-kind-count",
            Self::Text => "method-kind-text",
            Self::Truth => "method-kind-truth",
            Self::List => "method-kind-list",
            Self::Table => "method-kind-table",
        })
    }
}

/// The field is the formula's symbol until the method's own names are put in.
impl From<CalcError> for MethodError {
    fn from(error: CalcError) -> Self {
        match error {
            CalcError::NotFinite { input } => Self::at(
                input,
                "",
                Why::Kind {
                    needed: Kind::Number,
                },
            ),
            CalcError::OutOfRange {
                input,
                value,
                min,
                max,
            } => Self::at(
                input,
                value,
                Why::NotAllowed {
                    allowed: interval(min, max),
                },
            ),
            CalcError::TooFew { input, have, need } => {
                Self::at(input, "", Why::Count { have, need })
            }
            CalcError::NotIncreasing { row } => Self::at("rows", "", Why::NotIncreasing { row }),
            CalcError::Uneven { input, have, need } => {
                Self::at(input, "", Why::Count { have, need })
            }
            CalcError::Flat { input } => Self::at(input, "", Why::Flat { input }),
            CalcError::Alike { input } => Self::at(input, "", Why::Alike),
            CalcError::Impossible => Self::at("", "", Why::Impossible),
        }
    }
}

/// Limits in signs.
pub(crate) fn interval(min: f64, max: f64) -> String {
    let open_low = min == f64::MIN;
    let open_high = max == f64::MAX;
    let above_zero = min == f64::MIN_POSITIVE;
    match (open_low, open_high) {
        (true, true) => "(−∞, ∞)".to_owned(),
        (true, false) => format!("≤ {max}"),
        (false, true) if above_zero => "> 0".to_owned(),
        (false, true) => format!("≥ {min}"),
        (false, false) => {
            let low = if above_zero {
                "(0".to_owned()
            } else {
                format!("[{min}")
            };
            // The largest number below 1 stands for "less than 1".
            let high = if max < 1.0 && 1.0 - max <= f64::EPSILON {
                "1)".to_owned()
            } else {
                format!("{max}]")
            };
            format!("{low}, {high}")
        }
    }
}

/// As much of `text` as a message bears.
fn shortened(text: &str) -> String {
    const MOST: usize = 40;
    match text.char_indices().nth(MOST) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_refusal_carries_its_way_down() {
        let error = MethodError::new(&json!("x"), Why::Missing);
        let error = error.under("half_width").item(1).under("components");
        assert_eq!(error.field, "components[1].half_width");
    }

    #[test]
    fn limits_in_signs() {
        assert_eq!(interval(f64::MIN_POSITIVE, f64::MAX), "> 0");
        assert_eq!(interval(f64::MIN_POSITIVE, 1.0 - f64::EPSILON), "(0, 1)");
        assert_eq!(interval(0.0, 1.0), "[0, 1]");
        assert_eq!(interval(0.0, f64::MAX), "≥ 0");
        assert_eq!(interval(f64::MIN, 3.5), "≤ 3.5");
    }

    #[test]
    fn a_formula_symbol_becomes_the_field() {
        let error = MethodError::from(CalcError::NotFinite { input: "L" });
        let error = error.renamed(&[("L", "wrench_mm")]);
        assert_eq!(error.field, "wrench_mm");
    }

    #[test]
    fn long_values_are_shortened() {
        let error = MethodError::new(&json!("µ".repeat(100)), Why::Missing);
        assert_eq!(error.value.chars().count(), 41);
    }
}
