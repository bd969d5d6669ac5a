//! Why a calculation refuses.

use crate::Message;

/// A refusal: what was wrong with which input. Never NaN, never a guess.
#[derive(Clone, Debug, PartialEq)]
pub enum CalcError {
    /// An input is NaN or infinite.
    NotFinite {
        /// The input's symbol.
        input: &'static str,
    },
    /// An input lies outside what the method is made for.
    OutOfRange {
        /// The input's symbol.
        input: &'static str,
        /// Its value.
        value: f64,
        /// Smallest value allowed.
        min: f64,
        /// Largest value allowed.
        max: f64,
    },
    /// Fewer values than the method needs.
    TooFew {
        /// The input's symbol.
        input: &'static str,
        /// How many there are.
        have: usize,
        /// How many are needed.
        need: usize,
    },
    /// A table's first column does not increase strictly.
    NotIncreasing {
        /// Row (from 1) that does not exceed the one before.
        row: usize,
    },
    /// A column that has not one value for each of another.
    Uneven {
        /// The column's symbol.
        input: &'static str,
        /// Its length.
        have: usize,
        /// The length of the other.
        need: usize,
    },
    /// A line without slope, from which nothing can be read back.
    Flat {
        /// The symbol of what does not change.
        input: &'static str,
    },
    /// Values that are all the same, where their spread is asked for.
    Alike {
        /// The values' symbol.
        input: &'static str,
    },
    /// Evidence that no hypothesis allows.
    Impossible,
}

impl CalcError {
    /// The refusal as a catalogue text.
    pub fn message(&self) -> Message {
        match *self {
            Self::NotFinite { input } => Message::new("calc-not-finite").with("input", input),
            Self::OutOfRange {
                input,
                value,
                min,
                max,
            } => Message::new("calc-out-of-range")
                .with("input", input)
                .number("value", value, 3)
                .number("min", min, 3)
                .number("max", max, 3),
            Self::TooFew { input, have, need } => Message::new("calc-too-few")
                .with("input", input)
                .with("have", have)
                .with("need", need),
            Self::NotIncreasing { row } => Message::new("calc-not-increasing").with("row", row),
            Self::Uneven { input, have, need } => Message::new("calc-uneven")
                .with("input", input)
                .with("have", have)
                .with("need", need),
            Self::Flat { input } => Message::new("calc-flat").with("input", input),
            Self::Alike { input } => Message::new("calc-alike").with("input", input),
            Self::Impossible => Message::new("calc-impossible"),
        }
    }
}

/// `value`, or a refusal if it is NaN, infinite or outside `min..=max`.
pub(crate) fn within(
    input: &'static str,
    value: f64,
    min: f64,
    max: f64,
) -> Result<f64, CalcError> {
    if !value.is_finite() {
        return Err(CalcError::NotFinite { input });
    }
    if value < min || value > max {
        return Err(CalcError::OutOfRange {
            input,
            value,
            min,
            max,
        });
    }
    Ok(value)
}
