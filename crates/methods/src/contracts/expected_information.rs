//! `expected-information`

use calc::bayes::posterior;
use calc::information::{self, expected};
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{NotNegative, Share, contract};
use crate::{MethodError, Why};

contract! {
    /// Rival faults and a yes/no check.
    struct Input {
        /// Weight of each fault now, on any scale.
        weights: Vec<NotNegative>,
        /// Chance that the check says yes, for each fault.
        yes: Vec<Share>,
    }
}

contract! {
    /// What the check is expected to tell.
    struct Output {
        /// How open the question is now (entropy).
        open_bits: f64,
        /// By how much the check is expected to close it.
        expected_bits: f64,
        /// Chance that it says yes.
        yes_probability: f64,
    }
}

/// The contract.
pub(crate) struct ExpectedInformation;

impl Contract for ExpectedInformation {
    const METHOD: Method = information::METHOD;
    const SUMMARY: &'static str = "method-expected-information";
    const FORMULA: &'static str = "H(p) − P(yes) · H(p | yes) − P(no) · H(p | no)";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("prior", "weights"), ("hypotheses", "weights")];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let weights: Vec<f64> = input.weights.iter().map(|w| w.0).collect();
        let yes: Vec<f64> = input.yes.iter().map(|y| y.0).collect();
        let (have, need) = (yes.len(), weights.len());
        if have != need {
            return Err(MethodError::at("yes", "", Why::Count { have, need }));
        }
        let p = posterior(&weights, &vec![0.0; need])?;
        let worth = expected(&p, &yes);
        let out = Output {
            open_bits: worth.open,
            expected_bits: worth.bits,
            yes_probability: worth.yes,
        };
        Ok((out, Some(worth.working())))
    }
}
