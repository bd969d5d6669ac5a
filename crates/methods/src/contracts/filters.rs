//! `savitzky-golay`, `butterworth-filter`, `zero-phase-filter`

use calc::filters::butterworth::{self, Butterworth};
use calc::filters::{at, savitzky_golay, zero_phase};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Positive, contract};

fn whole(n: u64) -> usize {
    usize::try_from(n).unwrap_or(usize::MAX)
}

contract! {
    /// The filter, and the series to smooth.
    struct SmoothInput {
        /// Number of values in the window, odd.
        window: u64,
        /// Degree of the polynomial.
        degree: u64,
        /// 0 for the smoothed value, 1 for the slope and so on.
        derivative: u64 = 0,
        /// The series, evenly spaced; without it, the weights alone are told.
        values: Option<Vec<f64>>,
        /// Distance of neighbouring values, for derivatives.
        spacing: Positive = Positive(1.0),
        /// Places, from 0, to tell by themselves.
        at: Option<Vec<u64>>,
    }
}

contract! {
    /// Weights, and the smoothed series.
    struct SmoothOutput {
        /// Weights of the window for a spacing of 1, in the order of the values.
        coefficients: Vec<f64>,
        /// The smoothed series, or its derivative.
        smoothed: Option<Vec<f64>>,
        /// The same at the places asked for.
        smoothed_at: Option<Vec<f64>>,
    }
}

/// The contract.
pub(crate) struct SavitzkyGolay;

impl Contract for SavitzkyGolay {
    const METHOD: Method = savitzky_golay::METHOD;
    const SUMMARY: &'static str = "method-savitzky-golay";
    const FORMULA: &'static str =
        "c_i = j! · Σ_k p_k^(j)(0) · p_k(i) / Σ_i p_k(i)², p_k orthogonal over the window";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("n", "window"),
        ("d", "degree"),
        ("j", "derivative"),
        ("x", "values"),
        ("Δ", "spacing"),
        ("i", "at"),
    ];
    type In = SmoothInput;
    type Out = SmoothOutput;

    fn compute(input: &SmoothInput) -> Result<(SmoothOutput, Option<Working>), MethodError> {
        let filter = savitzky_golay::SavitzkyGolay {
            window: whole(input.window),
            degree: whole(input.degree),
            derivative: whole(input.derivative),
        };
        let coefficients = filter.coefficients()?;
        let smoothed = match &input.values {
            Some(values) => Some(filter.smooth(values, input.spacing.0)?),
            None => None,
        };
        let smoothed_at = match (&smoothed, &input.at) {
            (Some(smoothed), Some(places)) => Some(at(smoothed, places)?),
            _ => None,
        };
        let out = SmoothOutput {
            coefficients,
            smoothed,
            smoothed_at,
        };
        Ok((out, None))
    }
}

contract! {
    /// A low-pass.
    struct LowPassInput {
        /// Its order, 1 to 12.
        order: u64,
        /// Where half the power is left, as a share of half the sampling rate.
        cutoff: f64,
        /// Shares of half the sampling rate to tell the gain at.
        magnitude_at: Option<Vec<f64>>,
    }
}

contract! {
    /// Its polynomials and gains.
    struct LowPassOutput {
        /// Numerator, from the zeroth power of z⁻¹ on.
        b: Vec<f64>,
        /// Denominator likewise.
        a: Vec<f64>,
        /// Gains where they were asked for.
        magnitude_dB: Option<Vec<f64>>,
    }
}

/// The contract.
pub(crate) struct LowPass;

impl Contract for LowPass {
    const METHOD: Method = butterworth::METHOD;
    const SUMMARY: &'static str = "method-butterworth-filter";
    const FORMULA: &'static str = "|H(f)|² = 1 / (1 + (tan(π f / 2) / tan(π f_c / 2))^(2n))";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("n", "order"), ("f_c", "cutoff"), ("f", "magnitude_at")];
    type In = LowPassInput;
    type Out = LowPassOutput;

    fn compute(input: &LowPassInput) -> Result<(LowPassOutput, Option<Working>), MethodError> {
        let filter = Butterworth::low_pass(whole(input.order), input.cutoff)?;
        let (b, a) = filter.polynomials();
        let gain = |f: &f64| filter.magnitude_db(*f);
        let gains = match &input.magnitude_at {
            Some(frequencies) => Some(frequencies.iter().map(gain).collect::<Result<_, _>>()?),
            None => None,
        };
        let out = LowPassOutput {
            b,
            a,
            magnitude_dB: gains,
        };
        Ok((out, None))
    }
}

contract! {
    /// A series and the low-pass that it runs through, forwards and back.
    struct ZeroPhaseInput {
        /// The series, evenly spaced.
        values: Vec<f64>,
        /// Order of the low-pass, 1 to 12.
        order: u64,
        /// Its cut-off as a share of half the sampling rate; both ways together lose 6 dB there.
        cutoff: f64,
        /// Places, from 0, to tell by themselves.
        at: Option<Vec<u64>>,
    }
}

contract! {
    /// The series filtered.
    struct ZeroPhaseOutput {
        /// Numerator of the low-pass, from the zeroth power of z⁻¹ on.
        b: Vec<f64>,
        /// Denominator likewise.
        a: Vec<f64>,
        /// The series filtered.
        filtered: Vec<f64>,
        /// The same at the places asked for.
        filtered_at: Option<Vec<f64>>,
    }
}

/// The contract.
pub(crate) struct ZeroPhase;

impl Contract for ZeroPhase {
    const METHOD: Method = zero_phase::METHOD;
    const SUMMARY: &'static str = "method-zero-phase-filter";
    const FORMULA: &'static str = "Y(f) = |H(f)|² · X(f), ends continued by 2 x₀ − x_i";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("x", "values"),
        ("n", "order"),
        ("f_c", "cutoff"),
        ("i", "at"),
    ];
    type In = ZeroPhaseInput;
    type Out = ZeroPhaseOutput;

    fn compute(input: &ZeroPhaseInput) -> Result<(ZeroPhaseOutput, Option<Working>), MethodError> {
        let filter = Butterworth::low_pass(whole(input.order), input.cutoff)?;
        let filtered = zero_phase::zero_phase(&filter, &input.values)?;
        let filtered_at = match &input.at {
            Some(places) => Some(at(&filtered, places)?),
            None => None,
        };
        let (b, a) = filter.polynomials();
        let out = ZeroPhaseOutput {
            b,
            a,
            filtered,
            filtered_at,
        };
        Ok((out, None))
    }
}
