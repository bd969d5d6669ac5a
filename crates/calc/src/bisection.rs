//! Where a rising function crosses a value, by halving.
//!
//! # Source
//! Interval halving, which rests on the intermediate value theorem; from memory.

/// Halvings: enough for every bit of a double.
const HALVINGS: usize = 80;
/// Halvings for every bit between a value and its double.
const OF_A_DOUBLE: usize = 54;

/// The place between `low`, where `is_below` holds, and `high`, where it does not, at which it ends.
pub(crate) fn bisect(low: f64, high: f64, is_below: impl Fn(f64) -> bool) -> f64 {
    halved(low, high, HALVINGS, is_below)
}

fn halved(mut low: f64, mut high: f64, times: usize, is_below: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..times {
        let middle = f64::midpoint(low, high);
        if is_below(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// The place above 0 at which `is_below`, which holds below it, ends; `None` beyond the range of doubles.
pub(crate) fn bisect_above_zero(is_below: impl Fn(f64) -> bool) -> Option<f64> {
    let mut high = 1.0_f64;
    while is_below(high) {
        high *= 2.0;
        if !high.is_finite() {
            return None;
        }
    }
    let mut low = high / 2.0;
    while low > 0.0 && !is_below(low) {
        high = low;
        low /= 2.0;
    }
    (high >= f64::MIN_POSITIVE).then(|| halved(low, high, OF_A_DOUBLE, is_below))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_places_of_any_size() {
        for place in [1e-300, 3e-9, 1.0, 7.0, 1e12, 1e300] {
            let found = bisect_above_zero(|x| x < place).expect("inside");
            assert!((found / place - 1.0).abs() < 1e-15, "{place}: {found}");
        }
        assert_eq!(bisect_above_zero(|_| true), None);
        assert_eq!(bisect_above_zero(|_| false), None);
    }

    #[test]
    fn finds_a_root_to_the_last_digit() {
        let root = bisect(0.0, 2.0, |x| x * x < 2.0);
        assert!((root - std::f64::consts::SQRT_2).abs() < 1e-15, "{root}");
    }
}
