//! From what was seen to the probability of each cause.
//!
//! # Formula
//! All sets of one, two or three causes are weighed: w(S) = Π p / (1 − p) · Π P(seen | S). P(cause) is
//! the share of the sets that hold it. With one fault at most this is Bayes' theorem over causes of
//! which exactly one is present, with odds as weights.
//!
//! Why: the weight that an observation e adds to a cause i is ln (odds(i | all) / odds(i | all but e)),
//! so it does not hang on the order in which things were seen; such weights need not add up to the
//! whole.
//!
//! # Validity
//! At least one cause is present (the tool has a complaint) and no more than [`Faults`] allows. For any number
//! at once, up to three is an approximation, good where the priors add up to less than one: `measure` holds
//! it against all sets, and one fault alone, too, which can be far off. 200 causes by threes are 1.3 million
//! sets.
//!
//! # Errors
//! An observation that does not fit the model; numbers too far apart to be weighed.
//!
//! # Source
//! Exact enumeration of a noisy-OR network of two levels; weight of evidence: Good, *Probability and the
//! Weighing of Evidence* (1950) (from memory). Check values: full enumeration by other means.

use super::conflict::Conflict;
use super::model::{Model, Observation};
use super::sets::Table;
use super::sums::Sums;
use crate::error::CalcError;
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "several-fault-posterior",
    version: 2,
    source: "noisy-OR network of two levels, exact enumeration of up to three faults at once; weight of evidence, Good (1950); conflict, Jensen et al. (1991); fit, Chernoff (1952), Rubin (1984) (from memory)",
};

/// How many causes may be present at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Faults {
    /// Exactly one.
    One,
    /// One or two.
    Two,
    /// One, two or three.
    Three,
}

impl Faults {
    /// The number.
    pub fn most(self) -> usize {
        match self {
            Self::One => 1,
            Self::Two => 2,
            Self::Three => 3,
        }
    }
}

/// Causes that are present together and no others.
#[derive(Clone, Debug, PartialEq)]
pub struct FaultSet {
    /// Their places, ascending.
    pub causes: Vec<usize>,
    /// Probability.
    pub probability: f64,
}

/// What was seen says.
#[derive(Clone, Debug, PartialEq)]
pub struct Posterior {
    /// Probability that each cause is present. They add up to 1 with one fault, to more otherwise.
    pub causes: Vec<f64>,
    /// The likeliest sets, likeliest first, ten at most.
    pub sets: Vec<FaultSet>,
    /// Probability of one, two, three causes at once, as far as asked for.
    pub number: Vec<f64>,
    /// ln of the probability of all that was seen, given at least one fault and no more than asked for.
    pub ln_evidence: f64,
    /// For each cause and observation, the weight of evidence: natural-log odds, in favour above 0.
    pub why: Vec<Vec<f64>>,
    /// How much what was seen contradicts itself.
    pub conflict: Conflict,
}

impl Posterior {
    /// The causes, likeliest first; ties in the order of the model.
    pub fn ranked(&self) -> Vec<usize> {
        let mut places: Vec<usize> = (0..self.causes.len()).collect();
        places.sort_by(|a, b| self.causes[*b].total_cmp(&self.causes[*a]));
        places
    }
}

/// Weighs all sets of up to `faults` causes by the observations.
///
/// # Errors
/// See the head of this file.
pub fn posterior(
    model: &Model,
    observations: &[Observation],
    faults: Faults,
) -> Result<Posterior, CalcError> {
    for observation in observations {
        model.check(observation)?;
    }
    let table = Table::new(model, observations);
    Sums::of(model, &table, faults.most())
}

/// The observation that stands against the others, where together they leave nothing to weigh: the one without which
/// the rest is likeliest; if it takes more than one to be gone, the first that does not go with those before it.
/// `None` where they can be weighed, or nothing can.
pub fn stumbling_block(
    model: &Model,
    observations: &[Observation],
    faults: Faults,
) -> Option<usize> {
    let weighed = |seen: &[Observation]| posterior(model, seen, faults).ok();
    if weighed(observations).is_some() {
        return None;
    }
    let places = 0..observations.len();
    let without = places.clone().filter_map(|out| {
        let mut rest = observations.to_vec();
        rest.remove(out);
        Some((out, weighed(&rest)?.ln_evidence))
    });
    let likeliest = without.max_by(|a, b| a.1.total_cmp(&b.1));
    let first = || {
        weighed(&[])?;
        places
            .clone()
            .find(|last| weighed(&observations[..=*last]).is_none())
    };
    likeliest.map(|(out, _)| out).or_else(first)
}

#[cfg(test)]
mod tests;
