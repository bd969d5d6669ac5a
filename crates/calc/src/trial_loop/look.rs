//! What to set next when joints are only looked at: the look that is worth most.
//!
//! # Formula
//! A look at setting x says below, inside or above. Its worth is the fall of the rejects expected at the
//! best setting: r(x*) − Σ_o P(o | x) · min_y r(y | o), the expected value of sample information one look
//! ahead. While the best look is worth more than a joint costs it is taken; then the best setting is tried.
//!
//! # Source
//! Raiffa and Schlaifer, Applied Statistical Decision Theory, 4.5 (from memory). One look ahead is an
//! approximation: the simulation measures what it is worth.

use super::Task;
use super::belief::Belief;
use super::plan::Choice;

/// Settings either side of the best one that are weighed.
const REACH: i32 = 7;

/// What to do after a look at `at_mm`.
pub(super) fn choice(task: &Task, belief: &Belief, at_mm: f64) -> Choice {
    let cost = 1.0 / task.joints_between;
    let off = at_mm + belief.offset_mm() - task.window.middle_mm();
    let centre = -(off / task.step_mm).round() as i32;
    let settings: Vec<i32> = (centre - REACH..=centre + REACH).collect();
    // For each setting and each part of the belief: below, inside, above.
    let chances: Vec<Vec<[f64; 3]>> = settings
        .iter()
        .map(|steps| {
            let at = at_mm + f64::from(*steps) * task.step_mm;
            belief.sides(task.window, at)
        })
        .collect();
    let weights: Vec<f64> = belief.weights().collect();
    let (best, rejects) = least(&chances, &weights);
    let worth = |look: &Vec<[f64; 3]>| {
        let after: f64 = (0..3)
            .map(|side| {
                let seen = weights.iter().zip(look).map(|(w, c)| w * c[side]);
                let seen: Vec<f64> = seen.collect();
                // Not divided by its sum: the share of this answer is in it.
                least(&chances, &seen).1
            })
            .sum();
        rejects - after
    };
    let worths = chances.iter().map(worth).enumerate();
    let (look, worth) = worths
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .unwrap_or((best, 0.0));
    let is_best = settings[best] == 0;
    if worth > cost {
        return Choice {
            gain: cost - worth,
            steps: settings[look],
            further: 2.0,
        };
    }
    Choice {
        gain: if is_best { cost - worth } else { -cost },
        steps: settings[best],
        further: if is_best { 0.0 } else { 1.0 },
    }
}

/// The setting with the fewest rejects under `weights`, and these.
fn least(chances: &[Vec<[f64; 3]>], weights: &[f64]) -> (usize, f64) {
    let rejects = chances.iter().map(|setting| {
        let outside = setting.iter().map(|c| c[0] + c[2]);
        weights.iter().zip(outside).map(|(w, out)| w * out).sum()
    });
    let all = rejects.enumerate();
    all.min_by(|a: &(usize, f64), b| a.1.total_cmp(&b.1))
        .unwrap_or((0, 0.0))
}
