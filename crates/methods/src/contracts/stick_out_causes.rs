//! `stick-out-explanations`

use calc::stack::Thickness;
use calc::stick_out_causes::{Cause, METHOD, Measured, expected, weigh, working};
use calc::working::{Method, Working};

use super::stack::grips_of;
use crate::MethodError;
use crate::card::Contract;
use crate::shape::{NotNegative, contract};

/// Below this, causes stand in no order that means anything.
const LEAST: f64 = 1e-9;

contract! {
    /// Measured pins of one code, and the stack where it is known.
    struct Input {
        /// Stick-out of each pin, one to twelve.
        readings_mm: Vec<f64>,
        /// Standard uncertainty of the gauge.
        gauge_mm: NotNegative,
        /// Thinnest and thickest stack of each code, mm, rising.
        grips_mm: Vec<(f64, f64)>,
        /// Place of the code written down, from 0.
        code: u64,
        /// Ends of the stick-out band with the right code, mm.
        band_mm: (f64, f64),
        /// Thickness of the stack.
        stack_mm: Option<f64>,
        /// Standard uncertainty of the stack.
        stack_standard_mm: NotNegative = NotNegative(0.0),
        /// Sheets clamped tight while the pins were measured.
        clamped: bool = false,
    }
}

contract! {
    /// A cause and its probability.
    struct CauseOut {
        /// Its name.
        cause: String,
        /// Codes by which the pin is too long (negative: too short), for a wrong pin or code.
        steps: Option<f64>,
        /// Probability.
        probability: f64,
    }
}

contract! {
    /// Every cause above one in a thousand million, the most likely first.
    struct Output {
        /// Stick-out expected with this code: over the stack, or the middle of the band.
        expected_mm: f64,
        /// The causes; their probabilities add up to 1.
        causes: Vec<CauseOut>,
    }
}

/// The contract.
pub(crate) struct StickOutExplanations;

impl Contract for StickOutExplanations {
    const METHOD: Method = METHOD;
    const SUMMARY: &'static str = "method-stick-out-explanations";
    const FORMULA: &'static str = "P(cause) ∝ π · exp(−SS / 2σ²) / ((σ√(2π))ⁿ⁻¹ √n) · f(x̄), f: density of base + shift + normal(0, u)";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("x", "readings_mm"),
        ("n", "readings_mm"),
        ("c", "code"),
        ("L", "band_mm"),
        ("U", "band_mm"),
        ("u_g", "gauge_mm"),
        ("t", "stack_mm"),
        ("u_t", "stack_standard_mm"),
        ("u", "stack_standard_mm"),
        ("grips", "grips_mm"),
        ("table", "grips_mm"),
    ];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let grips = grips_of(&input.grips_mm);
        let measured = Measured {
            readings_mm: &input.readings_mm,
            gauge_mm: input.gauge_mm.0,
            grips: &grips,
            code: usize::try_from(input.code).unwrap_or(usize::MAX),
            band_mm: input.band_mm,
            stack: input.stack_mm.map(|value_mm| Thickness {
                value_mm,
                standard_mm: input.stack_standard_mm.0,
            }),
            clamped: input.clamped,
        };
        let weighed = weigh(&measured)?;
        let cause = |w: &calc::stick_out_causes::Weighed| {
            let (cause, steps) = named(w.cause);
            CauseOut {
                cause: cause.to_owned(),
                steps,
                probability: w.probability,
            }
        };
        let worth_naming = weighed.iter().filter(|w| w.probability >= LEAST);
        let out = Output {
            expected_mm: expected(&measured)?.0,
            causes: worth_naming.map(cause).collect(),
        };
        Ok((out, Some(working(&measured)?)))
    }
}

fn named(cause: Cause) -> (&'static str, Option<f64>) {
    match cause {
        Cause::AsItShould => ("as-it-should", None),
        Cause::NotClamped => ("not-clamped", None),
        Cause::HeadNotSeated => ("head-not-seated", None),
        Cause::RodAside => ("rod-aside", None),
        Cause::LeftOn => ("left-on", None),
        Cause::LayerMissing => ("layer-missing", None),
        Cause::WrongPin(k) => ("wrong-pin", Some(f64::from(k))),
        Cause::WrongCode(k) => ("wrong-code", Some(f64::from(k))),
        Cause::MixedCarton => ("mixed-carton", None),
        Cause::StackDiffers => ("stack-differs", None),
        Cause::Other => ("something-else", None),
    }
}
