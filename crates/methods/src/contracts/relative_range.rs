//! `relative-range`

use calc::spread;
use calc::units::Unit;
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{UnitSymbol, contract};

contract! {
    /// Repeated readings, all in one unit.
    struct Input {
        /// The readings.
        readings: Vec<f64>,
        /// Their unit, for the working.
        unit: UnitSymbol = UnitSymbol(Unit::Kilonewton),
    }
}

contract! {
    /// How far they lie apart.
    struct Output {
        /// Highest less lowest, in percent of the mean.
        range_percent: f64,
    }
}

/// The contract.
pub(crate) struct RelativeRange;

impl Contract for RelativeRange {
    const METHOD: Method = spread::METHOD;
    const SUMMARY: &'static str = "method-relative-range";
    const FORMULA: &'static str = "d = (x_max − x_min) / |x̄| · 100";
    const NAMES: &'static [(&'static str, &'static str)] = &[("x", "readings"), ("x̄", "readings")];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let range_percent = spread::percent(&input.readings)?;
        let working = spread::working(&input.readings, input.unit.0, 3);
        Ok((Output { range_percent }, working))
    }
}
