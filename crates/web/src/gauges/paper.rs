//! The paper of a failure: what the gauge touched, for whoever decides on each reading.

use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::Response;
use calc::Message;
use calc::working::fixed;
use paper::model::{Day, GaugeFailure, JobTouched, RecordHead, Shop, Touched as Read};
use shop::entry::{CheckedAs, Entry, GaugeCalibrated, GaugeChecked};
use shop::gauge::{Failure, Written};
use store::Head;

use super::backwards::{self, Touched};
use super::page::{Held, Shown, View};
use crate::app::{App, failed};
use crate::job::{names, papers};
use crate::shell::{Page, error_page};
use crate::show;

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
    let failures = v.history.failures(Some(v.gauge));
    let failure = match number {
        Some(number) => failures.iter().find(|failure| failure.number == number),
        None => failures.last(),
    };
    let failure = failure.ok_or_else(not_here)?;
    let touched = backwards::touched(&v, &failures).await.map_err(failed)?;
    let head = app.store.head().await.map_err(failed)?;
    let model = model(&v, failure, &touched, head);
    let words = p.words;
    papers::typeset(move || paper::gauge_failure(&model, words)).await
}

fn model(v: &View, failure: &Failure, touched: &[Touched], head: Head) -> GaugeFailure {
    let (found_by, against, points) = found(v, failure);
    let card = v.shelf.shops().next().map(|(_, card)| card);
    let jobs = touched
        .iter()
        .filter_map(|touched| job(v, failure, touched));
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
        good: failure.good.map_or_else(|| v.t("failure-never"), show::day),
        again: match failure.again {
            Some(day) => v.say(&Message::new("failure-again").with("day", show::day(day))),
            None => v.t("failure-still"),
        },
        jobs: jobs.collect(),
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
                CheckedAs::Torque { way } => Some(v.t(super::history::way_name(way))),
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
fn job(v: &View, failure: &Failure, touched: &Touched) -> Option<JobTouched> {
    let job = &touched.job;
    let received = &job.received.body;
    let entries: Vec<&Entry> = touched.in_doubt(v, failure).collect();
    let model = job.model(&v.app.desk(v.shelf)).map(|m| m.name.clone());
    let tool = model.into_iter().chain([received.serial.clone()]);
    // The certificate in force is what somebody holds in their hands.
    let certificate = job.certificate().map(|c| &c.body);
    let rests = certificate.filter(|c| entries.iter().any(|e| c.rests_on.contains(&e.version)));
    let readings = entries.iter().map(|entry| Read {
        when: v.stamp(entry.at, &entry.by),
        what: backwards::what(v, job, &entry.body),
        read: backwards::read(v, &entry.body),
        verdict: backwards::outcome(&entry.body).map(Into::into),
    });
    (!entries.is_empty()).then(|| JobTouched {
        number: received.number.to_string(),
        tool: tool.collect::<Vec<_>>().join(", "),
        customer: v.person(&received.customer),
        place: v.t(match job.returned {
            Some(_) => "failure-gone",
            None => "failure-here",
        }),
        certificates: rests.map(|c| c.number.clone()).into_iter().collect(),
        readings: readings.collect(),
    })
}
