//! Anderson–Darling with mean and standard deviation from the sample.

use crate::moments::Moments;
use crate::normal;

/// Beyond this adjusted A² the fitted exponent would turn back; the probability there is below 10⁻²⁰.
const TURNS: f64 = 10.0;

/// A² and adjusted A² of `sorted` values.
pub(super) fn statistic(sorted: &[f64], found: &Moments) -> (f64, f64) {
    let (n, deviation) = (sorted.len() as f64, found.deviation());
    let log = |z: f64| normal::below(z).max(f64::MIN_POSITIVE).ln();
    let z = |i: usize| (sorted[i] - found.mean) / deviation;
    let term = |i: usize| (2.0 * i as f64 + 1.0) * (log(z(i)) + log(-z(sorted.len() - 1 - i)));
    let sum: f64 = (0..sorted.len()).map(term).sum();
    let a2 = -n - sum / n;
    (a2, a2 * (1.0 + 0.75 / n + 2.25 / (n * n)))
}

/// Probability of an adjusted A² this large from a normal distribution.
pub(super) fn probability(a: f64) -> f64 {
    let p = if a >= 0.6 {
        let a = a.min(TURNS);
        (1.2937 - 5.709 * a + 0.0186 * a * a).exp()
    } else if a > 0.34 {
        (0.9177 - 4.279 * a - 1.38 * a * a).exp()
    } else if a > 0.2 {
        1.0 - (-8.318 + 42.796 * a - 59.938 * a * a).exp()
    } else {
        1.0 - (-13.436 + 101.14 * a - 223.73 * a * a).exp()
    };
    p.clamp(0.0, 1.0)
}
