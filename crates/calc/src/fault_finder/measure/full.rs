//! All sets of causes, straight from the definition.

use crate::fault_finder::model::{Model, Observation, in_doubt};

/// P(cause) and ln P(seen), given at least one cause and at most `most`: every set as a bit pattern.
pub(in crate::fault_finder) fn full(
    model: &Model,
    seen: &[Observation],
    most: usize,
) -> (Vec<f64>, f64) {
    let priors = model.priors();
    let n = priors.len();
    let (mut by_cause, mut total, mut before) = (vec![0.0; n], 0.0, 0.0);
    for pattern in (1u32..1 << n).filter(|pattern| pattern.count_ones() as usize <= most) {
        let has = |i: usize| pattern >> i & 1 == 1;
        let there = |i: usize| if has(i) { priors[i] } else { 1.0 - priors[i] };
        let prior: f64 = (0..n).map(there).product();
        let likelihood: f64 = seen.iter().map(|o| likelihood(model, o, &has)).product();
        before += prior;
        total += prior * likelihood;
        for i in (0..n).filter(|i| has(*i)) {
            by_cause[i] += prior * likelihood;
        }
    }
    let shares = by_cause.into_iter().map(|w| w / total).collect();
    (shares, (total / before).ln())
}

fn likelihood(model: &Model, observation: &Observation, has: &impl Fn(usize) -> bool) -> f64 {
    match observation {
        Observation::Answer { question, yes } => {
            let chance = yes_chance(model, *question, has);
            in_doubt(if *yes { chance } else { 1.0 - chance })
        }
        Observation::Handed(given) => {
            let all = given.alone.iter().enumerate();
            let ratio = |(_, alone): (usize, &f64)| alone / given.otherwise;
            let ratios: Vec<f64> = all.filter(|(i, _)| has(*i)).map(ratio).collect();
            let up = ratios.iter().copied().fold(1.0, f64::max);
            let down: f64 = ratios.iter().map(|r| r.min(1.0)).product();
            given.otherwise * up * down
        }
    }
}

/// Chance of a yes, not held in doubt.
pub(super) fn yes_chance(model: &Model, question: usize, has: &impl Fn(usize) -> bool) -> f64 {
    let question = &model.questions()[question];
    let there = question.links.iter().filter(|link| has(link.cause));
    let no: f64 = there.map(|link| 1.0 - link.chance).product();
    1.0 - (1.0 - question.leak) * no
}
