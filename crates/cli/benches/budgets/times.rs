//! Times of the same thing done again and again.

use std::time::Duration;

/// Milliseconds, in order of size.
pub struct Times(Vec<f64>);

impl Times {
    /// `count` times what `once` took.
    pub fn of(count: usize, mut once: impl FnMut() -> Duration) -> Self {
        let mut times: Vec<f64> = (0..count).map(|_| once().as_secs_f64() * 1e3).collect();
        times.sort_by(f64::total_cmp);
        Self(times)
    }

    /// The middle one.
    pub fn median(&self) -> f64 {
        self.percentile(50)
    }

    /// The smallest that so many in a hundred do not exceed.
    pub fn percentile(&self, percent: usize) -> f64 {
        let rank = (self.0.len() * percent).div_ceil(100);
        self.0[rank.saturating_sub(1)]
    }

    /// The longest.
    pub fn slowest(&self) -> f64 {
        self.percentile(100)
    }
}
