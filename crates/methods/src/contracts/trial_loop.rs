//! `trial-loop`

use calc::trial_loop::{self, Joint, Prior, Read, Ruling, Task, TrialLoop, Window};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Extended, NotNegative, Positive, Share, choices, contract};

/// What the eye says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Eye {
    Below,
    Inside,
    Above,
}

choices! {
    /// On which side of the limits a joint lies, where it was only looked at.
    enum Seen of Eye {
        "below" => Eye::Below,
        "inside" => Eye::Inside,
        "above" => Eye::Above,
    }
}

/// How it goes on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Goes {
    Reached,
    NotWorthIt,
    Another,
}

choices! {
    /// How it goes on.
    enum GoesOn of Goes {
        "reached" => Goes::Reached,
        "not-worth-it" => Goes::NotWorthIt,
        "another" => Goes::Another,
    }
}

contract! {
    /// A trial joint: measured or looked at.
    struct JointIn {
        /// The setting, as the value that the table foretells there.
        at_mm: f64,
        /// What was read.
        value_mm: Option<f64> = None,
        /// What was seen, where nothing was read.
        seen: Option<Seen> = None,
    }
}

contract! {
    /// The limits of a criterion, an adjuster's step, and the joints so far.
    struct Input {
        /// Lower limit.
        lower_mm: f64,
        /// Upper limit.
        upper_mm: f64,
        /// What one step of the adjuster moves the value.
        step_mm: Positive,
        /// Standard uncertainty of a reading.
        reading_se_mm: NotNegative,
        /// Offset of this tool from the table, beforehand.
        offset_mm: f64 = 0.0,
        /// Its standard uncertainty.
        offset_se_mm: Positive,
        /// Standard deviation between joints, beforehand.
        spread_mm: Positive,
        /// Joints that this is worth; inf if it is known.
        spread_dof: Extended = Extended(f64::INFINITY),
        /// Probability of a good joint at which a setting is signed off.
        target: Share = Share(0.998),
        /// Joints set between two set-ups.
        joints_between: Positive = Positive(2000.0),
        /// The joints, in their order.
        joints: Vec<JointIn>,
        /// Whether the last one is good in every criterion.
        passes: bool = true,
    }
}

contract! {
    /// What is held after the joints, and what to do.
    struct Output {
        /// Offset of this tool from the table.
        offset_mm: f64,
        /// Its standard uncertainty.
        offset_se_mm: f64,
        /// Standard deviation between joints.
        spread_mm: f64,
        /// Probability of a good joint at the last setting.
        inside: f64,
        /// The same at the best setting that half a step would allow.
        inside_finer: f64,
        /// How it goes on.
        goes_on: GoesOn,
        /// Steps to turn before the next joint; positive raises the value.
        steps: f64,
        /// Joints still to be expected.
        further: f64,
        /// Joints (from 1) that do not belong with the others.
        odd: Vec<f64>,
    }
}

/// The contract.
pub(crate) struct Loop;

impl Contract for Loop {
    const METHOD: Method = trial_loop::METHOD;
    const SUMMARY: &'static str = "method-trial-loop";
    const FORMULA: &'static str = "v = x + b + ε; p = P(L ≤ v ≤ U | joints); V_n(m) = min(r_n(m), 1 / N + min_k E V_{n+1}(m + k · q + Z))";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("L", "lower_mm"),
        ("U", "upper_mm"),
        ("U − L", "upper_mm"),
        ("q", "step_mm"),
        ("u", "reading_se_mm"),
        ("b₀", "offset_mm"),
        ("u₀", "offset_se_mm"),
        ("s₀", "spread_mm"),
        ("ν₀", "spread_dof"),
        ("p", "target"),
        ("N", "joints_between"),
        ("n", "joints"),
        ("x", "joints"),
        ("v", "joints"),
    ];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let task = Task {
            window: Window {
                lower_mm: input.lower_mm,
                upper_mm: input.upper_mm,
            },
            step_mm: input.step_mm.0,
            reading_mm: input.reading_se_mm.0,
            prior: Prior {
                offset_mm: input.offset_mm,
                offset_sd_mm: input.offset_se_mm.0,
                spread_mm: input.spread_mm.0,
                spread_dof: input.spread_dof.0,
            },
            target: input.target.0,
            joints_between: input.joints_between.0,
        };
        let standard_mm = task.reading_mm;
        let joints: Vec<Joint> = input
            .joints
            .iter()
            .map(|joint| Joint {
                at_mm: joint.at_mm,
                read: match (joint.value_mm, joint.seen) {
                    (Some(value_mm), _) => Read::Measured {
                        value_mm,
                        standard_mm,
                    },
                    (None, Some(Seen(Eye::Below))) => Read::Below,
                    (None, Some(Seen(Eye::Above))) => Read::Above,
                    (None, _) => Read::Inside,
                },
            })
            .collect();
        let next = TrialLoop::new(task)?.next(&joints, input.passes)?;
        let (goes_on, steps) = match next.ruling {
            Ruling::Reached => (Goes::Reached, 0),
            Ruling::NotWorthIt => (Goes::NotWorthIt, 0),
            Ruling::Another { steps } => (Goes::Another, steps),
        };
        let at_mm = joints.last().map_or(0.0, |joint| joint.at_mm);
        let out = Output {
            offset_mm: next.belief.offset_mm(),
            offset_se_mm: next.belief.offset_sd_mm(),
            spread_mm: next.belief.spread_mm(),
            inside: next.inside,
            inside_finer: next.inside_finer,
            goes_on: GoesOn(goes_on),
            steps: f64::from(steps),
            further: next.further,
            odd: next.odd.iter().map(|i| (i + 1) as f64).collect(),
        };
        let working = trial_loop::working(&task, at_mm, joints.len(), &next);
        Ok((out, Some(working)))
    }
}
