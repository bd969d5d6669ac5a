//! Whether a force stands at its top while the stroke goes on, noise and all: it may be cut off there.
//!
//! A tool that stalls stands with its force; so only a top over which the stroke moves is asked about. Numbers: common
//! practice, no source.

/// Samples, and travel, mm and share of the whole, below which a top is not looked at.
const FEWEST: usize = 24;
const MOVES_MM: f64 = 0.5;
const MOVES_SHARE: f64 = 0.08;
/// The top is what lies within so many standard deviations of its mean.
const WIDE: f64 = 5.0;
/// It is level where it rises by less than so many standard uncertainties, and that is known to so much of it.
const SURE: f64 = 2.5;
const KNOWN: f64 = 0.004;
/// Half as long before it, the force was lower by so many standard deviations, and so much of the top.
const FLANK: f64 = 10.0;
const FLANK_SHARE: f64 = 0.01;

/// A top that is level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct LevelTop {
    /// Its mean, kN.
    pub at_kn: f64,
    /// Its first and last sample.
    pub samples: (usize, usize),
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

/// The level top of `force` over the zero, of `noise`, over `stroke` from home.
pub(super) fn level_top(force: &[f64], stroke: &[f64], zero: f64, noise: f64) -> Option<LevelTop> {
    let top = force.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1));
    let (top, most) = top.filter(|_| noise > 0.0)?;
    // The largest of some dozens of values lies so far above their mean.
    let mut level = most - 2.5 * noise;
    let (mut first, mut last) = (top, top);
    for _ in 0..3 {
        let near = |f: &&f64| (**f - level).abs() <= WIDE * noise;
        first = top - force[..top].iter().rev().take_while(near).count();
        last = top + force[top..].iter().take_while(near).count().max(1) - 1;
        level = mean(&force[first..=last]);
    }
    let part = &force[first..=last];
    let n = part.len();
    let farthest = stroke.iter().fold(0.0, |most: f64, s| most.max(s.abs()));
    let moves = (stroke[last] - stroke[first]).abs() >= MOVES_MM.max(MOVES_SHARE * farthest);
    if n < FEWEST || !moves {
        return None;
    }
    let at_kn = level - zero;
    // Thirds: a slope parts the outer ones, a round top the middle one from both.
    let third = n / 3;
    let [before, middle, after] =
        [&part[..third], &part[third..n - third], &part[n - third..]].map(mean);
    let u = noise * (2.0 / third as f64).sqrt();
    let rises = (after - before)
        .abs()
        .max((middle - (before + after) / 2.0).abs());
    let is_level = rises <= SURE * u && SURE * u <= KNOWN * at_kn;
    let half = first.checked_sub(n / 2)?;
    let flank = mean(&force[half.saturating_sub(2)..=half + 2]);
    let climbed = level - flank > (FLANK * noise).max(FLANK_SHARE * at_kn);
    let samples = (first, last);
    (is_level && climbed).then_some(LevelTop { at_kn, samples })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sixty samples up to 18 kN over 6 mm and 120 more with what `beyond` makes of it, the stroke going on by `step` mm.
    fn top(beyond: impl Fn(usize) -> f64, step: f64) -> Option<LevelTop> {
        let wiggle = |i: usize| (i * 7919 % 13) as f64 * 0.008 - 0.048;
        let force: Vec<f64> = (0..180)
            .map(|i| {
                wiggle(i)
                    + if i < 60 {
                        0.3 * i as f64
                    } else {
                        beyond(i - 60)
                    }
            })
            .collect();
        let stroke: Vec<f64> = (0..180)
            .map(|i: usize| i.min(60) as f64 * 0.1 + i.saturating_sub(60) as f64 * step)
            .collect();
        level_top(&force, &stroke, 0.0, 0.03)
    }

    #[test]
    fn a_level_top_is_one_over_which_the_stroke_goes_on() {
        let found = top(|_| 18.0, 0.02).expect("level");
        assert!((found.at_kn - 18.0).abs() < 0.02, "{found:?}");
        assert!(found.samples.0.abs_diff(60) < 4 && found.samples.1 == 179);
        // A tool that stalls, a slope, a round top.
        assert_eq!(top(|_| 18.0, 0.0), None);
        assert_eq!(top(|i| 18.0 + 0.002 * i as f64, 0.02), None);
        assert_eq!(
            top(|i| 18.2 - 0.00006 * (i as f64 - 60.0).powi(2), 0.02),
            None
        );
        assert_eq!(level_top(&[], &[], 0.0, 0.1), None);
    }
}
