//! Weighing rival hypotheses by evidence.
//!
//! # Formula
//! Posterior ∝ prior × Π likelihoods, summed in logarithms so that many rare observations do not
//! underflow.
//!
//! # Source
//! Bayes' theorem. Check values: Mitchell, *Machine Learning* (1997) 6.9.1 (from memory);
//! Lauritzen & Spiegelhalter (1988) and exact enumeration in numpy for the rest.

use crate::error::{CalcError, within};
use crate::noisy_or::absent;
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "single-fault-posterior",
    version: 1,
    source: "Bayes' theorem over one fault at a time, noisy-OR links with leak",
};

/// Posterior probabilities from `prior` weights (any positive scale) and, for each hypothesis, the
/// sum of the log likelihoods of what was seen.
///
/// # Errors
/// No hypothesis, lengths that differ, a negative prior, or evidence that rules everything out.
pub fn posterior(prior: &[f64], log_likelihood: &[f64]) -> Result<Vec<f64>, CalcError> {
    if prior.is_empty() || prior.len() != log_likelihood.len() {
        return Err(CalcError::TooFew {
            input: "hypotheses",
            have: log_likelihood.len(),
            need: prior.len().max(1),
        });
    }
    let mut logs = Vec::with_capacity(prior.len());
    for (p, l) in prior.iter().zip(log_likelihood) {
        logs.push(within("prior", *p, 0.0, f64::MAX)?.ln() + l);
    }
    let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if !top.is_finite() {
        return Err(CalcError::Impossible);
    }
    let weights: Vec<f64> = logs.iter().map(|l| (l - top).exp()).collect();
    let sum: f64 = weights.iter().sum();
    Ok(weights.into_iter().map(|w| w / sum).collect())
}

/// Chance of seeing a sign when a cause that shows it with probability `link` is present and the
/// sign also appears by itself with probability `leak`: 1 − (1 − link)(1 − leak).
pub fn noisy_or(link: f64, leak: f64) -> f64 {
    1.0 - absent(leak, std::iter::once(link))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn play_tennis() {
        // Mitchell, Machine Learning (1997) 6.9.1 (from memory): sunny, cool, high, strong gives
        // 0.0053 for yes and 0.0206 for no; normalised P(no) = 0.795.
        let yes = [2.0 / 9.0, 3.0 / 9.0, 3.0 / 9.0, 3.0 / 9.0_f64];
        let no = [3.0 / 5.0, 1.0 / 5.0, 4.0 / 5.0, 3.0 / 5.0_f64];
        let sum = |l: &[f64]| l.iter().map(|x| x.ln()).sum::<f64>();
        let p = posterior(&[9.0 / 14.0, 5.0 / 14.0], &[sum(&yes), sum(&no)]).expect("possible");
        assert!((p[1] - 0.795).abs() <= 0.0005, "{p:?}");
    }

    #[test]
    fn refusals() {
        assert!(posterior(&[], &[]).is_err());
        assert!(posterior(&[1.0], &[0.0, 0.0]).is_err());
        assert!(posterior(&[-1.0, 1.0], &[0.0, 0.0]).is_err());
        assert_eq!(
            posterior(&[1.0, 1.0], &[f64::NEG_INFINITY; 2]),
            Err(CalcError::Impossible)
        );
    }

    #[test]
    fn a_thousand_rare_signs_do_not_underflow() {
        let p = posterior(&[0.2, 0.8], &[1000.0 * 0.001_f64.ln(); 2]).expect("possible");
        assert!((p[0] - 0.2).abs() < 1e-12);
    }
}
