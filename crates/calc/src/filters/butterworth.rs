//! Butterworth low-pass filters as sections of second order.
//!
//! # Formula
//! |H(f)|² = 1 / (1 + (tan(π f / 2) / tan(π f_c / 2))^(2n)), f and f_c as shares of half the sampling rate. The
//! poles of the analogue filter, e^(iπ(2k + n + 1) / 2n), are brought over by the bilinear transform with
//! K = tan(π f_c / 2); each pair of them is a section (b₀ + b₁ z⁻¹ + b₂ z⁻²) / (1 + a₁ z⁻¹ + a₂ z⁻²).
//!
//! # Validity
//! Orders 1 to 12, 0 < f_c < 1. Sections stay exact where the polynomial of the whole loses its digits.
//!
//! # Source
//! Butterworth (1930); bilinear transform as in Oppenheim & Schafer, Discrete-Time Signal Processing, 7.1 (both
//! from memory); held against scipy.

use std::f64::consts::PI;

use crate::CalcError;
use crate::error::within;
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "butterworth-filter",
    version: 1,
    source: "Butterworth (1930); bilinear transform, Oppenheim & Schafer, Discrete-Time Signal Processing, 7.1 (both from memory)",
};

/// One section: numerator, and denominator without its leading 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// b₀, b₁, b₂.
    pub b: [f64; 3],
    /// a₁, a₂.
    pub a: [f64; 2],
}

/// A low-pass.
#[derive(Clone, Debug, PartialEq)]
pub struct Butterworth {
    /// Its order.
    pub order: usize,
    /// Where a half of the power is left, as a share of half the sampling rate.
    pub cutoff: f64,
    /// Its sections; of an odd order, the first is of first order.
    pub sections: Vec<Section>,
}

impl Butterworth {
    /// The low-pass of `order` with its −3 dB at `cutoff`.
    ///
    /// # Errors
    /// An order outside 1 to 12, a cut-off that is not between 0 and 1.
    pub fn low_pass(order: usize, cutoff: f64) -> Result<Self, CalcError> {
        within("n", order as f64, 1.0, 12.0)?;
        let cutoff = within("f_c", cutoff, 1e-6, 1.0 - 1e-6)?;
        let k = (PI * cutoff / 2.0).tan();
        let mut sections = Vec::new();
        if order % 2 == 1 {
            let b = k / (1.0 + k);
            sections.push(Section {
                b: [b, b, 0.0],
                a: [(k - 1.0) / (k + 1.0), 0.0],
            });
        }
        for pair in 0..order / 2 {
            let angle = PI * (2 * pair + 1) as f64 / (2 * order) as f64;
            // Of an even order the poles stand off the axis by odd, of an odd one by even multiples.
            let damping = match order % 2 {
                0 => 2.0 * angle.sin(),
                _ => 2.0 * (PI * (pair + 1) as f64 / order as f64).cos(),
            };
            let whole = 1.0 + damping * k + k * k;
            let b = k * k / whole;
            sections.push(Section {
                b: [b, 2.0 * b, b],
                a: [
                    2.0 * (k * k - 1.0) / whole,
                    (1.0 - damping * k + k * k) / whole,
                ],
            });
        }
        Ok(Self {
            order,
            cutoff,
            sections,
        })
    }

    /// Numerator and denominator of the whole, from the zeroth power of z⁻¹ on.
    pub fn polynomials(&self) -> (Vec<f64>, Vec<f64>) {
        let (mut b, mut a) = (vec![1.0], vec![1.0]);
        for section in &self.sections {
            b = product(&b, &section.b);
            a = product(&a, &[1.0, section.a[0], section.a[1]]);
        }
        b.truncate(self.order + 1);
        a.truncate(self.order + 1);
        (b, a)
    }

    /// The gain in dB at `frequency`, a share of half the sampling rate.
    ///
    /// # Errors
    /// A frequency that is not between 0 and 1.
    pub fn magnitude_db(&self, frequency: f64) -> Result<f64, CalcError> {
        let frequency = within("f", frequency, 0.0, 1.0 - 1e-9)?;
        let ratio = (PI * frequency / 2.0).tan() / (PI * self.cutoff / 2.0).tan();
        let lost = ratio.powi(2 * self.order as i32).ln_1p();
        // Nothing lost is 0, not −0.
        Ok(0.0 - 10.0 * lost / std::f64::consts::LN_10)
    }
}

fn product(p: &[f64], q: &[f64]) -> Vec<f64> {
    let mut out = vec![0.0; p.len() + q.len() - 1];
    for (i, x) in p.iter().enumerate() {
        for (j, y) in q.iter().enumerate() {
            out[i + j] += x * y;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_half_of_the_power_at_the_cut_off() {
        for order in 1..=12 {
            let filter = Butterworth::low_pass(order, 0.25).expect("a filter");
            let db = filter.magnitude_db(0.25).expect("inside");
            assert!((db + 10.0 * 2f64.log10()).abs() < 1e-12, "{order}: {db}");
        }
    }

    #[test]
    fn refusals() {
        for (order, cutoff) in [(0, 0.2), (13, 0.2), (2, 0.0), (2, 1.0), (2, f64::NAN)] {
            assert!(Butterworth::low_pass(order, cutoff).is_err());
        }
        let filter = Butterworth::low_pass(2, 0.2).expect("a filter");
        assert!(filter.magnitude_db(1.0).is_err() && filter.magnitude_db(-0.1).is_err());
    }

    /// |H| of the sections on the unit circle.
    fn gain(filter: &Butterworth, frequency: f64) -> f64 {
        let w = PI * frequency;
        let at = |c: [f64; 3]| {
            let re = c[0] + c[1] * w.cos() + c[2] * (2.0 * w).cos();
            re.hypot(c[1] * w.sin() + c[2] * (2.0 * w).sin())
        };
        let gains = filter.sections.iter();
        gains.map(|s| at(s.b) / at([1.0, s.a[0], s.a[1]])).product()
    }

    proptest! {
        #[test]
        fn the_sections_have_the_gain_of_the_formula(order in 1usize..=12, cutoff in 0.01..0.9f64, f in 0.0..0.9f64) {
            let filter = Butterworth::low_pass(order, cutoff).expect("a filter");
            let db = filter.magnitude_db(f).expect("inside");
            prop_assume!(db > -120.0);
            prop_assert!((20.0 * gain(&filter, f).log10() - db).abs() < 1e-6);
        }
    }
}
