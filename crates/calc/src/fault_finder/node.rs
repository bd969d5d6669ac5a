//! A point of the work: what is known there, and what repairing at once would cost.
//!
//! # Formula
//! Repairing at once, in the order of falling p / (r + t + b), costs Σ p · D − b, where D is the sum of
//! r + t + b over the causes up to this one: each repair costs its price r and the proof t, each that did
//! not help the come-back b, and the last one helped. Exchanging neighbours shows that the order is best.

use super::inspection::{fall, ratio};
use super::task::Task;

/// A probability that counts as none.
const NONE: f64 = 1e-12;

/// What is known.
#[derive(Clone)]
pub(super) struct Node {
    /// Probability of each cause; 0 once its repair did not help.
    pub(super) p: Vec<f64>,
    /// Answers and repairs so far, as numbers, ascending: what memory goes by.
    history: Vec<u32>,
    /// State of the tool.
    pub(super) state: usize,
}

impl Node {
    pub(super) fn first(task: &Task) -> Self {
        Self {
            p: task.probabilities().to_vec(),
            history: Vec::new(),
            state: task.bench().state,
        }
    }

    /// What memory goes by: the same answers in another order are the same node.
    pub(super) fn key(&self) -> Box<[u32]> {
        let state = std::iter::once(self.state as u32);
        state.chain(self.history.iter().copied()).collect()
    }

    /// Answers and repairs so far.
    pub(super) fn steps(&self) -> usize {
        self.history.len()
    }

    fn remember(&mut self, what: usize) {
        let what = what as u32;
        let at = self.history.partition_point(|h| *h < what);
        self.history.insert(at, what);
    }

    pub(super) fn made(&self, look: usize) -> bool {
        let either = |h: &u32| *h as usize / 2 == look;
        self.history.iter().any(either)
    }

    /// After an answer.
    pub(super) fn answered(&self, task: &Task, look: usize, yes: bool) -> Self {
        let mut next = self.clone();
        let says = &task.looks()[look];
        let chance = |p: f64| if yes { p } else { 1.0 - p };
        for p in &mut next.p {
            *p *= chance(says.otherwise);
        }
        for says in &says.says {
            next.p[says.cause] = self.p[says.cause] * chance(says.yes);
        }
        next.rescale();
        next.state = says.state;
        next.remember(look * 2 + usize::from(yes));
        next
    }

    /// After a repair that did not help.
    pub(super) fn not_helped(&self, task: &Task, cause: usize) -> Self {
        let mut next = self.clone();
        next.p[cause] = 0.0;
        next.rescale();
        next.remember(task.looks().len() * 2 + cause);
        next
    }

    fn rescale(&mut self) {
        let sum: f64 = self.p.iter().sum();
        for p in &mut self.p {
            *p /= sum;
        }
    }

    /// Whether anything is left if the repair of `cause` does not help.
    pub(super) fn leaves(&self, cause: usize) -> Option<f64> {
        let rest = self.p.iter().enumerate().filter(|(i, _)| *i != cause);
        let rest: f64 = rest.map(|(_, p)| p).sum();
        (rest > NONE).then_some(rest)
    }

    /// Causes by falling p / (r + t + b), and what repairing in this order is expected to cost.
    pub(super) fn repair_now(&self, task: &Task) -> (Vec<usize>, f64) {
        let ratios: Vec<f64> = (0..self.p.len())
            .map(|i| ratio(self.p[i], wrong(task, i)))
            .collect();
        let mut order: Vec<usize> = (0..self.p.len()).filter(|i| self.p[*i] > 0.0).collect();
        order.sort_by(|a, b| fall(ratios[*a], ratios[*b]));
        let mut paid = 0.0;
        let mut cost = 0.0;
        for i in &order {
            paid += wrong(task, *i);
            cost += self.p[*i] * paid;
        }
        (order, (cost - task.repairs().come_back).max(0.0))
    }
}

/// What a repair costs that does not help.
pub(super) fn wrong(task: &Task, cause: usize) -> f64 {
    task.repair(cause) + task.repairs().come_back
}
