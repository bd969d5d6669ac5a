//! Conformity of a measured value with its limits: a three-valued verdict with guard bands.
//!
//! # Formula
//! With limits L and U and expanded uncertainty w (k = 2, about 95 %):
//! accept when L + w ≤ x ≤ U − w; reject when x < L − w or x > U + w; otherwise undecided.
//! Simple acceptance: accept when L ≤ x ≤ U, else reject.
//!
//! # Source
//! JCGM 106:2012 clause 8 (guarded acceptance, guarded rejection, simple acceptance); the guard
//! band of one expanded uncertainty is the usual choice named there (r = 1).

use crate::error::{CalcError, within};
use crate::working::{Method, Working, places};
use crate::{Message, units::Unit};

/// This method.
pub const METHOD: Method = Method {
    name: "conformity-guard-band",
    version: 1,
    source: "JCGM 106:2012, clause 8",
};

/// Where a value must lie. At least one side is there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    lower: Option<f64>,
    upper: Option<f64>,
}

impl Limits {
    /// Limits with the sides given.
    ///
    /// # Errors
    /// No side at all, a side that is not finite, or a lower limit not below the upper.
    pub fn new(lower: Option<f64>, upper: Option<f64>) -> Result<Self, CalcError> {
        for (input, side) in [("L", lower), ("U", upper)] {
            if let Some(value) = side {
                within(input, value, f64::MIN, f64::MAX)?;
            }
        }
        match (lower, upper) {
            (None, None) => Err(CalcError::TooFew {
                input: "L, U",
                have: 0,
                need: 1,
            }),
            (Some(l), Some(u)) if l >= u => Err(CalcError::OutOfRange {
                input: "L",
                value: l,
                min: f64::NEG_INFINITY,
                max: u,
            }),
            _ => Ok(Self { lower, upper }),
        }
    }

    /// The lower limit.
    pub fn lower(&self) -> Option<f64> {
        self.lower
    }

    /// The upper limit.
    pub fn upper(&self) -> Option<f64> {
        self.upper
    }

    /// The zone whose sides lie `by` inside the limits; outside them where `by` is negative.
    pub fn inwards(&self, by: f64) -> Zone {
        Zone {
            lower: self.lower.map(|l| l + by),
            upper: self.upper.map(|u| u - by),
        }
    }
}

/// Where a reading may lie, both ends included. It is empty where the limits lie nearer to each other
/// than two guard bands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Zone {
    /// Lowest reading, where there is a lower limit.
    pub lower: Option<f64>,
    /// Highest reading, where there is an upper limit.
    pub upper: Option<f64>,
}

impl Zone {
    fn holds(self, x: f64) -> bool {
        self.lower.is_none_or(|l| x >= l) && self.upper.is_none_or(|u| x <= u)
    }
}

/// How a reading becomes a verdict.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Rule {
    /// One expanded uncertainty on each side of each limit is undecided ground.
    #[default]
    Guarded,
    /// The value alone decides; the uncertainty is only shown.
    Simple,
}

impl Rule {
    /// The guard band at each limit for an expanded uncertainty.
    pub fn guard(self, expanded: f64) -> f64 {
        match self {
            Self::Guarded => expanded,
            Self::Simple => 0.0,
        }
    }
}

/// What a reading says about its limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Inside, and no part of the uncertainty reaches a limit.
    Accept,
    /// A limit lies inside the uncertainty.
    Undecided,
    /// Outside beyond doubt.
    Reject,
}

/// Which limit a value that is not accepted lies at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// At or below the lower limit.
    Low,
    /// At or above the upper limit.
    High,
}

/// The verdict on `value` with expanded uncertainty `expanded` (k = 2).
///
/// # Errors
/// A value that is not finite, an uncertainty that is negative or not finite.
pub fn judge(value: f64, expanded: f64, limits: Limits, rule: Rule) -> Result<Verdict, CalcError> {
    let value = within("x", value, f64::MIN, f64::MAX)?;
    let expanded = within("w", expanded, 0.0, f64::MAX)?;
    let guard = rule.guard(expanded);
    Ok(if limits.inwards(guard).holds(value) {
        Verdict::Accept
    } else if limits.inwards(-guard).holds(value) {
        Verdict::Undecided
    } else {
        Verdict::Reject
    })
}

/// The limit that `value` lies nearest to, as seen from the middle; the one-sided limit if there
/// is only one.
pub fn side(value: f64, limits: Limits) -> Side {
    match (limits.lower, limits.upper) {
        (Some(l), Some(u)) if value < (l + u) / 2.0 => Side::Low,
        (Some(_), None) => Side::Low,
        _ => Side::High,
    }
}

/// The working of [`judge`]: limits, uncertainty, the zone of acceptance.
pub fn working(
    value: f64,
    expanded: f64,
    limits: Limits,
    rule: Rule,
    unit: Unit,
    decimals: usize,
) -> Working {
    let symbol = unit.symbol();
    // Finer than the reading: a small doubt must not show as none.
    let fine = decimals + 2;
    let mut w = Working::new(METHOD)
        .given("x", Message::new("given-reading"), value, decimals, symbol)
        .given("w", Message::new("given-expanded"), expanded, fine, symbol);
    if let Some(l) = limits.lower {
        w = w.given(
            "L",
            Message::new("given-lower"),
            l,
            places(l, decimals),
            symbol,
        );
    }
    if let Some(u) = limits.upper {
        w = w.given(
            "U",
            Message::new("given-upper"),
            u,
            places(u, decimals),
            symbol,
        );
    }
    match rule {
        Rule::Guarded => {
            let zone = limits.inwards(rule.guard(expanded));
            if let Some(lower) = zone.lower {
                w = w.step("a₁", "L + w", lower, fine, symbol);
            }
            if let Some(upper) = zone.upper {
                w = w.step("a₂", "U − w", upper, fine, symbol);
            }
            w.note(Message::new("rule-guarded"))
        }
        Rule::Simple => w.note(Message::new("rule-simple")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn limits(lower: Option<f64>, upper: Option<f64>) -> Limits {
        Limits::new(lower, upper).expect("good limits")
    }

    #[test]
    fn guarded_release_limit_of_the_dossier_example() {
        // 32 kN tool, limit 95 % = 30.4 kN, U = 0.35 kN: release at 30.75 kN and above.
        // Arithmetic on a worked example; common practice, no source.
        let l = limits(Some(30.4), None);
        let judged = |x| judge(x, 0.35, l, Rule::Guarded).expect("finite");
        assert_eq!(judged(30.76), Verdict::Accept);
        assert_eq!(judged(30.74), Verdict::Undecided);
        assert_eq!(judged(30.04), Verdict::Reject);
        assert_eq!(judge(30.41, 0.35, l, Rule::Simple), Ok(Verdict::Accept));
    }

    #[test]
    fn guarded_acceptance_matches_jcgm_106() {
        // JCGM 106:2012 clause 8.3.2, guard band w = U of the tolerance interval: example values
        // from memory (limits 12.5 to 16.3, U = 3.6): the acceptance zone 16.1 to 12.7 is empty,
        // so nothing is ever accepted.
        let l = limits(Some(12.5), Some(16.3));
        assert_eq!(judge(14.4, 3.6, l, Rule::Guarded), Ok(Verdict::Undecided));
    }

    #[test]
    fn each_end_of_each_zone() {
        // JCGM 106:2012 clause 8 as arithmetic; limits and w are exact in binary.
        let l = limits(Some(9.5), Some(10.5));
        for (x, verdict) in [
            (9.374, Verdict::Reject),
            (9.375, Verdict::Undecided),
            (9.624, Verdict::Undecided),
            (9.625, Verdict::Accept),
            (10.375, Verdict::Accept),
            (10.376, Verdict::Undecided),
            (10.625, Verdict::Undecided),
            (10.626, Verdict::Reject),
        ] {
            assert_eq!(judge(x, 0.125, l, Rule::Guarded), Ok(verdict), "{x}");
        }
        for (x, verdict) in [
            (9.499, Verdict::Reject),
            (9.5, Verdict::Accept),
            (10.5, Verdict::Accept),
            (10.501, Verdict::Reject),
        ] {
            assert_eq!(judge(x, 0.125, l, Rule::Simple), Ok(verdict), "{x}");
        }
    }

    #[test]
    fn refusals() {
        assert!(Limits::new(None, None).is_err());
        assert!(Limits::new(Some(2.0), Some(1.0)).is_err());
        assert!(Limits::new(Some(f64::NAN), None).is_err());
        let l = limits(Some(0.0), Some(1.0));
        for (x, w) in [
            (f64::NAN, 0.1),
            (f64::INFINITY, 0.1),
            (0.5, -0.1),
            (0.5, f64::NAN),
        ] {
            assert!(judge(x, w, l, Rule::Guarded).is_err());
        }
    }

    proptest! {
        #[test]
        fn verdict_is_monotone_away_from_the_middle(
            a in 0.0..10.0f64, b in 0.0..10.0f64, w in 0.0..3.0f64, half in 0.1..5.0f64,
        ) {
            let l = limits(Some(-half), Some(half));
            let (near, far) = if a < b { (a, b) } else { (b, a) };
            for sign in [1.0, -1.0] {
                let n = judge(sign * near, w, l, Rule::Guarded).expect("finite");
                let f = judge(sign * far, w, l, Rule::Guarded).expect("finite");
                prop_assert!(n <= f);
            }
        }

        #[test]
        fn more_doubt_never_decides(x in -10.0..10.0f64, w in 0.0..3.0f64, more in 0.0..3.0f64) {
            let l = limits(Some(-4.0), Some(4.0));
            let sure = judge(x, w, l, Rule::Guarded).expect("finite");
            let doubtful = judge(x, w + more, l, Rule::Guarded).expect("finite");
            prop_assert!(doubtful == sure || doubtful == Verdict::Undecided);
        }
    }
}
