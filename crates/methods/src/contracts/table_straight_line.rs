//! `table-straight-line`

use calc::interpolation::{METHOD, linear};
use calc::working::{Method, Working};
use calc::{CalcError, Message};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{choices, contract};

choices! {
    /// What to do with a value outside the table.
    enum Outside of bool { "refuse" => false, "clamp" => true, }
}

contract! {
    /// A table and where it is read.
    struct Input {
        /// Rows [x, y], x strictly increasing; any units, the same in a column.
        rows: Vec<(f64, f64)>,
        /// The x that is asked for, in the unit of the first column.
        at: f64,
        /// Outside the table: refuse, or take the end row (clamp) and say so.
        outside: Outside = Outside(false),
    }
}

contract! {
    /// What the line gives there.
    struct Output {
        /// y on the straight line, in the unit of the second column.
        value: f64,
        /// Change of y per x there.
        slope: f64,
        /// Row [x, y] at or below.
        below: (f64, f64),
        /// Row [x, y] above.
        above: (f64, f64),
        /// Whether the x asked for lies in the table.
        inside: bool,
    }
}

/// The contract.
pub(crate) struct TableStraightLine;

impl Contract for TableStraightLine {
    const METHOD: Method = METHOD;
    const SUMMARY: &'static str = "method-table-straight-line";
    const FORMULA: &'static str = "y = y₁ + (x − x₁) · (y₂ − y₁) / (x₂ − x₁)";
    const NAMES: &'static [(&'static str, &'static str)] = &[("x", "at")];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let (at, inside) = match linear(&input.rows, input.at) {
            Err(CalcError::OutOfRange { min, max, .. }) if input.outside.0 => {
                (input.at.clamp(min, max), false)
            }
            _ => (input.at, true),
        };
        let b = linear(&input.rows, at)?;
        let out = Output {
            value: b.value,
            slope: b.slope,
            below: b.below,
            above: b.above,
            inside,
        };
        let row = |i: usize| Message::new("given-row").with("row", i);
        let working = Working::new(METHOD)
            .given("x", Message::new("given-at"), at, 3, "")
            .given("x₁", row(1), b.below.0, 3, "")
            .given("y₁", row(1), b.below.1, 3, "")
            .given("x₂", row(2), b.above.0, 3, "")
            .given("y₂", row(2), b.above.1, 3, "")
            .step("k", "(y₂ − y₁) / (x₂ − x₁)", b.slope, 4, "")
            .step("y", "y₁ + (x − x₁) · k", b.value, 3, "");
        Ok((out, Some(working)))
    }
}
