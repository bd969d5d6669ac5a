//! A force gauge held against a reference at several forces.
//!
//! # Formula
//! At each force: deviation q = (x̄ − F) / F · 100; repeatability b = (x_max − x_min) / F · 100; resolution a = r / F · 100.
//! u² = s²/n + (U_F / 2)² + r² / 12 of the mean against F. Verdict on q with its expanded uncertainty against ±limit. Class
//! c: |q| ≤ c and b ≤ c and a ≤ c / 2, c = 0.5, 1, 2, 3.
//!
//! # Validity
//! Forces rising from nearly 0, the reference traceable and within its interval; the gauge loaded as it is in use.
//!
//! # Source
//! Terms and classes of ISO 7500-1:2018, table 2 (from memory, not confirmed); uncertainty by JCGM 100:2008; verdict by
//! JCGM 106:2012, clause 8.

use crate::Message;
use crate::decision::{Limits, Rule, Verdict, judge};
use crate::error::{CalcError, within};
use crate::repeated::{GaugeDoubt, mean};
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "force-gauge-check",
    version: 1,
    source: "terms of ISO 7500-1:2018 (from memory, not confirmed); JCGM 100:2008; JCGM 106:2012, clause 8",
};

/// Classes, percent.
pub const CLASSES: [f64; 4] = [0.5, 1.0, 2.0, 3.0];

/// The gauge and what it is held against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Set {
    /// Expanded uncertainty of the reference, k = 2, percent of the force.
    pub reference_expanded_pct: f64,
    /// Smallest step that the gauge shows, in the unit of the forces.
    pub resolution: f64,
    /// Largest deviation allowed, percent.
    pub limit_pct: f64,
    /// Decision rule.
    pub rule: Rule,
}

/// One force and what the gauge read at it.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Force by the reference.
    pub reference: f64,
    /// Readings of the gauge.
    pub readings: Vec<f64>,
}

/// What one force shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Checked {
    /// q, percent.
    pub deviation_pct: f64,
    /// Expanded uncertainty of that, percent.
    pub expanded_pct: f64,
    /// b, percent.
    pub repeatability_pct: f64,
    /// a, percent.
    pub resolution_pct: f64,
    /// Verdict on q.
    pub verdict: Verdict,
}

/// The check at one force.
///
/// # Errors
/// A force that is not above 0, no reading, a reading that is not finite, an uncertainty or resolution below 0, a limit that is
/// not above 0.
pub fn check(point: &Point, set: &Set) -> Result<Checked, CalcError> {
    let force = within("F", point.reference, 1e-12, 1e12)?;
    for reading in &point.readings {
        within("x", *reading, -1e13, 1e13)?;
    }
    let expanded = within("U_F", set.reference_expanded_pct, 0.0, 100.0)?;
    let resolution = within("r", set.resolution, 0.0, 1e12)?;
    let limit = within("limit", set.limit_pct, 1e-9, 100.0)?;
    let doubt = GaugeDoubt {
        expanded: expanded / 100.0 * force,
        resolution,
    };
    let found = mean(&point.readings, doubt)?;
    let high = point
        .readings
        .iter()
        .copied()
        .fold(f64::NEG_INFINITY, f64::max);
    let low = point.readings.iter().copied().fold(f64::INFINITY, f64::min);
    let pct = |x: f64| x / force * 100.0;
    let (deviation_pct, expanded_pct) = (pct(found.value - force), pct(found.expanded));
    let limits = Limits::new(Some(-limit), Some(limit))?;
    Ok(Checked {
        deviation_pct,
        expanded_pct,
        repeatability_pct: pct(high - low),
        resolution_pct: pct(resolution),
        verdict: judge(deviation_pct, expanded_pct, limits, set.rule)?,
    })
}

/// The best class that all of `checked` keep; `None` if none does, or if nothing was checked.
pub fn class(checked: &[Checked]) -> Option<f64> {
    let keeps = |c: &Checked, class: f64| {
        c.deviation_pct.abs() <= class
            && c.repeatability_pct <= class
            && c.resolution_pct <= class / 2.0
    };
    let all = |class: &f64| checked.iter().all(|c| keeps(c, *class));
    CLASSES
        .into_iter()
        .find(|class| !checked.is_empty() && all(class))
}

/// The verdict on the gauge: as its worst force. `None` if nothing was checked.
pub fn verdict(checked: &[Checked]) -> Option<Verdict> {
    checked.iter().map(|c| c.verdict).max()
}

/// The working of the worst force.
pub fn working(points: &[Point], checked: &[Checked], set: &Set) -> Option<Working> {
    // The one nearest to its limit or furthest beyond it, with the doubt counted in.
    let strain = |c: &Checked| c.deviation_pct.abs() + c.expanded_pct;
    let pairs = points.iter().zip(checked);
    let (point, worst) = pairs.max_by(|a, b| strain(a.1).total_cmp(&strain(b.1)))?;
    let n = point.readings.len() as f64;
    let mean = point.reference * (1.0 + worst.deviation_pct / 100.0);
    let few = |x: f64| figures(x, 6);
    Some(
        Working::new(METHOD)
            .given(
                "F",
                Message::new("given-reference-force"),
                point.reference,
                few(mean),
                "",
            )
            .given("n", Message::new("given-count"), n, 0, "")
            .given("x̄", Message::new("given-mean"), mean, few(mean), "")
            .given(
                "e",
                Message::new("given-deviation-allowed"),
                set.limit_pct,
                2,
                "%",
            )
            .step("q", "(x̄ − F) / F · 100", worst.deviation_pct, 3, "%")
            .step(
                "U",
                "t(95.45 %, ν) · u / F · 100",
                worst.expanded_pct,
                3,
                "%",
            )
            .step(
                "b",
                "(x_max − x_min) / F · 100",
                worst.repeatability_pct,
                3,
                "%",
            )
            .note(Message::new("note-worst-force")),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const SET: Set = Set {
        reference_expanded_pct: 0.2,
        resolution: 0.0,
        limit_pct: 1.0,
        rule: Rule::Guarded,
    };

    fn point(reference: f64, readings: &[f64]) -> Point {
        Point {
            reference,
            readings: readings.to_vec(),
        }
    }

    #[test]
    fn by_hand() {
        // 10.05, 10.05 at 10: 0.5 % off, no spread, U = 0.2 %: inside 0.8.
        let good = check(&point(10.0, &[10.05, 10.05]), &SET).expect("good");
        assert!((good.deviation_pct - 0.5).abs() < 1e-9);
        assert!((good.expanded_pct - 0.2).abs() < 1e-5, "{good:?}");
        assert_eq!(good.verdict, Verdict::Accept);
        // 0.9 % lies in the guard band, 1.3 % beyond it.
        let near = check(&point(10.0, &[10.09]), &SET).expect("good");
        let far = check(&point(10.0, &[10.13]), &SET).expect("good");
        assert_eq!(
            (near.verdict, far.verdict),
            (Verdict::Undecided, Verdict::Reject)
        );
        assert_eq!(verdict(&[good, near]), Some(Verdict::Undecided));
        assert_eq!(verdict(&[near, far, good]), Some(Verdict::Reject));
        assert_eq!((verdict(&[]), class(&[])), (None, None));
        // Class 1 by 0.9 %; 2 by the steps of the gauge, 0.06 in 10; none beyond 3 %.
        assert_eq!(class(&[good, near]), Some(1.0));
        let coarse = Set {
            resolution: 0.06,
            ..SET
        };
        let stepped = check(&point(10.0, &[10.05]), &coarse).expect("good");
        assert_eq!(class(&[stepped]), Some(2.0));
        let off = check(&point(10.0, &[10.4]), &SET).expect("good");
        assert_eq!(class(&[good, off]), None);
    }

    #[test]
    fn refusals() {
        for (force, readings) in [
            (0.0, &[1.0][..]),
            (-1.0, &[1.0]),
            (f64::NAN, &[1.0]),
            (1.0, &[]),
            (1.0, &[f64::INFINITY]),
        ] {
            assert!(check(&point(force, readings), &SET).is_err(), "{force}");
        }
        let good = point(10.0, &[10.0]);
        for wrong in [
            Set {
                reference_expanded_pct: -1.0,
                ..SET
            },
            Set {
                resolution: f64::NAN,
                ..SET
            },
            Set {
                limit_pct: 0.0,
                ..SET
            },
        ] {
            assert!(check(&good, &wrong).is_err());
        }
    }

    proptest! {
        #[test]
        fn the_unit_does_not_matter(force in 1.0..100.0f64, off in -0.03..0.03f64, by in 0.1..5000.0f64) {
            let readings = [force * (1.0 + off), force * (1.0 + off) + 0.01];
            let a = check(&point(force, &readings), &SET).expect("good");
            let b = check(&point(force * by, &readings.map(|r| r * by)), &SET).expect("good");
            prop_assert!((a.deviation_pct - b.deviation_pct).abs() < 1e-7);
            prop_assert!((a.expanded_pct - b.expanded_pct).abs() < 1e-6);
        }
    }
}
