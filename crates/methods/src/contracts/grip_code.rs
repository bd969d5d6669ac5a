//! `grip-code-select`, `grip-code-range`

use calc::grip_code::{self, RANGE, SELECT};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Positive, contract};

contract! {
    /// A stack to be joined.
    struct SelectInput {
        /// Its thickness.
        thickness_mm: Positive,
    }
}

contract! {
    /// The codes that suit it.
    struct SelectOutput {
        /// One code, or two on the boundary between them.
        codes: Vec<u64>,
    }
}

/// The contract.
pub(crate) struct GripSelect;

impl Contract for GripSelect {
    const METHOD: Method = SELECT;
    const SUMMARY: &'static str = "method-grip-code-select";
    const FORMULA: &'static str = "n = ⌊16 · t / 25.4 + 1/2⌋";
    const NAMES: &'static [(&'static str, &'static str)] = &[("t", "thickness_mm")];
    type In = SelectInput;
    type Out = SelectOutput;

    fn compute(input: &SelectInput) -> Result<(SelectOutput, Option<Working>), MethodError> {
        let thickness = input.thickness_mm.0;
        let codes = grip_code::codes(thickness)?;
        let codes = codes.into_iter().map(u64::from).collect();
        Ok((SelectOutput { codes }, Some(grip_code::working(thickness)?)))
    }
}

contract! {
    /// A grip code.
    struct RangeInput {
        /// Sixteenths of an inch.
        code: u64,
    }
}

contract! {
    /// What it is made for.
    struct RangeOutput {
        /// Thinnest stack.
        min_mm: f64,
        /// Thickest stack.
        max_mm: f64,
    }
}

/// The contract.
pub(crate) struct GripRange;

impl Contract for GripRange {
    const METHOD: Method = RANGE;
    const SUMMARY: &'static str = "method-grip-code-range";
    const FORMULA: &'static str = "(n ± 1/2) · 25.4 / 16";
    const NAMES: &'static [(&'static str, &'static str)] = &[("n", "code")];
    type In = RangeInput;
    type Out = RangeOutput;

    fn compute(input: &RangeInput) -> Result<(RangeOutput, Option<Working>), MethodError> {
        let code = u32::try_from(input.code).unwrap_or(u32::MAX);
        let (min_mm, max_mm) = grip_code::range_mm(code)?;
        Ok((RangeOutput { min_mm, max_mm }, None))
    }
}
