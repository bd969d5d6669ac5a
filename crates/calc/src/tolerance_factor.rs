//! Tolerance intervals: limits that hold a share of all pieces, with confidence, from the mean and the standard
//! deviation of a few.
//!
//! # Formula
//! x̄ ± k · s. One side exact: k = t'(γ; n − 1, z_p · √n) / √n, t' of the noncentral t distribution. Two sides exact: k such
//! that ∫ φ(z) · P(χ²_ν ≥ ν · r(z)² / k²) dz = γ, with Φ(z / √n + r) − Φ(z / √n − r) = p. Howe (two sides):
//! z_{(1+p)/2} · √(ν · (1 + 1/n) / χ²_{1−γ,ν}). Natrella (one side): k = (z_p + √(z_p² − a · b)) / a,
//! a = 1 − z_γ² / (2 · (n − 1)), b = z_p² − z_γ² / n.
//!
//! # Validity
//! Readings normal and independent. Far out in the tails a share near 1 rests on the normal distribution alone.
//!
//! # Source
//! ISO 16269-6:2014 (from memory); NIST/SEMATECH e-Handbook 7.2.6.3. Integrals by Gauss–Legendre. Check values:
//! scipy 1.17.1 `stats.nct`.

use crate::Message;
use crate::bisection::bisect_above_zero;
use crate::chi_square;
use crate::error::{CalcError, within};
use crate::moments;
use crate::normal;
use crate::quadrature::grid;
use crate::working::{Method, Working, figures};

/// The factor.
pub const METHOD: Method = Method {
    name: "tolerance-factor",
    version: 1,
    source: "ISO 16269-6:2014 (from memory); NIST/SEMATECH e-Handbook 7.2.6.3",
};

/// The interval.
pub const INTERVAL: Method = Method {
    name: "tolerance-interval",
    version: 1,
    source: METHOD.source,
};

/// Most readings that are reckoned with.
pub const MOST: u64 = 1_000_000;

/// Which formula gives the factor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Formula {
    /// One side, exact.
    OneExact,
    /// One side, approximation of Natrella.
    OneNatrella,
    /// Two sides, exact.
    TwoExact,
    /// Two sides, approximation of Howe.
    TwoHowe,
}

/// The factor k for `count` readings, a share p of all pieces and a confidence γ.
///
/// # Errors
/// Fewer than two readings or more than [`MOST`]; a share or confidence outside 0.001 to 1 − 10⁻⁹; Natrella's
/// approximation where it has no root.
pub fn factor(count: u64, share: f64, confidence: f64, formula: Formula) -> Result<f64, CalcError> {
    let n = within("n", count as f64, 2.0, MOST as f64)?;
    let share = within("p", share, 1e-3, 1.0 - 1e-9)?;
    let confidence = within("γ", confidence, 1e-3, 1.0 - 1e-9)?;
    let dof = n - 1.0;
    let found = match formula {
        Formula::OneExact => one_exact(n, normal::quantile(share)?, confidence)?,
        Formula::TwoExact => two_exact(n, share, confidence)?,
        Formula::TwoHowe => {
            let z = normal::quantile(f64::midpoint(1.0, share))?;
            let chi = chi_square::quantile(1.0 - confidence, dof)?;
            z * (dof * (1.0 + 1.0 / n) / chi).sqrt()
        }
        Formula::OneNatrella => {
            let (z_p, z_g) = (normal::quantile(share)?, normal::quantile(confidence)?);
            let a = within("a", 1.0 - z_g * z_g / (2.0 * dof), 1e-9, 1.0)?;
            let b = z_p * z_p - z_g * z_g / n;
            let root = within("z² − a · b", z_p * z_p - a * b, 0.0, f64::MAX)?;
            (z_p + root.sqrt()) / a
        }
    };
    within("k", found, f64::MIN, f64::MAX)
}

/// k with P(Z / √n + k · S ≥ z) = γ, where S² is χ² over its degrees of freedom.
fn one_exact(n: f64, z: f64, confidence: f64) -> Result<f64, CalcError> {
    let dof = n - 1.0;
    let root = n.sqrt();
    // Density of S but for its factor: over its value at the mode, so nothing overflows.
    let mode = ((dof - 1.0) / dof).max(0.0).sqrt();
    let log = |s: f64| (dof - 1.0) * s.ln() - dof * s * s / 2.0;
    let top = if mode > 0.0 { log(mode) } else { 0.0 };
    let density = |s: f64| {
        if dof == 1.0 {
            (-s * s / 2.0).exp()
        } else {
            (log(s) - top).exp()
        }
    };
    // The density falls at least as fast as a bell of width 1/√ν about its mode.
    let (low, high) = (
        (mode - 10.0 / dof.sqrt()).max(0.0),
        mode + 10.0 / dof.sqrt(),
    );
    let whole: f64 = grid(&[low, mode, high], 8)
        .iter()
        .map(|(s, w)| w * density(*s))
        .sum();
    let proven = |k: f64| {
        // Steep where k · s passes z: the pieces end there.
        let (at, width) = (z / k, 1.0 / (k.abs() * root));
        let mut ends = vec![low, mode, high];
        let near = [-8.0, -3.0, 0.0, 3.0, 8.0].map(|by| at + by * width);
        ends.extend(near.iter().filter(|s| **s > low && **s < high));
        ends.sort_by(f64::total_cmp);
        let points = grid(&ends, 4);
        let term = |(s, w): &(f64, f64)| w * density(*s) * normal::below(root * (k * s - z));
        points.iter().map(term).sum::<f64>() / whole
    };
    // k rises with the confidence; it lies below 0 where the confidence asked for is small.
    let at_none = normal::below(-root * z);
    let found = if at_none < confidence {
        bisect_above_zero(|k| proven(k) < confidence)
    } else {
        bisect_above_zero(|k| proven(-k) > confidence).map(|k| -k)
    };
    found.ok_or(CalcError::NotFinite { input: "k" })
}

/// k such that x̄ ± k · s holds the share with the confidence.
fn two_exact(n: f64, share: f64, confidence: f64) -> Result<f64, CalcError> {
    let dof = n - 1.0;
    let root = n.sqrt();
    // Half the width that holds the share about a mean that is off by z / √n; z of both signs alike.
    let half_width = |z: f64| {
        let off = z / root;
        bisect_above_zero(|r| normal::between(off - r, off + r) < share)
    };
    let bell = |z: f64| (-z * z / 2.0).exp() * (2.0 / std::f64::consts::PI).sqrt();
    let mut terms = Vec::new();
    for (z, w) in grid(&[0.0, 3.0, 10.0], 3) {
        let r = half_width(z).ok_or(CalcError::NotFinite { input: "k" })?;
        terms.push((w * bell(z), r));
    }
    let proven = |k: f64| {
        let held = |r: f64| chi_square::above(dof * (r / k).powi(2), dof);
        terms.iter().map(|(w, r)| w * held(*r)).sum::<f64>()
    };
    bisect_above_zero(|k| proven(k) < confidence).ok_or(CalcError::NotFinite { input: "k" })
}

/// The working of a factor.
pub fn working(count: u64, share: f64, confidence: f64, formula: Formula, k: f64) -> Working {
    let (shown, note) = match formula {
        Formula::OneExact => ("t'(γ; n − 1, z_p · √n) / √n", "note-tolerance-one-exact"),
        Formula::TwoExact => ("k(n, p, γ)", "note-tolerance-two-exact"),
        Formula::TwoHowe => (
            "z_(1+p)/2 · √((n − 1) · (1 + 1 / n) / χ²(1 − γ, n − 1))",
            "note-tolerance-howe",
        ),
        Formula::OneNatrella => ("(z_p + √(z_p² − a · b)) / a", "note-tolerance-natrella"),
    };
    Working::new(METHOD)
        .given("n", Message::new("given-count"), count as f64, 0, "")
        .given("p", Message::new("given-share-of-pieces"), share, 4, "")
        .given("γ", Message::new("given-confidence"), confidence, 4, "")
        .step("k", shown, k, 4, "")
        .note(Message::new(note))
}

/// The working of an interval on a factor.
pub fn interval_working(factor: Working, mean: f64, deviation: f64, k: f64) -> Working {
    let few = |x: f64| figures(x, 6);
    let (lower, upper) = (mean - k * deviation, mean + k * deviation);
    let mut w = moments::given(Working::new(INTERVAL).after(factor), mean, deviation);
    w = w.step("L", "x̄ − k · s", lower, few(mean), "");
    w.step("U", "x̄ + k · s", upper, few(mean), "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn two_readings_and_odd_corners() {
        // scipy 1.17.1: stats.nct.ppf(γ, n − 1, norm.ppf(p)·√n) / √n.
        for (n, p, c, k) in [
            (2, 0.95, 0.95, 26.259_673_983_034_47),
            (2, 0.99, 0.99, 185.616_958_603_211_2),
            (10, 0.6, 0.05, -0.285_742_222_772_394_25),
            (300, 0.999, 0.9, 3.279_539_118_450_767),
            (15, 0.2, 0.7, -0.702_727_552_085_657),
        ] {
            let found = factor(n, p, c, Formula::OneExact).expect("inside");
            assert!((found / k - 1.0).abs() < 1e-7, "{n} {p} {c}: {found}");
        }
    }

    #[test]
    fn many_readings_come_to_the_quantile() {
        // With n without end both sides come to z_{(1+p)/2} = 1.959964, one side to z_p = 1.644854.
        let two = factor(MOST, 0.95, 0.95, Formula::TwoExact).expect("inside");
        assert!((two - 1.959_964).abs() < 0.01, "{two}");
        let one = factor(MOST, 0.95, 0.95, Formula::OneExact).expect("inside");
        assert!((one - 1.644_854).abs() < 0.01, "{one}");
    }

    #[test]
    fn refusals() {
        use Formula::{OneExact, OneNatrella, TwoExact};
        for (n, p, c) in [
            (1, 0.9, 0.9),
            (MOST + 1, 0.9, 0.9),
            (5, 1.0, 0.9),
            (5, 0.9, 0.0),
            (5, f64::NAN, 0.9),
        ] {
            for formula in [OneExact, TwoExact] {
                assert!(factor(n, p, c, formula).is_err(), "{n} {p} {c}");
            }
        }
        // z_γ² = 5.4 is more than 2 · (n − 1).
        assert!(factor(3, 0.9, 0.99, OneNatrella).is_err());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(16))]

        #[test]
        fn more_readings_need_less_and_more_confidence_more(n in 2u64..60, p in 0.5..0.999f64, c in 0.5..0.99f64) {
            for formula in [Formula::OneExact, Formula::TwoExact] {
                let k = factor(n, p, c, formula).expect("inside");
                prop_assert!(factor(n + 5, p, c, formula).expect("inside") < k);
                prop_assert!(factor(n, p, c + 0.005, formula).expect("inside") > k);
            }
        }
    }
}
