//! How well a process fits its limits: capability with confidence intervals.
//!
//! # Formula
//! C_p = (U − L) / (6 · s); C_pu = (U − x̄) / (3 · s); C_pl = (x̄ − L) / (3 · s); C_pk the smaller. Interval of C_p:
//! C_p · √(χ²_{(1∓C)/2, ν} / ν), ν = n − 1. Interval of C_pk: C_pk ∓ z · √(1 / (9 · n) + C_pk² / (2 · ν)).
//! Share outside: Φ((L − x̄) / s) + Φ((x̄ − U) / s).
//!
//! # Validity
//! Readings normal and independent, from a process that keeps its place. The interval of C_pk is an approximation for
//! 25 readings and more; the share outside rests on the tails of the normal distribution.
//!
//! # Source
//! NIST/SEMATECH e-Handbook 6.1.6 (from memory); the interval of C_pk is Bissell's, Applied Statistics 39(3), 1990
//! (from memory).

use crate::Message;
use crate::chi_square;
use crate::decision::Limits;
use crate::error::{CalcError, within};
use crate::moments;
use crate::normal;
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "process-capability",
    version: 1,
    source: "NIST/SEMATECH e-Handbook 6.1.6; Bissell, Applied Statistics 39(3), 1990 (from memory)",
};

/// Fewer readings than this leave the interval wide and rough.
const FEW: u64 = 25;

/// A sample by its count, mean and standard deviation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// How many.
    pub count: u64,
    /// Mean.
    pub mean: f64,
    /// Standard deviation.
    pub deviation: f64,
}

/// A value with its interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Index {
    /// Value.
    pub value: f64,
    /// Interval.
    pub interval: (f64, f64),
}

/// How well it fits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Capability {
    /// C_p, where there are two limits.
    pub cp: Option<Index>,
    /// C_pu, where there is an upper limit.
    pub cpu: Option<f64>,
    /// C_pl, where there is a lower limit.
    pub cpl: Option<f64>,
    /// C_pk.
    pub cpk: Index,
    /// Share outside the limits.
    pub outside: f64,
}

/// The capability of `sample` against `limits`, intervals with confidence `level`.
///
/// # Errors
/// Fewer than two readings or more than 10⁸, a standard deviation that is not above 0, a mean that is not within
/// ±10¹⁵, no limit, a confidence outside 0 to 1.
pub fn capability(sample: &Sample, limits: Limits, level: f64) -> Result<Capability, CalcError> {
    let n = within("n", sample.count as f64, 2.0, chi_square::MANY_DOF)?;
    let mean = within("x̄", sample.mean, -1e15, 1e15)?;
    let s = within("s", sample.deviation, 1e-100, 1e15)?;
    let level = within("C", level, 1e-9, 1.0 - 1e-9)?;
    let dof = n - 1.0;
    let index = |room: f64| within("C_pk", room / s / 3.0, -1e100, 1e100);
    let cpl = limits.lower().map(|l| index(mean - l)).transpose()?;
    let cpu = limits.upper().map(|u| index(u - mean)).transpose()?;
    let worst = [cpl, cpu]
        .into_iter()
        .flatten()
        .fold(f64::INFINITY, f64::min);
    let worst = within("C_pk", worst, -1e100, 1e100)?;
    let z = normal::quantile(f64::midpoint(1.0, level))?;
    let half = z * (1.0 / (9.0 * n) + worst * worst / (2.0 * dof)).sqrt();
    let cp = match (limits.lower(), limits.upper()) {
        (Some(low), Some(high)) => {
            let value = within("C_p", (high - low) / s / 6.0, 0.0, 1e100)?;
            let end = |p: f64| chi_square::quantile(p, dof).map(|x| value * (x / dof).sqrt());
            let tail = f64::midpoint(1.0, -level);
            Some(Index {
                value,
                interval: (end(tail)?, end(1.0 - tail)?),
            })
        }
        _ => None,
    };
    let beyond = |index: Option<f64>| index.map_or(0.0, |c| normal::below(-3.0 * c));
    Ok(Capability {
        cp,
        cpu,
        cpl,
        cpk: Index {
            value: worst,
            interval: (worst - half, worst + half),
        },
        outside: (beyond(cpl) + beyond(cpu)).min(1.0),
    })
}

/// From the sample to the index.
pub fn working(sample: &Sample, limits: Limits, level: f64, found: &Capability) -> Working {
    let few = |x: f64| figures(x, 6);
    let Sample {
        mean, deviation, ..
    } = *sample;
    let z = normal::quantile(f64::midpoint(1.0, level)).unwrap_or(f64::INFINITY);
    let n = sample.count as f64;
    let half = found.cpk.interval.1 - found.cpk.value;
    let mut w = moments::given(
        Working::new(METHOD).given("n", Message::new("given-count"), n, 0, ""),
        mean,
        deviation,
    )
    .given("z", Message::new("given-normal-quantile"), z, 4, "");
    if let (Some(low), Some(c)) = (limits.lower(), found.cpl) {
        w = w
            .given("L", Message::new("given-lower"), low, few(low), "")
            .step("C_pl", "(x̄ − L) / (3 · s)", c, 4, "");
    }
    if let (Some(high), Some(c)) = (limits.upper(), found.cpu) {
        w = w
            .given("U", Message::new("given-upper"), high, few(high), "")
            .step("C_pu", "(U − x̄) / (3 · s)", c, 4, "");
    }
    if let Some(cp) = found.cp {
        w = w.step("C_p", "(U − L) / (6 · s)", cp.value, 4, "");
    }
    let worst = match (found.cpl, found.cpu) {
        (Some(_), Some(_)) => "min(C_pl, C_pu)",
        (Some(_), None) => "C_pl",
        _ => "C_pu",
    };
    w = w
        .step("C_pk", worst, found.cpk.value, 4, "")
        .step(
            "h",
            "z · √(1 / (9 · n) + C_pk² / (2 · (n − 1)))",
            half,
            4,
            "",
        )
        .note(Message::new("note-capability-normal"));
    if sample.count < FEW {
        w = w.note(Message::new("note-capability-few").with("count", FEW));
    }
    w
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn both(low: f64, high: f64) -> Limits {
        Limits::new(Some(low), Some(high)).expect("in order")
    }

    #[test]
    fn the_handbook_s_example() {
        // NIST/SEMATECH e-Handbook 6.1.6 (from memory): U 20, L 8, mean 16, s 2: C_p 1.0, C_pu 0.6667, C_pl 1.3333.
        let sample = Sample {
            count: 50,
            mean: 16.0,
            deviation: 2.0,
        };
        let found = capability(&sample, both(8.0, 20.0), 0.95).expect("good");
        assert_eq!(found.cp.map(|c| c.value), Some(1.0));
        assert!((found.cpk.value - 0.6667).abs() < 5e-5);
        assert!((found.cpl.expect("two") - 1.3333).abs() < 5e-5);
    }

    #[test]
    fn refusals() {
        let good = Sample {
            count: 5,
            mean: 1.0,
            deviation: 0.1,
        };
        let limits = both(0.0, 2.0);
        assert!(capability(&good, limits, 0.95).is_ok());
        for wrong in [
            Sample { count: 1, ..good },
            Sample {
                deviation: 0.0,
                ..good
            },
            Sample {
                mean: f64::NAN,
                ..good
            },
        ] {
            assert!(capability(&wrong, limits, 0.95).is_err());
        }
        assert!(capability(&good, limits, 1.0).is_err());
    }

    proptest! {
        #[test]
        fn the_interval_holds_the_index_and_narrows(n in 3u64..500, mean in -1.0..1.0f64, s in 0.05..2.0f64) {
            let sample = Sample { count: n, mean, deviation: s };
            let found = capability(&sample, both(-2.0, 2.0), 0.95).expect("good");
            let cp = found.cp.expect("two limits");
            prop_assert!(cp.interval.0 < cp.value && cp.value < cp.interval.1);
            prop_assert!(found.cpk.value <= cp.value + 1e-12);
            let more = Sample { count: 4 * n, ..sample };
            let narrower = capability(&more, both(-2.0, 2.0), 0.95).expect("good").cp.expect("two");
            prop_assert!(narrower.interval.1 < cp.interval.1 && narrower.interval.0 > cp.interval.0);
        }
    }
}
