//! Savitzky–Golay smoothing and derivatives.
//!
//! # Formula
//! In a window of 2m + 1 evenly spaced values a polynomial of degree d is laid by least squares; its value, or
//! its derivative, in the middle takes the place of the middle value. That is a weighted sum with fixed
//! weights: c_i = j! · Σ_k p_k^(j)(0) · p_k(i) / Σ_i p_k(i)², p_k orthogonal over the window (Gram). At the ends
//! the polynomial of the first and the last whole window goes on.
//!
//! # Validity
//! Even spacing; an odd window, longer than the degree. Peaks narrower than the window come out too low.
//!
//! # Source
//! Savitzky & Golay, Anal. Chem. 36 (1964) 1627, with the corrections of Steinier et al. (1972) (from memory).

use crate::CalcError;
use crate::error::within;
use crate::working::Method;

use super::sound;

/// This method.
pub const METHOD: Method = Method {
    name: "savitzky-golay",
    version: 1,
    source: "Savitzky & Golay, Anal. Chem. 36 (1964) 1627 (from memory)",
};

const WINDOW_MAX: usize = 4001;
const DEGREE_MAX: usize = 9;

/// The filter: window, degree and derivative.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SavitzkyGolay {
    /// Number of values in the window, odd.
    pub window: usize,
    /// Degree of the polynomial, below the window.
    pub degree: usize,
    /// 0 for the smoothed value, 1 for the slope and so on.
    pub derivative: usize,
}

impl SavitzkyGolay {
    /// Refuses what is no filter.
    fn check(&self) -> Result<(), CalcError> {
        let window = within("n", self.window as f64, 1.0, WINDOW_MAX as f64)?;
        if self.window.is_multiple_of(2) {
            return Err(CalcError::OutOfRange {
                input: "n",
                value: window,
                min: window - 1.0,
                max: window - 1.0,
            });
        }
        let most = DEGREE_MAX.min(self.window - 1);
        within("d", self.degree as f64, 0.0, most as f64)?;
        within("j", self.derivative as f64, 0.0, self.degree as f64)?;
        Ok(())
    }

    /// The weights in the order of the values, for a spacing of 1.
    ///
    /// # Errors
    /// An even window, a degree not below it, a derivative above the degree.
    pub fn coefficients(&self) -> Result<Vec<f64>, CalcError> {
        self.check()?;
        Ok(self.weights_at(0.0))
    }

    /// The weights that give the polynomial's derivative at `x` from the window's middle.
    fn weights_at(&self, x: f64) -> Vec<f64> {
        let half = (self.window / 2) as f64;
        let places: Vec<f64> = (0..self.window).map(|i| i as f64 - half).collect();
        // Orthogonal over the window, by their three-term recurrence; derivatives along with them.
        let mut before = vec![0.0; self.window];
        let mut here = vec![1.0; self.window];
        let orders = self.derivative + 1;
        let (mut at_before, mut at_here) = (vec![0.0; orders], vec![0.0; orders]);
        at_here[0] = 1.0;
        let mut norm_before = 1.0;
        let mut weights = vec![0.0; self.window];
        for k in 0..=self.degree {
            let norm: f64 = here.iter().map(|p| p * p).sum();
            for (weight, p) in weights.iter_mut().zip(&here) {
                *weight += at_here[self.derivative] * p / norm;
            }
            let ratio = if k == 0 { 0.0 } else { norm / norm_before };
            // Even spacing about 0: p_{k+1} = x p_k − ratio p_{k−1}.
            let step = |x: f64, p: f64, q: f64| x * p - ratio * q;
            let next: Vec<f64> = (0..self.window)
                .map(|i| step(places[i], here[i], before[i]))
                .collect();
            let at_next: Vec<f64> = (0..orders)
                .map(|j| {
                    let lower = if j == 0 { 0.0 } else { at_here[j - 1] };
                    step(x, at_here[j], at_before[j]) + j as f64 * lower
                })
                .collect();
            before = std::mem::replace(&mut here, next);
            at_before = std::mem::replace(&mut at_here, at_next);
            norm_before = norm;
        }
        weights
    }

    /// The smoothed series, or its derivative; `spacing` is the distance of neighbouring values.
    ///
    /// # Errors
    /// As [`Self::coefficients`]; fewer values than the window; a value that is not finite; a spacing not above 0.
    pub fn smooth(&self, values: &[f64], spacing: f64) -> Result<Vec<f64>, CalcError> {
        self.check()?;
        if values.len() < self.window {
            return Err(CalcError::TooFew {
                input: "x",
                have: values.len(),
                need: self.window,
            });
        }
        sound("x", values)?;
        let spacing = within("Δ", spacing, 1e-12, 1e12)?;
        let scale = spacing.powi(-(self.derivative as i32));
        within("Δ", scale, -1e100, 1e100)?;
        let half = self.window / 2;
        let weights = self.weights_at(0.0);
        let sum = |weights: &[f64], part: &[f64]| -> f64 {
            let products = weights.iter().zip(part).map(|(w, x)| w * x);
            products.sum::<f64>() * scale
        };
        let mut smoothed = Vec::with_capacity(values.len());
        let first = &values[..self.window];
        let last = &values[values.len() - self.window..];
        for i in 0..half {
            smoothed.push(sum(&self.weights_at(i as f64 - half as f64), first));
        }
        smoothed.extend(values.windows(self.window).map(|part| sum(&weights, part)));
        for i in 1..=half {
            smoothed.push(sum(&self.weights_at(i as f64), last));
        }
        Ok(smoothed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn filter(window: usize, degree: usize, derivative: usize) -> SavitzkyGolay {
        SavitzkyGolay {
            window,
            degree,
            derivative,
        }
    }

    #[test]
    fn the_printed_weights() {
        // Savitzky & Golay (1964), quadratic over five values, from memory.
        let printed = [-3.0, 12.0, 17.0, 12.0, -3.0].map(|w| w / 35.0);
        let found = filter(5, 2, 0).coefficients().expect("a filter");
        for (a, b) in found.iter().zip(printed) {
            assert!((a - b).abs() < 1e-14, "{found:?}");
        }
    }

    #[test]
    fn refusals() {
        let line: Vec<f64> = (0..9).map(f64::from).collect();
        for bad in [
            filter(4, 2, 0),
            filter(0, 0, 0),
            filter(5, 5, 0),
            filter(5, 2, 3),
            filter(4003, 2, 0),
        ] {
            assert!(bad.coefficients().is_err(), "{bad:?}");
            assert!(bad.smooth(&line, 1.0).is_err(), "{bad:?}");
        }
        let good = filter(5, 2, 0);
        assert!(good.smooth(&line[..4], 1.0).is_err());
        assert!(good.smooth(&line, 0.0).is_err());
        assert!(good.smooth(&[0.0, 1.0, f64::NAN, 0.0, 1.0], 1.0).is_err());
    }

    proptest! {
        #[test]
        fn a_polynomial_of_the_degree_is_left_as_it_is(a in -3.0..3.0f64, b in -3.0..3.0f64, c in -1.0..1.0f64, half in 2usize..9) {
            let values: Vec<f64> = (0..40).map(|i| { let x = f64::from(i) * 0.5; a + b * x + c * x * x }).collect();
            let smooth = filter(2 * half + 1, 2, 0).smooth(&values, 0.5).expect("enough");
            let slope = filter(2 * half + 1, 2, 1).smooth(&values, 0.5).expect("enough");
            for i in 0..40 {
                let x = i as f64 * 0.5;
                prop_assert!((smooth[i] - values[i]).abs() < 1e-8);
                prop_assert!((slope[i] - b - 2.0 * c * x).abs() < 1e-8);
            }
        }
    }
}
