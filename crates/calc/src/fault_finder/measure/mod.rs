//! How good the approximations are, measured on random small models where the exact answer can be had.
//!
//! Randomness is the caller's: each function takes independent values, uniform between 0 and 1.
//!
//! # Source
//! The exact answers are counted out: every set of causes, every answer and repair. How the models are drawn
//! is our own choice.
//!
//! [`approximation`] holds sets of up to one, two and three causes against all sets. [`plans`] holds
//! look-ahead, one step, repairs alone and bits per cost against the best plan.

mod draw;
mod full;
mod policies;

use self::draw::{draw_evidence, draw_model, draw_task};
pub(super) use self::full::full;
use self::policies::{Policy, cost_of};
use super::{Effort, Faults, best_plan, posterior};
use crate::error::{CalcError, within};

/// How many random models, and how large.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sizes {
    /// Models.
    pub cases: usize,
    /// Causes of each: 2 to 18 for [`approximation`], 2 to 8 for [`plans`].
    pub causes: usize,
    /// Questions of each: 1 to 100 for [`approximation`], 1 to 8 for [`plans`].
    pub questions: usize,
}

/// How far an approximation was off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ApproximationRow {
    /// Causes at once that it allows.
    pub faults: Faults,
    /// Mean difference of a cause's probability.
    pub mean_error: f64,
    /// Largest difference of a cause's probability.
    pub largest_error: f64,
    /// Cases in which the likeliest cause is the same.
    pub same_first: usize,
    /// Cases.
    pub cases: usize,
}

/// Sets of up to one, two and three causes against all sets, where any number of causes may be there.
/// What was seen is drawn from each model, all questions answered. `faults_expected`: the sum of the priors,
/// 0.01 to 3.
///
/// # Errors
/// Sizes outside what [`Sizes`] states.
pub fn approximation(
    sizes: Sizes,
    faults_expected: f64,
    mut uniform: impl FnMut() -> f64,
) -> Result<Vec<ApproximationRow>, CalcError> {
    within("causes", sizes.causes as f64, 2.0, 18.0)?;
    within("questions", sizes.questions as f64, 1.0, 100.0)?;
    within("faults_expected", faults_expected, 0.01, 3.0)?;
    let row = |faults| ApproximationRow {
        faults,
        mean_error: 0.0,
        largest_error: 0.0,
        same_first: 0,
        cases: sizes.cases,
    };
    let mut rows = [Faults::One, Faults::Two, Faults::Three].map(row);
    for _ in 0..sizes.cases {
        let model = draw_model(sizes.causes, sizes.questions, faults_expected, &mut uniform)?;
        let seen = draw_evidence(&model, &mut uniform);
        let (known, _) = full(&model, &seen, sizes.causes);
        for row in &mut rows {
            let found = posterior(&model, &seen, row.faults)?;
            for (got, known) in found.causes.iter().zip(&known) {
                row.mean_error += (got - known).abs();
                row.largest_error = row.largest_error.max((got - known).abs());
            }
            row.same_first += usize::from(likeliest(&found.causes) == likeliest(&known));
        }
    }
    for row in &mut rows {
        row.mean_error /= (sizes.cases * sizes.causes).max(1) as f64;
    }
    Ok(rows.to_vec())
}

fn likeliest(p: &[f64]) -> Option<usize> {
    (0..p.len()).max_by(|a, b| p[*a].total_cmp(&p[*b]))
}

/// How a way of working is chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Look-ahead, planned anew after each answer and each repair that did not help.
    LookAhead,
    /// One step ahead, again and again.
    OneStep,
    /// Repairs in the order of p / (r + t + b), no look.
    RepairsAlone,
    /// The look with the most bits per cost until a cause has 95 % or no look is left, then repairs.
    BitsPerCost,
}

/// What a way of working costs, as a share of the best plan's expected cost.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlanRow {
    /// The way.
    pub way: Way,
    /// Mean of expected cost over the best plan's, minus 1.
    pub mean_excess: f64,
    /// The largest.
    pub largest_excess: f64,
    /// Cases in which it is within 1 % of the best plan.
    pub within_1_percent: usize,
    /// Cases.
    pub cases: usize,
}

/// Ways of working against the best plan. Expected costs are exact: every answer is followed with its
/// probability.
///
/// # Errors
/// Sizes outside what [`Sizes`] states.
pub fn plans(
    sizes: Sizes,
    effort: Effort,
    mut uniform: impl FnMut() -> f64,
) -> Result<Vec<PlanRow>, CalcError> {
    within(
        "causes",
        sizes.causes as f64,
        2.0,
        super::exact::MOST as f64,
    )?;
    within(
        "questions",
        sizes.questions as f64,
        1.0,
        super::exact::MOST as f64,
    )?;
    let row = |way| PlanRow {
        way,
        mean_excess: 0.0,
        largest_excess: 0.0,
        within_1_percent: 0,
        cases: sizes.cases,
    };
    let ways = [
        Way::LookAhead,
        Way::OneStep,
        Way::RepairsAlone,
        Way::BitsPerCost,
    ];
    let mut rows = ways.map(row);
    for _ in 0..sizes.cases {
        let task = draw_task(sizes.causes, sizes.questions, &mut uniform)?;
        let best = best_plan(&task)?.expected;
        for row in &mut rows {
            let excess = cost_of(&task, &mut Policy::new(&task, row.way, effort)) / best - 1.0;
            row.mean_excess += excess;
            row.largest_excess = row.largest_excess.max(excess);
            row.within_1_percent += usize::from(excess <= 0.01);
        }
    }
    for row in &mut rows {
        row.mean_excess /= sizes.cases.max(1) as f64;
    }
    Ok(rows.to_vec())
}

#[cfg(test)]
mod tests;
