//! Where a rising function crosses a value, by halving.
//!
//! # Source
//! Interval halving, which rests on the intermediate value theorem; from memory.

/// Halvings: enough for every bit of a double.
const HALVINGS: usize = 80;

/// The place between `low`, where `is_below` holds, and `high`, where it does not, at which it ends.
pub(crate) fn bisect(mut low: f64, mut high: f64, is_below: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if is_below(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_a_root_to_the_last_digit() {
        let root = bisect(0.0, 2.0, |x| x * x < 2.0);
        assert!((root - std::f64::consts::SQRT_2).abs() < 1e-15, "{root}");
    }
}
