//! What each look would cost and tell, as seen from a point of the work.
//!
//! # Formula
//! A look changes the ratio p / (r + t + b) of the causes that it names and scales all others alike, so that
//! their order holds: the order of repair after an answer is had by merging.

use super::inspection::{fall, ratio};
use super::node::{Node, wrong};
use super::task::Task;

/// A look as seen from a node: its cost and what each answer leaves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worth {
    /// The look's place.
    pub look: usize,
    /// Its cost, the change of the tool's state with it.
    pub cost: f64,
    /// Chance of a yes.
    pub yes: f64,
    /// Expected cost after a yes.
    pub after_yes: f64,
    /// Expected cost after a no.
    pub after_no: f64,
    /// Expected cost of the look and all that follows.
    pub expected: f64,
    /// What it is expected to tell, bits (see [`crate::information`]).
    pub bits: f64,
}

impl Worth {
    /// The same with other costs after the answers.
    pub(super) fn followed_by(mut self, after_yes: f64, after_no: f64) -> Self {
        self.after_yes = after_yes;
        self.after_no = after_no;
        self.expected = self.cost + self.yes * after_yes + (1.0 - self.yes) * after_no;
        self
    }
}

/// A node looked over.
pub(super) struct Survey {
    /// Causes in the order of repair.
    pub(super) order: Vec<usize>,
    /// Expected cost of repairing in this order.
    pub(super) repair_now: f64,
    /// Expected cost if the cause were known: no plan costs less than this and its first look.
    pub(super) known: f64,
    /// The looks that can be made, in the order of the task.
    pub(super) looks: Vec<Worth>,
}

impl Node {
    /// Looks the node over.
    pub(super) fn survey(&self, task: &Task) -> Survey {
        let (order, repair_now) = self.repair_now(task);
        let mut merge = Merge::new(self, task, &order);
        let looks = (0..task.looks().len())
            .filter(|look| !self.made(*look))
            .filter_map(|look| Some(merge.worth(look, task.cost(look, self.state)?)));
        let looks = looks.collect();
        let known = self.p.iter().enumerate();
        let known = known.map(|(i, p)| p * task.repair(i)).sum();
        Survey {
            order,
            repair_now,
            known,
            looks,
        }
    }
}

/// Orders after an answer, merged from the present one.
struct Merge<'a> {
    node: &'a Node,
    task: &'a Task,
    /// Cause, ratio and cost of a wrong repair, in the present order.
    order: Vec<(usize, f64, f64)>,
    /// Σ p · log2 p.
    entropy: f64,
    named: Vec<bool>,
    /// Causes that the look names: new weight, new ratio, cost of a wrong repair.
    moved: Vec<(f64, f64, f64)>,
}

impl<'a> Merge<'a> {
    fn new(node: &'a Node, task: &'a Task, order: &[usize]) -> Self {
        let place = |i: &usize| (*i, ratio(node.p[*i], wrong(task, *i)), wrong(task, *i));
        Self {
            node,
            task,
            order: order.iter().map(place).collect(),
            entropy: node.p.iter().map(|p| plogp(*p)).sum(),
            named: vec![false; node.p.len()],
            moved: Vec::new(),
        }
    }

    fn worth(&mut self, look: usize, cost: f64) -> Worth {
        let task = self.task;
        let says = &task.looks()[look].says;
        for says in says {
            self.named[says.cause] = true;
        }
        let (yes, after_yes, bits_yes) = self.after(look, |chance| chance);
        let (no, after_no, bits_no) = self.after(look, |chance| 1.0 - chance);
        for says in says {
            self.named[says.cause] = false;
        }
        let yes = yes / (yes + no);
        Worth {
            look,
            cost,
            yes,
            after_yes,
            after_no,
            expected: cost + yes * after_yes + (1.0 - yes) * after_no,
            bits: (-self.entropy - yes * bits_yes - (1.0 - yes) * bits_no).max(0.0),
        }
    }

    /// Chance of an answer, the cost of repairing in the best order after it, and the entropy left.
    fn after(&mut self, look: usize, chance: impl Fn(f64) -> f64) -> (f64, f64, f64) {
        let look = &self.task.looks()[look];
        let others = chance(look.otherwise);
        self.moved.clear();
        let (mut named, mut named_log) = (0.0, 0.0);
        let (mut moved, mut moved_log) = (0.0, 0.0);
        for says in look.says.iter().filter(|s| self.node.p[s.cause] > 0.0) {
            let p = self.node.p[says.cause];
            let weight = p * chance(says.yes);
            let wrong = wrong(self.task, says.cause);
            self.moved.push((weight, ratio(weight, wrong), wrong));
            named += p;
            named_log += plogp(p);
            moved += weight;
            moved_log += plogp(weight);
        }
        self.moved.sort_by(|a, b| fall(a.1, b.1));
        let left = f64::max(1.0 - named, 0.0);
        let total = left * others + moved;
        let (mut paid, mut cost) = (0.0, 0.0);
        let mut pay = |weight: f64, wrong: f64| {
            paid += wrong;
            cost += weight * paid;
        };
        let mut moved = self.moved.iter().peekable();
        for (cause, ratio, wrong) in self.order.iter().filter(|place| !self.named[place.0]) {
            while let Some((weight, _, wrong)) = moved.next_if(|m| m.1 > ratio * others) {
                pay(*weight, *wrong);
            }
            pay(self.node.p[*cause] * others, *wrong);
        }
        for (weight, _, wrong) in moved {
            pay(*weight, *wrong);
        }
        let after = (cost / total - self.task.repairs().come_back).max(0.0);
        // Σ w·log2 w over all, from which the entropy of w / total follows.
        let sum = others * (self.entropy - named_log) + left * plogp(others) + moved_log;
        (total, after, total.log2() - sum / total)
    }
}

fn plogp(p: f64) -> f64 {
    if p > 0.0 { p * p.log2() } else { 0.0 }
}

#[cfg(test)]
mod tests;
