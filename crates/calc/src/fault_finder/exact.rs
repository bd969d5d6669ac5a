//! The best plan of a small task, by trying everything.
//!
//! # Formula
//! Dynamic programming over what is known: every look with both its answers, every repair; nodes that
//! were reached by the same answers and failed repairs are reckoned once.
//!
//! # Validity
//! Up to eight causes and eight looks.
//!
//! # Errors
//! A larger task.
//!
//! # Source
//! Bellman's principle (from memory). Check values: the same in numpy, by others.

use std::collections::BTreeMap;

use super::look_ahead::First;
use super::node::Node;
use super::task::Task;
use crate::error::{CalcError, within};
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "troubleshooting-policy",
    version: 1,
    source: "decision-theoretic troubleshooting for one fault, exact dynamic programming; Heckerman, Breese & Rommelse, CACM 38(3), 1995 (from memory)",
};

/// Most causes, and most looks.
pub const MOST: usize = 8;

/// The best plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BestPlan {
    /// Its expected cost.
    pub expected: f64,
    /// What to do first.
    pub first: First,
    /// Expected cost of repairing in the best order without any look.
    pub repair_now: f64,
}

/// The best plan of a small task.
///
/// # Errors
/// More than eight causes or looks.
pub fn best_plan(task: &Task) -> Result<BestPlan, CalcError> {
    within(
        "probabilities",
        task.probabilities().len() as f64,
        1.0,
        MOST as f64,
    )?;
    within("looks", task.looks().len() as f64, 0.0, MOST as f64)?;
    let node = Node::first(task);
    let (order, repair_now) = node.repair_now(task);
    let (expected, first) = best(task, &node, &mut BTreeMap::new());
    let likeliest = order.first().copied().unwrap_or(0);
    Ok(BestPlan {
        expected,
        first: first.unwrap_or(First::Repair(likeliest)),
        repair_now,
    })
}

type Memory = BTreeMap<Box<[u32]>, (f64, Option<First>)>;

/// Least expected cost from `node`, and what to do first.
fn best(task: &Task, node: &Node, memory: &mut Memory) -> (f64, Option<First>) {
    let key = node.key();
    if let Some(found) = memory.get(&key) {
        return *found;
    }
    let survey = node.survey(task);
    let mut found = (f64::INFINITY, None);
    for cause in &survey.order {
        let after = node.leaves(*cause).map_or(0.0, |left| {
            let (after, _) = best(task, &node.not_helped(task, *cause), memory);
            left * (task.repairs().come_back + after)
        });
        let cost = task.repair(*cause) + after;
        if cost < found.0 {
            found = (cost, Some(First::Repair(*cause)));
        }
    }
    // No plan that begins with a look costs less than the look and the right repair after it.
    for worth in survey
        .looks
        .iter()
        .filter(|w| w.cost + survey.known < survey.repair_now)
    {
        let mut after = |yes| best(task, &node.answered(task, worth.look, yes), memory).0;
        let cost = worth.followed_by(after(true), after(false)).expected;
        if cost < found.0 {
            found = (cost, Some(First::Look(worth.look)));
        }
    }
    memory.insert(key, found);
    found
}
