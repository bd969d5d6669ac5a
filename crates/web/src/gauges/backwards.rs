//! A gauge that failed, or a calibration that was struck, and every reading that falls with it.

use std::collections::BTreeMap;

use calc::Message;
use calc::working::fixed;
use jiff::Timestamp;
use jiff::civil::Date;
use maud::{Markup, html};
use shop::entry::{Body, Entry, Phase};
use shop::gauge::{Doubt, Failure, Stands, Taken, What, Written};
use shop::job::{Job, Stage};
use shop::sheet::Feature;
use store::StoreError;
use uuid::Uuid;

use super::history::way_name;
use super::page::View;
use crate::job::entry_kind;
use crate::pulls::names;
use crate::show;

/// Everything that throws doubt on readings, with the jobs that they stand in, newest first; nothing while the gauge
/// never failed and no calibration that was used was struck.
pub(super) async fn section(v: &View<'_>) -> Result<Markup, StoreError> {
    let mut doubts: Vec<(Date, Doubt)> = v
        .history
        .lines()
        .iter()
        .filter(|line| line.struck.is_some() && matches!(line.what, Written::Calibrated(_)))
        .map(|line| (line.date(), Doubt::Struck(line.number())))
        .collect();
    let failures = v.history.failures(Some(v.gauge));
    doubts.extend(failures.iter().map(|f| (f.found, Doubt::Failed(*f))));
    if doubts.is_empty() {
        return Ok(html! {});
    }
    doubts.sort_by_key(|(day, doubt)| std::cmp::Reverse((*day, doubt.number())));
    // One look at the logbook for all of them, from the earliest day on.
    let from = |(day, doubt): &(Date, Doubt)| match doubt {
        Doubt::Failed(failure) => failure.good,
        Doubt::Struck(_) => Some(*day),
    };
    let first = doubts.iter().map(from).min().flatten();
    let since = first.and_then(|day| day.to_zoned_datetime(v.app.zone.clone()).ok());
    let since = since.map(|at| at.timestamp());
    let entries = v.app.store.entries_with_gauge(&v.gauge.id, since).await?;
    let jobs = jobs(v, &entries).await?;
    Ok(html! {
        @for (_, doubt) in &doubts { (one(v, doubt, &jobs)) }
    })
}

/// A job with the entries of the gauge that count in it.
struct Touched {
    job: Job,
    entries: Vec<Entry>,
}

/// The jobs of `entries`, by number, without what was struck.
async fn jobs(v: &View<'_>, entries: &[Entry]) -> Result<Vec<Touched>, StoreError> {
    let mut by_subject: BTreeMap<Uuid, Vec<&Entry>> = BTreeMap::new();
    for entry in entries {
        let is_taken = |e: &&Entry| e.body.taken().iter().any(|t| t.gauge.id == v.gauge.id);
        if is_taken(&entry) {
            by_subject.entry(entry.subject).or_default().push(entry);
        }
    }
    let mut touched = Vec::new();
    for (subject, entries) in by_subject {
        let all = v.app.store.entries(subject).await?;
        let all: Vec<Entry> = all.into_iter().map(|l| l.entry).collect();
        let Some(job) = Job::fold(&all) else { continue };
        let struck = |version| job.struck.iter().any(|(entry, _)| entry.version == version);
        let counting = entries.into_iter().filter(|e| !struck(e.version)).cloned();
        let entries = counting.collect();
        touched.push(Touched { job, entries });
    }
    touched.retain(|job| !job.entries.is_empty());
    touched.sort_by_key(|touched| std::cmp::Reverse(touched.job.received.body.number));
    Ok(touched)
}

fn day_of(v: &View, at: Timestamp) -> Date {
    at.to_zoned_datetime(v.app.zone.clone()).date()
}

/// What `doubt` throws doubt on in an entry.
fn doubted<'a>(v: &View, doubt: &Doubt, entry: &'a Entry) -> Vec<Taken<'a>> {
    let day = day_of(v, entry.at);
    let mut taken = entry.body.taken();
    let falls = |t: &Taken| t.doubts(v.history, Some(v.gauge), day).contains(doubt);
    taken.retain(|t| t.gauge.id == v.gauge.id && falls(t));
    taken
}

fn one(v: &View, doubt: &Doubt, jobs: &[Touched]) -> Markup {
    let falls = |e: &&Entry| !doubted(v, doubt, e).is_empty();
    let hit = |job: &&Touched| job.entries.iter().any(|e| falls(&e));
    let hit: Vec<&Touched> = jobs.iter().filter(hit).collect();
    let said = match doubt {
        Doubt::Failed(failure) => found(v, failure, hit.len()),
        Doubt::Struck(_) if hit.is_empty() => return html! {},
        Doubt::Struck(number) => v.say(
            &Message::new("backwards-struck")
                .with("n", *number)
                .with("jobs", hit.len()),
        ),
    };
    html! {
        div.warn {
            p { b { (said) } " " a href=(format!("#line-{}", doubt.number())) { (v.t("backwards-why")) } }
            @if hit.is_empty() { p { (v.t("backwards-none")) } }
            @else {
                p { (v.t("backwards-do")) }
                p.hint { (v.t("backwards-reckoned")) }
                ul {
                    @for touched in hit {
                        @let received = &touched.job.received.body;
                        li {
                            a href=(format!("/jobs/{}", received.number)) { (received.number) " · " (received.serial) }
                            ul { @for entry in touched.entries.iter().filter(falls) { (line(v, doubt, &touched.job, entry)) } }
                        }
                    }
                }
            }
        }
    }
}

/// When it was found, in which direction, and how many jobs that reaches.
fn found(v: &View, failure: &Failure, jobs: usize) -> String {
    let said = match failure.good {
        Some(good) => Message::new("backwards-since").with("good", show::day(good)),
        None => Message::new("backwards-ever"),
    };
    let said = said
        .with("found", show::day(failure.found))
        .with("jobs", jobs);
    let said = v.say(&said);
    match failure.way {
        Some(way) => format!("{}: {said}", v.t(way_name(way))),
        None => said,
    }
}

/// One entry: when, what kind, what was read, and whether its verdict would stand.
fn line(v: &View, doubt: &Doubt, job: &Job, entry: &Entry) -> Markup {
    let read: Vec<String> = doubted(v, doubt, entry)
        .iter()
        .map(|t| read(v, t))
        .collect();
    let place = stage(&entry.body).key();
    let number = job.received.body.number;
    let desk = v.app.desk(v.shelf);
    let day = day_of(v, entry.at);
    let (class, stands) = match job.would_stand(&entry.body, &v.gauge.id, doubt, day, &desk) {
        Stands::Yes => ("v acc", "backwards-stands"),
        Stands::Unknown => ("v und", "backwards-unknown"),
        Stands::No => ("v rej", "backwards-falls"),
    };
    html! {
        li {
            a href=(format!("/jobs/{number}#{place}")) { (v.t(entry_kind(&entry.body))) } ": " (read.join(", "))
            " " span class=(class) { (v.t(stands)) }
            " " small { (v.stamp(entry.at, &entry.by)) }
        }
    }
}

/// What the gauge took, in words.
fn read(v: &View, taken: &Taken) -> String {
    let pull = |number: u32| v.say(&Message::new("pull-name").with("number", number));
    match taken.what {
        What::Reading(reading) if reading.raw.contains(char::is_alphabetic) => {
            reading.raw.trim().to_owned()
        }
        What::Reading(reading) => format!("{} {}", reading.raw.trim(), reading.unit),
        What::Number { pull: number, read } => {
            let feature = Feature::parse(&read.feature);
            let name = feature.map_or(read.feature.clone(), |f| v.t(names::plain(f)));
            let decimals = feature.map_or(2, Feature::decimals);
            let symbol = feature.map_or("", Feature::symbol);
            let value = fixed(read.value, decimals);
            format!("{}, {name} {value} {symbol}", pull(number))
        }
        What::Pull(number) => pull(number),
    }
}

/// The stage at whose place the readings of an entry stand.
fn stage(body: &Body) -> Stage {
    match body {
        Body::BenchTestRead(read) if read.phase == Phase::AsLeft => Stage::Proved,
        Body::PullsRead(read) if read.phase == Phase::AsLeft => Stage::Proved,
        Body::StepDone(_) => Stage::Rebuilt,
        Body::Fitted(_) | Body::StickOutRead(_) | Body::TrialJointRead(_) => Stage::SetUp,
        _ => Stage::Fault,
    }
}
