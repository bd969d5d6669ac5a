//! `student-coverage-factor`

use calc::student::coverage_factor;
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Extended, Share, contract};

contract! {
    /// Which factor.
    struct Input {
        /// Coverage probability, two-sided.
        level: Share,
        /// Degrees of freedom, from 1; inf for the normal factor.
        dof: Extended,
    }
}

contract! {
    /// The factor.
    struct Output {
        /// t.
        factor: f64,
    }
}

/// The contract.
pub(crate) struct StudentFactor;

impl Contract for StudentFactor {
    const METHOD: Method = Method {
        name: "student-coverage-factor",
        version: 1,
        source: "JCGM 100:2008, G.3 and Table G.2",
    };
    const SUMMARY: &'static str = "method-student-coverage-factor";
    const FORMULA: &'static str = "P(|T_ν| ≤ t) = p";
    const NAMES: &'static [(&'static str, &'static str)] = &[("p", "level"), ("ν", "dof")];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let factor = coverage_factor(input.level.0, input.dof.0)?;
        Ok((Output { factor }, None))
    }
}
