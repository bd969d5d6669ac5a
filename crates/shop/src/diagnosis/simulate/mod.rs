//! Jobs drawn from a fault model, each with a cause that is known, driven through the same reckoning as the page.
//!
//! It shows that the advice is true to its own model, not that the model is true to the world.

mod drawn;
mod learn;

use calc::fault_finder::Effort;

use super::{Costs, Seen, Step, diagnose, plan};
use crate::pulls::limits_of;
use crate::sheet::{
    Asked, Cause, Check, Drive, FastenerFamily, FaultModel, Shelf, ToolModel, ToolState,
};

pub use drawn::Drawn;
pub use learn::{learn, other_shop};

/// Checks after which it is asked whether the right cause stands first already.
pub const FEW: usize = 4;

/// Jobs of one drive, followed through.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Followed {
    /// Jobs.
    pub jobs: usize,
    /// Jobs whose cause ranked first before any check.
    pub right_at_once: usize,
    /// Jobs whose cause ranked first after [`FEW`] checks, or at the end where that came sooner.
    pub right_after_few: usize,
    /// Jobs whose cause ranked first at the end.
    pub right: usize,
    /// Sum of the probabilities that the first cause had at the end.
    pub claimed: f64,
    /// Checks made, all jobs together; what is looked at in one go counts as one.
    pub checks: usize,
    /// The same, each look counted by itself.
    pub looks: usize,
    /// Minutes of checks, all jobs together.
    pub minutes: f64,
    /// Mendings of what was not the cause, all jobs together.
    pub wrong_mendings: usize,
    /// Jobs that ended with the mending of the cause.
    pub mended: usize,
    /// Jobs in which what was seen was said to contradict itself, at any step.
    pub contradicted: usize,
}

impl Followed {
    /// Two runs together.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            jobs: self.jobs + other.jobs,
            right_at_once: self.right_at_once + other.right_at_once,
            right_after_few: self.right_after_few + other.right_after_few,
            right: self.right + other.right,
            claimed: self.claimed + other.claimed,
            checks: self.checks + other.checks,
            looks: self.looks + other.looks,
            minutes: self.minutes + other.minutes,
            wrong_mendings: self.wrong_mendings + other.wrong_mendings,
            mended: self.mended + other.mended,
            contradicted: self.contradicted + other.contradicted,
        }
    }
}

/// When a simulated job ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Until {
    /// The plan says what to mend.
    Plan,
    /// It says so of the right cause: after a wrong mending the looking goes on, by bits per minute.
    Right,
}

/// How a simulated job is worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Way {
    /// Checks at most.
    pub most_checks: usize,
    /// When it ends.
    pub until: Until,
    /// Whether the crew was asked for every sign: those that it did not see are known not to be there.
    pub asked: bool,
    /// Whether the tests as found of the model were made and a joint as found was read first, as the page asks for:
    /// they answer the checks that ask the same, and count as none.
    pub as_found: bool,
    /// Whether pulls of the fastener were recorded then, too: their numbers answer checks alike.
    pub recorded: bool,
    /// Whether what the hands hold already is looked at in the same go.
    pub in_one_go: bool,
    /// Effort of each plan.
    pub effort: Effort,
}

/// A bench at which tools of one model are mended.
#[derive(Clone, Copy, Debug)]
pub struct Bench<'a> {
    /// What really happens: causes are drawn from it, and what they show and answer.
    pub truth: &'a FaultModel,
    /// The tool.
    pub tool: &'a ToolModel,
    /// The sheets of what it sets.
    pub shelf: &'a Shelf,
    /// What work costs.
    pub costs: &'a Costs<'a>,
    /// How jobs are worked.
    pub way: Way,
}

/// Follows `jobs` jobs with the advice of `faults`; `uniform` draws between 0 and 1.
pub fn follow(
    bench: &Bench,
    faults: &FaultModel,
    jobs: usize,
    uniform: &mut impl FnMut() -> f64,
) -> Followed {
    let of_jobs = (0..jobs).map(|_| bench.work(faults, &bench.drawn(uniform)).0);
    of_jobs.fold(Followed::default(), Followed::and)
}

impl Bench<'_> {
    fn drive(&self) -> Drive {
        self.tool.drive
    }

    /// Works a job by the advice of `faults`; what came of it, and what was seen.
    pub fn work(&self, faults: &FaultModel, drawn: &Drawn) -> (Followed, Seen) {
        let cause = drawn.cause;
        let mut seen = Seen {
            fasteners: self.shelf.settable_kinds(self.tool),
            symptoms: drawn.reported(self.way.asked),
            ..Seen::default()
        };
        if self.way.as_found && !seen.no_energised_look(faults) {
            // The joint is of the fastener that the complaint is about.
            let set: Vec<&FastenerFamily> = self.settable().collect();
            let of_cause = set.iter().filter(|f| cause.fasteners.contains(&f.kind));
            let of_cause: Vec<_> = of_cause.collect();
            let place = (drawn.joint * of_cause.len() as f64) as usize;
            let joint = of_cause.get(place).copied().copied();
            seen.fasteners = joint.iter().map(|family| family.kind).collect();
            for check in faults.checks.iter().filter(|c| self.is_read(c, joint)) {
                seen.checks.insert(check.id.clone(), drawn.answer(check));
            }
        }
        let mut job = Followed {
            jobs: 1,
            ..Followed::default()
        };
        let mut tried: Vec<Option<&str>> = Vec::new();
        while let Some(found) = diagnose(faults, self.drive(), &seen) {
            let lead = &found.ranked[0];
            let is_it = |other: Option<&Cause>| other.is_some_and(|c| c.id == cause.id);
            job.right = usize::from(is_it(lead.cause));
            job.claimed = lead.probability;
            job.contradicted |= usize::from(found.odd.is_some());
            if job.checks == 0 {
                job.right_at_once = job.right;
            }
            if job.checks <= FEW {
                job.right_after_few = job.right;
            }
            if job.checks == self.way.most_checks {
                break;
            }
            let (costs, effort) = (self.costs, self.way.effort);
            let planned = plan(faults, self.drive(), &seen, &found, costs, effort);
            let check = match planned.map(|plan| plan.step) {
                Some(Step::Look(check)) => Some(check),
                Some(Step::Mend(mended)) if is_it(mended) => {
                    job.mended = 1;
                    None
                }
                Some(Step::Mend(mended)) if self.way.until == Until::Right => {
                    let id = mended.map(|cause| cause.id.as_str());
                    // What did not help is not tried twice.
                    if !tried.contains(&id) {
                        tried.push(id);
                        job.wrong_mendings += 1;
                    }
                    found.open.first().map(|open| open.check)
                }
                _ => None,
            };
            let Some(check) = check else { break };
            let beside = found.beside(check).filter(|_| self.way.in_one_go);
            for check in [check].into_iter().chain(beside) {
                seen.checks.insert(check.id.clone(), drawn.answer(check));
                match check.state {
                    ToolState::StrippedNoEnergy => seen.lies_open.push(check.id.clone()),
                    // It was closed for that.
                    ToolState::Energised | ToolState::EnergisedLoaded => seen.lies_open.clear(),
                    ToolState::RecordOnly | ToolState::NoEnergy => {}
                }
                job.looks += 1;
                job.minutes += check.minutes;
            }
            job.checks += 1;
        }
        (job, seen)
    }

    /// Whether a test of the model as found, a criterion of the `joint` as found or a number of its recorded pull asks
    /// the same as `check`.
    fn is_read(&self, check: &Check, joint: Option<&FastenerFamily>) -> bool {
        match check.asked_by.as_ref().map(|by| &by.what) {
            Some(Asked::Test(id)) => {
                let mut tests = self.tool.bench_tests.iter().filter(|t| t.as_found);
                tests.any(|test| *id == test.id)
            }
            Some(Asked::Criterion(id)) => joint.is_some_and(|f| f.criterion(id).is_some()),
            Some(Asked::Feature(feature)) => {
                self.way.recorded
                    && joint.is_some()
                    && limits_of(self.tool, joint, *feature).is_some()
            }
            None => false,
        }
    }

    /// What the tool sets.
    fn settable(&self) -> impl Iterator<Item = &FastenerFamily> {
        self.shelf.settable(self.tool).map(|(_, family)| family)
    }
}
