//! The trial loop: after each trial joint, whether the setting can be signed off, and what to set next.
//!
//! All lengths are millimetres of the criterion that is read (for a swage reach: of reach). A joint set at x
//! gives v = x + b + ε, b the tool's offset from the sheet's table and ε the spread between joints.
//!
//! # Formula
//! [`belief`] gives the posterior of b and of σ; p = P(L ≤ v ≤ U) for the next joint at the same
//! setting. Signed off when p reaches the target, or when the [`plan`] finds that no further joint is
//! worth its cost: then the adjuster's steps are the limit and not the knowledge. After a joint that was only
//! looked at, [`look`] weighs the next one. A joint costs as much
//! as one reject in so many joints as are set between two set-ups.
//!
//! # Validity
//! One millimetre of stroke moves the criterion by one millimetre; joints are independent and
//! normal; the window has two sides. The plan takes the spread as known at its present estimate; the
//! simulation measures what that costs.
//!
//! # Errors
//! A window without width, a step, spread or doubt not above 0, a value that is not finite.
//!
//! # Source
//! Normal model with a conjugate prior and optimal stopping: see the two modules. The rule is our own;
//! `setwright setup simulate` measures it.

mod belief;
mod look;
mod plan;
mod simulate;
mod spread_prior;
mod working;

use std::sync::OnceLock;

use crate::error::{CalcError, within};
use crate::working::Method;

pub use belief::Belief;
use plan::{Plan, Terms};
pub use simulate::{Outcome, World, set_up};
pub use working::working;

/// This method.
pub const METHOD: Method = Method {
    name: "trial-loop",
    version: 1,
    source: "normal model with conjugate prior, Gelman et al., Bayesian Data Analysis, 2.5 and 8.7; optimal stopping, DeGroot, Optimal Statistical Decisions, 12.4 (both from memory)",
};

/// Where a joint must lie, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// Lower limit.
    pub lower_mm: f64,
    /// Upper limit.
    pub upper_mm: f64,
}

impl Window {
    /// Its middle.
    pub fn middle_mm(&self) -> f64 {
        f64::midpoint(self.lower_mm, self.upper_mm)
    }

    /// Half its width.
    pub fn half_mm(&self) -> f64 {
        (self.upper_mm - self.lower_mm) / 2.0
    }
}

/// What is held before the first joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior {
    /// Offset of this tool from the table, mm.
    pub offset_mm: f64,
    /// Its standard uncertainty, mm.
    pub offset_sd_mm: f64,
    /// Standard deviation between joints, mm.
    pub spread_mm: f64,
    /// Joints that this is worth; infinite if it is known.
    pub spread_dof: f64,
}

/// What a joint said.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Read {
    /// A reading with its standard uncertainty.
    Measured {
        /// The value, mm.
        value_mm: f64,
        /// Standard uncertainty, mm.
        standard_mm: f64,
    },
    /// By eye: below the lower limit.
    Below,
    /// By eye: between the limits.
    Inside,
    /// By eye: above the upper limit.
    Above,
}

/// A trial joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// The setting, as the value that the table foretells there, mm.
    pub at_mm: f64,
    /// What it said.
    pub read: Read,
}

/// The task: a window, an adjuster's step, and when to be content.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Task {
    /// Where a joint must lie.
    pub window: Window,
    /// What one step of the adjuster moves the value, mm.
    pub step_mm: f64,
    /// Standard uncertainty of a reading to come, mm; of a look, about half the window's half width.
    pub reading_mm: f64,
    /// What is held beforehand.
    pub prior: Prior,
    /// Probability of a good joint at which a setting is signed off.
    pub target: f64,
    /// Joints set between two set-ups: a trial joint costs as much as one reject among so many.
    pub joints_between: f64,
}

/// What to do after a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ruling {
    /// The target is reached and the last joint is good.
    Reached,
    /// No further joint is worth its cost: mostly the steps are the limit then, and not the knowledge.
    NotWorthIt,
    /// Set another joint, after turning by so many steps; positive raises the value.
    Another {
        /// Steps; 0 for the same setting.
        steps: i32,
    },
}

/// The state of the loop after its joints.
#[derive(Clone, Debug, PartialEq)]
pub struct Next {
    /// What to do.
    pub ruling: Ruling,
    /// What is held of offset and spread.
    pub belief: Belief,
    /// Probability of a good joint at the last setting.
    pub inside: f64,
    /// The same at the best setting that half a step would allow.
    pub inside_finer: f64,
    /// Joints still to be expected; 0 when the loop ends.
    pub further: f64,
    /// Joints (from 0) further from the others, or from the table, than spread and gauge explain.
    pub odd: Vec<usize>,
}

/// What every ruling rests on.
struct State {
    belief: Belief,
    /// How far joints at the last setting are expected from the middle.
    off_mm: f64,
    inside: f64,
    ruling: Ruling,
    further: f64,
}

/// Plans are kept for spreads from a third to nearly four times of the prior's, in steps of 7 %.
const PLAN_RATIO: f64 = 1.07;
const PLANS_BELOW: i32 = 16;
const PLANS: usize = 37;
/// Standard deviations beyond which a joint does not belong with the others.
const ODD: f64 = 3.0;

/// A task with its plans, which are made when they are first asked for.
#[derive(Debug)]
pub struct TrialLoop {
    task: Task,
    spreads: Vec<(f64, f64)>,
    plans: [OnceLock<Plan>; PLANS],
}

impl TrialLoop {
    /// Prepares the loop for a task.
    ///
    /// # Errors
    /// A window without width, a step, spread or doubt not above 0, a target outside 0.5 to 1.
    pub fn new(task: Task) -> Result<Self, CalcError> {
        let above_zero = |input, value| within(input, value, 1e-6, 1e6);
        within("L", task.window.lower_mm, -1e6, 1e6)?;
        within("U", task.window.upper_mm, -1e6, 1e6)?;
        above_zero("U − L", task.window.upper_mm - task.window.lower_mm)?;
        above_zero("q", task.step_mm)?;
        within("u", task.reading_mm, 0.0, 1e6)?;
        within("b₀", task.prior.offset_mm, -1e6, 1e6)?;
        above_zero("u₀", task.prior.offset_sd_mm)?;
        above_zero("s₀", task.prior.spread_mm)?;
        if task.prior.spread_dof != f64::INFINITY {
            within("ν₀", task.prior.spread_dof, 2.0, 1e6)?;
        }
        within("p", task.target, 0.5, 1.0)?;
        within("N", task.joints_between, 1.0, 1e9)?;
        Ok(Self {
            spreads: spread_prior::values(task.prior.spread_mm, task.prior.spread_dof),
            task,
            plans: [const { OnceLock::new() }; PLANS],
        })
    }

    /// The task.
    pub fn task(&self) -> &Task {
        &self.task
    }

    /// What is held after `joints`.
    pub fn belief(&self, joints: &[Joint]) -> Belief {
        let measured = joints
            .iter()
            .any(|j| matches!(j.read, Read::Measured { .. }));
        // Looks say next to nothing of the spread: without a reading it stays as it was held.
        let alone = [(self.task.prior.spread_mm, 0.0)];
        let spreads = if measured { &self.spreads[..] } else { &alone };
        Belief::after(&self.task.prior, spreads, self.task.window, joints)
    }

    /// What to do after `joints`; `passes` tells whether the last one is good in every criterion.
    ///
    /// # Errors
    /// No joint, or a value that is not finite.
    pub fn next(&self, joints: &[Joint], passes: bool) -> Result<Next, CalcError> {
        let Some(last) = joints.last() else {
            return Err(CalcError::TooFew {
                input: "n",
                have: 0,
                need: 1,
            });
        };
        for joint in joints {
            within("x", joint.at_mm, -1e6, 1e6)?;
            if let Read::Measured {
                value_mm,
                standard_mm,
            } = joint.read
            {
                within("v", value_mm, -1e6, 1e6)?;
                within("u", standard_mm, 0.0, 1e6)?;
            }
        }
        let state = self.state(last, joints, passes);
        let half_step = self.task.step_mm / 2.0;
        let finer = last.at_mm - (state.off_mm / half_step).round() * half_step;
        let inside_finer = state.belief.inside(self.task.window, finer);
        Ok(Next {
            inside_finer: inside_finer.max(state.inside),
            further: match state.ruling {
                Ruling::Another { .. } => state.further.max(1.0),
                _ => 0.0,
            },
            odd: self.odd(joints),
            inside: state.inside,
            belief: state.belief,
            ruling: state.ruling,
        })
    }

    /// The ruling alone, for joints that are known to be good numbers.
    fn ruling(&self, joints: &[Joint], passes: bool) -> Option<Ruling> {
        Some(self.state(joints.last()?, joints, passes).ruling)
    }

    fn state(&self, last: &Joint, joints: &[Joint], passes: bool) -> State {
        let belief = self.belief(joints);
        let window = self.task.window;
        let off_mm = last.at_mm + belief.offset_mm() - window.middle_mm();
        let choice = match last.read {
            Read::Measured { .. } => {
                let plan = self.plan(belief.spread_mm());
                plan.choice(off_mm, belief.offset_sd_mm())
            }
            _ => look::choice(&self.task, &belief, last.at_mm),
        };
        let inside = belief.inside(window, last.at_mm);
        let ruling = if passes && inside >= self.task.target {
            Ruling::Reached
        } else if passes && choice.gain >= 0.0 {
            Ruling::NotWorthIt
        } else {
            Ruling::Another {
                steps: choice.steps,
            }
        };
        State {
            belief,
            off_mm,
            inside,
            ruling,
            further: choice.further,
        }
    }

    fn plan(&self, spread: f64) -> &Plan {
        let rank = (spread / self.task.prior.spread_mm).ln() / PLAN_RATIO.ln();
        let rank = (rank.round() as i32).clamp(-PLANS_BELOW, PLANS as i32 - 1 - PLANS_BELOW);
        let terms = Terms {
            window: self.task.window,
            step_mm: self.task.step_mm,
            offset_sd_mm: self.task.prior.offset_sd_mm,
            spread_mm: self.task.prior.spread_mm * PLAN_RATIO.powi(rank),
            reading_mm: self.task.reading_mm,
            joint_cost: 1.0 / self.task.joints_between,
        };
        let place = (rank + PLANS_BELOW).unsigned_abs() as usize;
        self.plans[place].get_or_init(|| Plan::solve(&terms))
    }

    /// Joints that do not belong with the others, by the prior's spread. One joint alone is held against
    /// the table.
    fn odd(&self, joints: &[Joint]) -> Vec<usize> {
        let spread = self.task.prior.spread_mm;
        let known = [(spread, 0.0)];
        let apart = |i: usize, joint: &Joint| {
            let Read::Measured {
                value_mm,
                standard_mm,
            } = joint.read
            else {
                return false;
            };
            let mut others = joints.to_vec();
            others.remove(i);
            let held = Belief::after(&self.task.prior, &known, self.task.window, &others);
            let doubt = held.offset_sd_mm().hypot(spread).hypot(standard_mm);
            (value_mm - joint.at_mm - held.offset_mm()).abs() > ODD * doubt
        };
        let joints = joints.iter().enumerate();
        joints
            .filter(|(i, joint)| apart(*i, joint))
            .map(|(i, _)| i)
            .collect()
    }
}

#[cfg(test)]
mod tests;
