//! Causes that no check of the fault model tells apart.

use crate::sheet::{Cause, Check, Drive, FaultModel};

/// A check tells two causes apart where their chances of a yes differ by so much. Common practice, no source.
const TELLS_APART: f64 = 0.05;

/// Two causes to which every check answers alike.
#[derive(Clone, Debug, PartialEq)]
pub struct Alike<'a> {
    /// One.
    pub one: &'a Cause,
    /// The other.
    pub other: &'a Cause,
    /// Whether a symptom tells them apart, at least.
    pub by_symptom: bool,
}

/// Every such pair that occurs on `drive`.
pub fn alike(faults: &FaultModel, drive: Drive) -> Vec<Alike<'_>> {
    let causes: Vec<&Cause> = faults
        .causes
        .iter()
        .filter(|cause| cause.drives.contains(&drive))
        .collect();
    let mut pairs = Vec::new();
    for (place, one) in causes.iter().enumerate() {
        for other in &causes[place + 1..] {
            let mut checks = faults.checks.iter();
            if !checks.any(|check| differ(yes(check, one), yes(check, other))) {
                let mut symptoms = faults.symptoms.iter();
                pairs.push(Alike {
                    one,
                    other,
                    by_symptom: symptoms.any(|s| differ(shown(one, &s.id), shown(other, &s.id))),
                });
            }
        }
    }
    pairs
}

fn differ(one: f64, other: f64) -> bool {
    (one - other).abs() >= TELLS_APART
}

fn yes(check: &Check, cause: &Cause) -> f64 {
    let link = check.links.iter().find(|link| link.cause == cause.id);
    link.map_or(check.false_alarm, |link| link.if_true)
}

fn shown(cause: &Cause, symptom: &str) -> f64 {
    let shows = cause.shows.iter().find(|(id, _)| id == symptom);
    shows.map_or(0.0, |(_, chance)| *chance)
}
