//! The share of parts that survive, read off the failures alone: no distribution is assumed.
//!
//! # Formula
//! At each time of failure S = Π (1 − d_i / n_i), d failed of n at risk. Greenwood: u² = S² · Σ d_i / (n_i · (n_i − d_i)). Interval
//! plain S ∓ z · u; log S · exp(∓ z · u / S); log-log S^exp(∓ z · u / (S · ln S)). Cut at 0 and 1. Where none is left at risk S
//! and u are 0, and the upper end stays that of the time before.
//!
//! # Validity
//! Parts independent and of one kind; looking ends for a reason that has nothing to do with the part. A part that had not failed
//! at a time of failure still was at risk then.
//!
//! # Source
//! Kaplan and Meier, JASA 53, 1958; Klein and Moeschberger, Survival Analysis, chapter 4 (from memory). What is given where
//! none is left is common practice, no source. Check values: lifelines 0.30.3.

use crate::Message;
use crate::error::{CalcError, within};
use crate::normal;
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "kaplan-meier",
    version: 1,
    source: "Kaplan and Meier, JASA 53, 1958; Greenwood's variance (from memory)",
};

/// How the interval is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Interval {
    /// On S itself.
    Plain,
    /// On ln S.
    Log,
    /// On ln(−ln S), which keeps inside 0 and 1.
    LogLog,
}

/// One step of the curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// Time of failure.
    pub time: f64,
    /// Parts at risk just before.
    pub at_risk: u64,
    /// Parts that failed.
    pub failed: u64,
    /// Share that survives it.
    pub survival: f64,
    /// Standard uncertainty of that.
    pub standard: f64,
    /// Interval.
    pub interval: (f64, f64),
}

fn ends(s: f64, u: f64, z: f64, interval: Interval) -> (f64, f64) {
    let half = z * u;
    let (low, high) = match interval {
        Interval::Plain => (s - half, s + half),
        Interval::Log => (s * (-half / s).exp(), s * (half / s).exp()),
        Interval::LogLog => {
            let by = half / (s * s.ln());
            // ln S is below 0, so the larger power is the lower end.
            (s.powf((-by).exp()), s.powf(by.exp()))
        }
    };
    (low.max(0.0), high.min(1.0))
}

/// The curve of `seen`: time, and whether the part failed then or had not failed yet.
///
/// # Errors
/// No failure, a time below 0 or not finite, a level outside 0 to 1.
pub fn curve(seen: &[(f64, bool)], level: f64, interval: Interval) -> Result<Vec<Step>, CalcError> {
    for (time, _) in seen {
        within("t", *time, 0.0, 1e300)?;
    }
    if !seen.iter().any(|s| s.1) {
        return Err(CalcError::TooFew {
            input: "failed",
            have: 0,
            need: 1,
        });
    }
    let level = within("C", level, 1e-9, 1.0 - 1e-9)?;
    let z = normal::quantile(f64::midpoint(1.0, level))?;
    let mut sorted = seen.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut survival, mut greenwood) = (1.0, 0.0);
    let mut steps: Vec<Step> = Vec::new();
    let mut i = 0;
    while i < sorted.len() {
        let time = sorted[i].0;
        let here = sorted[i..].iter().take_while(|s| s.0 == time);
        let (together, failed) = here.fold((0, 0), |(n, d), s| (n + 1, d + u64::from(s.1)));
        let at_risk = (sorted.len() - i) as u64;
        i += together;
        if failed == 0 {
            continue;
        }
        let (n, d) = (at_risk as f64, failed as f64);
        survival *= (n - d) / n;
        let before = steps.last().map_or(1.0, |s| s.interval.1);
        let (standard, interval) = if at_risk == failed {
            (0.0, (0.0, before))
        } else {
            greenwood += d / (n * (n - d));
            let u = survival * f64::sqrt(greenwood);
            (u, ends(survival, u, z, interval))
        };
        steps.push(Step {
            time,
            at_risk,
            failed,
            survival,
            standard,
            interval,
        });
    }
    Ok(steps)
}

/// The first time at which no more than half survive; `None` if more do to the end.
pub fn median(steps: &[Step]) -> Option<f64> {
    steps.iter().find(|s| s.survival <= 0.5).map(|s| s.time)
}

/// The working of the last step.
pub fn working(steps: &[Step]) -> Option<Working> {
    let (last, earlier) = steps.split_last()?;
    let before = earlier.last().map_or(1.0, |s| s.survival);
    let few = figures(last.time, 6);
    Some(
        Working::new(METHOD)
            .given("t", Message::new("given-failure-time"), last.time, few, "")
            .given(
                "S_before",
                Message::new("given-survival-before"),
                before,
                4,
                "",
            )
            .given(
                "n",
                Message::new("given-at-risk"),
                last.at_risk as f64,
                0,
                "",
            )
            .given(
                "d",
                Message::new("given-failed-then"),
                last.failed as f64,
                0,
                "",
            )
            .step("S", "S_before · (1 − d / n)", last.survival, 4, "")
            .step(
                "u",
                "S · √(Σ d_i / (n_i · (n_i − d_i)))",
                last.standard,
                4,
                "",
            )
            .note(Message::new("note-life-independent")),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn by_hand() {
        // Five parts: failed at 2, still at 3, failed twice at 5, still at 9. S = 4/5, then 4/5 · (1 − 2/3) = 4/15.
        let seen = [
            (5.0, true),
            (2.0, true),
            (9.0, false),
            (3.0, false),
            (5.0, true),
        ];
        let steps = curve(&seen, 0.95, Interval::Plain).expect("good");
        assert_eq!(steps.len(), 2);
        assert!((steps[0].survival - 0.8).abs() < 1e-15);
        assert!((steps[1].survival - 4.0 / 15.0).abs() < 1e-15);
        assert_eq!((steps[1].at_risk, steps[1].failed), (3, 2));
        // Greenwood: 1 / (5 · 4) + 2 / (3 · 1).
        let u = 4.0 / 15.0 * (0.05_f64 + 2.0 / 3.0).sqrt();
        assert!((steps[1].standard - u).abs() < 1e-15);
        assert_eq!(median(&steps), Some(5.0));
        assert_eq!(median(&steps[..1]), None);
    }

    #[test]
    fn the_last_failure_leaves_nothing() {
        for interval in [Interval::Plain, Interval::Log, Interval::LogLog] {
            let steps = curve(&[(1.0, true), (2.0, true)], 0.95, interval).expect("good");
            assert_eq!((steps[1].survival, steps[1].standard), (0.0, 0.0));
            assert_eq!(steps[1].interval, (0.0, steps[0].interval.1));
        }
    }

    #[test]
    fn refusals() {
        let plain = |seen: &[(f64, bool)]| curve(seen, 0.95, Interval::Plain);
        assert!(plain(&[]).is_err());
        assert!(plain(&[(1.0, false)]).is_err());
        assert!(plain(&[(-1.0, true)]).is_err());
        assert!(plain(&[(f64::NAN, true)]).is_err());
        assert!(curve(&[(1.0, true)], 1.0, Interval::Plain).is_err());
    }

    proptest! {
        #[test]
        fn it_falls_and_lies_inside_its_interval(seen in prop::collection::vec((0.0..9.0f64, any::<bool>()), 1..30)) {
            for interval in [Interval::Plain, Interval::Log, Interval::LogLog] {
                let Ok(steps) = curve(&seen, 0.9, interval) else { continue };
                let mut last = 1.0;
                for step in steps {
                    prop_assert!(step.survival < last);
                    let (low, high) = step.interval;
                    prop_assert!(0.0 <= low && low <= step.survival && step.survival <= high && high <= 1.0);
                    last = step.survival;
                }
            }
        }
    }
}
