//! A low-pass run forwards and back, so that nothing moves in time.
//!
//! # Formula
//! The series is continued at both ends by odd reflection (2 x₀ − x_i), three times the number of coefficients; the
//! filter runs over it forwards, then backwards, each time from the state that it would have kept for ever at
//! the first value. The gain is the square of the filter's, the phase 0.
//!
//! # Validity
//! Even spacing, more values than the continuation. At the cut-off 6 dB are lost, not 3.
//!
//! # Source
//! Gustafsson, IEEE Trans. Signal Processing 44 (1996) 988, section I, on forward-backward filtering (from memory); ends and
//! start as `scipy.signal.filtfilt`, against which it is held.

use crate::CalcError;
use crate::working::Method;

use super::butterworth::{Butterworth, Section};
use super::sound;

/// This method.
pub const METHOD: Method = Method {
    name: "zero-phase-filter",
    version: 1,
    source: "forward-backward filtering, Gustafsson, IEEE Trans. Signal Processing 44 (1996) 988 (from memory); ends as scipy.signal.filtfilt",
};

/// `values` through `filter`, forwards and back.
///
/// # Errors
/// Not more values than 3 · (order + 1), a value that is not finite.
pub fn zero_phase(filter: &Butterworth, values: &[f64]) -> Result<Vec<f64>, CalcError> {
    let pad = 3 * (filter.order + 1);
    if values.len() <= pad {
        return Err(CalcError::TooFew {
            input: "x",
            have: values.len(),
            need: pad + 1,
        });
    }
    sound("x", values)?;
    let last = values.len() - 1;
    let mut padded = Vec::with_capacity(values.len() + 2 * pad);
    padded.extend((1..=pad).rev().map(|i| 2.0 * values[0] - values[i]));
    padded.extend_from_slice(values);
    padded.extend((1..=pad).map(|i| 2.0 * values[last] - values[last - i]));
    for section in &filter.sections {
        run(section, padded.iter_mut());
    }
    for section in &filter.sections {
        run(section, padded.iter_mut().rev());
    }
    padded.truncate(pad + values.len());
    padded.drain(..pad);
    Ok(padded)
}

/// One section over a series, in place, from its steady state at the first value.
fn run<'a>(section: &Section, mut values: impl Iterator<Item = &'a mut f64>) {
    let Some(first) = values.next() else {
        return;
    };
    let ([b0, b1, b2], [a1, a2]) = (section.b, section.a);
    let gain = (b0 + b1 + b2) / (1.0 + a1 + a2);
    let x = *first;
    // The state that keeps y = gain · x for ever.
    let mut z2 = (b2 - a2 * gain) * x;
    let mut z1 = (b1 - a1 * gain) * x + z2;
    let mut step = |value: &mut f64| {
        let x = *value;
        let y = b0 * x + z1;
        z1 = b1 * x - a1 * y + z2;
        z2 = b2 * x - a2 * y;
        *value = y;
    };
    step(first);
    values.for_each(step);
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_wave_below_the_cut_off_stays_in_place() {
        let filter = Butterworth::low_pass(4, 0.2).expect("a filter");
        let wave: Vec<f64> = (0..400)
            .map(|i| (f64::from(i) * std::f64::consts::PI * 0.02).sin())
            .collect();
        let found = zero_phase(&filter, &wave).expect("enough");
        for i in 50..350 {
            assert!((found[i] - wave[i]).abs() < 1e-6, "{i}");
        }
    }

    #[test]
    fn refusals() {
        let filter = Butterworth::low_pass(2, 0.2).expect("a filter");
        assert!(zero_phase(&filter, &[1.0; 9]).is_err());
        assert!(zero_phase(&filter, &[1.0; 10]).is_ok());
        let mut values = vec![1.0; 20];
        values[3] = f64::INFINITY;
        assert!(zero_phase(&filter, &values).is_err());
    }

    proptest! {
        #[test]
        fn a_line_is_left_as_it_is(a in -5.0..5.0f64, b in -1.0..1.0f64, order in 1usize..7, cutoff in 0.05..0.9f64) {
            // Odd reflection continues a line, and a gain of 1 at rest keeps its level.
            let filter = Butterworth::low_pass(order, cutoff).expect("a filter");
            let line: Vec<f64> = (0..400).map(|i| a + b * f64::from(i)).collect();
            let found = zero_phase(&filter, &line).expect("enough");
            prop_assert!((found[200] - line[200]).abs() < 1e-3 * (1.0 + b.abs()));
            let level = zero_phase(&filter, &[a; 60]).expect("enough");
            prop_assert!(level.iter().all(|y| (y - a).abs() < 1e-9));
        }
    }
}
