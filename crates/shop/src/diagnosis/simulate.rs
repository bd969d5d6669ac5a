//! Jobs drawn from a fault model, each with a cause that is known, driven through the same reckoning as the page.
//!
//! It shows that the advice is true to its own model, not that the model is true to the world.

use calc::fault_finder::Effort;

use super::{Costs, Seen, Step, diagnose, plan};
use crate::entry::Said;
use crate::sheet::{Cause, Check, Drive, FaultModel};

/// Jobs of one drive, followed through.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Followed {
    /// Jobs.
    pub jobs: usize,
    /// Jobs whose cause ranked first before any check.
    pub right_at_once: usize,
    /// Jobs whose cause ranked first at the end.
    pub right: usize,
    /// Sum of the probabilities that the first cause had at the end.
    pub claimed: f64,
    /// Checks made, all jobs together.
    pub checks: usize,
    /// Minutes of checks, all jobs together.
    pub minutes: f64,
}

impl Followed {
    /// Two runs together.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            jobs: self.jobs + other.jobs,
            right_at_once: self.right_at_once + other.right_at_once,
            right: self.right + other.right,
            claimed: self.claimed + other.claimed,
            checks: self.checks + other.checks,
            minutes: self.minutes + other.minutes,
        }
    }
}

/// How a simulated job is worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Way {
    /// Checks at most.
    pub most_checks: usize,
    /// Whether to go on checking, by bits per minute, where the plan says to mend.
    pub go_on: bool,
    /// Effort of each plan.
    pub effort: Effort,
}

/// Follows `jobs` jobs on `drive`; `uniform` draws between 0 and 1. The drawn causes are those of `truth`, the
/// advice is that of `faults`.
pub fn follow(
    faults: &FaultModel,
    truth: &FaultModel,
    drive: Drive,
    costs: &Costs,
    (jobs, way): (usize, Way),
    uniform: &mut impl FnMut() -> f64,
) -> Followed {
    let causes: Vec<&Cause> = truth
        .causes
        .iter()
        .filter(|c| c.drives.contains(&drive))
        .collect();
    let mut followed = Followed::default();
    for _ in 0..jobs {
        let cause = drawn(&causes, uniform);
        let seen = reported(truth, cause, drive, uniform);
        followed = followed.and(one(faults, cause, drive, costs, seen, way, uniform));
    }
    followed
}

fn one(
    faults: &FaultModel,
    cause: &Cause,
    drive: Drive,
    costs: &Costs,
    mut seen: Seen,
    way: Way,
    uniform: &mut impl FnMut() -> f64,
) -> Followed {
    let mut job = Followed {
        jobs: 1,
        ..Followed::default()
    };
    loop {
        let Some(found) = diagnose(faults, drive, &seen) else {
            return job;
        };
        let lead = &found.ranked[0];
        let right = usize::from(lead.cause.is_some_and(|c| c.id == cause.id));
        if job.checks == 0 {
            job.right_at_once = right;
        }
        (job.right, job.claimed) = (right, lead.probability);
        if job.checks == way.most_checks {
            return job;
        }
        let planned = plan(faults, drive, &seen, &found, costs, way.effort);
        let check = match planned.map(|plan| plan.step) {
            Some(Step::Look(check)) => Some(check),
            _ if way.go_on => found.open.first().map(|open| open.check),
            _ => None,
        };
        let Some(check) = check else {
            return job;
        };
        let said = if uniform() < chance_of_yes(check, cause) {
            Said::Yes
        } else {
            Said::No
        };
        seen.checks.insert(check.id.clone(), said);
        job.checks += 1;
        job.minutes += check.minutes;
    }
}

fn chance_of_yes(check: &Check, cause: &Cause) -> f64 {
    let link = check.links.iter().find(|l| l.cause == cause.id);
    link.map_or(check.false_alarm, |l| l.if_true)
}

fn drawn<'a>(causes: &[&'a Cause], uniform: &mut impl FnMut() -> f64) -> &'a Cause {
    let all: f64 = causes.iter().map(|c| c.per_1000).sum();
    let mut at = uniform() * all;
    for cause in causes {
        at -= cause.per_1000;
        if at < 0.0 {
            return cause;
        }
    }
    causes[causes.len() - 1]
}

/// What the customer of a tool with `cause` reports: never nothing.
fn reported(
    truth: &FaultModel,
    cause: &Cause,
    drive: Drive,
    uniform: &mut impl FnMut() -> f64,
) -> Seen {
    // Signs that only stop the work tell nothing and would close half the checks.
    let tells = |id: &str| {
        let mut shown = truth.causes.iter().flat_map(|c| &c.shows);
        shown.any(|(s, _)| s == id)
    };
    let symptoms = truth.symptoms.iter();
    let symptoms = symptoms.filter(|s| s.drives.contains(&drive) && tells(&s.id));
    loop {
        let mut seen = Seen::default();
        for symptom in symptoms.clone() {
            let link = cause.shows.iter().find(|(id, _)| *id == symptom.id);
            let chance = 1.0 - (1.0 - link.map_or(0.0, |l| l.1)) * (1.0 - truth.leak);
            if uniform() < chance {
                seen.symptoms.insert(symptom.id.clone(), true);
            }
        }
        if !seen.symptoms.is_empty() {
            return seen;
        }
    }
}
