//! What to look at next: some steps ahead, within a stated effort.
//!
//! # Formula
//! V(node) = min( repair in the best order; repair the first and go on; c + P(yes) · V(yes) +
//! P(no) · V(no) over the looks ), searched to a depth that grows as long as the effort lasts. Behind the
//! last look of a branch repairs follow in their best order, so each value is the expected cost of a plan
//! that can be carried out: more depth can only find a cheaper one.
//!
//! Of each node's looks, those with the least expected cost and those that tell most per cost are
//! followed, fewer with each step: depth is worth more than breadth. Nodes are remembered by what was answered, in any order, and by the tool's state. A look is
//! not followed where its cost alone, with the cause known after it, is dearer than the best plan so far.
//!
//! # Validity
//! As `task`. The plan is at most as good as the best one; `measure` says how much worse.
//!
//! # Errors
//! None: a [`Task`] has been checked.
//!
//! # Source
//! Decision-theoretic troubleshooting: Heckerman, Breese & Rommelse, *CACM* 38(3) (1995) (from memory).
//! Check values: exact dynamic programming by other means.

use std::collections::BTreeMap;

use super::node::{Node, Survey, Worth};
use super::task::Task;
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "next-check",
    version: 1,
    source: "decision-theoretic troubleshooting for one fault, look-ahead: Heckerman, Breese & Rommelse, CACM 38(3), 1995 (from memory)",
};

/// Expected costs nearer than this share are taken as equal: nothing is proposed for rounding.
const SAME: f64 = 1e-9;

/// How much is reckoned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Nodes that may be looked over.
    pub evaluations: usize,
    /// Looks that are followed at first, half by expected cost and half by bits per cost; after each step half
    /// as many, one at least.
    pub breadth: usize,
    /// Steps ahead, at most.
    pub depth: usize,
}

impl Effort {
    /// One step ahead: what each look saves by itself.
    pub const ONE_STEP: Self = Self {
        evaluations: 1,
        breadth: 1,
        depth: 1,
    };
}

impl Default for Effort {
    fn default() -> Self {
        Self {
            evaluations: 1500,
            breadth: 4,
            depth: 12,
        }
    }
}

/// What to do first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum First {
    /// Make the look at this place.
    Look(usize),
    /// Repair the cause at this place.
    Repair(usize),
}

/// What to do, and what it is expected to cost.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// What to do first.
    pub first: First,
    /// Expected cost of the plan that was found. Where looks are left behind its last step, planning anew after
    /// each answer finds cheaper ways on.
    pub expected: f64,
    /// Expected cost of repairing at once, in `order`, without another look.
    pub repair_now: f64,
    /// Expected cost of repairing the first of `order` and going on with the best plan after it.
    pub repair_first: f64,
    /// Causes in the order in which they would be repaired.
    pub order: Vec<usize>,
    /// The looks that save more than they cost against `repair_first`, best first. Looks that cannot change
    /// anything, or whose state is forbidden, are never among them.
    pub looks: Vec<Worth>,
    /// Steps ahead that were reckoned in full.
    pub depth: usize,
    /// Nodes that were looked over.
    pub evaluations: usize,
}

/// What to do first.
pub fn advise(task: &Task, effort: Effort) -> Advice {
    Search::new(task, effort).advise(&Node::first(task))
}

/// What is remembered of a node.
struct Known {
    order_first: Option<usize>,
    known: f64,
    /// The looks that are followed, most promising first.
    looks: Vec<Worth>,
    /// Depth to which `value` holds; 0 before it was sought.
    depth: usize,
    value: f64,
}

pub(super) struct Search<'a> {
    task: &'a Task,
    effort: Effort,
    memory: BTreeMap<Box<[u32]>, Known>,
    evaluations: usize,
    /// Steps made before the node that advice is sought for.
    root: usize,
    /// The effort is spent: what is found from now on does not count.
    spent: bool,
    /// Somewhere the depth ended before the looks did.
    cut: bool,
}

impl<'a> Search<'a> {
    pub(super) fn new(task: &'a Task, effort: Effort) -> Self {
        Self {
            task,
            effort,
            memory: BTreeMap::new(),
            evaluations: 0,
            root: 0,
            spent: false,
            cut: false,
        }
    }

    pub(super) fn advise(&mut self, node: &Node) -> Advice {
        self.evaluations = 1;
        self.root = node.steps();
        self.spent = false;
        let survey = node.survey(self.task);
        let mut looks = survey.looks.clone();
        let mut repair_first = survey.repair_now;
        let followed = self.followed(&survey);
        let mut depth = 1;
        let (mut before, mut last_new) = (0, 0);
        while depth < self.effort.depth && !followed.is_empty() {
            self.cut = false;
            let deeper: Vec<Worth> = followed
                .iter()
                .map(|worth| self.deeper(node, worth, depth))
                .collect();
            let go_on = self.repair_first(node, survey.order.first().copied(), depth);
            if self.spent {
                break;
            }
            depth += 1;
            let new = self.evaluations - before;
            // The next depth grows as this one did, or not at all.
            let next = (new * new)
                .checked_div(last_new)
                .map_or(new, |next| next.max(new));
            (before, last_new) = (self.evaluations, new);
            repair_first = repair_first.min(go_on);
            for worth in deeper {
                if let Some(old) = looks.iter_mut().find(|old| old.look == worth.look) {
                    *old = worth;
                }
            }
            // What cannot be finished is not begun.
            let enough = self.evaluations + next <= self.effort.evaluations;
            if !self.cut || !enough {
                break;
            }
        }
        let bound = repair_first - SAME * (1.0 + survey.repair_now);
        looks.retain(|worth| worth.expected < bound);
        looks.sort_by(|a, b| a.expected.total_cmp(&b.expected));
        let repair = survey.order.first().copied().unwrap_or(0);
        let (first, expected) = match looks.first() {
            Some(worth) => (First::Look(worth.look), worth.expected),
            None => (First::Repair(repair), repair_first),
        };
        Advice {
            first,
            expected,
            repair_now: survey.repair_now,
            repair_first,
            order: survey.order,
            looks,
            depth,
            evaluations: self.evaluations,
        }
    }

    /// A look with the plans of `depth` steps behind its answers.
    fn deeper(&mut self, node: &Node, worth: &Worth, depth: usize) -> Worth {
        let (task, look) = (self.task, worth.look);
        let yes = self.value(&node.answered(task, look, true), depth);
        let no = self.value(&node.answered(task, look, false), depth);
        worth.followed_by(yes, no)
    }

    /// Expected cost of repairing `cause` and going on with a plan of `depth` steps.
    fn repair_first(&mut self, node: &Node, cause: Option<usize>, depth: usize) -> f64 {
        let Some(cause) = cause else { return 0.0 };
        let task = self.task;
        let Some(left) = node.leaves(cause) else {
            return task.repair(cause);
        };
        let after = self.value(&node.not_helped(task, cause), depth);
        task.repair(cause) + left * (task.repairs().come_back + after)
    }

    /// Expected cost of the best plan found of up to `depth` steps from `node`.
    fn value(&mut self, node: &Node, depth: usize) -> f64 {
        if self.spent {
            return 0.0;
        }
        let key = node.key();
        if !self.memory.contains_key(&key) {
            if self.evaluations >= self.effort.evaluations {
                self.spent = true;
                return 0.0;
            }
            self.evaluations += 1;
            let known = self.known(node);
            self.memory.insert(key.clone(), known);
        }
        let Some(known) = self.memory.get(&key) else {
            return 0.0;
        };
        let open = |known: &Known| {
            known
                .looks
                .iter()
                .any(|w| w.cost + known.known < known.value)
        };
        if known.depth >= depth || known.looks.is_empty() {
            self.cut |= open(known);
            return known.value;
        }
        if depth == 1 {
            self.cut |= open(known);
            return known.value;
        }
        let (mut best, bound) = (known.value, known.known);
        let (looks, first) = (known.looks.clone(), known.order_first);
        for worth in looks.iter().take(self.breadth(node)) {
            if worth.cost + bound < best {
                best = best.min(self.deeper(node, worth, depth - 1).expected);
            }
        }
        best = best.min(self.repair_first(node, first, depth - 1));
        if !self.spent
            && let Some(known) = self.memory.get_mut(&key)
        {
            known.value = known.value.min(best);
            known.depth = depth;
        }
        best
    }

    fn known(&self, node: &Node) -> Known {
        let survey = node.survey(self.task);
        let expected = survey.looks.iter().map(|worth| worth.expected);
        Known {
            value: expected.fold(survey.repair_now, f64::min),
            looks: self.followed(&survey),
            order_first: survey.order.first().copied(),
            known: survey.known,
            depth: 1,
        }
    }

    /// The looks that are followed from the root, most promising first: by expected cost and by bits per
    /// cost, in turn.
    fn followed(&self, survey: &Survey) -> Vec<Worth> {
        let possible =
            |worth: &&Worth| worth.bits > SAME && worth.cost + survey.known < survey.repair_now;
        let mut cheap: Vec<Worth> = survey.looks.iter().filter(possible).copied().collect();
        cheap.sort_by(|a, b| a.expected.total_cmp(&b.expected));
        let mut telling = cheap.clone();
        let per_cost = |worth: &Worth| worth.bits / worth.cost.max(f64::MIN_POSITIVE);
        telling.sort_by(|a, b| per_cost(b).total_cmp(&per_cost(a)));
        let mut looks: Vec<Worth> = Vec::with_capacity(self.effort.breadth + 1);
        for worth in cheap.into_iter().zip(telling).flat_map(|(a, b)| [a, b]) {
            if looks.len() >= self.effort.breadth {
                break;
            }
            if looks.iter().all(|taken| taken.look != worth.look) {
                looks.push(worth);
            }
        }
        looks
    }

    /// Looks that are followed from a node some steps ahead: half as many after each step, one at least.
    fn breadth(&self, node: &Node) -> usize {
        let steps = node.steps() - self.root;
        self.effort
            .breadth
            .checked_shr(steps as u32)
            .unwrap_or(0)
            .max(1)
    }
}

#[cfg(test)]
mod tests;
