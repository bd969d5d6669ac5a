//! The sums over all sets of causes that a posterior is made of.

use super::conflict::conflict;
use super::fit::ln_bound;
use super::model::Model;
use super::posterior::{FaultSet, Posterior};
use super::sets::{Grown, Table};
use crate::error::CalcError;

/// Sets that are named.
const SETS_NAMED: usize = 10;

/// Sets that weigh less than this share of the likeliest are not asked how well they fit.
const LEAST_WEIGHED: f64 = 0.01;

/// Sums over the sets walked so far.
pub(super) struct Sums<'a> {
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
    /// Walks all sets of up to `most` causes.
    pub(super) fn of(model: &Model, table: &'a Table, most: usize) -> Result<Posterior, CalcError> {
        let mut sums = Self::new(model, table);
        sums.scale = sums.greatest(most);
        sums.lift = (-sums.scale).exp();
        let all = sums.walk(&table.none(), 1.0, &mut Vec::with_capacity(3), most);
        sums.finish(&all, most)
    }

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

    /// ln of how seldom the likeliest sets, weighed by what they weigh, give answers as unlikely as these.
    fn ln_fit(&self) -> f64 {
        let table = self.table;
        let mut each = vec![0.0; table.len()];
        let (mut chance, mut weight) = (0.0, 0.0);
        let least = self.sets.first().map_or(0.0, |set| set.probability) * LEAST_WEIGHED;
        for set in self.sets.iter().filter(|set| set.probability > least) {
            let mut grown = table.none();
            for cause in &set.causes {
                table.grow(&grown.clone(), *cause, &mut grown);
            }
            table.likelihoods(&grown, &mut each);
            chance += set.probability * ln_bound(&each[..table.answers()]).exp();
            weight += set.probability;
        }
        if weight > 0.0 {
            (chance / weight).ln()
        } else {
            0.0
        }
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
        let conflict = conflict(ln_evidence, alone, without, self.ln_fit());
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
