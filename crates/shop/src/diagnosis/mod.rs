//! Which cause is likely, and what to look at next.
//!
//! One fault at a time: weights are the sheet's rates, symptoms speak through noisy-OR with the
//! sheet's leak, checks through their chances of a positive. "Something not in the list" is always
//! one of the causes. A symptom that nobody looked for says nothing; one that was looked for and is
//! not there speaks against the causes that show it.

mod seen;

use calc::Message;
use calc::bayes::{METHOD, noisy_or, posterior};
use calc::information::{self, Information};
use calc::working::{Working, fixed, places};

use crate::entry::Said;
use crate::sheet::{Cause, Check, Drive, FaultModel};

pub use seen::Seen;

/// The least that any piece of evidence is taken to be possible with.
const LEAST_CHANCE: f64 = 1e-6;

/// A cause with its probability.
#[derive(Clone, Debug, PartialEq)]
pub struct Ranked<'a> {
    /// The cause; `None` for something not in the list.
    pub cause: Option<&'a Cause>,
    /// Probability.
    pub probability: f64,
    /// What the evidence says of it, strongest first: in favour above 0, in natural-log units
    /// against the average of all causes.
    pub why: Vec<(Evidence<'a>, f64)>,
}

/// A piece of evidence.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Evidence<'a> {
    /// A symptom, there or not.
    Symptom(&'a str, bool),
    /// A check and its answer.
    Check(&'a Check, bool),
}

/// The next look and what it is worth.
#[derive(Clone, Debug, PartialEq)]
pub struct NextCheck<'a> {
    /// The check.
    pub check: &'a Check,
    /// What it is expected to tell.
    pub worth: Information,
    /// Bits per minute: what it is chosen by.
    pub bits_per_minute: f64,
}

/// What the evidence says.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnosis<'a> {
    /// Causes, most likely first.
    pub ranked: Vec<Ranked<'a>>,
    /// Checks not yet made, most telling per minute first.
    pub next: Vec<NextCheck<'a>>,
    /// Nothing may put energy on the tool, so energised checks are left out.
    pub no_energy: bool,
    /// Pieces of evidence that were weighed.
    pub pieces: usize,
}

/// Weighs the causes that occur on `drive`. `None` if the evidence rules everything out or the
/// model has no cause for the drive.
pub fn diagnose<'a>(model: &'a FaultModel, drive: Drive, seen: &Seen) -> Option<Diagnosis<'a>> {
    let causes: Vec<Option<&Cause>> = model
        .causes
        .iter()
        .filter(|c| c.drives.contains(&drive))
        .map(Some)
        .chain(std::iter::once(None))
        .collect();
    let prior: Vec<f64> = causes
        .iter()
        .map(|c| c.map_or(model.unlisted_per_1000, |c| c.per_1000))
        .collect();
    let evidence = evidence(model, seen);
    let logs: Vec<Vec<f64>> = evidence
        .iter()
        .map(|e| {
            causes
                .iter()
                .map(|c| likelihood(model, *e, *c).ln())
                .collect()
        })
        .collect();
    let sums: Vec<f64> = (0..causes.len())
        .map(|i| logs.iter().map(|row| row[i]).sum())
        .collect();
    let p = posterior(&prior, &sums).ok()?;

    let mut ranked: Vec<Ranked> = causes
        .iter()
        .enumerate()
        .map(|(i, cause)| Ranked {
            cause: *cause,
            probability: p[i],
            why: why(&evidence, &logs, i),
        })
        .collect();
    ranked.sort_by(|a, b| b.probability.total_cmp(&a.probability));

    let no_energy = seen.no_energy(model);
    let next = next_checks(model, &causes, &p, seen, no_energy);
    Some(Diagnosis {
        ranked,
        next,
        no_energy,
        pieces: evidence.len(),
    })
}

fn evidence<'a>(model: &'a FaultModel, seen: &Seen) -> Vec<Evidence<'a>> {
    let symptoms = model.symptoms.iter().filter_map(|s| {
        seen.symptoms
            .get(&s.id)
            .map(|there| Evidence::Symptom(&s.id, *there))
    });
    let checks = model
        .checks
        .iter()
        .filter_map(|c| match seen.checks.get(&c.id)? {
            Said::Yes => Some(Evidence::Check(c, true)),
            Said::No => Some(Evidence::Check(c, false)),
            Said::NotSure => None,
        });
    symptoms.chain(checks).collect()
}

/// Chance of this piece of evidence when `cause` is the only fault.
fn likelihood(model: &FaultModel, evidence: Evidence, cause: Option<&Cause>) -> f64 {
    let (yes, chance) = match evidence {
        Evidence::Symptom(id, there) => {
            let link = cause
                .and_then(|c| c.shows.iter().find(|(s, _)| s == id))
                .map_or(0.0, |(_, p)| *p);
            (there, noisy_or(link, model.leak))
        }
        Evidence::Check(check, yes) => (yes, positive(check, cause)),
    };
    // No look is beyond doubt, whatever the sheet says: a cause that was ruled out by one answer
    // could never come back.
    if yes { chance } else { 1.0 - chance }.clamp(LEAST_CHANCE, 1.0)
}

fn positive(check: &Check, cause: Option<&Cause>) -> f64 {
    cause
        .and_then(|c| check.links.iter().find(|l| l.cause == c.id))
        .map_or(check.false_alarm, |l| l.if_true)
}

fn why<'a>(evidence: &[Evidence<'a>], logs: &[Vec<f64>], i: usize) -> Vec<(Evidence<'a>, f64)> {
    let mut why: Vec<(Evidence, f64)> = evidence
        .iter()
        .zip(logs)
        .map(|(e, row)| (*e, row[i] - row.iter().sum::<f64>() / row.len() as f64))
        .collect();
    why.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    why
}

fn next_checks<'a>(
    model: &'a FaultModel,
    causes: &[Option<&Cause>],
    p: &[f64],
    seen: &Seen,
    no_energy: bool,
) -> Vec<NextCheck<'a>> {
    let mut next: Vec<NextCheck> = model
        .checks
        .iter()
        .filter(|c| !seen.checks.contains_key(&c.id))
        .filter(|c| !no_energy || !c.state.energised())
        .filter(|c| {
            causes
                .iter()
                .flatten()
                .any(|cause| c.links.iter().any(|l| l.cause == cause.id))
        })
        .map(|check| {
            let yes: Vec<f64> = causes
                .iter()
                .map(|c| positive(check, *c).clamp(LEAST_CHANCE, 1.0 - LEAST_CHANCE))
                .collect();
            let worth = information::expected(p, &yes);
            NextCheck {
                check,
                worth,
                bits_per_minute: worth.bits / check.minutes,
            }
        })
        .filter(|n| n.worth.bits > 1e-6)
        .collect();
    next.sort_by(|a, b| b.bits_per_minute.total_cmp(&a.bits_per_minute));
    next
}

/// How the probability of a cause was reckoned.
pub fn working(model: &FaultModel, first: &Ranked, pieces: usize) -> Working {
    let prior = first.cause.map_or(model.unlisted_per_1000, |c| c.per_1000);
    let weight: f64 = first.why.iter().map(|(_, w)| w).sum();
    // What the same product gives, summed over all causes: P is this cause's share of it.
    let sum = prior * weight.exp() / first.probability;
    Working::new(METHOD)
        .given(
            "r",
            Message::new("given-rate"),
            prior,
            places(prior, 0),
            "/1000",
        )
        .given("n", Message::new("given-pieces"), pieces as f64, 0, "")
        .given("W", Message::new("given-weight"), weight, 4, "")
        .given("S", Message::new("given-all-causes"), sum, 2, "")
        .step("P", "r · exp(W) / S", first.probability, 3, "")
        .note(Message::new("note-single-fault").with("basis", model.basis.as_str()))
}

/// A probability as a whole percentage; below 1 and above 99 no more is said than that.
pub fn percent(p: f64) -> String {
    if p < 0.01 {
        "<1 %".to_owned()
    } else if p > 0.99 {
        ">99 %".to_owned()
    } else {
        format!("{} %", fixed(p * 100.0, 0))
    }
}
