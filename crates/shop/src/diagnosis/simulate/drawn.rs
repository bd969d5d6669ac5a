//! A job with a cause that is known, with all that could be seen of it: whoever works it, and in whatever order, sees the
//! same.

use std::collections::BTreeMap;

use super::Bench;
use crate::entry::Said;
use crate::sheet::{Cause, Check, FaultModel};

/// A job.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn<'a> {
    /// The cause: the only one.
    pub cause: &'a Cause,
    /// Symptoms of the tool by id, and whether each is there: one at least.
    pub symptoms: BTreeMap<String, bool>,
    /// Which of the cause's fasteners the joint as found is of; 0 to 1.
    pub joint: f64,
    /// What each check answers, by id.
    answers: BTreeMap<String, Said>,
}

impl Drawn<'_> {
    /// What the crew reports; where it was `asked`, also what is not there.
    pub(super) fn reported(&self, asked: bool) -> BTreeMap<String, bool> {
        let symptoms = self.symptoms.iter().filter(|(_, there)| asked || **there);
        symptoms.map(|(id, there)| (id.clone(), *there)).collect()
    }

    /// What `check` answers.
    pub(super) fn answer(&self, check: &Check) -> Said {
        let answer = self.answers.get(&check.id);
        answer.copied().unwrap_or(Said::NotSure)
    }
}

impl<'a> Bench<'a> {
    /// A job of a tool of this bench; `uniform` draws between 0 and 1.
    pub fn drawn(&self, uniform: &mut impl FnMut() -> f64) -> Drawn<'a> {
        let cause = self.cause(uniform);
        let symptoms = self.symptoms(cause, uniform);
        let joint = uniform();
        let checks = self.truth.checks.iter();
        let answers = checks.map(|check| (check.id.clone(), answer(check, cause, uniform)));
        Drawn {
            cause,
            symptoms,
            joint,
            answers: answers.collect(),
        }
    }

    fn cause(&self, uniform: &mut impl FnMut() -> f64) -> &'a Cause {
        let truth: &'a FaultModel = self.truth;
        let kinds = self.shelf.settable_kinds(self.tool);
        let occurs = |cause: &&Cause| {
            cause.drives.contains(&self.drive())
                && cause.fasteners.iter().any(|k| kinds.contains(k))
        };
        let causes: Vec<&'a Cause> = truth.causes.iter().filter(occurs).collect();
        let all: f64 = causes.iter().map(|c| c.per_1000).sum();
        let mut at = uniform() * all;
        for cause in &causes {
            at -= cause.per_1000;
            if at < 0.0 {
                return cause;
            }
        }
        causes[causes.len() - 1]
    }

    /// What is to be seen of a tool with `cause`: never nothing.
    fn symptoms(&self, cause: &Cause, uniform: &mut impl FnMut() -> f64) -> BTreeMap<String, bool> {
        // Signs that only stop the work tell nothing and would close half the checks.
        let tells = |id: &str| {
            let mut shown = self.truth.causes.iter().flat_map(|c| &c.shows);
            shown.any(|(s, _)| s == id)
        };
        let symptoms = self.truth.symptoms.iter();
        let kinds = self.shelf.settable_kinds(self.tool);
        let symptoms = symptoms.filter(|s| {
            let of_tool = s.fasteners.iter().any(|k| kinds.contains(k));
            s.drives.contains(&self.drive()) && of_tool && tells(&s.id)
        });
        loop {
            let mut drawn = BTreeMap::new();
            for symptom in symptoms.clone() {
                let link = cause.shows.iter().find(|(id, _)| *id == symptom.id);
                let chance = 1.0 - (1.0 - link.map_or(0.0, |l| l.1)) * (1.0 - self.truth.leak);
                drawn.insert(symptom.id.clone(), uniform() < chance);
            }
            if drawn.values().any(|there| *there) {
                return drawn;
            }
        }
    }
}

fn answer(check: &Check, cause: &Cause, uniform: &mut impl FnMut() -> f64) -> Said {
    let mut links = check.links.iter();
    let link = links.find(|l| l.cause == cause.id);
    if uniform() < link.map_or(check.false_alarm, |l| l.if_true) {
        Said::Yes
    } else {
        Said::No
    }
}
