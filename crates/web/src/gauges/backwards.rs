//! A gauge that failed, and every reading that it took since it was last known good.

use std::collections::BTreeMap;

use calc::Message;
use jiff::Timestamp;
use maud::{Markup, html};
use shop::entry::{Body, Entry, Phase};
use shop::gauge::Failure;
use shop::job::{Job, Stage};
use store::StoreError;
use uuid::Uuid;

use super::page::View;
use crate::job::entry_kind;
use crate::show;

/// Every failure with the jobs that it throws doubt on, newest first; nothing while it never failed.
pub(super) async fn section(v: &View<'_>) -> Result<Markup, StoreError> {
    let failures = v.history.failures(Some(v.gauge));
    if failures.is_empty() {
        return Ok(html! {});
    }
    // One look at the logbook for all of them, from the earliest day on.
    let first = failures.iter().map(|f| f.good).min().flatten();
    let since = first.and_then(|day| day.to_zoned_datetime(v.app.zone.clone()).ok());
    let since = since.map(|at| at.timestamp());
    let entries = v.app.store.entries_with_gauge(&v.gauge.id, since).await?;
    let jobs = jobs(v, &entries).await?;
    Ok(html! {
        @for failure in failures.iter().rev() { (one(v, failure, &jobs)) }
    })
}

/// A job with the readings of the gauge that count in it.
struct Touched {
    number: u32,
    tool: String,
    /// When, and what stage's entry.
    entries: Vec<Entry>,
}

/// The jobs of `entries`, by number, without what was struck.
async fn jobs(v: &View<'_>, entries: &[Entry]) -> Result<Vec<Touched>, StoreError> {
    let mut by_subject: BTreeMap<Uuid, Vec<&Entry>> = BTreeMap::new();
    for entry in entries {
        let is_reading = |e: &&Entry| e.body.readings().iter().any(|r| r.gauge.id == v.gauge.id);
        if is_reading(&entry) {
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
        touched.push(Touched {
            number: job.received.body.number,
            tool: job.received.body.serial.clone(),
            entries: counting.collect(),
        });
    }
    touched.retain(|job| !job.entries.is_empty());
    touched.sort_by_key(|job| std::cmp::Reverse(job.number));
    Ok(touched)
}

fn one(v: &View, failure: &Failure, jobs: &[Touched]) -> Markup {
    let day = |at: Timestamp| at.to_zoned_datetime(v.app.zone.clone()).date();
    let hit = |job: &Touched| job.entries.iter().any(|e| failure.touches(day(e.at)));
    let hit: Vec<&Touched> = jobs.iter().filter(|job| hit(job)).collect();
    let said = match failure.good {
        Some(good) => Message::new("backwards-since").with("good", show::day(good)),
        None => Message::new("backwards-ever"),
    };
    let said = said
        .with("found", show::day(failure.found))
        .with("jobs", hit.len());
    html! {
        div.warn {
            p { b { (v.say(&said)) } " " a href=(format!("#line-{}", failure.number)) { (v.t("backwards-why")) } }
            @if hit.is_empty() { p { (v.t("backwards-none")) } }
            @else {
                p { (v.t("backwards-do")) }
                ul {
                    @for job in hit {
                        li {
                            a href=(format!("/jobs/{}", job.number)) { (job.number) " · " (job.tool) }
                            ul { @for entry in job.entries.iter().filter(|e| failure.touches(day(e.at))) { (line(v, job.number, entry)) } }
                        }
                    }
                }
            }
        }
    }
}

/// One entry: when, what kind, what was read.
fn line(v: &View, job: u32, entry: &Entry) -> Markup {
    let readings = entry.body.readings();
    let of_gauge = readings.iter().filter(|r| r.gauge.id == v.gauge.id);
    let raw: Vec<String> = of_gauge
        .map(|r| match r.raw.contains(char::is_alphabetic) {
            true => r.raw.trim().to_owned(),
            false => format!("{} {}", r.raw.trim(), r.unit),
        })
        .collect();
    let place = stage(&entry.body).key();
    html! {
        li {
            a href=(format!("/jobs/{job}#{place}")) { (v.t(entry_kind(&entry.body))) } ": " (raw.join(", "))
            " " small { (v.stamp(entry.at, &entry.by)) }
        }
    }
}

/// The stage at whose place the readings of an entry stand.
fn stage(body: &Body) -> Stage {
    match body {
        Body::BenchTestRead(read) if read.phase == Phase::AsLeft => Stage::Proved,
        Body::StepDone(_) => Stage::Rebuilt,
        Body::Fitted(_) | Body::StickOutRead(_) | Body::TrialJointRead(_) => Stage::SetUp,
        _ => Stage::Fault,
    }
}
