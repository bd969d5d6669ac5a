//! Whether readings can come from a normal distribution: two tests.
//!
//! # Formula
//! Shapiro–Wilk: W = (Σ a_i · x_(i))² / Σ (x_i − x̄)², a and the probability of W by Royston's approximations.
//! Anderson–Darling: A² = −n − 1/n · Σ (2i − 1) · (ln Φ(y_(i)) + ln(1 − Φ(y_(n+1−i)))), y = (x − x̄) / s;
//! A*² = A² · (1 + 0.75 / n + 2.25 / n²), its probability by D'Agostino and Stephens.
//!
//! # Validity
//! 3 to 5000 readings for W, 8 or more for A² (its probability is an approximation below that). A small sample seldom
//! speaks against anything; rounded readings speak against the normal distribution by their steps.
//!
//! # Source
//! Shapiro and Wilk, Biometrika 52, 1965; Royston, Applied Statistics 44(4), 1995, AS R94; D'Agostino and Stephens,
//! Goodness-of-Fit Techniques, 1986, Table 4.9 (all from memory). Check values: scipy 1.17.1.

mod anderson_darling;
mod shapiro_wilk;

use crate::Message;
use crate::error::{CalcError, within};
use crate::moments::{self, moments};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "normality-tests",
    version: 1,
    source: "Shapiro–Wilk (Royston, AS R94, 1995); Anderson–Darling (D'Agostino and Stephens, 1986), from memory",
};

/// Most readings that the approximations are made for.
pub const MOST: usize = 5000;

/// What the tests say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tested {
    /// How many readings.
    pub count: usize,
    /// Their mean.
    pub mean: f64,
    /// Their standard deviation.
    pub deviation: f64,
    /// W: 1 for a perfectly normal sample.
    pub w: f64,
    /// Probability of a W this small from a normal distribution.
    pub w_p: f64,
    /// A²: 0 for a perfectly normal sample.
    pub a2: f64,
    /// A² adjusted for the size of the sample.
    pub a2_adjusted: f64,
    /// Probability of an A² this large from a normal distribution.
    pub a2_p: f64,
}

/// Both tests on `values`.
///
/// # Errors
/// Fewer than three values or more than [`MOST`], one that is not within ±10¹⁵, values that are all the same.
pub fn test(values: &[f64]) -> Result<Tested, CalcError> {
    if values.len() < 3 {
        return Err(CalcError::TooFew {
            input: "x",
            have: values.len(),
            need: 3,
        });
    }
    within("n", values.len() as f64, 3.0, MOST as f64)?;
    let found = moments("x", values)?;
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    if sorted[0] == sorted[sorted.len() - 1] || found.squares <= 0.0 {
        return Err(CalcError::Alike { input: "x" });
    }
    let w = shapiro_wilk::statistic(&sorted, found.squares)?;
    let (a2, a2_adjusted) = anderson_darling::statistic(&sorted, &found);
    Ok(Tested {
        count: values.len(),
        mean: found.mean,
        deviation: found.deviation(),
        w,
        w_p: shapiro_wilk::probability(w, values.len()),
        a2,
        a2_adjusted,
        a2_p: anderson_darling::probability(a2_adjusted),
    })
}

/// What the tests found, and what it says.
pub fn working(tested: &Tested) -> Working {
    let n = tested.count as f64;
    let (mean, deviation) = (tested.mean, tested.deviation);
    let mut w = moments::given(
        Working::new(METHOD).given("n", Message::new("given-count"), n, 0, ""),
        mean,
        deviation,
    )
    .given(
        "A²",
        Message::new("given-anderson-darling"),
        tested.a2,
        4,
        "",
    )
    .step("W", "(Σ a_i · x_i)² / ((n − 1) · s²)", tested.w, 4, "")
    .step(
        "A*²",
        "A² · (1 + 0.75 / n + 2.25 / n²)",
        tested.a2_adjusted,
        4,
        "",
    );
    w = w.note(Message::new(if tested.w_p.min(tested.a2_p) < 0.05 {
        "note-not-normal"
    } else {
        "note-normal-not-excluded"
    }));
    if tested.count < 20 {
        w = w.note(Message::new("note-normality-few").with("count", tested.count));
    }
    w
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn weights_of_eleven_men() {
        // Shapiro and Wilk (1965), worked example: W = 0.79 (from memory). scipy 1.17.1 stats.shapiro:
        // W = 0.78881, p = 0.0067.
        let men = [
            148.0, 154.0, 158.0, 160.0, 161.0, 162.0, 166.0, 170.0, 182.0, 195.0, 236.0,
        ];
        let found = test(&men).expect("eleven");
        assert!((found.w - 0.788_814_694_863).abs() < 5e-6, "{found:?}");
        assert!((found.w_p - 0.006_703_8).abs() < 5e-5, "{found:?}");
    }

    #[test]
    fn three_four_five_and_many() {
        // scipy 1.17.1 stats.shapiro: the paths for n = 3, n below 6, below 12 and from 12 on.
        let line = |n: usize| -> Vec<f64> { (1..=n).map(|i| (i * i) as f64).collect() };
        for (n, w, p) in [
            (3, 0.979_591_836_734, 0.726_226_309_942),
            (4, 0.962_124_037_789, 0.792_268_589_038),
            (5, 0.949_824_534_428, 0.735_934_779_264),
            (8, 0.928_982_573_720, 0.506_861_192_204),
            (11, 0.918_632_044_708, 0.307_410_847_076),
            (12, 0.916_292_441_514, 0.256_673_467_956),
            (40, 0.899_290_108_756, 0.001_823_048_750),
        ] {
            let found = test(&line(n)).expect("enough");
            assert!((found.w - w).abs() < 5e-6, "{n}: {found:?}");
            assert!((found.w_p / p - 1.0).abs() < 0.02, "{n}: {found:?}");
        }
    }

    #[test]
    fn refusals() {
        assert!(test(&[1.0, 2.0]).is_err());
        assert!(test(&[1.0, 2.0, f64::NAN]).is_err());
        assert!(test(&vec![0.5; MOST + 1]).is_err());
        assert_eq!(test(&[2.1; 9]), Err(CalcError::Alike { input: "x" }));
    }

    proptest! {
        #[test]
        fn neither_place_nor_scale_matters(xs in prop::collection::vec(-9.0..9.0f64, 5..60), by in 0.5..20.0f64, to in -50.0..50.0f64) {
            let a = test(&xs).expect("spread");
            let moved: Vec<f64> = xs.iter().map(|x| x * by + to).collect();
            let b = test(&moved).expect("spread");
            prop_assert!((a.w - b.w).abs() < 1e-9 && (a.a2 - b.a2).abs() < 1e-6);
            prop_assert!((0.0..=1.0).contains(&a.w_p) && (0.0..=1.0).contains(&a.a2_p));
            prop_assert!(a.w > 0.0 && a.w <= 1.0);
        }
    }
}
