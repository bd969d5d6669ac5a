//! A gauge that failed, or a calibration that was struck, and every reading that falls with it.

use calc::Message;
use maud::{Markup, html};
use shop::entry::{Body, Phase};
use shop::gauge::{Doubt, Failure, Stands};
use shop::job::{Job, Stage};
use store::StoreError;

use super::history::way_name;
use super::page::View;
use super::touched::{InDoubt, Touched, doubts, touched};
use super::what_was_read::read;
use crate::job::entry_kind;
use crate::show;

/// Everything that throws doubt on readings, with the jobs that they stand in, newest first; nothing while the gauge
/// never failed and no calibration that was used was struck.
pub(super) async fn section(v: &View<'_>) -> Result<Markup, StoreError> {
    let doubts = doubts(v);
    let jobs = touched(v, &doubts).await?;
    Ok(html! {
        @for doubt in &doubts { (one(v, *doubt, &jobs)) }
    })
}

fn one(v: &View, doubt: Doubt, jobs: &[Touched]) -> Markup {
    let hit = jobs.iter().map(|job| (job, job.in_doubt(v, &[doubt])));
    let hit: Vec<_> = hit.filter(|(_, in_doubt)| !in_doubt.is_empty()).collect();
    let said = match doubt {
        Doubt::Failed(failure) => found(v, &failure, hit.len()),
        Doubt::Struck(_) if hit.is_empty() => return html! {},
        Doubt::Struck(number) => v.say(
            &Message::new("backwards-struck")
                .with("n", number)
                .with("jobs", hit.len()),
        ),
    };
    html! {
        div.warn {
            p { b { (said) } " " a href=(format!("#line-{}", doubt.number())) { (v.t("backwards-why")) } }
            @if hit.is_empty() { p { (v.t("backwards-none")) } }
            @else {
                p { (v.t("backwards-do")) }
                @if let Doubt::Failed(failure) = doubt {
                    p { a href=(super::paper::path(&v.gauge.id, &failure)) { (v.t("backwards-paper")) } }
                }
                @if v.history.found_rises(v.gauge, &doubt) { p.hint { (v.t("backwards-reckoned")) } }
                @else { p { (v.t("backwards-not-rising")) } }
                ul {
                    @for (touched, in_doubt) in &hit {
                        @let received = &touched.job.received.body;
                        li {
                            a href=(format!("/jobs/{}", received.number)) { (received.number) " · " (received.serial) }
                            ul { @for one in in_doubt { (line(v, &touched.job, one)) } }
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
fn line(v: &View, job: &Job, one: &InDoubt) -> Markup {
    let entry = one.entry;
    let place = stage(&entry.body).key();
    let number = job.received.body.number;
    let (class, stands) = match one.stands {
        Stands::Yes => ("v acc", "backwards-stands"),
        Stands::Unknown => ("v und", "backwards-unknown"),
        Stands::No => ("v rej", "backwards-falls"),
    };
    html! {
        li {
            a href=(format!("/jobs/{number}#{place}")) { (v.t(entry_kind(&entry.body))) } ": " (read(v, one))
            " " span class=(class) { (v.t(stands)) }
            " " small { (v.stamp(entry.at, &entry.by)) }
        }
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
