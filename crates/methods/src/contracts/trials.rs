//! `zero-failure-share`, `zero-failure-sample-size`, `demonstration-sample-size`

use calc::working::{Method, Working};
use calc::{demonstration, zero_failure};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Share, contract};

contract! {
    /// Good ones in a row.
    struct ShareInput {
        /// How many.
        count: u64,
        /// Confidence.
        confidence: Share = Share(0.95),
    }
}

contract! {
    /// What they prove.
    struct ShareOutput {
        /// The share of good ones is at least this.
        share: f64,
    }
}

/// The contract.
pub(crate) struct ZeroFailureShare;

impl Contract for ZeroFailureShare {
    const METHOD: Method = zero_failure::METHOD;
    const SUMMARY: &'static str = "method-zero-failure-share";
    const FORMULA: &'static str = "p = (1 − C)^(1 / n)";
    const NAMES: &'static [(&'static str, &'static str)] = &[("n", "count"), ("C", "confidence")];
    type In = ShareInput;
    type Out = ShareOutput;

    fn compute(input: &ShareInput) -> Result<(ShareOutput, Option<Working>), MethodError> {
        let n = usize::try_from(input.count).unwrap_or(usize::MAX);
        let share = zero_failure::proven_share(n, input.confidence.0)?;
        // The shop works at 95 %, so that is what the working is written for.
        let usual = input.confidence.0 == 0.95;
        Ok((
            ShareOutput { share },
            usual.then(|| zero_failure::working(n)),
        ))
    }
}

contract! {
    /// A share to be proved without a failure.
    struct SizeInput {
        /// Share of good ones.
        share: Share,
        /// Confidence.
        confidence: Share = Share(0.95),
    }
}

contract! {
    /// How many it takes.
    struct SizeOutput {
        /// Trials.
        count: u64,
    }
}

/// The contract.
pub(crate) struct ZeroFailureSize;

impl Contract for ZeroFailureSize {
    const METHOD: Method = zero_failure::SAMPLE_SIZE;
    const SUMMARY: &'static str = "method-zero-failure-sample-size";
    const FORMULA: &'static str = "n = ⌈ln(1 − C) / ln(R)⌉";
    const NAMES: &'static [(&'static str, &'static str)] = &[("R", "share"), ("C", "confidence")];
    type In = SizeInput;
    type Out = SizeOutput;

    fn compute(input: &SizeInput) -> Result<(SizeOutput, Option<Working>), MethodError> {
        let (share, confidence) = (input.share.0, input.confidence.0);
        let count = zero_failure::sample_size(share, confidence)?;
        let working = zero_failure::sample_size_working(share, confidence)?;
        Ok((SizeOutput { count }, Some(working)))
    }
}

contract! {
    /// A share to be shown with some failures allowed.
    struct DemonstrationInput {
        /// Share of good ones.
        share: Share,
        /// Confidence.
        confidence: Share = Share(0.95),
        /// Failures that may occur.
        failures: u64,
    }
}

/// The contract.
pub(crate) struct DemonstrationSize;

impl Contract for DemonstrationSize {
    const METHOD: Method = demonstration::METHOD;
    const SUMMARY: &'static str = "method-demonstration-sample-size";
    const FORMULA: &'static str = "Σ C(n, i) · (1 − R)^i · R^(n − i) ≤ 1 − C, i = 0 … f";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("R", "share"),
        ("C", "confidence"),
        ("f", "failures"),
        // More trials than are looked for: the share is too near to 1.
        ("n", "share"),
    ];
    type In = DemonstrationInput;
    type Out = SizeOutput;

    fn compute(input: &DemonstrationInput) -> Result<(SizeOutput, Option<Working>), MethodError> {
        let failures = usize::try_from(input.failures).unwrap_or(usize::MAX);
        let count = demonstration::sample_size(input.share.0, input.confidence.0, failures)?;
        Ok((SizeOutput { count }, None))
    }
}
