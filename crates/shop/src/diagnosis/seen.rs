//! What a job holds for the fault-finder: symptoms, answers to checks, and what other parts of the job hand
//! over in numbers.
//!
//! A joint that was read shows symptoms by itself, and a bench test as found answers the check that asks the
//! same: which ones, the fault model says. So nothing is asked twice, and nothing counts twice.

use std::collections::{BTreeMap, BTreeSet};

use calc::decision::{Limits, Side};

use crate::entry::{BenchTestRead, HandedOver, JointReading, Outcome, Phase, Said, Seen as Eye};
use crate::job::{Desk, Job};
use crate::joint;
use crate::sheet::{
    Asked, AskedBy, BenchTestKind, Check, FastenerFamily, FastenerKind, FaultModel, Feature,
    SettingBasis, ToolModel,
};

/// Symptoms and checks of a job, as the fault model understands them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Seen {
    /// Symptoms there or not.
    pub symptoms: BTreeMap<String, bool>,
    /// Checks answered yes or no; "not sure" says nothing but is not asked again.
    pub checks: BTreeMap<String, Said>,
    /// Symptoms that a joint showed, and checks that a bench test answered, by id: nobody had to say them.
    pub handed: BTreeSet<String>,
    /// The tool was found not safe to run.
    pub not_safe: bool,
    /// The tool is opened, and was not run since.
    pub opened: bool,
    /// Checks made on the stripped tool, by id, after which it was not closed: it lies open as far as they ask for.
    pub lies_open: Vec<String>,
    /// Symptoms that the repair has mended: they still tell, but forbid nothing any more.
    pub mended: BTreeSet<String>,
    /// Symptoms that forbid no energised look any more: a named person cleared the tool after they were seen.
    pub cleared: BTreeSet<String>,
    /// The same of a tool that was found not safe to run.
    pub cleared_to_run: bool,
    /// How likely a part is beyond its limit, by id of the cause that this would be.
    pub worn: Vec<(String, f64)>,
    /// Kinds of fastener that the job is about; empty for any.
    pub fasteners: Vec<FastenerKind>,
}

impl Seen {
    /// What `job` holds, with its joints and bench tests as found.
    pub fn of(job: &Job, faults: &FaultModel, model: &ToolModel, desk: &Desk) -> Self {
        let mut seen = Self {
            fasteners: kinds(job, model, desk),
            worn: match &job.cause {
                Some(cause) => cause.body.handed.worn.clone().into_iter().collect(),
                None => desk.worn.to_vec(),
            },
            lies_open: job.lying_open(faults).map(|c| c.id.clone()).collect(),
            ..Self::said(job)
        };
        for joint in &job.found_joints {
            let body = &joint.body;
            if let Some(fastener) = desk.shelf.fastener(&(&body.fastener).into()) {
                let read = Read {
                    set_by: set_by(model, fastener),
                    fastener,
                    readings: &body.readings,
                    eye: body.seen,
                };
                let lifted = Lifted {
                    mended: job.mended_after(joint.version),
                    cleared: job.cleared_after(joint.version),
                };
                seen.take_joint(faults, read, lifted);
            }
        }
        for check in &faults.checks {
            if let Some(AskedBy {
                what: Asked::Feature(feature),
                fails,
            }) = &check.asked_by
                && let Some(said) = of_pulls(job, *feature, *fails)
            {
                seen.take_answer(check, said);
            }
            let Some(AskedBy {
                what: Asked::Test(id),
                fails,
            }) = &check.asked_by
            else {
                continue;
            };
            let test = job.test(Phase::AsFound, id);
            if let Some(said) = test.and_then(|test| answer(*fails, model, &test.body)) {
                seen.take_answer(check, said);
            }
        }
        seen
    }

    /// What people said in `job`.
    fn said(job: &Job) -> Self {
        let checks = job.checks.iter();
        let mended = job.symptoms.keys().filter(|id| job.mended_since(id));
        let cleared = job.symptoms.keys().filter(|id| job.cleared_since(id));
        Self {
            symptoms: job.symptoms.clone(),
            checks: checks
                .map(|c| (c.body.check.clone(), c.body.answer))
                .collect(),
            handed: BTreeSet::new(),
            not_safe: job.not_safe.is_some() && !job.powered_up(),
            opened: job.opened() && !job.powered_up(),
            lies_open: Vec::new(),
            mended: mended.cloned().collect(),
            cleared: cleared.cloned().collect(),
            worn: Vec::new(),
            cleared_to_run: job
                .not_safe
                .as_ref()
                .is_some_and(|found| job.cleared_after(found.version)),
            fasteners: Vec::new(),
        }
    }

    /// What one joint shows by itself, to a fault-finder that knows what `job` forbids.
    pub fn of_joint(
        job: &Job,
        faults: &FaultModel,
        model: &ToolModel,
        fastener: &FastenerFamily,
        (readings, eye): (&[JointReading], Eye),
        desk: &Desk,
    ) -> Self {
        let mut seen = Self {
            not_safe: Self::of(job, faults, model, desk).no_energised_look(faults),
            fasteners: vec![fastener.kind],
            ..Self::default()
        };
        let read = Read {
            set_by: set_by(model, fastener),
            fastener,
            readings,
            eye,
        };
        seen.take_joint(faults, read, Lifted::default());
        seen
    }

    fn take_joint(&mut self, faults: &FaultModel, read: Read, lifted: Lifted) {
        // A reading that answers a check shows no symptom beside it: it would count twice.
        let mut left: Vec<JointReading> = read.readings.to_vec();
        for check in &faults.checks {
            let Some(AskedBy {
                what: Asked::Criterion(id),
                fails,
            }) = &check.asked_by
            else {
                continue;
            };
            let Some(criterion) = read.fastener.criterion(id) else {
                continue;
            };
            let of_it = read.readings.iter().filter(|r| r.criterion == *id);
            let said = of_it.clone().filter_map(|r| {
                let value = r.reading.value;
                of_reading(r.outcome, value, criterion.limits, *fails)
            });
            // Of several places the worst says it.
            if let Some(said) = said.max_by_key(|said| *said == Said::Yes) {
                self.take_answer(check, said);
                left.retain(|r| r.criterion != *id);
            }
        }
        let shown = joint::shows(read.fastener, &left, read.eye);
        for symptom in &faults.symptoms {
            let of_kind = symptom.fasteners.contains(&read.fastener.kind)
                && read
                    .set_by
                    .is_none_or(|basis| symptom.set_by.contains(&basis));
            if of_kind && symptom.joints.iter().any(|word| shown.contains(word)) {
                // What a joint shows outweighs that somebody looked and saw nothing.
                if self.symptoms.insert(symptom.id.clone(), true) != Some(true) {
                    self.handed.insert(symptom.id.clone());
                    if lifted.mended {
                        self.mended.insert(symptom.id.clone());
                    }
                    if lifted.cleared {
                        self.cleared.insert(symptom.id.clone());
                    }
                }
            }
        }
    }

    /// A reading answers `check`, unless a person did: "not sure" is no answer.
    fn take_answer(&mut self, check: &Check, said: Said) {
        let is_open = |answer: &Said| *answer == Said::NotSure;
        if self.checks.get(&check.id).is_none_or(is_open) {
            self.checks.insert(check.id.clone(), said);
            self.handed.insert(check.id.clone());
        }
    }

    /// What nobody had to say, as it is kept with the confirmed cause.
    pub fn handed_over(&self) -> HandedOver {
        let there = self.symptoms.iter().filter(|(_, there)| **there);
        let symptoms = there.filter(|(id, _)| self.handed.contains(*id));
        let answered = |said: Said| -> Vec<String> {
            let checks = self.checks.iter().filter(|(_, answer)| **answer == said);
            let handed = checks.filter(|(id, _)| self.handed.contains(*id));
            handed.map(|(id, _)| id.clone()).collect()
        };
        HandedOver {
            symptoms: symptoms.map(|(id, _)| id.clone()).collect(),
            yes: answered(Said::Yes),
            no: answered(Said::No),
            worn: self.worn.iter().cloned().collect(),
        }
    }

    /// Whether nothing may put energy on the tool.
    pub fn no_energy(&self, model: &FaultModel) -> bool {
        self.not_safe || self.forbidding(model).next().is_some()
    }

    /// Whether nothing may put energy on it even to find the fault: nobody cleared it since.
    pub fn no_energised_look(&self, model: &FaultModel) -> bool {
        let mut forbidding = self.forbidding(model);
        (self.not_safe && !self.cleared_to_run) || forbidding.any(|id| !self.cleared.contains(id))
    }

    /// Symptoms that forbid energy.
    fn forbidding<'a>(&'a self, model: &'a FaultModel) -> impl Iterator<Item = &'a String> {
        let there = self.symptoms.iter().filter(|(_, there)| **there);
        there.map(|(id, _)| id).filter(|id| {
            !self.mended.contains(*id) && model.symptom(id).is_some_and(|s| s.forbids_energy)
        })
    }
}

/// What no longer stands in the way of what a joint shows.
#[derive(Clone, Copy, Default)]
struct Lifted {
    mended: bool,
    cleared: bool,
}

/// Kinds of fastener that `job` is about: those of its joints as found and its set-up, else all that its tool
/// sets.
fn kinds(job: &Job, model: &ToolModel, desk: &Desk) -> Vec<FastenerKind> {
    let found = job.found_joints.iter().map(|j| &j.body.fastener);
    let fitted = job.set_up().map(|set_up| &set_up.fitted.body.fastener);
    let set = found.chain(fitted);
    let set = set.filter_map(|pin| Some(desk.shelf.fastener(&pin.into())?.kind));
    let set: Vec<FastenerKind> = set.collect();
    if set.is_empty() {
        return desk.shelf.settable_kinds(model);
    }
    set
}

fn set_by(model: &ToolModel, fastener: &FastenerFamily) -> Option<SettingBasis> {
    let rule = model.settings.iter().find(|s| s.fastener == fastener.id);
    rule.map(|rule| rule.basis)
}

/// A joint as it was read.
#[derive(Clone, Copy)]
struct Read<'a> {
    /// How the model sets the fastener; `None` where its sheet does not say.
    set_by: Option<SettingBasis>,
    fastener: &'a FastenerFamily,
    readings: &'a [JointReading],
    eye: Eye,
}

/// What a bench test says to the check that asks the same; `None` where it is undecided, or fails in another
/// way than the check asks for.
fn answer(fails: Option<Side>, model: &ToolModel, read: &BenchTestRead) -> Option<Said> {
    let test = model.bench_tests.iter().find(|t| t.id == read.test)?;
    match (read.outcome, &test.kind) {
        (Outcome::Undecided, _) => None,
        (Outcome::Accept, _) => Some(Said::No),
        (Outcome::Reject, BenchTestKind::Looked { .. }) => Some(Said::Yes),
        (Outcome::Reject, BenchTestKind::Measured { limits, .. }) => {
            of_reading(read.outcome, read.value?, *limits, fails)
        }
    }
}

/// What recorded pulls as found say of `feature`: a yes where one of them fails as asked, a no where all are good;
/// `None` where it was not judged, or not so that it decides.
fn of_pulls(job: &Job, feature: Feature, fails: Option<Side>) -> Option<Said> {
    let pulls = job.pulls_in(Phase::AsFound).flat_map(|p| &p.body.pulls);
    let read = pulls.flat_map(|pull| &pull.features);
    let of_it = read.filter(|read| read.feature == feature.key());
    let said: Vec<Option<Said>> = of_it
        .filter_map(|read| {
            let limits = Limits::new(read.lower, read.upper).ok()?;
            Some(of_reading(read.outcome?, read.value, limits, fails))
        })
        .collect();
    if said.contains(&Some(Said::Yes)) {
        return Some(Said::Yes);
    }
    (!said.is_empty() && said.iter().all(|s| *s == Some(Said::No))).then_some(Said::No)
}

/// The same of one value against its limits.
fn of_reading(outcome: Outcome, value: f64, limits: Limits, fails: Option<Side>) -> Option<Said> {
    let is_low = limits.lower().is_some_and(|l| value < l);
    let is_high = limits.upper().is_some_and(|u| value > u);
    let as_asked = match fails {
        Some(Side::Low) => is_low,
        Some(Side::High) => is_high,
        // Readings that lie too far apart are rejected between the limits, too.
        None => is_low || is_high,
    };
    match outcome {
        Outcome::Accept => Some(Said::No),
        Outcome::Reject if as_asked => Some(Said::Yes),
        Outcome::Reject | Outcome::Undecided => None,
    }
}
