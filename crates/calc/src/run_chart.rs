//! A run chart of single values with limits and signals: has the process moved?
//!
//! # Formula
//! Centre x̄ of the first m values; σ = mean moving range / 1.128; limits x̄ ± 3 · σ; limit of the moving ranges 3.267 · mean
//! moving range. Signals, each at the value that completes it: 1 beyond a limit; 9 in a row on one side; 6 in a row rising or
//! falling; 14 in a row up and down by turns; 2 of 3 beyond 2 σ on one side; 4 of 5 beyond 1 σ on one side; 15 in a row within
//! 1 σ; 8 in a row outside 1 σ on either side.
//!
//! # Validity
//! Values in the order of time, independent, nearly normal. The more signals are looked for, the more false alarms: of a
//! hundred values of a steady process with known limits 2.3 complete one of the eight, 1.1 the first three or 2 of 3 (two
//! million values simulated with numpy 2.4.6).
//!
//! # Source
//! ISO 7870-2:2023, control chart for individuals; the eight tests as in ISO 8258:1991 and Nelson, Journal of Quality
//! Technology 16(4), 1984 (all from memory).

use crate::Message;
use crate::error::{CalcError, within};
use crate::moments::moments;
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "individuals-chart",
    version: 1,
    source: "ISO 7870-2:2023, individuals; tests as in ISO 8258:1991 and Nelson (1984), all from memory",
};

/// Mean range of two normal values over their standard deviation, d₂.
const OF_TWO: f64 = 1.128;
/// Limit of a moving range over the mean moving range, D₄ for two.
const RANGE_LIMIT: f64 = 3.267;
/// Most values of a chart.
pub const MOST: usize = 100_000;

/// What is looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Signal {
    /// One value beyond a limit.
    BeyondLimit,
    /// Nine in a row on one side of the centre.
    NineOneSide,
    /// Six in a row rising or falling.
    SixTrend,
    /// Fourteen in a row up and down by turns.
    FourteenAlternating,
    /// Two of three beyond 2 σ on one side.
    TwoOfThree,
    /// Four of five beyond 1 σ on one side.
    FourOfFive,
    /// Fifteen in a row within 1 σ.
    FifteenWithin,
    /// Eight in a row outside 1 σ.
    EightOutside,
}

impl Signal {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::BeyondLimit,
        Self::NineOneSide,
        Self::SixTrend,
        Self::FourteenAlternating,
        Self::TwoOfThree,
        Self::FourOfFive,
        Self::FifteenWithin,
        Self::EightOutside,
    ];

    /// How many values it looks at.
    fn window(self) -> usize {
        match self {
            Self::BeyondLimit => 1,
            Self::NineOneSide => 9,
            Self::SixTrend => 6,
            Self::FourteenAlternating => 14,
            Self::TwoOfThree => 3,
            Self::FourOfFive => 5,
            Self::FifteenWithin => 15,
            Self::EightOutside => 8,
        }
    }

    /// Whether `z`, values less the centre in σ, completes it with its last value.
    fn is_in(self, z: &[f64]) -> bool {
        let last = z[z.len() - 1];
        // So many on the side of the last one, the last one being among them.
        let beyond = |by: f64, need: usize| {
            let same = |x: &&f64| x.abs() > by && x.signum() == last.signum();
            last.abs() > by && z.iter().filter(same).count() >= need
        };
        let steps = || z.windows(2).map(|w| w[1] - w[0]);
        match self {
            Self::BeyondLimit => last.abs() > 3.0,
            Self::NineOneSide => z.iter().all(|x| *x > 0.0) || z.iter().all(|x| *x < 0.0),
            Self::SixTrend => steps().all(|s| s > 0.0) || steps().all(|s| s < 0.0),
            Self::FourteenAlternating => {
                let steps: Vec<f64> = steps().collect();
                steps.windows(2).all(|s| s[0] * s[1] < 0.0)
            }
            Self::TwoOfThree => beyond(2.0, 2),
            Self::FourOfFive => beyond(1.0, 4),
            Self::FifteenWithin => z.iter().all(|x| x.abs() < 1.0),
            Self::EightOutside => z.iter().all(|x| x.abs() > 1.0),
        }
    }
}

/// Centre and spread that are known from before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Known {
    /// Centre.
    pub center: f64,
    /// Standard deviation.
    pub deviation: f64,
}

/// A chart.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// Centre.
    pub center: f64,
    /// σ.
    pub deviation: f64,
    /// Mean moving range of the values that the limits rest on; `None` if they were known.
    pub mean_range: Option<f64>,
    /// Signals with the value, from 0, that completes each, in the order of the values.
    pub signals: Vec<(Signal, usize)>,
    /// Values, from 0, that lie further from the one before than the ranges' limit.
    pub jumps: Vec<usize>,
}

impl Chart {
    /// Lower limit.
    pub fn lower(&self) -> f64 {
        self.center - 3.0 * self.deviation
    }

    /// Upper limit.
    pub fn upper(&self) -> f64 {
        self.center + 3.0 * self.deviation
    }

    /// Whether there is neither a signal nor a jump.
    pub fn is_steady(&self) -> bool {
        self.signals.is_empty() && self.jumps.is_empty()
    }

    /// Limit of the moving ranges.
    pub fn range_limit(&self) -> f64 {
        RANGE_LIMIT * self.deviation * OF_TWO
    }
}

/// What the limits rest on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Basis {
    /// The first so many values of the chart itself.
    First(usize),
    /// Known from before.
    Known(Known),
}

/// The chart of `values` in the order of time.
///
/// # Errors
/// Fewer than two values or more than [`MOST`], one that is not within ±10¹⁵; a basis of fewer than two or more values than
/// there are; values of the basis that are all the same; a known standard deviation that is not above 0.
pub fn chart(values: &[f64], basis: Basis, wanted: &[Signal]) -> Result<Chart, CalcError> {
    if values.len() < 2 {
        return Err(CalcError::TooFew {
            input: "x",
            have: values.len(),
            need: 2,
        });
    }
    within("n", values.len() as f64, 2.0, MOST as f64)?;
    moments("x", values)?;
    let (center, deviation, mean_range) = match basis {
        Basis::Known(known) => (
            within("c", known.center, -1e15, 1e15)?,
            within("s", known.deviation, 1e-100, 1e15)?,
            None,
        ),
        Basis::First(m) => {
            within("m", m as f64, 2.0, values.len() as f64)?;
            let base = &values[..m];
            let ranges = base.windows(2).map(|w| (w[1] - w[0]).abs()).sum::<f64>();
            let mean_range = ranges / (m - 1) as f64;
            if mean_range <= 0.0 {
                return Err(CalcError::Alike { input: "x" });
            }
            (
                moments("x", base)?.mean,
                mean_range / OF_TWO,
                Some(mean_range),
            )
        }
    };
    let z: Vec<f64> = values.iter().map(|x| (x - center) / deviation).collect();
    let mut signals = Vec::new();
    for last in 0..z.len() {
        for signal in Signal::ALL.iter().filter(|s| wanted.contains(s)) {
            let window = signal.window();
            if last + 1 >= window && signal.is_in(&z[last + 1 - window..=last]) {
                signals.push((*signal, last));
            }
        }
    }
    let mut found = Chart {
        center,
        deviation,
        mean_range,
        signals,
        jumps: Vec::new(),
    };
    let limit = found.range_limit();
    let jump = |i: &usize| (values[*i] - values[*i - 1]).abs() > limit;
    found.jumps = (1..values.len()).filter(jump).collect();
    Ok(found)
}

/// From the ranges to the limits.
pub fn working(found: &Chart) -> Working {
    let few = |x: f64| figures(x, 6);
    let decimals = few(found.center).max(few(found.deviation).min(6));
    let mut w = Working::new(METHOD).given(
        "x̄",
        Message::new("given-centre"),
        found.center,
        decimals,
        "",
    );
    w = match found.mean_range {
        Some(range) => w
            .given(
                "R",
                Message::new("given-mean-moving-range"),
                range,
                few(range),
                "",
            )
            .step("s", "R / 1.128", found.deviation, few(found.deviation), ""),
        None => w.given(
            "s",
            Message::new("given-known-spread"),
            found.deviation,
            few(found.deviation),
            "",
        ),
    };
    w = w
        .step("L", "x̄ − 3 · s", found.lower(), decimals, "")
        .step("U", "x̄ + 3 · s", found.upper(), decimals, "")
        .step(
            "R_U",
            "3.267 · 1.128 · s",
            found.range_limit(),
            few(found.range_limit()),
            "",
        );
    w.note(Message::new(if found.is_steady() {
        "note-no-signal"
    } else {
        "note-signal"
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const UNIT: Basis = Basis::Known(Known {
        center: 0.0,
        deviation: 1.0,
    });

    /// Where `signal` shows in values given in σ, from 0.
    fn places(values: &[f64], signal: Signal) -> Vec<usize> {
        let found = chart(values, UNIT, &[signal]).expect("good");
        found.signals.iter().map(|s| s.1).collect()
    }

    #[test]
    fn flow_rates_of_nist() {
        // NIST/SEMATECH e-Handbook 6.3.2.2 (from memory): mean 50.81, mean moving range 1.8778, limits 45.8159 and
        // 55.8041, no value beyond them.
        let flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
        let found = chart(&flow, Basis::First(10), &Signal::ALL).expect("good");
        assert!((found.center - 50.81).abs() < 1e-9);
        assert!((found.mean_range.expect("own") - 1.8778).abs() <= 5e-5);
        assert!((found.lower() - 45.8159).abs() <= 1e-4, "{found:?}");
        assert!((found.upper() - 55.8041).abs() <= 1e-4, "{found:?}");
        assert!(
            found.signals.is_empty() && found.jumps.is_empty(),
            "{found:?}"
        );
    }

    #[test]
    fn each_signal_at_the_value_that_completes_it() {
        // By hand from the definitions; one value short of each pattern gives nothing.
        assert_eq!(places(&[0.0, 3.1, -3.1, 3.0], Signal::BeyondLimit), [1, 2]);
        assert_eq!(places(&[0.5; 10], Signal::NineOneSide), [8, 9]);
        assert_eq!(
            places(&[0.1, 0.2, 0.3, 0.4, 0.5, 0.6], Signal::SixTrend),
            [5]
        );
        assert_eq!(
            places(&[0.1, 0.2, 0.3, 0.3, 0.5, 0.6], Signal::SixTrend),
            [0; 0]
        );
        let turns: Vec<f64> = (0..15)
            .map(|i| if i % 2 == 0 { 0.5 } else { -0.5 })
            .collect();
        assert_eq!(places(&turns, Signal::FourteenAlternating), [13, 14]);
        assert_eq!(places(&[2.1, 0.0, 2.2, 0.0], Signal::TwoOfThree), [2]);
        assert_eq!(places(&[2.1, 0.0, -2.2], Signal::TwoOfThree), [0; 0]);
        assert_eq!(
            places(&[1.1, 1.2, 0.0, 1.3, 1.4, 0.0], Signal::FourOfFive),
            [4]
        );
        assert_eq!(places(&[0.5; 16], Signal::FifteenWithin), [14, 15]);
        let outside = [1.5, -1.5, 1.5, -1.5, 1.5, -1.5, 1.5, -1.5];
        assert_eq!(places(&outside, Signal::EightOutside), [7]);
        assert_eq!(places(&outside[1..], Signal::EightOutside), [0; 0]);
    }

    #[test]
    fn a_jump_is_found_by_its_range() {
        // Limit 3.267 · 1.128 = 3.685: from −1.9 to 1.9 is one, though both lie inside.
        let found = chart(&[-1.9, 1.9, 0.0], UNIT, &Signal::ALL).expect("good");
        assert_eq!((found.jumps.as_slice(), found.signals.len()), (&[1][..], 0));
    }

    #[test]
    fn refusals() {
        let good = [1.0, 2.0, 1.5];
        assert!(chart(&good[..1], UNIT, &[]).is_err());
        assert!(chart(&[1.0, f64::NAN], UNIT, &[]).is_err());
        for m in [0, 1, 4] {
            assert!(chart(&good, Basis::First(m), &[]).is_err(), "{m}");
        }
        assert_eq!(
            chart(&[2.0; 5], Basis::First(5), &[]),
            Err(CalcError::Alike { input: "x" })
        );
        for deviation in [0.0, -1.0, f64::NAN] {
            let basis = Basis::Known(Known {
                center: 0.0,
                deviation,
            });
            assert!(chart(&good, basis, &[]).is_err());
        }
    }

    proptest! {
        #[test]
        fn a_mirrored_chart_has_the_same_signals(xs in prop::collection::vec(-4.0..4.0f64, 2..40)) {
            let mirrored: Vec<f64> = xs.iter().map(|x| -x).collect();
            let a = chart(&xs, UNIT, &Signal::ALL).expect("good");
            let b = chart(&mirrored, UNIT, &Signal::ALL).expect("good");
            prop_assert_eq!((a.signals, a.jumps), (b.signals, b.jumps));
        }
    }
}
