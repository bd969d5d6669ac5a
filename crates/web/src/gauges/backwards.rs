//! A gauge that failed, and everything that it took since it was last known good.

use std::collections::BTreeMap;

use calc::Message;
use jiff::Timestamp;
use maud::{Markup, html};
use shop::entry::{Body, Entry, Outcome, Phase};
use shop::gauge::Failure;
use shop::job::{Job, Stage};
use store::StoreError;
use uuid::Uuid;

use super::page::View;
use crate::job::{entry_kind, names};
use crate::show;

/// Every failure with the jobs that it throws doubt on, newest first; nothing while it never failed.
pub(super) async fn section(v: &View<'_>) -> Result<Markup, StoreError> {
    let failures = v.history.failures(Some(v.gauge));
    let jobs = touched(v, &failures).await?;
    Ok(html! {
        @for failure in failures.iter().rev() { (one(v, failure, &jobs)) }
    })
}

/// A job with what the gauge took in it that counts.
pub(super) struct Touched {
    /// The job.
    pub job: Job,
    /// Its entries that rest on the gauge, oldest first.
    pub entries: Vec<Entry>,
}

impl Touched {
    /// The entries that `failure` throws doubt on.
    pub fn in_doubt<'a>(
        &'a self,
        v: &'a View,
        failure: &'a Failure,
    ) -> impl Iterator<Item = &'a Entry> {
        let day = |at: Timestamp| at.to_zoned_datetime(v.app.zone.clone()).date();
        let entries = self.entries.iter();
        entries.filter(move |e| failure.touches(day(e.at)))
    }
}

/// The jobs that any of `failures` can touch, newest first: one look at the logbook for all of them, from the earliest
/// day on.
pub(super) async fn touched(
    v: &View<'_>,
    failures: &[Failure],
) -> Result<Vec<Touched>, StoreError> {
    if failures.is_empty() {
        return Ok(Vec::new());
    }
    let first = failures.iter().map(|f| f.good).min().flatten();
    let since = first.and_then(|day| day.to_zoned_datetime(v.app.zone.clone()).ok());
    let since = since.map(|at| at.timestamp());
    let entries = v.app.store.entries_with_gauge(&v.gauge.id, since).await?;
    jobs(v, &entries).await
}

/// The jobs of `entries`, by number, without what was struck.
async fn jobs(v: &View<'_>, entries: &[Entry]) -> Result<Vec<Touched>, StoreError> {
    let mut by_subject: BTreeMap<Uuid, Vec<&Entry>> = BTreeMap::new();
    for entry in entries {
        if entry.body.readings_with(&v.gauge.id) > 0 {
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
    touched.retain(|touched| !touched.entries.is_empty());
    touched.sort_by_key(|touched| std::cmp::Reverse(touched.job.received.body.number));
    Ok(touched)
}

fn one(v: &View, failure: &Failure, jobs: &[Touched]) -> Markup {
    let hit = |job: &&Touched| job.in_doubt(v, failure).next().is_some();
    let hit: Vec<&Touched> = jobs.iter().filter(hit).collect();
    let said = match failure.good {
        Some(good) => Message::new("backwards-since").with("good", show::day(good)),
        None => Message::new("backwards-ever"),
    };
    let said = said
        .with("found", show::day(failure.found))
        .with("jobs", hit.len());
    let paper = format!(
        "{}/failures/{}.pdf",
        super::path(&v.gauge.id),
        failure.number
    );
    html! {
        div.warn {
            p { b { (v.say(&said)) } " " a href=(format!("#line-{}", failure.number)) { (v.t("backwards-why")) } }
            @if hit.is_empty() { p { (v.t("backwards-none")) } }
            @else {
                p { (v.t("backwards-do")) }
                p { a href=(paper) { (v.t("backwards-paper")) } }
                ul {
                    @for touched in hit {
                        @let received = &touched.job.received.body;
                        li {
                            a href=(format!("/jobs/{}", received.number)) { (received.number) " · " (received.serial) }
                            ul { @for entry in touched.in_doubt(v, failure) { (line(v, received.number, entry)) } }
                        }
                    }
                }
            }
        }
    }
}

/// One entry: when, what kind, what was read.
fn line(v: &View, job: u32, entry: &Entry) -> Markup {
    let place = stage(&entry.body).key();
    html! {
        li {
            a href=(format!("/jobs/{job}#{place}")) { (v.t(entry_kind(&entry.body))) } ": " (read(v, &entry.body))
            " " small { (v.stamp(entry.at, &entry.by)) }
        }
    }
}

/// What the gauge read.
pub(super) fn read(v: &View, body: &Body) -> String {
    if let Body::PullsRead(read) = body {
        let said = Message::new("backwards-pulls").with("count", read.pulls.len());
        return v.say(&said.with("name", read.name.as_str()));
    }
    let readings = body.readings().into_iter();
    let of_gauge = readings.filter(|r| r.gauge.id == v.gauge.id);
    let raw = of_gauge.map(|r| match r.raw.contains(char::is_alphabetic) {
        true => r.raw.trim().to_owned(),
        false => format!("{} {}", r.raw.trim(), r.unit),
    });
    raw.collect::<Vec<_>>().join(", ")
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
