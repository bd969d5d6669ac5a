//! `blind-rivet-strength`

use calc::rivet_strength::{Class, METHOD, diameters_mm, loads, working};
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{Positive, choices, contract};
use crate::{MethodError, Why};

choices! {
    /// Strength class of the standard.
    enum ClassIn of Class { "L" => Class::L, "H" => Class::H, }
}

contract! {
    /// An open-end blind rivet, body of aluminium alloy, mandrel of steel.
    struct Input {
        /// Nominal diameter of the body.
        diameter_mm: Positive,
        /// Strength class: low or high.
        class: ClassIn,
    }
}

contract! {
    /// Least loads of one rivet in a test fixture.
    struct Output {
        /// Shear.
        shear_N: u64,
        /// Tension.
        tensile_N: u64,
    }
}

/// The contract.
pub(crate) struct BlindRivetStrength;

impl Contract for BlindRivetStrength {
    const METHOD: Method = METHOD;
    const SUMMARY: &'static str = "method-blind-rivet-strength";
    const FORMULA: &'static str = "a table, read by diameter and class";
    const NAMES: &'static [(&'static str, &'static str)] = &[("d", "diameter_mm")];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let diameter = input.diameter_mm.0;
        let Some(found) = loads(diameter, input.class.0)? else {
            let known: Vec<String> = diameters_mm().map(|d| d.to_string()).collect();
            let allowed = known.join(" | ");
            return Err(MethodError::at(
                "diameter_mm",
                diameter,
                Why::NotAllowed { allowed },
            ));
        };
        let out = Output {
            shear_N: u64::from(found.shear_n),
            tensile_N: u64::from(found.tensile_n),
        };
        Ok((out, Some(working(diameter, found))))
    }
}
