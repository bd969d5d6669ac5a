//! What a gauge took, in words.

use calc::Message;
use calc::working::fixed;
use shop::entry::{Body, Outcome, PullsRead, Reading};
use shop::gauge::{Taken, What};
use shop::job::Job;
use shop::sheet::Feature;

use super::page::View;
use super::touched::InDoubt;
use crate::job::{entry_kind, names};
use crate::pulls;

/// What the gauge read that is in doubt: `20.1 kN, 20.3 kN`, or `2 pulls of stall.csv · Peak 20.41, 20.52 kN`.
pub(super) fn read(v: &View, one: &InDoubt) -> String {
    if let Body::PullsRead(read) = &one.entry.body {
        return of_pulls(v, read, &one.taken);
    }
    let raw = one.taken.iter().filter_map(|taken| match taken.what {
        What::Reading(reading) => Some(typed(reading)),
        What::Number { .. } | What::Pull(_) => None,
    });
    raw.collect::<Vec<_>>().join(", ")
}

/// As typed, with its unit.
fn typed(reading: &Reading) -> String {
    match reading.raw.contains(char::is_alphabetic) {
        true => reading.raw.trim().to_owned(),
        false => format!("{} {}", reading.raw.trim(), reading.unit),
    }
}

/// How many pulls, then each of their numbers.
fn of_pulls(v: &View, read: &PullsRead, taken: &[Taken]) -> String {
    let mut pulls: Vec<u32> = taken.iter().filter_map(Taken::pull).collect();
    pulls.dedup();
    let count = Message::new("backwards-pulls")
        .with("count", pulls.len())
        .with("name", read.name.as_str());
    let mut numbers: Vec<(&str, Vec<f64>)> = Vec::new();
    for one in taken {
        let What::Number { read, .. } = one.what else {
            continue;
        };
        match numbers.iter_mut().find(|(key, _)| *key == read.feature) {
            Some((_, values)) => values.push(read.value),
            None => numbers.push((&read.feature, vec![read.value])),
        }
    }
    let numbers = numbers.into_iter().map(|(key, values)| {
        let feature = Feature::parse(key);
        let name = feature.map_or(key.to_owned(), |f| v.t(pulls::names::plain(f)));
        let shown = |value: &f64| fixed(*value, feature.map_or(2, Feature::decimals));
        let values: Vec<String> = values.iter().map(shown).collect();
        let symbol = feature.map_or("", Feature::symbol);
        let text = format!("{name} {} {symbol}", values.join(", "));
        text.trim_end().to_owned()
    });
    let said = std::iter::once(v.say(&count)).chain(numbers);
    said.collect::<Vec<_>>().join(" · ")
}

/// What was read for: the test and when it was made, else the kind of entry.
pub(super) fn what(v: &View, job: &Job, body: &Body) -> String {
    let kind = v.t(entry_kind(body));
    let (name, phase) = match body {
        Body::BenchTestRead(read) => {
            let model = job.model(&v.app.desk(v.shelf));
            let test = model.and_then(|m| m.bench_tests.iter().find(|t| t.id == read.test));
            (
                test.map_or(read.test.clone(), |t| t.name.clone()),
                read.phase,
            )
        }
        Body::PullsRead(read) => (kind, read.phase),
        _ => return kind,
    };
    let said = Message::new("backwards-what").with("phase", v.t(names::phase(phase)));
    v.say(&said.with("what", name))
}

/// The verdict that an entry gave.
pub(super) fn outcome(body: &Body) -> Option<Outcome> {
    match body {
        Body::BenchTestRead(read) => Some(read.outcome),
        Body::FoundJointRead(read) => Some(read.outcome),
        Body::TrialJointRead(read) => Some(read.outcome),
        Body::StepDone(done) => done.outcome,
        Body::PullsRead(read) => read.outcome,
        _ => None,
    }
}
