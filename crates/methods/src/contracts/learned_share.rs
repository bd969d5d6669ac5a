//! `learned-share`

use calc::learned_share::{self, Cases};
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{Positive, contract};
use crate::{MethodError, Why};

contract! {
    /// What the sheet states, and what was counted.
    struct Input {
        /// Share as the sheet states it, 0 to 1.
        prior: f64,
        /// Cases that the sheet's share counts as.
        weight: Positive,
        /// Own cases in which it was so.
        yes: u64,
        /// Own cases.
        all: u64,
    }
}

contract! {
    /// The share after them.
    struct Output {
        /// Its mean.
        share: f64,
        /// Its standard deviation.
        deviation: f64,
    }
}

/// The contract.
pub(crate) struct LearnedShare;

impl Contract for LearnedShare {
    const METHOD: Method = learned_share::METHOD;
    const SUMMARY: &'static str = "method-learned-share";
    const FORMULA: &'static str = "p = (w · p0 + k) / (w + n); s = √(p · (1 − p) / (w + n + 1))";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("p0", "prior"), ("w", "weight"), ("k", "yes"), ("n", "all")];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let count = |field, n: u64| {
            u32::try_from(n).map_err(|_| {
                let allowed = format!("0 … {}", u32::MAX);
                MethodError::at(field, n.to_string(), Why::NotAllowed { allowed })
            })
        };
        let own = Cases {
            yes: count("yes", input.yes)?,
            all: count("all", input.all)?,
        };
        let learned = learned_share::learned_share(input.prior, input.weight.0, own)?;
        let working = learned_share::working(input.prior, input.weight.0, own)?;
        let out = Output {
            share: learned.share,
            deviation: learned.deviation,
        };
        Ok((out, Some(working)))
    }
}
