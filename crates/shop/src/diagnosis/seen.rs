//! What a job holds for the fault-finder: symptoms, answers to checks, and what other parts of the job hand
//! over in numbers.
//!
//! A joint that was read shows symptoms by itself, and a bench test as found answers the check that asks the
//! same: which ones, the fault model says. So nothing is asked twice, and nothing counts twice.

use std::collections::{BTreeMap, BTreeSet};

use calc::decision::Side;

use crate::entry::{BenchTestRead, JointReading, Outcome, Phase, Said, Seen as Eye};
use crate::job::{Desk, Job};
use crate::joint;
use crate::sheet::{BenchTestKind, Check, FastenerFamily, FaultModel, ToolModel};

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
    /// Symptoms that the repair has mended: they still tell, but forbid nothing any more.
    pub mended: BTreeSet<String>,
}

impl Seen {
    /// What `job` holds, with its joints and bench tests as found.
    pub fn of(job: &Job, faults: &FaultModel, model: &ToolModel, desk: &Desk) -> Self {
        let mut seen = Self::said(job);
        for joint in &job.found_joints {
            let body = &joint.body;
            if let Some(fastener) = desk.shelf.fastener(&(&body.fastener).into()) {
                seen.take_joint(faults, fastener, &body.readings, body.seen);
            }
        }
        for check in &faults.checks {
            let asked = check.test.as_ref();
            let test = asked.and_then(|link| job.test(Phase::AsFound, &link.test));
            let said = test.and_then(|test| answer(check, model, &test.body));
            if let Some(said) = said.filter(|_| !seen.checks.contains_key(&check.id)) {
                seen.checks.insert(check.id.clone(), said);
                seen.handed.insert(check.id.clone());
            }
        }
        seen
    }

    /// What people said in `job`.
    fn said(job: &Job) -> Self {
        let checks = job.checks.iter();
        let mended = job.symptoms.keys().filter(|id| job.mended_since(id));
        Self {
            symptoms: job.symptoms.clone(),
            checks: checks
                .map(|c| (c.body.check.clone(), c.body.answer))
                .collect(),
            handed: BTreeSet::new(),
            not_safe: job.not_safe.is_some() && !job.powered_up(),
            opened: job.opened() && !job.powered_up(),
            mended: mended.cloned().collect(),
        }
    }

    /// What one joint shows by itself.
    pub fn of_joint(
        faults: &FaultModel,
        fastener: &FastenerFamily,
        readings: &[JointReading],
        eye: Eye,
    ) -> Self {
        let mut seen = Self::default();
        seen.take_joint(faults, fastener, readings, eye);
        seen
    }

    fn take_joint(
        &mut self,
        faults: &FaultModel,
        fastener: &FastenerFamily,
        readings: &[JointReading],
        eye: Eye,
    ) {
        let shown = joint::shows(fastener, readings, eye);
        for symptom in &faults.symptoms {
            let of_kind = symptom.fasteners.contains(&fastener.kind);
            if of_kind && symptom.joints.iter().any(|word| shown.contains(word)) {
                // What a joint shows outweighs that somebody looked and saw nothing.
                if self.symptoms.insert(symptom.id.clone(), true) != Some(true) {
                    self.handed.insert(symptom.id.clone());
                }
            }
        }
    }

    /// Whether nothing may put energy on the tool.
    pub fn no_energy(&self, model: &FaultModel) -> bool {
        let forbids = |id: &str| model.symptom(id).is_some_and(|s| s.forbids_energy);
        self.not_safe
            || self
                .symptoms
                .iter()
                .any(|(id, there)| *there && !self.mended.contains(id) && forbids(id))
    }
}

/// What a bench test says to the check that asks the same; `None` where it is undecided, or fails in another
/// way than the check asks for.
fn answer(check: &Check, model: &ToolModel, read: &BenchTestRead) -> Option<Said> {
    let link = check.test.as_ref()?;
    let test = model.bench_tests.iter().find(|t| t.id == link.test)?;
    match (read.outcome, &test.kind) {
        (Outcome::Undecided, _) => None,
        (Outcome::Accept, _) => Some(Said::No),
        (Outcome::Reject, BenchTestKind::Looked { .. }) => Some(Said::Yes),
        (Outcome::Reject, BenchTestKind::Measured { limits, .. }) => {
            let value = read.value?;
            let is_low = limits.lower().is_some_and(|l| value < l);
            let is_high = limits.upper().is_some_and(|u| value > u);
            let as_asked = match link.fails {
                Some(Side::Low) => is_low,
                Some(Side::High) => is_high,
                // Readings that lie too far apart are rejected between the limits, too.
                None => is_low || is_high,
            };
            as_asked.then_some(Said::Yes)
        }
    }
}
