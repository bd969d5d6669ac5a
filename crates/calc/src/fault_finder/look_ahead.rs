//! What to look at next: some steps ahead, within a stated effort.
//!
//! # Formula
//! V(node) = min( repair in the best order; repair the first and go on; c + P(yes) · V(yes) +
//! P(no) · V(no) over the looks ), searched to a depth that grows as long as the effort lasts. Behind the
//! last look of a branch repairs follow in their best order, so each value is the expected cost of a plan
//! that can be carried out: more depth can only find a cheaper one.
//!
//! Of each node's looks, those with the least expected cost and those that tell most per cost are
//! followed, fewer with each step: depth is worth more than breadth. Effort that is left widens the search. Nodes are remembered by what was answered, in any order, and by the tool's state. A look is
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

use super::node::Node;
use super::search::Search;
use super::survey::Worth;
use super::task::Task;
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "next-check",
    version: 1,
    source: "decision-theoretic troubleshooting for one fault, look-ahead: Heckerman, Breese & Rommelse, CACM 38(3), 1995 (from memory)",
};

/// How much is reckoned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Nodes that may be looked over.
    pub evaluations: usize,
    /// Looks that are followed at first, half by expected cost and half by bits per cost; after each step half
    /// as many, one at least. Where effort is left, the search is widened, up to 16 looks.
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
    /// Causes in the order in which they would be repaired, without those of probability 0.
    pub order: Vec<usize>,
    /// The looks that save more than they cost against `repair_first`, best first, of those that were
    /// followed or pay by themselves. Looks that cannot change anything, or whose state is forbidden, are
    /// never among them.
    pub looks: Vec<Worth>,
    /// Steps ahead that were reckoned in full.
    pub depth: usize,
    /// Nodes that were looked over.
    pub evaluations: usize,
    /// The time was up before the effort was spent.
    pub out_of_time: bool,
}

/// What to do first.
pub fn advise(task: &Task, effort: Effort) -> Advice {
    advise_in_time(task, effort, &|| true)
}

/// The same, as long as `in_time` says that there is time left: the advice is then the best of what was reckoned in
/// full, one step ahead at least.
pub fn advise_in_time(task: &Task, effort: Effort, in_time: &dyn Fn() -> bool) -> Advice {
    Search::new(task, effort, in_time).advise(&Node::first(task))
}

#[cfg(test)]
mod tests;
