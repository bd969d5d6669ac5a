//! The papers of a job: view models from the record, PDF from `paper`.
//!
//! Everything on a paper follows from the job's entries and the sheets that they pin, so the same
//! entries give the same bytes.

pub(crate) mod card;
pub(crate) mod cards;
mod care;
mod certificate;
mod claim;
mod instruments;
mod quote;
mod report;
mod suspect;
mod tests_made;

use axum::Router;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use calc::Message;
use calc::working::fixed;
use jiff::Timestamp;
use paper::PaperError;
use paper::model::{
    Adjustment, Day, Energy, FastenerChoice, NoseChoice, PressureToSet, RecordHead, Setting, Shop,
    StickOut, Tool,
};
use shop::job::{SetUp, SetUpSheets};
use shop::pressure_setting::{At, goal, pressure};
use shop::quote::as_it_stood;
use shop::setting::away;
use shop::sheet::{Drive, SettingBasis};

pub(crate) use certificate::{certified, drop_unnamed, gauges, keep as keep_certificate};

use super::view::View;
use super::{Loaded, load_to_show, next_joint, sheets_lost};
use crate::app::App;
use crate::attachments;
use crate::pulls;
use crate::shell::{Page, error_page, internal};
use crate::show;

/// A paper of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// The service report; once the tool was handed back.
    Report,
    /// The set-up card; once the set-up was signed off.
    SetUpCard,
    /// The care sheet; once the tool was handed back.
    CareSheet,
    /// The label for the tool's tray.
    Label,
    /// The notice of joints in doubt; once something bad was found with the tool as it came.
    SuspectNotice,
    /// The quote in its last revision; once there is one.
    Quote,
    /// The warranty claim; once the warranty was judged.
    Claim,
    /// The return note of a tool that left the shop other than mended.
    ReturnNote,
    /// The certificate of the bench proof in force; once one was issued.
    Certificate,
}

impl Paper {
    /// Every paper.
    pub const ALL: [Paper; 9] = [
        Paper::Report,
        Paper::SetUpCard,
        Paper::CareSheet,
        Paper::Label,
        Paper::SuspectNotice,
        Paper::Quote,
        Paper::Claim,
        Paper::ReturnNote,
        Paper::Certificate,
    ];

    /// As in addresses and at the prompt.
    pub fn key(self) -> &'static str {
        match self {
            Self::Report => "report",
            Self::SetUpCard => "set-up-card",
            Self::CareSheet => "care-sheet",
            Self::Label => "label",
            Self::SuspectNotice => "suspect-notice",
            Self::Quote => "quote",
            Self::Claim => "warranty-claim",
            Self::ReturnNote => "return-note",
            Self::Certificate => "certificate",
        }
    }
}

/// The routes of the papers.
pub fn routes() -> Router<App> {
    let many = Router::new()
        .route(cards::PATH, get(cards::answer))
        .route("/jobs/{number}/quotes/{file}", get(revision))
        .route(
            "/jobs/{number}/certificates/{file}",
            get(certificate::answer),
        );
    Paper::ALL.into_iter().fold(many, |router, which| {
        let path = format!("/jobs/{{number}}/{}.pdf", which.key());
        let answer = async move |State(app): State<App>, p: Page, Path(number): Path<u32>| {
            bytes(&app, &p, number, which)
                .await
                .map(|bytes| pdf(&format!("{}-{number}.pdf", which.key()), bytes))
        };
        router.route(&path, get(answer))
    })
}

/// The quote in one of its revisions, as it last stood: an earlier one says which revision replaced it.
async fn revision(
    State(app): State<App>,
    p: Page,
    Path((number, file)): Path<(u32, String)>,
) -> Result<Response, Response> {
    let mut loaded = load_to_show(&app, &p, number).await?;
    let revision = file.strip_suffix(".pdf").and_then(|r| r.parse().ok());
    let stood = revision.and_then(|revision| as_it_stood(&loaded.entries, revision));
    let not_here = || error_page(&p, StatusCode::NOT_FOUND, None);
    let stood = stood.ok_or_else(not_here)?;
    loaded.job = stood.job;
    let v = loaded.view(&app, &p, None).ok_or_else(sheets_lost)?;
    let model = quote::quote(&v, &loaded, stood.replaced).ok_or_else(not_here)?;
    let words = p.words;
    let name = format!("quote-{}.pdf", model.number);
    let bytes = typeset(move || paper::quote(&model, words)).await?;
    Ok(pdf(&name, bytes))
}

/// The paper as PDF.
pub(crate) async fn bytes(
    app: &App,
    p: &Page,
    number: u32,
    which: Paper,
) -> Result<Vec<u8>, Response> {
    let loaded = load_to_show(app, p, number).await?;
    if which == Paper::Certificate {
        return certificate::pdf(app, p, loaded, None).await;
    }
    let v = loaded.view(app, p, None).ok_or_else(sheets_lost)?;
    let not_yet = || error_page(p, StatusCode::NOT_FOUND, None);
    let words = p.words;
    match which {
        Paper::Report => {
            let mut model = report::report(&v, &loaded).ok_or_else(not_yet)?;
            model.photos = attachments::with_pictures(app, model.photos).await?;
            model.pulls = pulls::with_plots(app, &v, model.pulls).await?;
            typeset(move || paper::service_report(&model, words)).await
        }
        Paper::SetUpCard => {
            let model = card::card(app, &v, &loaded).await?.ok_or_else(not_yet)?;
            typeset(move || paper::setup_card(&model, words)).await
        }
        Paper::CareSheet => {
            let model = care::sheet(&v, &loaded).ok_or_else(not_yet)?;
            typeset(move || paper::care_sheet(&model, words)).await
        }
        Paper::Label => {
            let model = care::label(&v);
            typeset(move || paper::label(&model, words)).await
        }
        Paper::SuspectNotice => {
            let model = suspect::notice(&v, &loaded).ok_or_else(not_yet)?;
            typeset(move || paper::suspect_notice(&model, words)).await
        }
        Paper::Quote => {
            let model = quote::quote(&v, &loaded, None).ok_or_else(not_yet)?;
            typeset(move || paper::quote(&model, words)).await
        }
        Paper::Claim => {
            let model = claim::claim(&v, &loaded).ok_or_else(not_yet)?;
            typeset(move || paper::warranty_claim(&model, words)).await
        }
        Paper::ReturnNote => {
            let model = claim::note(&v, &loaded).ok_or_else(not_yet)?;
            typeset(move || paper::return_note(&model, words)).await
        }
        // Above: it is not made from the job as it is now.
        Paper::Certificate => Err(not_yet()),
    }
}

/// Sets a paper beside the threads that answer: they would wait for it, and everyone with them.
pub(crate) async fn typeset(
    set: impl FnOnce() -> Result<Vec<u8>, PaperError> + Send + 'static,
) -> Result<Vec<u8>, Response> {
    tokio::task::spawn_blocking(set)
        .await
        .map_err(internal)?
        .map_err(internal)
}

/// The name is made of digits and our own words, so it can stand in a header.
pub(crate) fn pdf(name: &str, bytes: Vec<u8>) -> Response {
    let disposition = format!("inline; filename=\"{name}\"");
    let headers = [
        (CONTENT_TYPE, "application/pdf".to_owned()),
        (CONTENT_DISPOSITION, disposition),
    ];
    (headers, bytes).into_response()
}

fn shop(v: &View) -> Shop {
    let card = v.desk.shelf.shop(&v.job.shop_pin());
    Shop {
        name: card.map(|c| c.name.clone()).unwrap_or_default(),
        place: card.map(|c| vec![c.place.clone()]).unwrap_or_default(),
    }
}

fn tool(v: &View) -> Tool {
    let counter = v.job.received.body.counter;
    Tool {
        model: v.model.name.clone(),
        serial: v.job.received.body.serial.clone(),
        kind: format!("{}, {} kN", v.drive(), fixed(v.model.rated_pull_kn, 0)),
        energy: match v.model.drive {
            Drive::Battery => Energy::Battery,
            Drive::AirHydraulic => Energy::Air,
            Drive::Hydraulic => Energy::Pump,
        },
        counter: counter.map(|n| v.p.words.count(n)).unwrap_or_default(),
    }
}

fn head(loaded: &Loaded) -> RecordHead {
    RecordHead {
        sequence: loaded.head.0,
        hash: loaded.head.1.clone(),
    }
}

/// The head of the record at the job's entry of `version`.
fn head_at(loaded: &Loaded, version: u32) -> RecordHead {
    let at = loaded.entries.iter().position(|e| e.version == version);
    let head = at.and_then(|at| loaded.heads.get(at));
    let (sequence, hash) = head.unwrap_or(&loaded.head).clone();
    RecordHead { sequence, hash }
}

fn issued(v: &View, at: Timestamp) -> Day {
    let date = at.to_zoned_datetime(v.zone.clone()).date();
    Day {
        year: i32::from(date.year()),
        month: date.month().unsigned_abs(),
        day: date.day().unsigned_abs(),
    }
}

fn printed(v: &View, at: Timestamp) -> String {
    show::day(at.to_zoned_datetime(v.zone.clone()).date())
}

fn fastener(set_up: &SetUp, s: &SetUpSheets) -> FastenerChoice {
    FastenerChoice {
        family: s.fastener.name.clone(),
        code: set_up.fitted.body.code.clone(),
    }
}

fn nose(v: &View, s: &SetUpSheets) -> NoseChoice {
    let twin = s.nose.look_alikes.first().map(|twin| {
        v.say(
            &Message::new("look-alike-card")
                .with("number", twin.number.as_str())
                .with("differs", twin.differs.as_str())
                .number("this", twin.this_mm, 1)
                .number("that", twin.that_mm, 1)
                .with("effect", twin.effect.as_str()),
        )
    });
    NoseChoice {
        set: s.nose.name.clone(),
        collet: s.nose.collet.number.clone(),
        look_alike: twin.unwrap_or_default(),
    }
}

fn stick_out(v: &View, set_up: &SetUp, s: &SetUpSheets) -> Option<StickOut> {
    let band = s.fastener.stick_out_mm?;
    let read = set_up.stick_out()?;
    let (mean, expanded) = (read.mean_mm?, read.expanded_mm?);
    let count = Message::new("readings-count").with("count", read.readings.len());
    let gauge = read
        .readings
        .first()
        .map(|r| v.gauge_note(r))
        .unwrap_or_default();
    Some(StickOut {
        band: super::bench::limits_text(v, &band, "mm"),
        measured: format!("{} ± {} mm", fixed(mean, 2), fixed(expanded, 2)),
        how: format!("{} {gauge}", v.say(&count)),
    })
}

/// The pressure to set; `None` for a battery tool, and where the sheet does not say enough.
fn pressure_to_set(v: &View, set_up: &SetUp, s: &SetUpSheets) -> Option<PressureToSet> {
    let what = show::of_what(s.model.drive)?;
    // At the work place it is read on another gauge.
    let answer = pressure(s.model, s.fastener, goal(s.rule), At::WorkPlace).ok()?;
    let signed = set_up.signed_off.as_ref()?.body.pressure_bar;
    Some(PressureToSet {
        what: v.t(what),
        value: match signed {
            Some(bar) => show::bar_text(v.p, bar, 2),
            None => show::value_text(v.p, &answer),
        },
        limits: show::limits_text(v.p, &answer),
    })
}

/// The setting that was signed off.
fn setting(v: &View, set_up: &SetUp, s: &SetUpSheets) -> Option<Setting> {
    let signed = &set_up.signed_off.as_ref()?.body;
    match s.rule.map(|rule| rule.basis) {
        Some(SettingBasis::FullStroke) => return Some(Setting::FullStroke),
        Some(SettingBasis::Force) => return Some(Setting::Force),
        Some(SettingBasis::StickOut | SettingBasis::Stroke) | None => {}
    }
    let read = set_up.stick_out();
    // The table's interval stands beside the table's setting only, not beside one that the trial
    // joints moved.
    let interval = read.and_then(|r| {
        let (turns, doubt) = (r.turns?, r.expanded_turns?);
        let text = format!(
            "{} – {}",
            fixed((turns - doubt).max(0.0), 2),
            fixed(turns + doubt, 2)
        );
        (signed.turns == r.set_turns).then_some(text)
    });
    let turn = away(s.model);
    Some(Setting::Turns(Adjustment {
        turns: signed.turns?,
        interval: interval.unwrap_or_default(),
        inside: signed
            .inside
            .map(|p| next_joint::percent_text(v, p))
            .unwrap_or_default(),
        rotation: turn.rotation,
        effect: turn.effect,
        reference: turn.zero,
        view: turn.view,
        approach: Some(s.model.adjuster.approach),
        key: s.model.adjuster.key.clone(),
    }))
}
