//! Whether a force was cut off at the end of the cell or its amplifier.

/// Samples in a row at the very largest value from which on it is looked at.
const FLAT: usize = 8;
/// A rounded top falls by about 4 steps of resolution as far outside the flat run as the run is half long;
/// a cut one by more than this.
const STEPS: f64 = 8.0;

/// The value and number of samples of a top that was cut off, if there is one.
///
/// A top is cut off where it stands at `end`, or where it is flat and the flanks do not bend towards it.
pub(super) fn flat_top(force_kn: &[f64], end: Option<f64>) -> Option<(f64, usize)> {
    let most = force_kn.iter().copied().fold(f64::MIN, f64::max);
    if let Some(end) = end.filter(|end| most >= *end * (1.0 - 1e-9)) {
        return Some((
            most,
            force_kn
                .iter()
                .filter(|f| **f >= end * (1.0 - 1e-9))
                .count(),
        ));
    }
    let (mut begin, mut length, mut run) = (0, 0, 0);
    for (i, force) in force_kn.iter().enumerate() {
        run = if *force == most { run + 1 } else { 0 };
        if run > length {
            (begin, length) = (i + 1 - run, run);
        }
    }
    if length < FLAT {
        return None;
    }
    let half = length / 2;
    let left = force_kn.get(begin.checked_sub(half)?).copied()?;
    let before = &force_kn[begin - half..begin];
    let steps = before.windows(2).map(|w| (w[1] - w[0]).abs());
    let resolution = steps.filter(|d| *d > 0.0).fold(f64::INFINITY, f64::min);
    let resolution = resolution.min(most - force_kn[begin - 1]);
    (most - left > STEPS * resolution).then_some((most, length))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hump(cut: f64) -> Vec<f64> {
        let top = |i: i32| 20.0 - f64::from((i - 200) * (i - 200)) / 2000.0;
        // A logger with steps of 0.01 kN.
        (0..400)
            .map(|i| (top(i) * 100.0).round() / 100.0)
            .map(|f| f.min(cut))
            .collect()
    }

    #[test]
    fn a_round_top_is_not_cut_and_a_cut_one_is() {
        assert_eq!(flat_top(&hump(99.0), None), None);
        let (at, samples) = flat_top(&hump(15.0), None).expect("cut");
        assert_eq!(at, 15.0);
        assert!((190..=202).contains(&samples), "{samples}");
        assert!(flat_top(&hump(99.0), Some(20.0)).is_some());
        assert!(flat_top(&[], None).is_none());
    }
}
