//! The search behind [`advise`](super::advise): depth by depth, nodes remembered.

use std::collections::BTreeMap;

use super::look_ahead::{Advice, Effort, First};
use super::node::Node;
use super::survey::{Survey, Worth};
use super::task::Task;

/// Expected costs nearer than this share are taken as equal: nothing is proposed for rounding.
const SAME: f64 = 1e-9;

/// Looks of a node that are remembered; wider no search goes.
const FOLLOWED: usize = 16;

/// What was found so far for the node that advice is sought for.
struct Found {
    looks: Vec<Worth>,
    repair_first: f64,
    depth: usize,
}

impl Found {
    /// Keeps what is cheaper than before.
    fn add(&mut self, deeper: &[Worth], repair_first: f64, depth: usize) {
        self.repair_first = self.repair_first.min(repair_first);
        self.depth = self.depth.max(depth);
        for worth in deeper {
            let old = self.looks.iter_mut().find(|old| old.look == worth.look);
            if let Some(old) = old.filter(|old| worth.expected < old.expected) {
                *old = *worth;
            }
        }
    }
}

/// What is remembered of a node.
struct Known {
    order_first: Option<usize>,
    known: f64,
    /// The looks that are followed, most promising first.
    looks: Vec<Worth>,
    /// Depth to which `value` was sought, and looks that were followed then.
    depth: usize,
    width: usize,
    value: f64,
}

pub(super) struct Search<'a> {
    task: &'a Task,
    effort: Effort,
    in_time: &'a dyn Fn() -> bool,
    memory: BTreeMap<Box<[u32]>, Known>,
    evaluations: usize,
    /// Looks that are followed from the node that advice is sought for.
    width: usize,
    /// Steps made before the node that advice is sought for.
    root: usize,
    /// The effort is spent: what is found from now on does not count.
    spent: bool,
    /// Of the effort, the time was spent first.
    out_of_time: bool,
    /// Somewhere the depth ended before the looks did.
    cut: bool,
}

impl<'a> Search<'a> {
    pub(super) fn new(task: &'a Task, effort: Effort, in_time: &'a dyn Fn() -> bool) -> Self {
        Self {
            task,
            effort,
            in_time,
            memory: BTreeMap::new(),
            evaluations: 0,
            width: effort.breadth,
            root: 0,
            spent: false,
            out_of_time: false,
            cut: false,
        }
    }

    pub(super) fn advise(&mut self, node: &Node) -> Advice {
        self.evaluations = 1;
        self.root = node.steps();
        (self.spent, self.out_of_time) = (false, false);
        self.width = self.effort.breadth;
        let survey = node.survey(self.task);
        let mut found = Found {
            looks: survey.looks.clone(),
            repair_first: survey.repair_now,
            depth: 1,
        };
        // What a narrow search leaves of the effort goes into a wider one: up to all looks, four steps ahead.
        let widest = survey.looks.len().min(FOLLOWED) << 4;
        while self.deepen(node, &survey, &mut found) && self.width < widest {
            self.width *= 4;
        }
        let Found {
            mut looks,
            repair_first,
            depth,
        } = found;
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
            out_of_time: self.out_of_time,
        }
    }

    /// Searches step by step deeper at the present width. Whether it went as deep as it may, with effort left.
    fn deepen(&mut self, node: &Node, survey: &Survey, found: &mut Found) -> bool {
        let followed = self.followed(survey);
        if followed.is_empty() || self.effort.depth < 2 {
            return false;
        }
        let (mut before, mut last_new) = (self.evaluations - 1, 0);
        // A wider search begins where the narrower one ended.
        for depth in found.depth.max(2) - 1..self.effort.depth {
            self.cut = false;
            let deeper: Vec<Worth> = followed
                .iter()
                .take(self.width)
                .map(|worth| self.deeper(node, worth, depth))
                .collect();
            let go_on = self.repair_first(node, survey.order.first().copied(), depth);
            if self.spent {
                return false;
            }
            found.add(&deeper, go_on, depth + 1);
            if !self.cut {
                return true;
            }
            let new = self.evaluations - before;
            // The next depth grows as this one did, or not at all; what cannot be finished is not begun.
            let next = (new * new)
                .checked_div(last_new)
                .map_or(new, |next| next.max(new));
            if self.evaluations + next > self.effort.evaluations {
                return false;
            }
            (before, last_new) = (self.evaluations, new);
        }
        true
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
            self.out_of_time = !(self.in_time)();
            if self.out_of_time || self.evaluations >= self.effort.evaluations {
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
        let width = self.breadth(node);
        let done = known.depth >= depth && (known.width >= width || known.depth == 1);
        if depth == 1 || done || known.looks.is_empty() {
            let open = |worth: &Worth| worth.cost + known.known < known.value;
            self.cut |= known.looks.iter().any(open);
            return known.value;
        }
        let (mut best, bound) = (known.value, known.known);
        let (looks, first) = (known.looks.clone(), known.order_first);
        for worth in looks.iter().take(width) {
            if worth.cost + bound < best {
                best = best.min(self.deeper(node, worth, depth - 1).expected);
            }
        }
        best = best.min(self.repair_first(node, first, depth - 1));
        if !self.spent
            && let Some(known) = self.memory.get_mut(&key)
        {
            known.value = known.value.min(best);
            (known.depth, known.width) = (depth, width);
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
            width: 0,
        }
    }

    /// The looks that may be followed, most promising first: by expected cost and by bits per
    /// cost, in turn.
    fn followed(&self, survey: &Survey) -> Vec<Worth> {
        let possible =
            |worth: &&Worth| worth.bits > SAME && worth.cost + survey.known < survey.repair_now;
        let mut cheap: Vec<Worth> = survey.looks.iter().filter(possible).copied().collect();
        cheap.sort_by(|a, b| a.expected.total_cmp(&b.expected));
        let mut telling = cheap.clone();
        let per_cost = |worth: &Worth| worth.bits / worth.cost.max(f64::MIN_POSITIVE);
        telling.sort_by(|a, b| per_cost(b).total_cmp(&per_cost(a)));
        let mut looks: Vec<Worth> = Vec::with_capacity(FOLLOWED);
        for worth in cheap.into_iter().zip(telling).flat_map(|(a, b)| [a, b]) {
            if looks.len() >= FOLLOWED {
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
        let halved = self.width.checked_shr(steps as u32);
        halved.unwrap_or(0).max(1)
    }
}
