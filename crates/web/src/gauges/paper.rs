//! The paper of a failure: what the gauge touched, for whoever decides on each reading.

use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::Response;
use calc::Message;
use calc::working::fixed;
use paper::model::{Day, GaugeFailure, JobTouched, RecordHead, Shop, Touched as Read};
use shop::entry::{CheckedAs, GaugeCalibrated, GaugeChecked};
use shop::gauge::{Doubt, Failure, Stands, Written};
use shop::job::Job;
use store::Head;

use super::history::way_name;
use super::page::{Held, Shown, View};
use super::touched::{InDoubt, Touched, touched};
use super::what_was_read;
use crate::app::{App, failed};
use crate::job::{names, papers};
use crate::shell::{Page, error_page};
use crate::show;

/// Where the paper of `failure` of the gauge is.
pub(super) fn path(id: &str, failure: &Failure) -> String {
    format!("{}/failures/{}.pdf", super::path(id), failure.number)
}

/// `2.pdf`: the failure that the line of this number found.
pub(super) async fn answer(
    State(app): State<App>,
    p: Page,
    Path((id, file)): Path<(String, String)>,
) -> Result<Response, Response> {
    let number = file.strip_suffix(".pdf").and_then(|n| n.parse().ok());
    let not_here = || error_page(&p, StatusCode::NOT_FOUND, None);
    let number: u32 = number.ok_or_else(not_here)?;
    let bytes = bytes(&app, &p, &id, Some(number)).await?;
    Ok(papers::pdf(
        &format!("gauge-{id}-failure-{number}.pdf"),
        bytes,
    ))
}

/// The paper of the failure `number` of the gauge, of the newest without a number.
pub(crate) async fn bytes(
    app: &App,
    p: &Page,
    id: &str,
    number: Option<u32>,
) -> Result<Vec<u8>, Response> {
    let not_here = || error_page(p, StatusCode::NOT_FOUND, None);
    let held = Held::of(app, p, id).await?;
    let v = held.view(app, p, Shown::Plain).ok_or_else(not_here)?;
    let mut failures = v.history.failures(Some(v.gauge));
    let number = number.or(failures.last().map(|failure| failure.number));
    // A wrench that failed in both directions may have been good in each until another day.
    failures.retain(|failure| Some(failure.number) == number);
    let doubts: Vec<Doubt> = failures.iter().copied().map(Doubt::Failed).collect();
    let first = failures.first().ok_or_else(not_here)?;
    let touched = touched(&v, &doubts).await.map_err(failed)?;
    let head = app.store.head().await.map_err(failed)?;
    let jobs = touched
        .iter()
        .filter_map(|touched| job(&v, &doubts, touched));
    let jobs = jobs.collect();
    let model = model(&v, first, &failures, jobs, head);
    let words = p.words;
    papers::typeset(move || paper::gauge_failure(&model, words)).await
}

fn model(
    v: &View,
    first: &Failure,
    failures: &[Failure],
    jobs: Vec<JobTouched>,
    head: Head,
) -> GaugeFailure {
    let (found_by, against, points) = found(v, first);
    let card = v.shelf.shops().next().map(|(_, card)| card);
    let range = Message::new("failure-range")
        .with("kind", v.t(names::gauge_kind(v.gauge.kind)))
        .with("least", v.gauge.range.0.to_string())
        .with("most", v.gauge.range.1.to_string())
        .with("unit", v.gauge.unit.symbol());
    GaugeFailure {
        shop: Shop {
            name: card.map(|card| card.name.clone()).unwrap_or_default(),
            place: card
                .map(|card| vec![card.place.clone()])
                .unwrap_or_default(),
        },
        gauge: v.gauge.name.clone(),
        kind: v.say(&range),
        found_by,
        against,
        points,
        good: each(v, failures, |failure| {
            failure.good.map_or_else(|| v.t("failure-never"), show::day)
        }),
        again: each(v, failures, |failure| match failure.again {
            Some(day) => v.say(&Message::new("failure-again").with("day", show::day(day))),
            None => v.t("failure-still"),
        }),
        jobs,
        issued_on: show::day(v.today),
        record: RecordHead {
            sequence: head.seq,
            hash: head.hash,
        },
        issued: Day {
            year: i32::from(v.today.year()),
            month: v.today.month().unsigned_abs(),
            day: v.today.day().unsigned_abs(),
        },
    }
}

/// What `say` says of each failure, with its direction where it has one.
fn each(v: &View, failures: &[Failure], say: impl Fn(&Failure) -> String) -> String {
    let said = failures.iter().map(|failure| match failure.way {
        Some(way) => format!("{}: {}", v.t(way_name(way)), say(failure)),
        None => say(failure),
    });
    said.collect::<Vec<_>>().join("; ")
}

/// What found it, what it was held against, and each point that was read.
fn found(v: &View, failure: &Failure) -> (String, String, Vec<[String; 3]>) {
    let said = |id: &'static str| {
        let line = Message::new(id).with("n", failure.number);
        v.say(&line.with("day", show::day(failure.found)))
    };
    match v.history.line(failure.number).map(|line| &line.what) {
        Some(Written::Calibrated(c)) => {
            let against = format!("{}, {}", v.person(&c.by), c.certificate);
            (
                said("gauge-line-calibration"),
                against,
                of_calibration(v, c),
            )
        }
        Some(Written::Checked(c)) => {
            let way = match c.check {
                CheckedAs::Torque { way, .. } => Some(v.t(way_name(way))),
                CheckedAs::Force { .. } => None,
            };
            let against = std::iter::once(c.reference.clone()).chain(way);
            let against = against.collect::<Vec<_>>().join(", ");
            (said("gauge-line-check"), against, of_check(v, c))
        }
        Some(Written::Studied(_)) | None => Default::default(),
    }
}

fn of_calibration(v: &View, c: &GaugeCalibrated) -> Vec<[String; 3]> {
    let decimals = v.gauge.decimals() + 1;
    let points = c.points.iter().map(|point| {
        let off = point.found.unwrap_or(point.left);
        let sign = if off > 0.0 { "+" } else { "" };
        [
            format!("{} {}", fixed(point.nominal, v.gauge.decimals()), c.unit),
            format!("{sign}{} {}", fixed(off, decimals), c.unit),
            format!("± {} {}", fixed(c.limit, decimals), c.unit),
        ]
    });
    points.collect()
}

fn of_check(v: &View, c: &GaugeChecked) -> Vec<[String; 3]> {
    let points = c.points.iter().map(|point| {
        let sign = if point.deviation_pct > 0.0 { "+" } else { "" };
        [
            format!("{} {}", fixed(point.nominal, v.gauge.decimals()), c.unit),
            format!("{sign}{} %", fixed(point.deviation_pct, 2)),
            format!("± {} %", fixed(point.limit_pct, 1)),
        ]
    });
    points.collect()
}

/// A job with readings in doubt; `None` where it has none.
fn job(v: &View, doubts: &[Doubt], touched: &Touched) -> Option<JobTouched> {
    let job = &touched.job;
    let received = &job.received.body;
    let in_doubt = touched.in_doubt(v, doubts);
    let model = job.model(&v.app.desk(v.shelf)).map(|m| m.name.clone());
    let tool = model.into_iter().chain([received.serial.clone()]);
    // The certificate in force is what somebody holds in their hands.
    let certificate = job.certificate().map(|c| &c.body);
    let rests = certificate.filter(|c| {
        let versions = in_doubt.iter().map(|one| one.entry.version);
        versions
            .into_iter()
            .any(|version| c.rests_on.contains(&version))
    });
    (!in_doubt.is_empty()).then(|| JobTouched {
        number: received.number.to_string(),
        tool: tool.collect::<Vec<_>>().join(", "),
        customer: v.person(&received.customer),
        place: v.t(match job.returned {
            Some(_) => "failure-gone",
            None => "failure-here",
        }),
        certificates: rests.map(|c| c.number.clone()).into_iter().collect(),
        readings: in_doubt.iter().map(|one| read(v, job, one)).collect(),
    })
}

fn read(v: &View, job: &Job, one: &InDoubt) -> Read {
    let InDoubt { entry, stands, .. } = one;
    Read {
        when: v.stamp(entry.at, &entry.by),
        what: what_was_read::what(v, job, &entry.body),
        read: what_was_read::read(v, one),
        verdict: what_was_read::outcome(&entry.body).map(Into::into),
        reckoned: match stands {
            Stands::Yes => Some(true),
            Stands::No => Some(false),
            Stands::Unknown => None,
        },
    }
}
