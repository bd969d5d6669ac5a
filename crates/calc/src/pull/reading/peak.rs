//! The largest force of a pull.
//!
//! The largest of many noisy values lies above the truth, by what the largest of so many normal values lies above their mean
//! (Blom's approximation); that is taken off. A filter takes some of a sharp peak and swings over a force that falls
//! at once: so it ends where the force falls for good, and the peak as recorded is its check.

use crate::CalcError;
use crate::error::within;
use crate::filters::LARGEST;
use crate::normal;
use crate::uncertainty_budget::Part;

use super::known::Known;
use super::prepare::{Filter, filtered, mean};
use super::{Told, Value};

/// The largest force.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Peak {
    /// As recorded, zero and drift off, kN.
    pub raw_kn: f64,
    /// Behind the filter, kN; its uncertainty is that of noise and filter alone.
    pub kn: Value,
    /// What that is made of.
    pub parts: Vec<Part>,
    /// The sample with it.
    pub at: usize,
}

/// The largest force from `begin` on; `last` is the last sample over half of it.
pub(super) fn peak(
    raw: &[f64],
    smooth: &[f64],
    begin: usize,
    last: usize,
    told: &Told,
    noise_dof: f64,
) -> Result<Peak, CalcError> {
    let width = told.width().max(2);
    // So far before the fall the filter knows nothing of it.
    let clear = last.saturating_sub(4 * width).max(begin);
    let level = mean(&raw[clear.saturating_sub(width)..=clear]);
    let near = &raw[..(last + width).min(raw.len())];
    let high = |f: &f64| *f >= 0.97 * level;
    let fall = near.iter().rposition(high).unwrap_or(last).max(clear);
    // Near the fall the filter is run once more, ending there.
    let from = clear.saturating_sub(8 * width).max(begin);
    let tail = &raw[from..=fall];
    let again = match filtered(tail, told.filter, told.rate_hz, 0.0) {
        Ok((again, _)) => again,
        // Fewer samples than the filter takes: as recorded.
        Err(_) => tail.to_vec(),
    };
    let joint = (clear - from) / 2;
    let forces: Vec<f64> = smooth[begin..from + joint]
        .iter()
        .chain(&again[joint..])
        .copied()
        .collect();
    let raw = &raw[begin..=fall];
    let raw_kn = most(raw);
    let left = left_of_noise(told);
    let raw_top = raw_kn - told.noise_kn * above(count(&forces, told.noise_kn), 1);
    let highest = forces.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1));
    let at = highest.map_or(0, |(i, _)| i);
    let top = most(&forces) - left * above(count(&forces, left), 2 * width);
    let value = within("F", top.min(raw_kn), 1e-9, LARGEST)?;
    // Between samples the force rises no further than the flatter flank goes on, on either side.
    let fall = |i: Option<usize>| {
        i.and_then(|i| forces.get(i))
            .map_or(0.0, |f| most(&forces) - f)
    };
    let between = fall(at.checked_sub(1)).min(fall(Some(at + 1))) / 2.0;
    let by_filter = (raw_top - value) / 3f64.sqrt();
    let known = Known::new(value)
        .by("part-pull-filter", (by_filter, "kN"), 1.0)
        .estimated("part-pull-noise", (left, "kN"), 1.0, noise_dof)
        .by("part-pull-between", (between / 3f64.sqrt(), "kN"), 1.0);
    Ok(Peak {
        raw_kn,
        kn: known.plain(),
        parts: known.parts,
        at: begin + at,
    })
}

fn most(forces: &[f64]) -> f64 {
    forces.iter().copied().fold(f64::MIN, f64::max)
}

/// Standard deviation of what the filter leaves of white noise, kN.
fn left_of_noise(told: &Told) -> f64 {
    let share = match told.filter {
        Filter::Butterworth { cutoff_hz, .. } => 2.0 * cutoff_hz / told.rate_hz,
        // The middle weight of a parabola through many points.
        Filter::SavitzkyGolay { window, .. } => 9.0 / (4.0 * window as f64),
        Filter::None | Filter::Usual => 1.0,
    };
    told.noise_kn * share.min(1.0).sqrt()
}

/// How many forces lie so near the top that noise may make them the largest.
fn count(forces: &[f64], noise: f64) -> usize {
    let least = most(forces) - 3.0 * noise;
    forces.iter().filter(|f| **f >= least).count()
}

/// The largest mean of `w` neighbouring forces, less what their noise lifts it; its uncertainty is that noise, of `noise_dof` degrees of
/// freedom. `None` where there are fewer forces.
pub(super) fn largest_mean(
    forces: &[f64],
    w: usize,
    noise_kn: f64,
    noise_dof: f64,
) -> Option<Known> {
    let one = 1.0 / (w as f64).sqrt();
    let u = noise_kn * one;
    let means = || {
        let first: f64 = forces.iter().take(w).sum();
        let steps = forces.windows(w + 1).map(|part| part[w] - part[0]);
        let rest = steps.scan(first, |sum, step| {
            *sum += step;
            Some(*sum)
        });
        std::iter::once(first).chain(rest).map(|sum| sum / w as f64)
    };
    if w == 0 || forces.len() < w {
        return None;
    }
    let top = means().fold(f64::MIN, f64::max);
    let near = means().filter(|mean| *mean >= top - 3.0 * u).count();
    let known = Known::new(top - u * above(near, w));
    Some(known.estimated("part-pull-noise", (noise_kn, "kN"), one, noise_dof))
}

/// By how many standard deviations the largest of `count` normal values lies above their mean; `each` of them hang
/// together.
fn above(count: usize, each: usize) -> f64 {
    let alone = (count as f64 / each as f64).max(1.0);
    normal::quantile((alone - 0.375) / (alone + 0.25)).unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Expected values of the largest of n standard normal values: Harter, Biometrika 48 (1961) 151, table 1, from memory;
    /// those of 2 and 3 are 1/√π and 3/(2√π). Each is also the integral of n·x·φ(x)·Φ(x)ⁿ⁻¹.
    const LARGEST_OF: [(usize, f64); 7] = [
        (2, 0.564_19),
        (3, 0.846_28),
        (5, 1.162_96),
        (10, 1.538_75),
        (20, 1.867_48),
        (50, 2.249_07),
        (100, 2.507_59),
    ];

    #[test]
    fn the_largest_of_normal_values_lies_above_their_mean_as_tabled() {
        for (n, tabled) in LARGEST_OF {
            // Blom's is an approximation: off by 0.026 for 2 values, by 0.01 and less from 10 on.
            let most = if n < 10 { 0.026 } else { 0.01 };
            let off = above(n, 1) - tabled;
            assert!(off.abs() < most, "{n}: {off}");
            // Of values that hang together by ten, so many as of a tenth alone.
            assert!((above(10 * n, 10) - above(n, 1)).abs() < 1e-12);
        }
        assert!(above(1, 1).abs() < 1e-9 && above(3, 10).abs() < 1e-9);
    }

    /// A level of 10 kN with noise of 0.1 kN: its largest value is not its force.
    #[test]
    fn what_noise_lifts_the_largest_mean_by_is_taken_off() {
        // Evenly spaced quantiles stand for 100 normal values; largest, smallest, then in turn from both ends.
        let quantile = |i: usize| normal::quantile((i as f64 + 0.5) / 100.0).expect("inside");
        let forces: Vec<f64> = (0..100)
            .map(|i| if i % 2 == 0 { 99 - i / 2 } else { i / 2 })
            .map(|i| 10.0 + 0.1 * quantile(i))
            .collect();
        let found = largest_mean(&forces, 1, 0.1, 25.0).expect("enough");
        // The largest stands 2.576 of them up. 66 of the values lie within three of it, and count: 0.02 kN stays.
        assert!((found.value - 10.02).abs() < 0.01, "{found:?}");
        assert!((found.u() - 0.1).abs() < 1e-12);
    }
}
