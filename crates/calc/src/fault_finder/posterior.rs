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
//! At least one cause is present (the tool has a complaint) and no more than [`Faults`] allows; for more
//! at once it is an approximation, whose error is measured in `measure`. 200 causes by threes are
//! 1.3 million sets.
//!
//! # Errors
//! An observation that does not fit the model; numbers too far apart to be weighed.
//!
//! # Source
//! Exact enumeration of a noisy-OR network of two levels; weight of evidence: Good, *Probability and the
//! Weighing of Evidence* (1950) (from memory). Check values: full enumeration by other means.

use super::conflict::{Conflict, conflict};
use super::model::{Model, Observation};
use super::sets::{Grown, Table};
use crate::error::CalcError;
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "several-fault-posterior",
    version: 1,
    source: "noisy-OR network of two levels, exact enumeration of up to three faults at once; weight of evidence, Good (1950) (from memory)",
};

/// Sets that are named.
const SETS_NAMED: usize = 10;

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
    let mut sums = Sums::new(model, &table);
    sums.scale = sums.greatest(faults.most());
    sums.lift = (-sums.scale).exp();
    let most = faults.most();
    let all = sums.walk(&table.none(), 1.0, &mut Vec::with_capacity(3), most);
    sums.finish(&all, most)
}

/// Sums over the sets walked so far.
struct Sums<'a> {
    table: &'a Table,
    odds: Vec<f64>,
    /// Logarithm by which all weights are lowered.
    scale: f64,
    /// exp of its negative.
    lift: f64,
    prior: f64,
    by_cause: Vec<f64>,
    by_number: [f64; 3],
    /// Σ prior · likelihood of one observation alone.
    alone: Vec<f64>,
    /// Σ weight without one observation over the sets with a cause, by cause.
    without_by_cause: Vec<f64>,
    sets: Vec<FaultSet>,
    each: Vec<f64>,
}

/// Sums over the sets that have some causes in common.
struct Part {
    total: f64,
    /// Σ weight without one observation.
    without: Vec<f64>,
}

impl Part {
    fn new(seen: usize) -> Self {
        Self {
            total: 0.0,
            without: vec![0.0; seen],
        }
    }

    fn add(&mut self, total: f64, without: &[f64]) {
        self.total += total;
        add(&mut self.without, without);
    }
}

fn add(sums: &mut [f64], more: &[f64]) {
    for (sum, more) in sums.iter_mut().zip(more) {
        *sum += more;
    }
}

impl<'a> Sums<'a> {
    fn new(model: &Model, table: &'a Table) -> Self {
        let (causes, seen) = (model.priors().len(), table.len());
        Self {
            table,
            odds: model.priors().iter().map(|p| p / (1.0 - p)).collect(),
            scale: 0.0,
            lift: 1.0,
            prior: 0.0,
            by_cause: vec![0.0; causes],
            by_number: [0.0; 3],
            alone: vec![0.0; seen],
            without_by_cause: vec![0.0; causes * seen],
            sets: Vec::with_capacity(SETS_NAMED + 1),
            each: vec![0.0; seen],
        }
    }

    /// ln of a weight near the greatest, found by adding the best cause one at a time: weights are
    /// lowered by it so that neither they nor their sum overflow.
    fn greatest(&mut self, most: usize) -> f64 {
        let table = self.table;
        let mut best = table.none();
        let mut next = best.clone();
        let mut prior = 0.0;
        let mut taken = vec![false; self.odds.len()];
        let mut greatest = f64::NEG_INFINITY;
        for _ in 0..most {
            let mut found: Option<(usize, f64)> = None;
            for cause in (0..self.odds.len()).filter(|i| !taken[*i]) {
                table.grow(&best, cause, &mut next);
                let (product, log) = table.likelihoods(&next, &mut self.each);
                let log = prior + self.odds[cause].ln() + product.ln() + log;
                if found.is_none_or(|(_, most)| log > most) {
                    found = Some((cause, log));
                }
            }
            let Some((cause, log)) = found else { break };
            taken[cause] = true;
            prior += self.odds[cause].ln();
            table.grow(&best.clone(), cause, &mut best);
            greatest = greatest.max(log);
        }
        greatest
    }

    /// Adds up every set that is made of `from` (with the causes `set`) and up to `most` causes behind them.
    /// Sums by cause are added once for all sets that share it, not set by set.
    fn walk(&mut self, from: &Grown, prior: f64, set: &mut Vec<usize>, most: usize) -> Part {
        let table = self.table;
        let seen = table.len();
        let mut part = Part::new(seen);
        let mut grown = from.clone();
        for cause in set.last().map_or(0, |last| last + 1)..self.odds.len() {
            table.grow(from, cause, &mut grown);
            let prior = prior * self.odds[cause];
            set.push(cause);
            let weight = self.weigh(&grown, prior, set);
            part.add(weight, &self.each);
            self.by_cause[cause] += weight;
            add(
                &mut self.without_by_cause[cause * seen..][..seen],
                &self.each,
            );
            if most > 1 {
                let deeper = self.walk(&grown, prior, set, most - 1);
                part.add(deeper.total, &deeper.without);
                self.by_cause[cause] += deeper.total;
                add(
                    &mut self.without_by_cause[cause * seen..][..seen],
                    &deeper.without,
                );
            }
            set.pop();
        }
        part
    }

    /// The weight of a set; `each` is the weight without each observation afterwards.
    fn weigh(&mut self, grown: &Grown, prior: f64, set: &[usize]) -> f64 {
        let (product, log) = self.table.likelihoods(grown, &mut self.each);
        // An exponential for each set would be most of the time; as a rule there is no logarithm.
        let weight = if log == 0.0 {
            prior * product * self.lift
        } else {
            prior * (product.ln() + log - self.scale).exp()
        };
        self.prior += prior;
        self.by_number[set.len() - 1] += weight;
        for (sum, likelihood) in self.alone.iter_mut().zip(&mut self.each) {
            *sum += prior * *likelihood;
            *likelihood = weight / *likelihood;
        }
        self.name(weight, set);
        weight
    }

    /// Keeps the set among the likeliest if it belongs there.
    fn name(&mut self, weight: f64, set: &[usize]) {
        let full = self.sets.len() == SETS_NAMED;
        if full
            && self
                .sets
                .last()
                .is_some_and(|last| last.probability >= weight)
        {
            return;
        }
        let at = self.sets.partition_point(|s| s.probability >= weight);
        let (causes, probability) = (set.to_vec(), weight);
        self.sets.insert(
            at,
            FaultSet {
                causes,
                probability,
            },
        );
        self.sets.truncate(SETS_NAMED);
    }

    fn finish(self, all: &Part, most: usize) -> Result<Posterior, CalcError> {
        let finite = all.total.is_finite() && all.without.iter().all(|w| w.is_finite());
        if !finite || all.total <= 0.0 {
            return Err(CalcError::Impossible);
        }
        let seen = self.table.len();
        let log_odds = |with: f64, all: f64| (with / (all - with)).ln();
        let weight = |cause: usize, i: usize| {
            let place = self.table.place(i);
            let without = self.without_by_cause[cause * seen + place];
            let weight =
                log_odds(self.by_cause[cause], all.total) - log_odds(without, all.without[place]);
            // A cause that is certain with and without it gains nothing.
            if weight.is_nan() { 0.0 } else { weight }
        };
        let causes = 0..self.odds.len();
        let why = causes.map(|cause| (0..seen).map(|i| weight(cause, i)).collect());
        let ln_evidence = all.total.ln() + self.scale - self.prior.ln();
        let by_place = |sums: &[f64], i: usize| sums[self.table.place(i)].ln();
        let alone = (0..seen).map(|i| by_place(&self.alone, i) - self.prior.ln());
        let without = (0..seen).map(|i| by_place(&all.without, i) + self.scale - self.prior.ln());
        let conflict = conflict(ln_evidence, alone, without);
        let share = |weight: &f64| weight / all.total;
        Ok(Posterior {
            why: why.collect(),
            conflict,
            ln_evidence,
            causes: self.by_cause.iter().map(share).collect(),
            number: self.by_number[..most].iter().map(share).collect(),
            sets: self
                .sets
                .iter()
                .map(|set| FaultSet {
                    causes: set.causes.clone(),
                    probability: share(&set.probability),
                })
                .collect(),
        })
    }
}

#[cfg(test)]
mod tests;
