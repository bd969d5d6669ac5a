//! Ways of working, and what each is expected to cost.

use super::Way;
use crate::fault_finder::look_ahead::{Effort, First};
use crate::fault_finder::node::Node;
use crate::fault_finder::search::Search;
use crate::fault_finder::task::Task;

/// From this probability on, who goes by bits per cost repairs.
const SURE: f64 = 0.95;

/// A look that tells less is not made by who goes by bits per cost.
const TELLS: f64 = 1e-6;

/// Someone who works in one way.
pub(super) struct Policy<'a> {
    way: Way,
    search: Search<'a>,
}

impl<'a> Policy<'a> {
    pub(super) fn new(task: &'a Task, way: Way, effort: Effort) -> Self {
        let effort = if way == Way::LookAhead {
            effort
        } else {
            Effort::ONE_STEP
        };
        let search = Search::new(task, effort, &|| true);
        Self { way, search }
    }

    fn next(&mut self, task: &Task, node: &Node) -> First {
        match self.way {
            Way::LookAhead | Way::OneStep => self.search.advise(node).first,
            Way::RepairsAlone => repair(task, node),
            Way::BitsPerCost => bits_per_cost(task, node),
        }
    }
}

fn repair(task: &Task, node: &Node) -> First {
    First::Repair(node.repair_now(task).0.first().copied().unwrap_or(0))
}

fn bits_per_cost(task: &Task, node: &Node) -> First {
    if node.p.iter().any(|p| *p >= SURE) {
        return repair(task, node);
    }
    let survey = node.survey(task);
    let telling = survey.looks.iter().filter(|worth| worth.bits > TELLS);
    let per_cost = |worth: &&crate::fault_finder::Worth| worth.bits / worth.cost;
    telling
        .max_by(|a, b| per_cost(a).total_cmp(&per_cost(b)))
        .map_or_else(|| repair(task, node), |worth| First::Look(worth.look))
}

/// Expected cost of working in this way, every answer followed.
pub(super) fn cost_of(task: &Task, policy: &mut Policy) -> f64 {
    follow(task, &Node::first(task), policy)
}

fn follow(task: &Task, node: &Node, policy: &mut Policy) -> f64 {
    match policy.next(task, node) {
        First::Repair(cause) => {
            let after = node.leaves(cause).map_or(0.0, |left| {
                let after = follow(task, &node.not_helped(task, cause), policy);
                left * (task.repairs().come_back + after)
            });
            task.repair(cause) + after
        }
        First::Look(look) => {
            let says = &task.looks()[look];
            let yes: f64 = node.p.iter().sum::<f64>() * says.otherwise;
            let named = says.says.iter();
            let named = named.map(|s| node.p[s.cause] * (s.yes - says.otherwise));
            let yes = yes + named.sum::<f64>();
            let cost = says.cost + task.bench().change[node.state][says.state];
            let after_yes = follow(task, &node.answered(task, look, true), policy);
            let after_no = follow(task, &node.answered(task, look, false), policy);
            cost + yes * after_yes + (1.0 - yes) * after_no
        }
    }
}
