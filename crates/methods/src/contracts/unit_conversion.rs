//! `unit-conversion`

use calc::Message;
use calc::units::Unit;
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{UnitSymbol, contract};
use crate::{MethodError, Why};

contract! {
    /// A value and the unit that it is wanted in.
    struct Input {
        /// The value.
        value: f64,
        /// Its unit.
        from: UnitSymbol,
        /// The unit wanted, of the same kind.
        to: UnitSymbol,
    }
}

contract! {
    /// The value in the unit wanted.
    struct Output {
        /// The value.
        value: f64,
        /// Its unit.
        unit: UnitSymbol,
    }
}

/// The contract.
pub(crate) struct UnitConversion;

impl Contract for UnitConversion {
    const METHOD: Method = Method {
        name: "unit-conversion",
        version: 1,
        source: "NIST SP 811 (2008), appendix B.8; exact by definition",
    };
    const SUMMARY: &'static str = "method-unit-conversion";
    const FORMULA: &'static str = "x · f₁ / f₂";
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let (from, to) = (input.from.0, input.to.0);
        let Some(value) = from.convert(input.value, to) else {
            let fitting = Unit::ALL
                .iter()
                .filter(|u| u.dimension() == from.dimension());
            let symbols: Vec<&str> = fitting.map(|u| u.symbol()).collect();
            let allowed = symbols.join(" | ");
            return Err(MethodError::at(
                "to",
                to.symbol(),
                Why::NotAllowed { allowed },
            ));
        };
        let one = from.convert(1.0, to).unwrap_or(1.0);
        let working = Working::new(Self::METHOD)
            .given(
                "x",
                Message::new("given-value"),
                input.value,
                6,
                from.symbol(),
            )
            .given("f", Message::new("given-one-unit"), one, 9, to.symbol())
            .step("y", "x · f", value, 6, to.symbol());
        let unit = UnitSymbol(to);
        Ok((Output { value, unit }, Some(working)))
    }
}
