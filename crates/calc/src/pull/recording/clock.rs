//! Whether the logger's clock stood still while samples came.

/// Loggers write the same time for a few samples where they round it: a run up to so many is not looked at.
const FEWEST: usize = 16;
/// Where all runs are alike the time is rounded; one so many times the mean is the clock's.
const MEANS: f64 = 4.0;
/// One that is a larger share of the pull leaves the sampling rate, and so each time, less sure than this. Common
/// practice, no source, as the numbers above.
const SHARE: f64 = 0.05;

/// First and last sample of each run in which the time stands still.
pub(super) fn stands(time_s: &[f64]) -> Vec<(usize, usize)> {
    let mut runs = Vec::new();
    let (mut begin, mut different) = (0, 0);
    for run in time_s.chunk_by(|a, b| a == b) {
        different += 1;
        if run.len() > FEWEST {
            runs.push((begin, begin + run.len() - 1));
        }
        begin += run.len();
    }
    let rows = time_s.len() as f64;
    let mean = rows / f64::from(different.max(1));
    let is_long = |(first, last): &(usize, usize)| {
        let length = (last - first + 1) as f64;
        length > MEANS * mean || length > SHARE * rows
    };
    runs.retain(is_long);
    runs
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `rows` at 1 kHz, the time rounded down to `step` samples.
    fn clock(rows: usize, step: usize) -> Vec<f64> {
        (0..rows)
            .map(|i| (i / step * step) as f64 * 0.001)
            .collect()
    }

    #[test]
    fn rounding_is_no_standstill_while_the_pull_is_long_beside_it() {
        for step in [1, 2, 16, 20, 100] {
            assert_eq!(stands(&clock(4000, step)), [], "{step}");
        }
        // Twentieths of the pull: a run of a twentieth at most is none.
        assert_eq!(stands(&clock(4000, 200)), []);
        assert_eq!(stands(&clock(4000, 250)).len(), 16);
        // A second's clock says nothing of a pull of four.
        let told = stands(&clock(4000, 1000));
        assert_eq!(told, [(0, 999), (1000, 1999), (2000, 2999), (3000, 3999)]);
    }

    #[test]
    fn a_clock_that_stops_is_told_wherever_it_stops() {
        let mut time = clock(4000, 1);
        time[100..117].fill(0.1);
        time[3000..].fill(3.0);
        assert_eq!(stands(&time), [(100, 116), (3000, 3999)]);
        assert_eq!(stands(&[0.0; 300]), [(0, 299)]);
        assert_eq!(stands(&[]), []);
    }
}
