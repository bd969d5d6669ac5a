//! `pull-work`, `pull-pressure`

use calc::pull_pressure::{self, Puller};
use calc::pull_work;
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{Positive, Share, contract};
use crate::{MethodError, Why};

contract! {
    /// One pull.
    struct WorkInput {
        /// Peak force.
        peak_kN: Positive,
        /// Stroke under load.
        stroke_mm: Positive,
        /// Mean force over peak force: 1 where it is the same all along, 0.5 where it rises evenly.
        fullness: Share = Share(1.0),
        /// Share of what the drive draws that reaches the fastener.
        efficiency: Share = Share(1.0),
    }
}

contract! {
    /// What it takes.
    struct WorkOutput {
        /// Energy at the fastener.
        pull_J: f64,
        /// Energy drawn by the drive.
        drawn_J: f64,
    }
}

/// The contract.
pub(crate) struct PullWork;

impl Contract for PullWork {
    const METHOD: Method = pull_work::METHOD;
    const SUMMARY: &'static str = "method-pull-work";
    const FORMULA: &'static str = "W = F · s · c; E = W / η";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("F", "peak_kN"),
        ("s", "stroke_mm"),
        ("c", "fullness"),
        ("η", "efficiency"),
    ];
    type In = WorkInput;
    type Out = WorkOutput;

    fn compute(input: &WorkInput) -> Result<(WorkOutput, Option<Working>), MethodError> {
        let pull = pull_work::Pull {
            peak_n: input.peak_kN.0 * 1000.0,
            stroke_mm: input.stroke_mm.0,
            fullness: input.fullness.0,
            efficiency: input.efficiency.0,
        };
        let found = pull_work::work(&pull)?;
        let out = WorkOutput {
            pull_J: found.pull_j,
            drawn_J: found.drawn_j,
        };
        Ok((out, Some(pull_work::working(&pull)?)))
    }
}

contract! {
    /// A puller and its pressure: `pressure_bar` or `pull_kN`, not both.
    struct PressureInput {
        /// Pressure, held at stall, where the pull is asked for.
        pressure_bar: Option<Positive>,
        /// Pull, where the pressure is asked for.
        pull_kN: Option<Positive>,
        /// Area that the oil pulls on.
        area_mm2: Positive,
        /// Oil pressure over the pressure that is measured; 1 where that is the oil's own.
        ratio: Positive = Positive(1.0),
        /// Share of the force lost to friction.
        friction: Share = Share(0.0),
        /// Expanded uncertainty of that share.
        friction_expanded: Share = Share(0.0),
    }
}

contract! {
    /// Pressure and pull that belong together.
    struct PressureOutput {
        /// Pull.
        pull_kN: f64,
        /// Pull with the most friction.
        pull_least_kN: f64,
        /// Pull with the least friction.
        pull_most_kN: f64,
        /// Pressure.
        pressure_bar: f64,
        /// Pressure at which the pull comes even with the most friction.
        sure_bar: f64,
    }
}

/// The contract.
pub(crate) struct PullPressure;

impl Contract for PullPressure {
    const METHOD: Method = pull_pressure::METHOD;
    const SUMMARY: &'static str = "method-pull-pressure";
    const FORMULA: &'static str = "F = p · i · A · (1 − f)";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("p", "pressure_bar"),
        ("F", "pull_kN"),
        ("A", "area_mm2"),
        ("i", "ratio"),
        ("f", "friction"),
        ("w_f", "friction_expanded"),
    ];
    const ANSWERS: &'static [&'static str] = &["pull_kN", "pressure_bar"];
    type In = PressureInput;
    type Out = PressureOutput;

    fn compute(input: &PressureInput) -> Result<(PressureOutput, Option<Working>), MethodError> {
        let puller = Puller {
            area_mm2: input.area_mm2.0,
            ratio: input.ratio.0,
            friction: input.friction.0,
            friction_expanded: input.friction_expanded.0,
        };
        let (bar, working) = match (input.pressure_bar, input.pull_kN) {
            (Some(bar), None) => (bar.0, pull_pressure::working_pull(&puller, bar.0)?),
            (None, Some(kn)) => (
                puller.pressure_bar(kn.0)?.bar,
                pull_pressure::working_pressure(&puller, kn.0)?,
            ),
            (None, None) => return Err(MethodError::at("pressure_bar", "", Why::Missing)),
            (Some(_), Some(kn)) => {
                let allowed = "pressure_bar | pull_kN".to_owned();
                let why = Why::NotAllowed { allowed };
                return Err(MethodError::at("pull_kN", kn.0, why));
            }
        };
        let pull = puller.pull_kn(bar)?;
        let out = PressureOutput {
            pull_kN: pull.kn,
            pull_least_kN: pull.least_kn,
            pull_most_kN: pull.most_kn,
            pressure_bar: bar,
            sure_bar: puller.pressure_bar(pull.kn)?.sure_bar,
        };
        Ok((out, Some(working)))
    }
}
