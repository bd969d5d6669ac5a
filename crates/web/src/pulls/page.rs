//! The page of one recording: what is wrong with it, what could be read, and what counts.

use axum::extract::{Path, Query, RawQuery, State};
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{Html, IntoResponse, Response};
use calc::Message;
use calc::pull::recording::{Place, What};
use maud::{Markup, PreEscaped, html};
use paper::pull_plot;
use serde::Deserialize;
use shop::entry::{Body, PullsRead};
use shop::gauge::State as GaugeState;
use shop::job::{Command, PullsIn, Stamped, decide};
use shop::pulls::OnePull;
use shop::sheet::Kind;

use super::answer::{self, value_text};
use super::plot::plot;
use super::recording::{self, Recording};
use super::section::{choices, place};
use super::{KIND, phase_of, table};
use crate::app::App;
use crate::assets;
use crate::forms::Typed;
use crate::job::view::{Refused, View};
use crate::job::{self, Loaded, Trouble, doubt};
use crate::shell::{Choice, Field, Nav, Page, error_page, page_with_errors};

/// The form that takes pulls, on this page.
const FORM: &str = "pulls";

/// Faults that are shown; the rest is counted.
const MOST_FAULTS: usize = 30;

/// The recording of the entry `version`: of a file, what could be read of it and the form; of pulls that count, those.
pub(super) async fn show(
    State(app): State<App>,
    p: Page,
    Path((number, version)): Path<(u32, u32)>,
    RawQuery(query): RawQuery,
) -> Result<Response, Response> {
    let p = p.at(Nav::Bench);
    let typed = Typed::from_body(query.unwrap_or_default().as_bytes());
    let mut loaded = job::load(&app, &p, number).await?;
    let read = loaded
        .job()
        .pulls
        .iter()
        .find(|p| p.version == version)
        .cloned();
    let recording = match &read {
        Some(read) => recording::of_entry(&app, loaded.job(), &read.body).await?,
        None => Some(recording::picked(&app, &p, loaded.job(), version, &typed).await?),
    };
    let recording = recording.ok_or_else(|| error_page(&p, StatusCode::NOT_FOUND, None))?;
    loaded.recording = Some(recording);
    Ok(answered(&app, &p, &loaded, read.as_ref(), None))
}

/// The drawing of pulls that count.
pub(super) async fn drawn(
    State(app): State<App>,
    p: Page,
    Path((number, version)): Path<(u32, u32)>,
) -> Result<Response, Response> {
    let not_here = || error_page(&p, StatusCode::NOT_FOUND, None);
    let loaded = job::load(&app, &p, number).await?;
    let read = loaded.job().pulls.iter().find(|p| p.version == version);
    let read = read.ok_or_else(not_here)?;
    let recording = recording::of_entry(&app, loaded.job(), &read.body).await?;
    let recording = recording.ok_or_else(not_here)?;
    let svg = pull_plot::pull_plot(&plot(&p, &recording, Some(&read.body)));
    Ok(([(CONTENT_TYPE, "image/svg+xml")], svg).into_response())
}

/// Takes the pulls that are ticked. A form that is refused is shown again on the page of its recording.
pub(super) async fn take(
    State(app): State<App>,
    p: Page,
    Path(number): Path<u32>,
    Query(_): Query<Nothing>,
    typed: Typed,
) -> Result<Response, Response> {
    let p = p.at(Nav::Bench);
    let typed = typed.with("kind", KIND);
    let done = job::carry_out(&app, &p, number, KIND, &typed).await;
    let errors = match done {
        Err(Trouble::Fields(errors)) => errors,
        done => {
            let file = typed.get("stage").to_owned();
            let there = place(phase_of(&file)).to_owned();
            return job::answer(&app, &p, number, KIND, typed, done, Some(&there)).await;
        }
    };
    let mut loaded = job::load(&app, &p, number).await?;
    loaded.recording = Some(recording::asked(&app, &p, loaded.job(), &typed).await?);
    let typed = typed.set("version", loaded.job().version.to_string());
    let refused = Refused { typed, errors };
    Ok(answered(&app, &p, &loaded, None, Some(&refused)))
}

#[derive(Deserialize)]
pub(super) struct Nothing {}

fn answered(
    app: &App,
    p: &Page,
    loaded: &Loaded,
    read: Option<&Stamped<PullsRead>>,
    refused: Option<&Refused>,
) -> Response {
    let Some(v) = loaded.view(app, p, refused) else {
        return job::sheets_lost();
    };
    let Some(recording) = v.recording else {
        return error_page(p, StatusCode::NOT_FOUND, None);
    };
    let name = recording.file.body.name.as_str();
    let title = v.say(&Message::new("pulls-title").with("name", name));
    let body = body(&v, recording, read, &title);
    let (status, markup) = match refused {
        Some(refused) => (
            StatusCode::UNPROCESSABLE_ENTITY,
            page_with_errors(
                &p.clone().holding_form(),
                &title,
                FORM,
                &refused.errors,
                body,
            ),
        ),
        None => (StatusCode::OK, crate::shell::page(p, &title, body)),
    };
    (status, Html(markup.into_string())).into_response()
}

fn body(v: &View, recording: &Recording, read: Option<&Stamped<PullsRead>>, title: &str) -> Markup {
    let number = v.job.received.body.number;
    let counted = read.map(|read| read.body.clone());
    let would = counted.clone().or_else(|| would_be(v, recording));
    html! {
        div.plain {
            p { a href={ "/jobs/" (number) "#" (place(phase_of(&recording.file.body.stage))) } { (v.say(&Message::new("pulls-back").with("number", number))) } }
            h1 { (title) }
            @if let Some(read) = read {
                p.sub { (v.stamp(read.at, &read.by)) }
                (doubt::of_pulls(v, read))
            }
            @if let Some(counted) = &counted { (answer::answer(v, counted)) }
            @else if recording.pulls.is_empty() { p.note { b { (v.t("pulls-unreadable")) } } }
            @else if let Some(would) = &would {
                p.hint { (v.t("pulls-would")) }
                (answer::answer(v, would))
            }
            @if read.is_none() && recording.band.is_none() && !recording.fastener.is_empty() {
                p.hint { (v.say(&Message::new("pulls-good-so-far").with("good", recording.good))) }
            }
            (faults(v, recording))
            @if recording.more > 0 {
                p.note { (v.say(&Message::new("pulls-more").with("count", recording.more).with("read", recording.pulls.len()))) }
            }
            @if !recording.pulls.is_empty() { (figure(v, recording, counted.as_ref())) }
            @if read.is_none() {
                @match counts_already(v, recording) {
                    Some(version) => {
                        p.note { a href=(format!("/jobs/{number}/pulls/{version}")) { (v.t("pulls-count-already")) } }
                    }
                    None => { (take_form(v, recording)) }
                }
            }
            (how_read(v, recording))
            @if !recording.pulls.is_empty() {
                h2 { (v.t("pulls-figures")) }
                (table::tables(v, recording, would.as_ref()))
            }
        }
    }
}

/// The entry by which pulls of this recording count already.
fn counts_already(v: &View, recording: &Recording) -> Option<u32> {
    let body = &recording.file.body;
    let mut counted = v.job.pulls_in(phase_of(&body.stage));
    counted
        .find(|p| p.body.sha256 == body.sha256)
        .map(|p| p.version)
}

/// What would stand in the record if every pull that can be read counted; `None` where none can be taken now.
fn would_be(v: &View, recording: &Recording) -> Option<PullsRead> {
    let readable = |pull: &&OnePull| pull.reading.is_ok();
    let named = |id: &str| (!id.is_empty()).then(|| id.to_owned());
    let all = PullsIn {
        phase: phase_of(&recording.file.body.stage),
        sha256: recording.file.body.sha256.clone(),
        rig: named(&recording.rig),
        fastener: named(&recording.fastener),
        count: recording
            .pulls
            .iter()
            .filter(readable)
            .map(|p| p.number)
            .collect(),
        read: recording.pulls.clone(),
        known_by: recording.known_by.clone(),
        faults: 0,
        band: recording.band.clone(),
        // Whatever has to be written first, the numbers are shown.
        note: "-".to_owned(),
    };
    let drafts = decide(v.job, Command::UsePulls(Box::new(all)), &v.desk).ok()?;
    drafts.into_iter().find_map(|draft| match draft {
        Body::PullsRead(read) => Some(read),
        _ => None,
    })
}

/// What is wrong, each with its line.
fn faults(v: &View, recording: &Recording) -> Markup {
    let faults = &recording.told.faults;
    let more = faults.len().saturating_sub(MOST_FAULTS);
    html! {
        @if !faults.is_empty() {
            div.warn {
                b {
                    @if recording.pulls.is_empty() { (v.t("pulls-faults-whole")) }
                    @else { (v.say(&Message::new("pulls-faults").with("count", faults.len()))) }
                }
                ul {
                    @for fault in faults.iter().take(MOST_FAULTS) { li { (v.say(&fault.message())) } }
                    @if more > 0 { li { (v.say(&Message::new("pulls-more-faults").with("count", more))) } }
                }
                @if faults.iter().any(|f| matches!(f.what, What::NoColumn(_))) { (other_logger(v, recording)) }
            }
        }
    }
}

/// That the rig looks for other headings than the file has.
fn other_logger(v: &View, recording: &Recording) -> Markup {
    let pin = v.desk.shelf.newest(Kind::Rig, &recording.rig);
    let rig = pin.and_then(|pin| v.desk.shelf.rig(&pin));
    html! {
        @if let Some(rig) = rig {
            @let columns = [&rig.recording.force, &rig.recording.stroke, &rig.recording.time];
            @let headings: Vec<&str> = columns
                .into_iter()
                .filter_map(|column| match &column.place {
                    Some(Place::Heading(heading)) => Some(heading.as_str()),
                    _ => None,
                })
                .collect();
            p {
                (v.say(&Message::new("pulls-other-logger")
                    .with("rig", rig.name.as_str())
                    .with("headings", headings.join(", "))))
            }
        }
    }
}

/// The drawing, with what the script needs to read places off it and to come nearer.
fn figure(v: &View, recording: &Recording, read: Option<&PullsRead>) -> Markup {
    let drawing = pull_plot::pull_plot(&plot(v.p, recording, read));
    html! {
        figure.plot data-in=(v.t("plot-in")) data-out=(v.t("plot-out")) data-whole=(v.t("plot-whole"))
            data-keys=(v.t("plot-keys")) data-rings=(v.t("plot-rings")) data-stroke=(v.t("pull-axis-stroke")) data-force=(v.t("pull-axis-force")) {
            (PreEscaped(drawing))
            figcaption { (v.t("plot-caption")) }
        }
        script type="module" src=(assets::url("plot.js")) {}
    }
}

/// Rig and fastener, and a tick for each pull. One that is in doubt is not ticked.
fn take_form(v: &View, recording: &Recording) -> Markup {
    let number = v.job.received.body.number;
    let version = recording.file.version;
    let stage = recording.file.body.stage.as_str();
    let form = v.form(FORM);
    let takes = v.job.takes_pulls(phase_of(stage), &v.desk);
    let readable: Vec<&OnePull> = recording
        .pulls
        .iter()
        .filter(|p| p.reading.is_ok())
        .collect();
    let ticks: Vec<Choice> = readable
        .iter()
        .map(|pull| tick(v, recording, pull))
        .collect();
    html! {
        form method="get" action={ "/jobs/" (number) "/pulls/" (version) } {
            (choices(v, &crate::shell::Form::blank(v.p, "read-as"), &recording.rig, &recording.fastener))
            div.buttons { button.quiet { (v.t("pulls-again")) } }
        }
        @if takes && !ticks.is_empty() {
            (form.wrap(&format!("/jobs/{number}/{KIND}"), Some(u64::from(v.job.version)), html! {
                input type="hidden" name="file" value=(version);
                input type="hidden" name="stage" value=(stage);
                input type="hidden" name="rig" value=(recording.rig);
                input type="hidden" name="fastener" value=(recording.fastener);
                (form.ticks(&Field::new("pull", v.t("pulls-use")).hint(v.t("pulls-use-hint")), &ticks))
                (form.text(&Field::new("note", v.t("field-note"))))
                div.buttons { button { (v.t("pulls-take")) } }
            }))
        }
    }
}

fn tick(v: &View, recording: &Recording, pull: &OnePull) -> Choice {
    let Ok(found) = &pull.reading else {
        return Choice::new(pull.number.to_string(), String::new());
    };
    let (peak, stroke) = (found.features.peak_kn, found.features.stroke_mm);
    let label = Message::new("pulls-tick")
        .with("number", pull.number)
        .with(
            "peak",
            value_text(shop::sheet::Feature::Peak, peak.value, peak.expanded()),
        )
        .with(
            "stroke",
            value_text(
                shop::sheet::Feature::Stroke,
                stroke.value,
                stroke.expanded(),
            ),
        );
    let faults: Vec<String> = recording
        .faults_in(pull)
        .take(3)
        .map(|f| v.say(&f.message()))
        .collect();
    let doubtful = pull.doubtful || !faults.is_empty();
    let choice = Choice::new(pull.number.to_string(), v.say(&label)).chosen(!doubtful);
    match doubtful {
        true => choice.hint(faults.join(" ")),
        false => choice,
    }
}

/// How the file was read: rows, columns, units, rig and gauges.
fn how_read(v: &View, recording: &Recording) -> Markup {
    let rig = v.desk.shelf.newest(Kind::Rig, &recording.rig);
    let rig = rig.and_then(|pin| v.desk.shelf.rig(&pin).cloned());
    let columns = recording.told.layout.as_ref().map(|layout| {
        let named = layout.columns.iter().zip(layout.units).zip([
            "recording-role-force",
            "recording-role-stroke",
            "recording-role-time",
        ]);
        let named = named.filter_map(|((column, unit), role)| {
            let said = Message::new("pulls-column")
                .with("what", v.t(role))
                .with("column", (*column)? + 1)
                .with("unit", unit.map_or("", |u| u.symbol()));
            Some(v.say(&said))
        });
        named.collect::<Vec<_>>().join(", ")
    });
    let file = format!(
        "/jobs/{}/files/{}",
        v.job.received.body.number, recording.file.version
    );
    html! {
        dl.facts {
            dt { (v.t("pulls-file")) } dd { a href=(file) { (recording.file.body.name) } small { (v.say(&Message::new("pulls-hash").with("hash", recording.file.body.sha256.as_str()))) } }
            dt { (v.t("pulls-rows")) } dd { (v.p.words.count(recording.told.rows)) }
            @if let Some(columns) = columns { dt { (v.t("pulls-columns")) } dd { (columns) } }
            @if let Some(rig) = &rig {
                dt { (v.t("pulls-rig")) } dd {
                    (rig.name)
                    @for (_, gauge) in shop::pulls::gauges_of(rig, &v.desk) {
                        @let standing = v.desk.shelf.standing(gauge, v.desk.today, None);
                        @let id = match standing.state {
                            GaugeState::InDate => "gauge-note",
                            GaugeState::OutOfDate => "gauge-note-stale",
                            GaugeState::Failed => "gauge-note-failed",
                        };
                        small { (v.say(&Message::new(id)
                            .with("name", gauge.name.as_str()).with("due", crate::show::day(standing.due)))) }
                    }
                }
            }
        }
    }
}
