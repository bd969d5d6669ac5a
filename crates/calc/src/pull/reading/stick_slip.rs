//! Stick-slip: rises and falls of a dry or worn drive, all along the pull.

use super::known::Known;
use super::prepare::{Ready, mean};
use super::{Setup, Slip};
use crate::pull::peaks::{Peak, peaks};

/// Teeth below which no size of theirs is told: one or two are as likely the curve's own shape. Common practice, no source.
const FEWEST_TEETH: usize = 3;

/// Rises and falls that are no slips: how many a mm, and how large.
pub(super) fn chatter(ready: &Ready, slips: &[Slip], setup: &Setup) -> (f64, Option<Known>) {
    let (from, to) = (ready.begin, ready.end);
    let w = ((to - from) / 600).max(1);
    let means: Vec<(usize, f64)> = (from..to)
        .step_by(w)
        .map(|i| (i, mean(&ready.raw[i..(i + w).min(to)])))
        .collect();
    let noise = ready.told.noise_kn / (w as f64).sqrt();
    let least = (0.01 * ready.peak.kn.value).max(6.0 * noise);
    let forces: Vec<f64> = means.iter().map(|m| m.1).collect();
    let Ok(found) = peaks(&forces, least) else {
        return (0.0, None);
    };
    let travel = ready.stroke[to].max(1e-6);
    let near = |i: usize| {
        let sample = means[i].0;
        slips
            .iter()
            .any(|s| sample + 4 * w >= s.samples.0 && sample <= s.samples.1 + 4 * w)
    };
    // The hump and the highest point are the curve's own shape.
    let own = 0.12 * ready.peak.kn.value;
    let teeth: Vec<&Peak> = found
        .iter()
        .filter(|p| !near(p.index) && p.prominence < own)
        .collect();
    // By what each falls up to the next, so that a curve that falls by itself makes it no smaller.
    let next = |p: &Peak| found.iter().find(|other| other.index > p.index);
    let fall = |p: &Peak| match next(p) {
        Some(next) => {
            let between = forces[p.index..next.index].iter().copied();
            p.height - between.fold(p.height, f64::min)
        }
        None => p.prominence,
    };
    let size = mean(&teeth.iter().map(|p| fall(p)).collect::<Vec<_>>());
    // A tooth that falls at once has its edge within a mean: that loses up to what the force rises by in two of them, and nothing where
    // it is round. Half of it is put back, a rectangle about that in the uncertainty (JCGM 100:2008, 4.3.7).
    let rises: Vec<f64> = teeth.iter().map(|p| rise(&forces, p.index)).collect();
    let lost = mean(&rises).max(0.0);
    let size = size + lost;
    // Top and base of each, and no smaller for many: noise helps those to be told that it makes larger.
    let known = Known::new(size)
        .estimated(
            "part-pull-noise",
            (noise, "kN"),
            2f64.sqrt(),
            ready.noise_dof(),
        )
        .by("part-pull-tooth", (lost / 3f64.sqrt(), "kN"), 1.0);
    // Where the least that counts is set by noise, and is about what they measure, those of them that noise makes larger are told: no
    // size of theirs is.
    let clear = size >= (6.0 + 3.0 * 2f64.sqrt()) * noise;
    let told = teeth.len() >= FEWEST_TEETH && clear;
    let size = told.then(|| setup.of_difference(known, ready.peak.kn.value));
    (teeth.len() as f64 / travel, size)
}

/// What the force rises by from one mean to the next shortly before the top at `top`, kN.
fn rise(means: &[f64], top: usize) -> f64 {
    match top {
        3.. => (means[top - 1] - means[top - 3]) / 2.0,
        _ => 0.0,
    }
}
