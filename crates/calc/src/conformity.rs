//! How likely a measured value lies inside its limits, and how far inside a reading must lie.
//!
//! # Formula
//! With a normal distribution of standard deviation u around the best value y:
//! p = Φ((U − y) / u) − Φ((L − y) / u). For a wanted probability p the acceptance limits lie
//! z_p · u inside each limit, z_p the one-sided normal quantile.
//!
//! # Validity
//! Little known beforehand about the quantity; u small against the limits' distance, so that at
//! one limit the other does not matter.
//!
//! # Source
//! JCGM 106:2012, 7.3 and 7.4 (probability), 8.3 (guard bands).

use crate::Message;
use crate::decision::{Limits, Zone};
use crate::error::{CalcError, within};
use crate::normal::{below, between, quantile};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "conformity-probability",
    version: 1,
    source: "JCGM 106:2012, 7.3 and 7.4",
};

/// Acceptance limits for a wanted probability.
pub const ACCEPTANCE: Method = Method {
    name: "conformity-acceptance-limits",
    version: 1,
    source: "JCGM 106:2012, 8.3; ISO 14253-1:2017 takes 95 % (from memory)",
};

/// Where a value lies, in probability.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chances {
    /// Below the lower limit.
    pub below: f64,
    /// Inside.
    pub inside: f64,
    /// Above the upper limit.
    pub above: f64,
}

/// The probabilities of `value` with standard uncertainty `standard`.
///
/// # Errors
/// A value that is not finite, an uncertainty that is not above 0.
pub fn chances(value: f64, standard: f64, limits: Limits) -> Result<Chances, CalcError> {
    let y = within("y", value, f64::MIN, f64::MAX)?;
    let u = within("u", standard, f64::MIN_POSITIVE, f64::MAX)?;
    let low = limits.lower().map_or(f64::NEG_INFINITY, |l| (l - y) / u);
    let high = limits.upper().map_or(f64::INFINITY, |h| (h - y) / u);
    Ok(Chances {
        below: below(low),
        inside: between(low, high),
        above: below(-high),
    })
}

/// The working of [`chances`].
///
/// # Errors
/// As [`chances`].
pub fn working(
    value: f64,
    standard: f64,
    limits: Limits,
    decimals: usize,
    unit: &'static str,
) -> Result<Working, CalcError> {
    let p = chances(value, standard, limits)?.inside;
    let fine = decimals + 2;
    let mut w = Working::new(METHOD)
        .given("y", Message::new("given-reading"), value, decimals, unit)
        .given("u", Message::new("given-standard"), standard, fine, unit);
    let (lower, upper) = (limits.lower(), limits.upper());
    if let Some(l) = lower {
        w = w.given("L", Message::new("given-lower"), l, decimals, unit);
    }
    if let Some(h) = upper {
        w = w.given("U", Message::new("given-upper"), h, decimals, unit);
    }
    let formula = match (lower, upper) {
        (Some(_), Some(_)) => "Φ((U − y) / u) − Φ((L − y) / u)",
        (Some(_), None) => "1 − Φ((L − y) / u)",
        _ => "Φ((U − y) / u)",
    };
    Ok(w.step("p", formula, p, 4, ""))
}

/// Limits inside which a reading is accepted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Acceptance {
    /// z_p.
    pub factor: f64,
    /// z_p · u.
    pub guard: f64,
    /// Readings that are accepted.
    pub zone: Zone,
}

/// Readings inside these limits conform with at least `probability`.
///
/// # Errors
/// A probability outside 0.5 to 1, an uncertainty that is negative or so large that no reading
/// could be accepted.
pub fn acceptance(
    standard: f64,
    limits: Limits,
    probability: f64,
) -> Result<Acceptance, CalcError> {
    within("p", probability, 0.5, 1.0 - f64::EPSILON)?;
    let factor = quantile(probability)?;
    let widest = match (limits.lower(), limits.upper()) {
        (Some(l), Some(h)) if factor > 0.0 => (h - l) / 2.0 / factor,
        _ => f64::MAX,
    };
    let u = within("u", standard, 0.0, widest)?;
    let guard = factor * u;
    Ok(Acceptance {
        factor,
        guard,
        zone: limits.inwards(guard),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn limits(lower: Option<f64>, upper: Option<f64>) -> Limits {
        Limits::new(lower, upper).expect("good limits")
    }

    #[test]
    fn examples_of_jcgm_106() {
        // JCGM 106:2012 (from memory): 7.3.2 breakdown voltage 0.92 and burst pressure 0.99;
        // 7.4 viscosity 0.66.
        for (y, u, l, printed) in [
            (-5.47, 0.05, limits(None, Some(-5.4)), 0.92),
            (509.7, 8.6, limits(Some(490.0), None), 0.99),
            (13.6, 1.8, limits(Some(12.5), Some(16.3)), 0.66),
        ] {
            let p = chances(y, u, l).expect("good").inside;
            assert!((p - printed).abs() <= 0.005, "{p}");
        }
    }

    #[test]
    fn acceptance_limits_of_iso_14253() {
        // ISO 14253-1:2017 default, 1.65 u at 95 % (from memory).
        let a = acceptance(0.06, limits(Some(9.5), Some(10.5)), 0.95).expect("good");
        assert!((a.factor - 1.65).abs() <= 0.006, "{a:?}");
        assert!((a.zone.lower.expect("two-sided") - 9.599).abs() <= 0.0005);
        assert!((a.zone.upper.expect("two-sided") - 10.401).abs() <= 0.0005);
    }

    #[test]
    fn refusals() {
        let l = limits(Some(0.0), Some(1.0));
        for (y, u) in [
            (f64::NAN, 0.1),
            (f64::INFINITY, 0.1),
            (0.5, 0.0),
            (0.5, -1.0),
            (0.5, f64::NAN),
        ] {
            assert!(chances(y, u, l).is_err(), "{y} {u}");
            assert!(working(y, u, l, 2, "mm").is_err());
        }
        for (u, p) in [
            (0.1, 0.4),
            (0.1, 1.0),
            (0.1, f64::NAN),
            (0.5, 0.95),
            (-0.1, 0.95),
        ] {
            assert!(acceptance(u, l, p).is_err(), "{u} {p}");
        }
    }

    proptest! {
        #[test]
        fn the_three_add_up(y in -5.0..5.0f64, u in 0.01..3.0f64) {
            let c = chances(y, u, limits(Some(-1.0), Some(2.0))).expect("good");
            prop_assert!((c.below + c.inside + c.above - 1.0).abs() < 1e-12);
        }

        #[test]
        fn a_reading_at_an_acceptance_limit_has_the_wanted_probability(u in 0.001..0.1f64, p in 0.6..0.999f64) {
            let l = limits(Some(0.0), Some(5.0));
            let a = acceptance(u, l, p).expect("wide limits");
            let c = chances(a.zone.lower.expect("lower"), u, l).expect("good");
            prop_assert!((c.inside - p).abs() < 1e-9);
        }
    }
}
