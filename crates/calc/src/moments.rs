//! Mean and sum of squares without the loss of digits far from zero.
//!
//! # Formula
//! With d = x − x₁: x̄ = x₁ + Σd / n; SS = Σ(d − d̄)² − (Σ(d − d̄))² / n; s² = SS / (n − 1).
//!
//! # Source
//! Corrected two-pass algorithm, Chan, Golub and LeVeque, The American Statistician 37(3), 1983 (from memory),
//! shifted by the first value. Check values: NIST StRD, univariate.

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Working, figures};

/// What a list of values comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moments {
    /// How many.
    pub count: usize,
    /// Mean.
    pub mean: f64,
    /// Sum of squares about the mean.
    pub squares: f64,
}

impl Moments {
    /// Standard deviation of a sample; 0 for one value.
    pub fn deviation(&self) -> f64 {
        if self.count < 2 {
            return 0.0;
        }
        (self.squares / (self.count - 1) as f64).sqrt()
    }
}

/// `working` with mean and standard deviation of a sample as givens.
pub(crate) fn given(working: Working, mean: f64, deviation: f64) -> Working {
    let few = |x: f64| figures(x, 6);
    working
        .given("x̄", Message::new("given-mean"), mean, few(mean), "")
        .given(
            "s",
            Message::new("given-deviation"),
            deviation,
            few(deviation),
            "",
        )
}

/// Mean and sum of squares of `values`, at least one.
///
/// # Errors
/// No value, or one that is not within ±10¹⁵. The refusal names `symbol`.
pub fn moments(symbol: &'static str, values: &[f64]) -> Result<Moments, CalcError> {
    let Some(first) = values.first().copied() else {
        return Err(CalcError::TooFew {
            input: symbol,
            have: 0,
            need: 1,
        });
    };
    for value in values {
        within(symbol, *value, -1e15, 1e15)?;
    }
    let n = values.len() as f64;
    // Differences of near values are exact, so everything that is summed here is small.
    let middle = values.iter().map(|x| x - first).sum::<f64>() / n;
    let off = |x: &f64| (x - first) - middle;
    let left = values.iter().map(off).sum::<f64>();
    let squares = values.iter().map(|x| off(x).powi(2)).sum::<f64>();
    Ok(Moments {
        count: values.len(),
        mean: first + middle,
        squares: (squares - left * left / n).max(0.0),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Digits that agree, as NIST counts them.
    fn digits(found: f64, certified: f64) -> f64 {
        if found == certified {
            return 15.0;
        }
        -((found - certified).abs() / certified.abs()).log10()
    }

    /// The pattern of the NumAcc sets: one middle value, then low and high by turns.
    fn numerical_accuracy(base: f64) -> Vec<f64> {
        let turns = (0..1000).map(|i| if i % 2 == 0 { 0.1 } else { 0.3 });
        let values = turns.map(|tenth| base + tenth);
        std::iter::once(base + 0.2).chain(values).collect()
    }

    #[test]
    fn numerical_accuracy_sets_of_nist() {
        // NIST StRD univariate, NumAcc1: 10000001, 10000003, 10000002, mean 10000002, s = 1 exactly.
        // NumAcc2: 1.2, then 1.1 and 1.3 by turns, s = 0.1. NumAcc3 and NumAcc4 the same at 10⁶ and 10⁷.
        let one = moments("x", &[10_000_001.0, 10_000_003.0, 10_000_002.0]).expect("three");
        assert_eq!((one.mean, one.deviation()), (10_000_002.0, 1.0));
        for (base, least) in [(1.0, 13.0), (1e6, 9.0), (1e7, 8.0)] {
            let found = moments("x", &numerical_accuracy(base)).expect("1001");
            let spread = digits(found.deviation(), 0.1);
            assert!(spread >= least, "{base}: {spread} digits");
            assert!(digits(found.mean, base + 0.2) >= 13.0, "{base}: {found:?}");
        }
    }

    #[test]
    fn refusals() {
        assert!(matches!(
            moments("x", &[]),
            Err(CalcError::TooFew { have: 0, .. })
        ));
        for wrong in [f64::NAN, f64::INFINITY, 1e16] {
            assert!(moments("x", &[1.0, wrong]).is_err());
        }
        assert_eq!(moments("x", &[4.0]).expect("one").deviation(), 0.0);
    }

    proptest! {
        #[test]
        fn a_shift_leaves_the_spread(xs in prop::collection::vec(-9.0..9.0f64, 2..30), by in -1e3..1e3f64) {
            let moved: Vec<f64> = xs.iter().map(|x| x + by).collect();
            let (a, b) = (moments("x", &xs).expect("good"), moments("x", &moved).expect("good"));
            prop_assert!((a.squares - b.squares).abs() < 1e-8);
        }
    }
}
