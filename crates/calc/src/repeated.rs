//! Mean of repeated readings taken with one gauge, with its uncertainty.
//!
//! # Formula
//! u² = s²/n + u_g² + a²/3, with s the standard deviation of the n readings, u_g the gauge's
//! standard uncertainty from its certificate and a half its resolution. Effective degrees of freedom
//! by Welch–Satterthwaite (only s/√n has a finite number), expanded uncertainty w = t(95.45 %, ν)·u. At
//! 95.45 % an infinite ν gives k = 2, as on certificates: one reading never claims to be better than
//! its gauge.
//!
//! # Source
//! JCGM 100:2008, 4.2 (repeated readings), F.2.2.1 (resolution), G.4.1 (Welch–Satterthwaite), Table G.2
//! (p = 95.45 %, k = 2 for infinite ν).

use crate::error::{CalcError, within};
use crate::student::coverage_factor;
use crate::uncertainty_budget::{Budget, Component, Coverage, Part, combine};
use crate::units::Unit;
use crate::working::{Method, Working};
use crate::{Message, student};

/// This method.
pub const METHOD: Method = Method {
    name: "repeated-readings-mean",
    version: 2,
    source: "JCGM 100:2008, 4.2, F.2.2.1, G.4.1 and Table G.2",
};

/// Coverage probability of the expanded uncertainty: two standard deviations of a normal distribution.
pub const LEVEL: f64 = 0.9545;

impl Estimate {
    /// A value without doubt: a wish, not a reading.
    pub fn exact(value: f64) -> Self {
        Self {
            value,
            standard: 0.0,
            dof: f64::INFINITY,
            expanded: 0.0,
            spread: 0.0,
        }
    }
}

/// What the gauge adds to the doubt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GaugeDoubt {
    /// Expanded uncertainty from the certificate, k = 2.
    pub expanded: f64,
    /// Smallest step that it shows.
    pub resolution: f64,
}

/// A value with its uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// Best value.
    pub value: f64,
    /// Standard uncertainty.
    pub standard: f64,
    /// Effective degrees of freedom.
    pub dof: f64,
    /// Expanded uncertainty at [`LEVEL`].
    pub expanded: f64,
    /// Standard deviation of the readings; 0 for one reading.
    pub spread: f64,
}

/// The mean of `readings` and its uncertainty.
///
/// # Errors
/// No reading, a reading that is not finite, a negative gauge uncertainty or resolution.
pub fn mean(readings: &[f64], gauge: GaugeDoubt) -> Result<Estimate, CalcError> {
    let (value, spread, parts) = components(readings, gauge)?;
    let combined = combine(&parts, Coverage::AsIs(LEVEL))?;
    Ok(Estimate {
        value,
        standard: combined.standard,
        dof: combined.dof,
        expanded: combined.expanded,
        spread,
    })
}

/// The budget of [`mean`]: readings, certificate, resolution.
///
/// # Errors
/// As [`mean`].
pub fn budget(readings: &[f64], gauge: GaugeDoubt, unit: Unit) -> Result<Budget, CalcError> {
    let (_, _, components) = components(readings, gauge)?;
    let unit = unit.symbol();
    let named = PARTS.into_iter().zip(components);
    let parts = named.map(|(name, component)| Part {
        name,
        unit,
        component,
    });
    Budget::of(unit, parts.collect(), Coverage::AsIs(LEVEL))
}

/// Names of the components.
const PARTS: [&str; 3] = [
    "given-doubt-readings",
    "given-doubt-certificate",
    "given-doubt-resolution",
];

/// Mean of `readings`, their standard deviation, and the components of the mean's uncertainty.
fn components(
    readings: &[f64],
    gauge: GaugeDoubt,
) -> Result<(f64, f64, [Component; 3]), CalcError> {
    if readings.is_empty() {
        return Err(CalcError::TooFew {
            input: "x",
            have: 0,
            need: 1,
        });
    }
    for x in readings {
        within("x", *x, f64::MIN, f64::MAX)?;
    }
    let u_gauge = within("w_g", gauge.expanded, 0.0, f64::MAX)? / 2.0;
    let u_step = within("r", gauge.resolution, 0.0, f64::MAX)? / 2.0 / 3.0_f64.sqrt();
    let n = readings.len() as f64;
    // Reckoned from the first reading, so that equal readings have no spread at all: a spread of
    // one rounding would come out as an absurd number of degrees of freedom.
    let first = readings[0];
    let value = first + readings.iter().map(|x| x - first).sum::<f64>() / n;
    let spread = if readings.len() > 1 {
        let squares: f64 = readings.iter().map(|x| (x - value).powi(2)).sum();
        (squares / (n - 1.0)).sqrt()
    } else {
        0.0
    };
    let u_mean = spread / n.sqrt();
    let of = |standard, dof| Component {
        standard,
        sensitivity: 1.0,
        dof,
    };
    // One reading has no spread: its part is 0, whatever its degrees of freedom.
    let parts = [
        of(u_mean, (n - 1.0).max(1.0)),
        of(u_gauge, f64::INFINITY),
        of(u_step, f64::INFINITY),
    ];
    Ok((value, spread, parts))
}

/// The working of [`mean`].
pub fn working(readings: &[f64], gauge: GaugeDoubt, unit: Unit, decimals: usize) -> Working {
    let Ok(estimate) = mean(readings, gauge) else {
        return Working::new(METHOD);
    };
    let symbol = unit.symbol();
    let n = readings.len() as f64;
    // Fine enough that the lines give each other when reckoned from what is printed.
    let fine = decimals + 4;
    let mut w = Working::new(METHOD);
    for (name, x) in SYMBOLS.iter().zip(readings) {
        w = w.given(name, Message::new("given-reading"), *x, decimals, symbol);
    }
    let of_gauge = Message::new("given-gauge-expanded");
    let half_step = gauge.resolution / 2.0;
    w = w
        .given("n", Message::new("given-count"), n, 0, "")
        .given("w_g", of_gauge, gauge.expanded, fine, symbol)
        .given(
            "a",
            Message::new("given-half-step"),
            half_step,
            fine,
            symbol,
        )
        .step("x̄", "Σx / n", estimate.value, fine, symbol)
        .step("u_g", "w_g / 2", gauge.expanded / 2.0, fine, symbol);
    w = if readings.len() > 1 {
        w.step("s", "√(Σ(x − x̄)² / (n − 1))", estimate.spread, fine, symbol)
            .step(
                "u",
                "√(s² / n + u_g² + a² / 3)",
                estimate.standard,
                fine,
                symbol,
            )
    } else {
        w.step("u", "√(u_g² + a² / 3)", estimate.standard, fine, symbol)
    };
    let counted = estimate.dof <= student::MANY_DOF;
    w = if counted {
        w.step("ν", "(n − 1) · u⁴ / (s² / n)²", estimate.dof, 1, "")
    } else {
        w.step("ν", "∞", f64::INFINITY, 1, "")
    };
    if !counted && readings.len() > 1 {
        w = w.note(Message::new("note-gauge-alone"));
    }
    let t = coverage_factor(LEVEL, estimate.dof).unwrap_or(f64::NAN);
    w.step("t", "t(95.45 %, ν)", t, 4, "")
        .step("w", "t · u", estimate.expanded, fine, symbol)
}

/// Names of readings in a working, in order; more than twenty are summed without being listed.
const SYMBOLS: [&str; 20] = [
    "x₁", "x₂", "x₃", "x₄", "x₅", "x₆", "x₇", "x₈", "x₉", "x₁₀", "x₁₁", "x₁₂", "x₁₃", "x₁₄", "x₁₅",
    "x₁₆", "x₁₇", "x₁₈", "x₁₉", "x₂₀",
];

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const NO_GAUGE: GaugeDoubt = GaugeDoubt {
        expanded: 0.0,
        resolution: 0.0,
    };

    #[test]
    fn twenty_temperatures_of_the_gum() {
        // JCGM 100:2008 4.4.3, Table 1: mean 100.145 ≈ 100.14 °C, s = 1.489 ≈ 1.49 °C,
        // s/√20 = 0.333 ≈ 0.33 °C.
        let t = [
            96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42,
            100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
        ];
        let e = mean(&t, NO_GAUGE).expect("finite");
        assert!((e.value - 100.145).abs() <= 0.0005, "{e:?}");
        assert!((e.spread - 1.489).abs() <= 0.0005, "{e:?}");
        assert!((e.standard - 0.333).abs() <= 0.0005, "{e:?}");
        assert!((e.dof - 19.0).abs() < 1e-9);
        // scipy 1.17.1 stats.t.ppf(0.97725, 19) = 2.140497, Table G.2 prints 2.14.
        assert!((e.expanded - 0.712_605_034_935_94).abs() < 1e-9, "{e:?}");
    }

    #[test]
    fn one_reading_carries_the_gauge_alone() {
        let e = mean(
            &[26.2],
            GaugeDoubt {
                expanded: 0.04,
                resolution: 0.01,
            },
        )
        .expect("finite");
        let u = (0.02_f64.powi(2) + 0.005_f64.powi(2) / 3.0).sqrt();
        assert!((e.standard - u).abs() < 1e-15);
        // scipy 1.17.1 stats.norm.ppf(0.97725) = 2.000002.
        assert!((e.expanded - 0.040_414_568).abs() < 1e-6);
    }

    #[test]
    fn one_reading_is_as_doubtful_as_the_certificate_says() {
        // JCGM 100:2008 Table G.2, last row: k = 2.000 at 95.45 %.
        let gauge = GaugeDoubt {
            expanded: 0.03,
            resolution: 0.0,
        };
        let e = mean(&[26.2], gauge).expect("finite");
        assert!(e.expanded >= 0.03, "{e:?}");
        assert!((e.expanded / e.standard - 2.0).abs() < 1e-4, "{e:?}");
    }

    #[test]
    fn equal_readings_keep_certificate_and_step() {
        // JCGM 100:2008 4.3 and F.2.2.1: u² = 0.1² + 0.05²/3. scipy 1.17.1 stats.norm.ppf(0.97725).
        let gauge = GaugeDoubt {
            expanded: 0.2,
            resolution: 0.1,
        };
        let e = mean(&[31.0; 5], gauge).expect("finite");
        assert!((e.standard - 0.104_083_299_973_3).abs() < 1e-12, "{e:?}");
        assert!((e.expanded - 0.208_166_854).abs() < 1e-6, "{e:?}");
    }

    #[test]
    fn equal_readings_have_no_spread() {
        // By hand: every deviation from the mean is 0, so s = 0 and only the gauge is left, whose
        // degrees of freedom are taken as infinite (JCGM 100:2008 G.4.3). The sum of ten times 2.1
        // is not 21 in binary, nor is the mean of its tenth 2.1.
        let timer = GaugeDoubt {
            expanded: 0.1,
            resolution: 0.01,
        };
        let e = mean(&[2.1; 10], timer).expect("finite");
        assert_eq!((e.value, e.spread, e.dof), (2.1, 0.0, f64::INFINITY));
    }

    #[test]
    fn degrees_of_freedom_beyond_counting_are_printed_as_infinite() {
        // A spread that prints as 0 must not print as a divisor.
        let gauge = GaugeDoubt {
            expanded: 0.1,
            resolution: 0.01,
        };
        for (readings, notes) in [
            (&[2.1, 2.1 + 1e-9][..], 1),
            (&[2.1, 2.1, 2.1], 1),
            (&[2.1], 0),
        ] {
            let w = working(readings, gauge, Unit::Second, 2);
            let dof = w.steps.iter().find(|s| s.symbol == "ν").expect("a line");
            assert_eq!((dof.filled.as_str(), dof.value.as_str()), ("∞", "∞"));
            assert_eq!(w.notes.len(), notes);
        }
    }

    #[test]
    fn the_budget_names_what_the_mean_is_unsure_by() {
        // By hand: 10.0, 10.2 have s/√2 = 0.1 with 1 degree of freedom; U = 0.06, step 0.12.
        let gauge = GaugeDoubt {
            expanded: 0.06,
            resolution: 0.12,
        };
        let found = budget(&[10.0, 10.2], gauge, Unit::Millimetre).expect("good");
        let wanted = [
            ("given-doubt-readings", 0.1, 1.0),
            ("given-doubt-certificate", 0.03, f64::INFINITY),
            ("given-doubt-resolution", 0.06 / 3f64.sqrt(), f64::INFINITY),
        ];
        for (part, (name, standard, dof)) in found.parts.iter().zip(wanted) {
            let of = part.component;
            assert_eq!((part.name, part.unit, of.dof), (name, "mm", dof));
            assert!((of.standard - standard).abs() < 1e-12 && of.sensitivity == 1.0);
        }
        // u² = 0.01 + 0.0009 + 0.0012 = 0.0121; ν = 0.0121² / 0.1⁴ = 1.4641.
        let (all, mean) = (found.combined, mean(&[10.0, 10.2], gauge).expect("good"));
        assert!((all.standard - 0.11).abs() < 1e-12 && (all.dof - 1.4641).abs() < 1e-9);
        assert_eq!((all.standard, all.expanded), (mean.standard, mean.expanded));
        assert!(budget(&[], gauge, Unit::Millimetre).is_err());
    }

    #[test]
    fn refusals() {
        assert!(mean(&[], NO_GAUGE).is_err());
        assert!(mean(&[f64::NAN], NO_GAUGE).is_err());
        assert!(
            mean(
                &[1.0],
                GaugeDoubt {
                    expanded: -1.0,
                    resolution: 0.0
                }
            )
            .is_err()
        );
    }

    #[test]
    fn the_working_puts_in_what_was_given() {
        // One reading, U = 0.03, step 0.01: u² = 0.015² + 0.005²/3, by hand 0.0152753.
        let gauge = GaugeDoubt {
            expanded: 0.03,
            resolution: 0.01,
        };
        let w = working(&[26.2], gauge, Unit::Millimetre, 2);
        let given = |symbol| w.given.iter().find(|g| g.symbol == symbol);
        assert_eq!(given("a").map(|g| g.value.as_str()), Some("0.005000"));
        assert_eq!(given("w_g").map(|g| g.value.as_str()), Some("0.030000"));
        let u = w.steps.iter().find(|s| s.symbol == "u").expect("a line");
        assert_eq!(u.value, "0.015275");
    }

    proptest! {
        #[test]
        fn a_shift_moves_only_the_mean(xs in prop::collection::vec(-10.0..10.0f64, 1..8), by in -5.0..5.0f64) {
            let gauge = GaugeDoubt { expanded: 0.05, resolution: 0.01 };
            let a = mean(&xs, gauge).expect("finite");
            let moved: Vec<f64> = xs.iter().map(|x| x + by).collect();
            let b = mean(&moved, gauge).expect("finite");
            prop_assert!((b.value - a.value - by).abs() < 1e-9);
            prop_assert!((b.standard - a.standard).abs() < 1e-9);
        }
    }
}
