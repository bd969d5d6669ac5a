//! Random models and tasks, as a workshop's might be.

use super::full::yes_chance;
use crate::error::CalcError;
use crate::fault_finder::model::{Link, Model, Observation, Question};
use crate::fault_finder::task::{Bench, Look, Repairs, Says, Task};

/// A value from `low` to `high`.
fn between(low: f64, high: f64, uniform: &mut impl FnMut() -> f64) -> f64 {
    low + (high - low) * uniform()
}

/// Causes whose priors span a factor of 75 and add up to `faults_expected` (none above 0.9); each question
/// hears of about a third of them.
pub(super) fn draw_model(
    causes: usize,
    questions: usize,
    faults_expected: f64,
    uniform: &mut impl FnMut() -> f64,
) -> Result<Model, CalcError> {
    let weights: Vec<f64> = (0..causes)
        .map(|_| between(0.0, 75_f64.ln(), uniform).exp())
        .collect();
    let sum: f64 = weights.iter().sum();
    let prior = |weight: f64| (weight / sum * faults_expected).min(0.9);
    let priors = weights.into_iter().map(prior).collect();
    let mut drawn = Vec::with_capacity(questions);
    for _ in 0..questions {
        let leak = between(0.005, 0.1, uniform);
        let mut links = Vec::new();
        for cause in 0..causes {
            if uniform() < 1.0 / 3.0 {
                let chance = between(0.2, 0.95, uniform);
                links.push(Link { cause, chance });
            }
        }
        drawn.push(Question { leak, links });
    }
    Model::new(priors, drawn)
}

/// The answers to all questions with a set of causes drawn from the priors, at least one of them there.
pub(super) fn draw_evidence(model: &Model, uniform: &mut impl FnMut() -> f64) -> Vec<Observation> {
    let mut there: Vec<bool> = Vec::new();
    // So rare a miss that the bound is never met by honest numbers; it ends the search for others.
    for _ in 0..100_000 {
        there = model.priors().iter().map(|p| uniform() < *p).collect();
        if there.contains(&true) {
            break;
        }
    }
    let has = |i: usize| there.get(i) == Some(&true);
    let questions = 0..model.questions().len();
    let answer = |question| Observation::Answer {
        question,
        yes: uniform() < yes_chance(model, question, &has),
    };
    questions.map(answer).collect()
}

/// States of the tool in a drawn task.
const STATES: usize = 3;

/// Repairs of 5 to 100, a come-back of 0 to 100, looks of 1 to 20 in three states of the tool.
pub(super) fn draw_task(
    causes: usize,
    looks: usize,
    uniform: &mut impl FnMut() -> f64,
) -> Result<Task, CalcError> {
    let weights: Vec<f64> = (0..causes)
        .map(|_| between(0.02_f64.ln(), 0.0, uniform).exp())
        .collect();
    let repairs = Repairs {
        costs: (0..causes).map(|_| between(5.0, 100.0, uniform)).collect(),
        proof: between(0.0, 10.0, uniform),
        come_back: between(0.0, 100.0, uniform),
    };
    let mut drawn = Vec::with_capacity(looks);
    for _ in 0..looks {
        let (cost, otherwise) = (between(1.0, 20.0, uniform), between(0.01, 0.15, uniform));
        let state = (uniform() * STATES as f64) as usize;
        let mut says = Vec::new();
        for cause in 0..causes {
            if uniform() < 0.4 {
                let yes = between(0.5, 0.98, uniform);
                says.push(Says { cause, yes });
            }
        }
        drawn.push(Look {
            cost,
            state: state.min(STATES - 1),
            otherwise,
            says,
        });
    }
    let mut change = vec![vec![0.0; STATES]; STATES];
    for (from, row) in change.iter_mut().enumerate() {
        for (_, cost) in row.iter_mut().enumerate().filter(|(to, _)| *to != from) {
            *cost = between(0.0, 10.0, uniform);
        }
    }
    let bench = Bench {
        state: 0,
        change,
        forbidden: vec![false; STATES],
    };
    Task::new(&weights, repairs, drawn, bench)
}
