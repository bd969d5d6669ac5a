//! A point of the work: what is known there, and what each look would cost and tell.
//!
//! # Formula
//! Repairing at once, in the order of falling p / (r + t + b), costs Σ p · D − b, where D is the sum of
//! r + t + b over the causes up to this one: each repair costs its price r and the proof t, each that did
//! not help the come-back b, and the last one helped. Exchanging neighbours shows that the order is best.
//!
//! A look changes the ratio of the causes that it names and scales all others alike, so that their order
//! holds: the order after an answer is had by merging.

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

    fn made(&self, look: usize) -> bool {
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

/// What a repair costs that does not help.
fn wrong(task: &Task, cause: usize) -> f64 {
    task.repair(cause) + task.repairs().come_back
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
mod tests {
    use super::*;
    use crate::fault_finder::task::{Bench, Look, Repairs, Says};
    use crate::information;
    use proptest::prelude::*;

    fn any_task() -> impl Strategy<Value = Task> {
        let weights = prop::collection::vec(0.01..1.0f64, 6);
        let costs = prop::collection::vec(0.0..50.0f64, 6);
        let yes = prop::collection::vec(prop::option::of(0.0..1.0f64), 18);
        (weights, costs, yes, 0.0..1.0f64, 0.0..30.0f64).prop_map(
            |(weights, costs, yes, otherwise, come_back)| {
                let looks = (0..3).map(|j| Look {
                    cost: 1.0,
                    state: 0,
                    otherwise,
                    says: (0..6)
                        .filter_map(|i| {
                            Some(Says {
                                cause: i,
                                yes: yes[j * 6 + i]?,
                            })
                        })
                        .collect(),
                });
                let repairs = Repairs {
                    costs,
                    proof: 2.0,
                    come_back,
                };
                let looks = looks.collect();
                Task::new(&weights, repairs, looks, Bench::one_state()).expect("fine")
            },
        )
    }

    /// Cost of repairing in an order, step by step as it is paid.
    fn paid(p: &[f64], task: &Task, order: &[usize]) -> f64 {
        let mut left = 1.0;
        let mut sum = 0.0;
        for i in order {
            sum += left * task.repair(*i);
            left = f64::max(left - p[*i], 0.0);
            sum += left * task.repairs().come_back;
        }
        sum
    }

    proptest! {
        #[test]
        fn no_exchange_makes_repairing_cheaper(task in any_task(), a in 0..6usize, b in 0..6usize) {
            let node = Node::first(&task);
            let (mut order, cost) = node.repair_now(&task);
            prop_assert!((cost - paid(&node.p, &task, &order)).abs() < 1e-9);
            order.swap(a, b);
            prop_assert!(cost <= paid(&node.p, &task, &order) + 1e-9);
        }

        #[test]
        fn merged_orders_agree_with_sorting_anew(task in any_task()) {
            let node = Node::first(&task);
            for worth in node.survey(&task).looks {
                for (yes, after) in [(true, worth.after_yes), (false, worth.after_no)] {
                    let (_, known) = node.answered(&task, worth.look, yes).repair_now(&task);
                    prop_assert!((after - known).abs() < 1e-9, "{worth:?} {known}");
                }
                let look = &task.looks()[worth.look];
                let mut yes = vec![look.otherwise; 6];
                for says in &look.says {
                    yes[says.cause] = says.yes;
                }
                let known = information::expected(&node.p, &yes);
                prop_assert!((worth.yes - known.yes).abs() < 1e-9);
                prop_assert!((worth.bits - known.bits).abs() < 1e-9);
            }
        }

        #[test]
        fn a_look_never_makes_repairing_dearer(task in any_task()) {
            let survey = Node::first(&task).survey(&task);
            for worth in &survey.looks {
                prop_assert!(worth.expected - worth.cost <= survey.repair_now + 1e-9);
            }
            prop_assert!(survey.known <= survey.repair_now + 1e-9);
        }

        #[test]
        fn the_order_of_answers_is_forgotten(task in any_task()) {
            let first = Node::first(&task);
            let a = first.answered(&task, 0, true).answered(&task, 2, false);
            let b = first.answered(&task, 2, false).answered(&task, 0, true);
            prop_assert_eq!(a.key(), b.key());
            for (a, b) in a.p.iter().zip(&b.p) {
                prop_assert!((a - b).abs() < 1e-12);
            }
        }
    }
}
