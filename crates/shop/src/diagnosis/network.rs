//! The fault model of one drive as the reckoning takes it: causes, and the questions that tell them apart.

use calc::fault_finder::{Handed, Link, Model, Observation, Question, link_of};

use super::{Evidence, Seen};
use crate::entry::Said;
use crate::sheet::{Cause, Check, Drive, FastenerKind, FaultModel, Symptom};

/// Rates are held inside this: what is certain before anybody looked could never be doubted.
const RATE: (f64, f64) = (1e-6, 0.999);

/// How often a part is beyond its limit where its wear is the cause of the complaint, and how often where another
/// cause is. Common practice, no source.
const WORN: (f64, f64) = (0.9, 0.3);

/// Causes and questions of a drive, with their places in the model.
pub(super) struct Network<'a> {
    /// The causes that occur on the drive; `None`, the last, for something not in the list.
    pub causes: Vec<Option<&'a Cause>>,
    symptoms: &'a [Symptom],
    /// Checks that tell at least one of the causes.
    pub checks: Vec<&'a Check>,
    /// The numbers: symptoms first, then checks.
    pub model: Model,
}

impl<'a> Network<'a> {
    /// `None` where the numbers do not make a model; no sheet that was read comes to that.
    pub fn of(faults: &'a FaultModel, drive: Drive, seen: &Seen) -> Option<Self> {
        // What concerns other fasteners than those of the job is neither weighed nor asked.
        let of_job = |kinds: &[FastenerKind]| {
            seen.fasteners.is_empty() || kinds.iter().any(|kind| seen.fasteners.contains(kind))
        };
        let listed = faults.causes.iter();
        let listed = listed.filter(|c| c.drives.contains(&drive) && of_job(&c.fasteners));
        let causes: Vec<Option<&Cause>> = listed.map(Some).chain([None]).collect();
        // Odds of all are scaled alike: one fault alone is weighed as the rates say, and each further one at
        // once with it counts so much less.
        let prior = |cause: &Option<&Cause>| {
            let per_1000 = cause.map_or(faults.unlisted_per_1000, |c| c.per_1000);
            let rate = (per_1000 / 1000.0).clamp(RATE.0, RATE.1);
            let odds = faults.at_once * rate / (1.0 - rate);
            odds / (1.0 + odds)
        };
        let place = |id: &str| causes.iter().position(|c| c.is_some_and(|c| c.id == id));
        let checks: Vec<&Check> = faults
            .checks
            .iter()
            // An answer that was given still tells.
            .filter(|check| of_job(&check.fasteners) || seen.checks.contains_key(&check.id))
            .filter(|check| check.links.iter().any(|l| place(&l.cause).is_some()))
            .collect();
        let of_symptom = |symptom: &Symptom| Question {
            leak: faults.leak,
            links: causes
                .iter()
                .enumerate()
                .filter_map(|(cause, listed)| {
                    let shows = listed.as_ref()?.shows.iter();
                    let (_, chance) = shows.clone().find(|(id, _)| *id == symptom.id)?;
                    Some(Link {
                        cause,
                        chance: *chance,
                    })
                })
                .collect(),
        };
        let of_check = |check: &&Check| Question {
            leak: check.false_alarm,
            links: check
                .links
                .iter()
                .filter_map(|link| {
                    Some(Link {
                        cause: place(&link.cause)?,
                        chance: link_of(check.false_alarm, link.if_true),
                    })
                })
                .collect(),
        };
        let symptoms = faults.symptoms.iter().map(of_symptom);
        let questions = symptoms.chain(checks.iter().map(of_check)).collect();
        let model = Model::new(causes.iter().map(prior).collect(), questions).ok()?;
        Some(Self {
            causes,
            symptoms: &faults.symptoms,
            checks,
            model,
        })
    }

    /// What was seen, as evidence and as the reckoning takes it. "Not sure" says nothing.
    pub fn observed(&self, seen: &Seen) -> Vec<(Evidence<'a>, Observation)> {
        let symptoms = self.symptoms.iter().enumerate().filter_map(|(i, symptom)| {
            let there = *seen.symptoms.get(&symptom.id)?;
            Some((Evidence::Symptom(&symptom.id, there), i, there))
        });
        let checks = self.checks.iter().enumerate().filter_map(|(i, check)| {
            let yes = match seen.checks.get(&check.id)? {
                Said::Yes => true,
                Said::No => false,
                Said::NotSure => return None,
            };
            Some((Evidence::Check(check, yes), self.question_of(i), yes))
        });
        let all = symptoms.chain(checks);
        let answers =
            all.map(|(evidence, question, yes)| (evidence, Observation::Answer { question, yes }));
        answers.chain(self.worn(seen)).collect()
    }

    /// What counter and readings say of worn parts: as a check that is a yes with that probability (virtual
    /// evidence).
    fn worn(&self, seen: &Seen) -> impl Iterator<Item = (Evidence<'a>, Observation)> {
        let (if_true, otherwise) = WORN;
        let weighed = move |share: f64, yes: f64| share * yes + (1.0 - share) * (1.0 - yes);
        seen.worn.iter().filter_map(move |(id, share)| {
            let worn = |cause: &Option<&Cause>| cause.is_some_and(|c| c.id == *id);
            let place = self.causes.iter().position(worn)?;
            let mut alone = vec![weighed(*share, otherwise); self.causes.len()];
            alone[place] = weighed(*share, if_true);
            let handed = Handed {
                alone,
                otherwise: weighed(*share, otherwise),
            };
            let evidence = Evidence::Worn(self.causes[place]?, *share);
            Some((evidence, Observation::Handed(handed)))
        })
    }

    /// The question of the check at `place` among [`Self::checks`].
    pub fn question_of(&self, place: usize) -> usize {
        self.symptoms.len() + place
    }

    /// The question itself.
    pub fn question(&self, place: usize) -> &Question {
        &self.model.questions()[self.question_of(place)]
    }
}
