//! What explains a stick-out: rival causes weighed by the pins' readings and the stack.
//!
//! # Formula
//! A pin of code c is made for the middle g_c of its grip, so its stick-out over a stack t is
//! E = g_c + M − t, M the middle of the band. Where the stack is not known, t lies anywhere in the
//! grip alike, and E anywhere in the band. Each cause moves the readings by an amount that lies
//! anywhere between two ends alike ([`Cause`]). With n pins, their mean x̄, SS = Σ(x − x̄)² and the
//! pin-to-pin deviation σ, the likelihood of a cause is
//! exp(−SS / 2σ²) / ((σ√(2π))ⁿ⁻¹ √n) · f(x̄), f the density of base + shift + normal(0, u) and
//! u² = σ²/n + u_lot² + u_g² + u_t². Posterior = prior · likelihood / Σ. Where one pin alone may be off,
//! the others say where it should be. In a mixed carton each pin is one of two neighbouring codes.
//! Where the stack is known, causes that hold the code to be right count with the probability that
//! the stack lies in its grip; a code that is wrong for the stack, with that of the other grip.
//!
//! # Validity
//! One cause at a time; pins of nominal length. Priors and sizes are common practice, no source;
//! washers 1.0 to 2.5 mm as ISO 7089 from M5 to M12 (from memory). The probabilities order what to
//! look at first; they are no measurement.
//!
//! # Source
//! Bayes' theorem; convolution of uniform and normal densities. Check values: `scipy` 1.17.1.

mod cause;
mod likelihood;
mod working;

pub use cause::Cause;
pub use working::working;

use likelihood::{LOT_MM, PIN_TO_PIN_MM, base, beside, mean, written};

use crate::bayes::posterior;
use crate::error::{CalcError, within};
use crate::stack::{Grip, SURE, Thickness, choose};
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "stick-out-explanations",
    version: 1,
    source: "Bayes' theorem; priors and sizes are common practice, no source",
};

/// Sheets that were said to be clamped and are not: part of the prior that is left.
const CLAMPED_LEAVES: f64 = 0.1;

/// Pins of one measurement: mixed cartons are told apart by trying every split.
const MOST_PINS: usize = 12;

/// What was measured and what is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured<'a> {
    /// Stick-out of each pin, mm.
    pub readings_mm: &'a [f64],
    /// Standard uncertainty of the gauge, mm.
    pub gauge_mm: f64,
    /// Grips of the family, thinnest first.
    pub grips: &'a [Grip],
    /// Place of the code written down in `grips`.
    pub code: usize,
    /// Band of the stick-out with the right code, mm.
    pub band_mm: (f64, f64),
    /// The stack, where it is known.
    pub stack: Option<Thickness>,
    /// Whether the sheets were clamped tight while the pins were measured.
    pub clamped: bool,
}

/// A cause, weighed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighed {
    /// The cause.
    pub cause: Cause,
    /// Its prior weight, with what the stack says of its code.
    pub prior: f64,
    /// Logarithm of its likelihood.
    pub log_likelihood: f64,
    /// Its probability.
    pub probability: f64,
}

/// The stick-out expected of the code over the stack, and its standard uncertainty; over a stack that
/// is not known the middle of the band and that of a value anywhere in it.
///
/// # Errors
/// As [`weigh`], readings apart.
pub fn expected(m: &Measured) -> Result<(f64, f64), CalcError> {
    let base = base(m)?;
    let anywhere = (base.span.1 - base.span.0) / 12.0_f64.sqrt();
    let middle = f64::midpoint(base.span.0, base.span.1);
    Ok((middle, base.standard.hypot(anywhere)))
}

/// The stack that the mean stick-out speaks for, if the pins are of the code written down.
///
/// # Errors
/// As [`weigh`].
pub fn stack_behind(m: &Measured) -> Result<Thickness, CalcError> {
    let grip = written(m)?;
    let n = count(m.readings_mm)?;
    let mean = mean(m.readings_mm);
    let middle = f64::midpoint(m.band_mm.0, m.band_mm.1);
    let of_mean = PIN_TO_PIN_MM / n.sqrt();
    Ok(Thickness {
        value_mm: grip.middle_mm() + middle - mean,
        standard_mm: of_mean.hypot(LOT_MM).hypot(m.gauge_mm),
    })
}

/// How far the mean stick-out lies off what the stack lets expect.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference {
    /// Expected stick-out, mm.
    pub expected_mm: f64,
    /// Mean less expected, mm.
    pub off_mm: f64,
    /// As much as both uncertainties allow: twice their root sum of squares, mm.
    pub allowed_mm: f64,
}

impl Difference {
    /// Whether stick-out and stack contradict each other.
    pub fn contradicts(&self) -> bool {
        self.off_mm.abs() > self.allowed_mm
    }
}

/// Holds the mean stick-out against the stack: two values agree where their difference is no more
/// than its own expanded uncertainty (k = 2; ISO 13528, E_n, from memory). `None` without a stack.
///
/// # Errors
/// As [`weigh`].
pub fn difference(m: &Measured) -> Result<Option<Difference>, CalcError> {
    let base = base(m)?;
    let n = count(m.readings_mm)?;
    let of_mean = PIN_TO_PIN_MM / n.sqrt();
    Ok(m.stack.map(|_| Difference {
        expected_mm: base.span.0,
        off_mm: mean(m.readings_mm) - base.span.0,
        allowed_mm: 2.0 * base.standard.hypot(of_mean),
    }))
}

/// Every cause with its probability, the most likely first. They add up to 1.
///
/// # Errors
/// No reading or more than twelve, a value that is not finite, a negative uncertainty, a band that
/// is reversed, a code that is not among the grips, grips that do not rise.
pub fn weigh(m: &Measured) -> Result<Vec<Weighed>, CalcError> {
    count(m.readings_mm)?;
    for x in m.readings_mm {
        within("x", *x, -1e4, 1e4)?;
    }
    let base = base(m)?;
    let suits = match m.stack {
        Some(stack) => choose(stack, m.grips, SURE)?.inside,
        None => Vec::new(),
    };
    let q = |code: Option<usize>| match code {
        Some(code) if m.stack.is_some() => suits.get(code).copied().unwrap_or(0.0),
        _ => 1.0,
    };
    let mut causes = Vec::new();
    for cause in every(m) {
        let mut prior = cause.prior(m.stack.is_some());
        prior *= match cause {
            Cause::WrongCode(k) => q(beside(m, -k)),
            Cause::WrongPin(_) | Cause::StackDiffers | Cause::Other => 1.0,
            _ => q(Some(m.code)),
        };
        if cause == Cause::NotClamped && m.clamped {
            prior *= CLAMPED_LEAVES;
        }
        causes.push((cause, prior, base.log_likelihood(m, cause, q(Some(m.code)))));
    }
    let priors: Vec<f64> = causes.iter().map(|c| c.1).collect();
    let logs: Vec<f64> = causes.iter().map(|c| c.2).collect();
    let probabilities = posterior(&priors, &logs)?;
    let mut weighed: Vec<Weighed> = causes
        .into_iter()
        .zip(probabilities)
        .map(|((cause, prior, log_likelihood), probability)| Weighed {
            cause,
            prior,
            log_likelihood,
            probability,
        })
        .collect();
    weighed.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    Ok(weighed)
}

/// The causes that there can be.
fn every(m: &Measured) -> Vec<Cause> {
    let mut causes = vec![
        Cause::AsItShould,
        Cause::NotClamped,
        Cause::HeadNotSeated,
        Cause::RodAside,
        Cause::LeftOn,
        Cause::LayerMissing,
        Cause::Other,
    ];
    let others = (0..m.grips.len()).filter(|i| *i != m.code);
    let steps: Vec<i32> = others.map(|i| i as i32 - m.code as i32).collect();
    if m.stack.is_some() {
        causes.push(Cause::StackDiffers);
        causes.extend(steps.iter().map(|k| Cause::WrongPin(*k)));
        causes.extend(steps.iter().map(|k| Cause::WrongCode(-k)));
    } else {
        // Longer by k: the pin is k above, or the stack asks for k below; one of them is enough.
        let both = steps.iter().flat_map(|k| [*k, -k]);
        let mut both: Vec<i32> = both.collect();
        both.sort_unstable();
        both.dedup();
        causes.extend(both.into_iter().map(Cause::WrongCode));
    }
    if m.readings_mm.len() > 1 && !steps.is_empty() {
        causes.push(Cause::MixedCarton);
    }
    causes
}

fn count(readings: &[f64]) -> Result<f64, CalcError> {
    if readings.is_empty() {
        return Err(CalcError::TooFew {
            input: "x",
            have: 0,
            need: 1,
        });
    }
    within("n", readings.len() as f64, 1.0, MOST_PINS as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Codes 04 to 08 of sixteenths of an inch as a demo sheet rounds them.
    const GRIPS: [Grip; 5] = [
        grip(5.5, 7.1),
        grip(7.1, 8.7),
        grip(8.7, 10.3),
        grip(10.3, 11.9),
        grip(11.9, 13.5),
    ];

    const fn grip(min_mm: f64, max_mm: f64) -> Grip {
        Grip { min_mm, max_mm }
    }

    fn pins(readings_mm: &[f64], code: usize, stack: Option<(f64, f64)>) -> Measured<'_> {
        Measured {
            readings_mm,
            gauge_mm: 0.015,
            grips: &GRIPS,
            code,
            band_mm: (25.2, 26.8),
            stack: stack.map(|(value_mm, standard_mm)| Thickness {
                value_mm,
                standard_mm,
            }),
            clamped: false,
        }
    }

    fn chance(weighed: &[Weighed], cause: Cause) -> f64 {
        let found = weighed.iter().find(|w| w.cause == cause);
        found.map_or(0.0, |w| w.probability)
    }

    #[track_caller]
    fn holds(m: &Measured, want: &[(Cause, f64)]) {
        let weighed = weigh(m).expect("good");
        for (cause, p) in want {
            let got = chance(&weighed, *cause);
            assert!((got - p).abs() < 1e-8, "{cause:?}: {got}");
        }
        assert_eq!(weighed[0].cause, want[0].0);
    }

    #[test]
    fn matches_numerical_integration() {
        // numpy 2.4.6 and scipy 1.17.1: Gauss–Legendre over base, shift and shared error of the
        // product of the pins' densities, one pin after the other; done before this was written.
        holds(
            &pins(&[29.20, 29.20, 29.21], 4, Some((9.5, 0.15))),
            &[
                (Cause::WrongCode(2), 0.975_568_264_8),
                (Cause::Other, 0.024_431_590_2),
            ],
        );
        holds(
            &pins(&[29.20, 29.20, 29.21], 4, None),
            &[
                (Cause::WrongCode(2), 0.864_603_433_0),
                (Cause::LayerMissing, 0.099_009_981_7),
                (Cause::Other, 0.036_386_585_3),
            ],
        );
        holds(
            &pins(&[24.50, 24.55, 24.45], 2, None),
            &[
                (Cause::NotClamped, 0.577_278_838_2),
                (Cause::WrongCode(-1), 0.204_713_892_1),
                (Cause::LeftOn, 0.130_231_814_7),
                (Cause::HeadNotSeated, 0.070_601_710_2),
                (Cause::RodAside, 0.014_124_683_2),
            ],
        );
        holds(
            &pins(&[26.0, 26.05, 25.95], 2, Some((9.5, 0.05))),
            &[
                (Cause::AsItShould, 0.992_712_983_3),
                (Cause::StackDiffers, 0.002_627_741_4),
            ],
        );
        holds(
            &pins(&[26.0, 27.58, 26.02], 2, None),
            &[
                (Cause::MixedCarton, 0.998_902_935_6),
                (Cause::Other, 0.001_097_064_2),
            ],
        );
        holds(
            &pins(&[26.0, 25.4, 26.02], 2, None),
            &[
                (Cause::HeadNotSeated, 0.665_125_666_8),
                (Cause::RodAside, 0.333_597_394_6),
                (Cause::AsItShould, 0.000_512_826_7),
            ],
        );
        // In band, over a stack of another code.
        holds(
            &pins(&[26.0, 26.05, 25.95], 2, Some((12.7, 0.15))),
            &[
                (Cause::WrongPin(2), 0.785_537_424_9),
                (Cause::StackDiffers, 0.194_739_000_9),
            ],
        );
        holds(
            &pins(&[25.0], 2, Some((9.5, 0.1))),
            &[
                (Cause::NotClamped, 0.513_616_863_0),
                (Cause::HeadNotSeated, 0.335_059_330_4),
            ],
        );
    }

    #[test]
    fn clamped_sheets_leave_another_code() {
        // The same integration, sheets said to be clamped.
        let readings = [24.40, 24.45, 24.42];
        let m = pins(&readings, 2, Some((9.5, 0.05)));
        let clamped = Measured { clamped: true, ..m };
        holds(
            &clamped,
            &[
                (Cause::WrongPin(-1), 0.668_378_797_6),
                (Cause::LeftOn, 0.211_701_383_8),
                (Cause::NotClamped, 0.076_212_702_0),
            ],
        );
        assert_eq!(weigh(&m).expect("good")[0].cause, Cause::NotClamped);
    }

    #[test]
    fn the_stack_behind_a_stick_out_by_hand() {
        // 12.7 + 26.0 − 29.2 = 9.5 mm; √(0.1²/3 + 0.1² + 0.015²) = 0.1164.
        let behind = stack_behind(&pins(&[29.2, 29.2, 29.2], 4, None)).expect("good");
        assert!((behind.value_mm - 9.5).abs() < 1e-9);
        assert!((behind.standard_mm - 0.1164).abs() < 1e-4, "{behind:?}");
        let (stands_out, _) = expected(&pins(&[29.2], 4, Some((9.5, 0.1)))).expect("good");
        assert!((stands_out - 29.2).abs() < 1e-9);
    }

    #[test]
    fn a_difference_beyond_both_doubts_by_hand() {
        // 2 √(0.1²/3 + 0.1² + 0.015² + 0.1²) = 0.307; over 9.5 mm code 06 stands out 26.0 mm.
        let of = |x: f64| {
            let readings = [x, x, x];
            let m = pins(&readings, 2, Some((9.5, 0.1)));
            difference(&m).expect("good").expect("a stack")
        };
        assert!(
            (of(26.2).allowed_mm - 0.3070).abs() < 5e-5,
            "{:?}",
            of(26.2)
        );
        assert!((of(26.2).off_mm - 0.2).abs() < 1e-9);
        assert!(!of(26.2).contradicts() && of(26.4).contradicts() && of(25.6).contradicts());
        assert_eq!(difference(&pins(&[26.0], 2, None)), Ok(None));
    }

    #[test]
    fn far_from_everything_is_something_else() {
        for readings in [&[900.0, 901.0, -40.0][..], &[60.0], &[1.02, 1.02]] {
            let weighed = weigh(&pins(readings, 2, None)).expect("good");
            assert_eq!(weighed[0].cause, Cause::Other, "{readings:?}");
        }
    }

    #[test]
    fn a_grip_alone_has_no_neighbours() {
        let readings = [26.0, 26.1];
        let m = Measured {
            grips: &GRIPS[..1],
            ..pins(&readings, 0, None)
        };
        let weighed = weigh(&m).expect("good");
        assert!(
            weighed
                .iter()
                .all(|w| !matches!(w.cause, Cause::MixedCarton | Cause::WrongCode(_)))
        );
    }

    #[test]
    fn refusals() {
        let many = [26.0; 13];
        let good = [26.0, 26.1];
        for m in [
            pins(&[], 2, None),
            pins(&many, 2, None),
            pins(&[f64::NAN], 2, None),
            pins(&[f64::INFINITY], 2, None),
            pins(&good, 5, None),
            pins(&good, 2, Some((f64::NAN, 0.1))),
            pins(&good, 2, Some((9.5, -0.1))),
            Measured {
                gauge_mm: -0.1,
                ..pins(&good, 2, None)
            },
            Measured {
                band_mm: (26.8, 25.2),
                ..pins(&good, 2, None)
            },
            Measured {
                grips: &[],
                ..pins(&good, 0, None)
            },
        ] {
            assert!(weigh(&m).is_err(), "{m:?}");
            assert!(working(&m).is_err(), "{m:?}");
        }
    }

    proptest! {
        #[test]
        fn all_causes_add_up_to_one(
            x in prop::collection::vec(15.0..40.0f64, 1..6), code in 0usize..5,
            t in prop::option::of((3.0..16.0f64, 0.0..0.5f64)), clamped in any::<bool>(),
        ) {
            let m = Measured { clamped, ..pins(&x, code, t) };
            let weighed = weigh(&m).expect("good");
            let sum: f64 = weighed.iter().map(|w| w.probability).sum();
            prop_assert!((sum - 1.0).abs() < 1e-9);
            prop_assert!(weighed.iter().all(|w| (0.0..=1.0).contains(&w.probability)));
            prop_assert!(weighed.iter().any(|w| w.cause == Cause::Other));
        }

        #[test]
        fn the_middle_of_the_band_is_as_it_should_be(
            off in -0.4..0.4f64, code in 0usize..5, has_stack in any::<bool>(),
        ) {
            let x = [26.0 + off, 26.03 + off, 25.97 + off];
            let t = GRIPS[code].middle_mm() - off;
            let m = pins(&x, code, has_stack.then_some((t, 0.05)));
            prop_assert_eq!(weigh(&m).expect("good")[0].cause, Cause::AsItShould);
        }

        #[test]
        fn a_code_step_over_a_clamped_stack_is_the_wrong_pin(
            code in 1usize..4, up in any::<bool>(), u in 0.0..0.1f64,
        ) {
            let (k, step) = if up { (1, 1.6) } else { (-1, -1.6) };
            let x = [26.0 + step, 26.03 + step, 25.97 + step];
            let m = Measured { clamped: true, ..pins(&x, code, Some((GRIPS[code].middle_mm(), u))) };
            prop_assert_eq!(weigh(&m).expect("good")[0].cause, Cause::WrongPin(k));
        }

        #[test]
        fn a_code_for_another_stack_is_the_wrong_code(code in 0usize..5, other in 0usize..5) {
            prop_assume!(code != other);
            let t = GRIPS[other].middle_mm();
            let stands_out = GRIPS[code].middle_mm() + 26.0 - t;
            let x = [stands_out, stands_out + 0.03, stands_out - 0.03];
            let m = pins(&x, code, Some((t, 0.1)));
            let k = code as i32 - other as i32;
            prop_assert_eq!(weigh(&m).expect("good")[0].cause, Cause::WrongCode(k));
        }
    }
}
