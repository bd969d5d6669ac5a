//! The job page and its forms.

mod agreed;
mod bench;
mod certificate;
mod check_limit;
pub(crate) mod correct;
pub(crate) mod doubt;
mod doubt_reason;
pub(crate) mod drawing;
mod ends;
mod explanations;
mod fault;
mod found_joint;
mod joint_fields;
mod joints;
mod judged;
mod learned;
mod log;
mod may_be;
pub mod names;
mod next_joint;
mod page;
pub(crate) mod papers;
pub(crate) mod past;
mod pause;
mod post;
mod proved;
pub(crate) mod rebuilt;
mod received;
mod returned;
mod set_up;
mod set_up_only;
mod stack;
pub(crate) mod submission;
mod suspect;
pub(crate) mod view;
mod wear;

use std::collections::BTreeSet;

use axum::Router;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post as post_route};
use calc::Message;
use jiff::Timestamp;
use jiff::civil::Date;
use past::ToolPast;
use serde::Deserialize;
use shop::entry::{Body, Entry, PersonKey};
use shop::job::{Command, Desk, Job, Refusals, Stage, decide};
use shop::sheet::{FaultModel, Shelf};
use shop::trial::own::Past;
use store::{AppendError, Request, StoreError};
use uuid::Uuid;

use crate::app::{App, failed};
use crate::form_fields;
use crate::forms::{FieldErrors, Typed, too_long};
use crate::pulls;
use crate::shell::{self, Nav, Page, error_page, page_with_errors};
pub(crate) use learned::rulings;
pub(crate) use log::kind as entry_kind;
pub(crate) use post::kinds;
use view::{Refused, View};

/// The routes of a job.
pub fn routes() -> Router<App> {
    Router::new()
        .route("/jobs/{number}", get(show))
        .merge(papers::routes())
        .route("/jobs/{number}/{kind}", post_route(post))
}

/// A job with everything that its page and papers need.
pub(crate) struct Loaded {
    subject: Uuid,
    /// Its entries, struck ones too.
    pub entries: Vec<Entry>,
    /// Sequence number and hash of the job's last entry.
    head: (u64, String),
    /// The same of each entry.
    heads: Vec<(u64, String)>,
    job: Job,
    shelf: std::sync::Arc<Shelf>,
    /// The fault model with what closed jobs taught.
    learned: Option<FaultModel>,
    /// How likely parts are beyond their limits, where the fault is looked for.
    worn: Vec<(String, f64)>,
    names: store::Names,
    /// Earlier set-ups of the tool, where a form asks for them.
    past: Past,
    /// What was before the job.
    tool: ToolPast,
    /// The recording that a page or form is about.
    pub recording: Option<pulls::Recording>,
}

pub(crate) async fn load(app: &App, p: &Page, number: u32) -> Result<Loaded, Response> {
    let not_here = || error_page(p, StatusCode::NOT_FOUND, None);
    let row = app.store.job_by_number(number).await.map_err(failed)?;
    let row = row.ok_or_else(not_here)?;
    let logged = app.store.entries(row.job).await.map_err(failed)?;
    let heads: Vec<(u64, String)> = logged.iter().map(|l| (l.seq, l.hash.clone())).collect();
    let head = heads.last().cloned();
    let entries: Vec<Entry> = logged.into_iter().map(|l| l.entry).collect();
    let job = Job::fold(&entries).ok_or_else(not_here)?;
    let shelf = app.store.shelf();
    Ok(Loaded {
        subject: row.job,
        entries,
        head: head.ok_or_else(not_here)?,
        heads,
        learned: learned::faults_of(app, &job, &shelf)
            .await
            .map_err(failed)?,
        job,
        shelf,
        names: app.store.names().await.map_err(failed)?,
        past: Past::default(),
        worn: Vec::new(),
        tool: ToolPast::default(),
        recording: None,
    })
}

/// A job with what was before it, to be shown or printed. To write into it takes less: the other jobs of its
/// tool are read for what rests on them only.
pub(crate) async fn load_to_show(app: &App, p: &Page, number: u32) -> Result<Loaded, Response> {
    let mut loaded = load(app, p, number).await?;
    loaded.know_past(app).await?;
    if loaded.job.estimate.is_some() {
        let told = learned::come_backs(app, &loaded.job, &loaded.shelf).await;
        loaded.tool.come_backs = told.map_err(failed)?;
    }
    if agreed::proposes_labour(&loaded.job) {
        let desk = app.desk(&loaded.shelf);
        if let Some(model) = loaded.job.model(&desk) {
            let id = &loaded.job.received.body.model.id;
            loaded.tool.times = past::times(app, id, model).await?;
        }
    }
    Ok(loaded)
}

impl Loaded {
    /// Reads what was before the job, and reckons how worn the tool is by it.
    async fn know_past(&mut self, app: &App) -> Result<(), Response> {
        self.tool = past::before(app, &self.job).await?;
        let desk = app.desk(&self.shelf);
        let sheets = self.job.model(&desk).zip(self.job.faults(&desk));
        self.worn = sheets.map_or(Vec::new(), |(model, faults)| {
            shop::wear::worn_causes(&self.tool.earlier, &self.job, model, faults, &desk)
        });
        Ok(())
    }

    /// What decisions stand on.
    fn desk<'a>(&'a self, app: &'a App) -> Desk<'a> {
        Desk {
            learned: self.learned.as_ref(),
            worn: &self.worn,
            ..app.desk(&self.shelf)
        }
    }

    /// The job.
    pub(crate) fn job(&self) -> &Job {
        &self.job
    }

    /// The entry by which the file with this hash was attached last.
    pub(crate) fn file_of(&self, sha256: &str) -> Option<u32> {
        let mut files = self.job.files.iter().rev();
        files.find(|f| f.body.sha256 == sha256).map(|f| f.version)
    }

    /// The view of the job; `None` if a sheet that it pins is not on the shelf.
    pub(crate) fn view<'a>(
        &'a self,
        app: &'a App,
        p: &'a Page,
        refused: Option<&'a Refused>,
    ) -> Option<View<'a>> {
        let desk = self.desk(app);
        Some(View {
            p,
            job: &self.job,
            entries: &self.entries,
            desk,
            model: self.job.model(&desk)?,
            faults: self.job.faults(&desk)?,
            names: &self.names,
            past: &self.past,
            tool: &self.tool,
            recording: self.recording.as_ref(),
            waiting: app
                .recordings
                .as_ref()
                .map(|r| r.waiting(app.store.files())),
            zone: &app.zone,
            refused,
        })
    }

    fn answer(
        &self,
        app: &App,
        p: &Page,
        status: StatusCode,
        refused: Option<&Refused>,
        news: News,
    ) -> Response {
        let Some(v) = self.view(app, p, refused) else {
            return sheets_lost();
        };
        let title = page::title(&v);
        let body = page::body(&v, &self.entries, news);
        let markup = match refused {
            Some(refused) => {
                let p = p.clone().holding_form();
                let form = refused.typed.get("form");
                if page::holds(&body, form) {
                    page_with_errors(&p, &title, form, &refused.errors, body)
                } else {
                    // The job has gone on: what was typed needs a place of its own.
                    let news = News {
                        form_gone: true,
                        ..news
                    };
                    let body = page::body(&v, &self.entries, news);
                    page_with_errors(&p, &title, "", &refused.errors, body)
                }
            }
            None => shell::page(p, &title, body),
        };
        (status, Html(markup.into_string())).into_response()
    }
}

/// A record in which a pinned sheet is missing is damaged: `setwright verify` says how.
pub(crate) fn sheets_lost() -> Response {
    shell::internal("a sheet that a job pins is not on the shelf")
}

async fn show(
    State(app): State<App>,
    p: Page,
    Path(number): Path<u32>,
    Query(asked): Query<Asked>,
) -> Result<Response, Response> {
    let p = p.at(Nav::Bench);
    let loaded = load_to_show(&app, &p, number).await?;
    let news = News {
        repeated: asked.repeated,
        ..News::default()
    };
    Ok(loaded.answer(&app, &p, StatusCode::OK, None, news))
}

#[derive(Deserialize)]
struct Asked {
    #[serde(default)]
    repeated: bool,
}

/// What the reader must know before the rest.
#[derive(Clone, Copy, Default)]
pub(crate) struct News<'a> {
    /// The form that was sent had been stored before.
    pub repeated: bool,
    /// What another bench wrote while the form was open.
    pub since: &'a [Entry],
    /// The form that was refused is not on the page any more.
    pub form_gone: bool,
}

async fn post(
    State(app): State<App>,
    p: Page,
    Path((number, kind)): Path<(u32, String)>,
    typed: Typed,
) -> Result<Response, Response> {
    let p = p.at(Nav::Bench);
    let typed = typed.with("kind", &kind);
    let done = carry_out(&app, &p, number, &kind, &typed).await;
    answer(&app, &p, number, &kind, typed, done, None).await
}

/// The answer to a form: back to `stage` (where the work goes on, without one), or the page with what
/// stands in the way.
pub(crate) async fn answer(
    app: &App,
    p: &Page,
    number: u32,
    kind: &str,
    typed: Typed,
    done: Result<bool, Trouble>,
    stage: Option<&str>,
) -> Result<Response, Response> {
    let action = format!("/jobs/{number}/{kind}");
    let (since, errors) = match done {
        Ok(repeated) => {
            let anchor = match stage {
                Some(stage) => stage.to_owned(),
                None => place_now(app, p, number).await.unwrap_or_default(),
            };
            let again = if repeated { "?repeated=true" } else { "" };
            let there = format!("/jobs/{number}{again}#{anchor}");
            return Ok(Redirect::to(&there).into_response());
        }
        Err(Trouble::Answer(answer)) => {
            return Err(shell::read_failed(p, &action, &typed, answer));
        }
        Err(Trouble::Store(error)) => {
            eprintln!("job {number}: {error:?}");
            return Err(shell::not_written(p, &action, &typed));
        }
        Err(Trouble::Fields(errors)) => (Vec::new(), errors),
        Err(Trouble::Conflict(since)) => (since, FieldErrors::new()),
    };
    let status = if since.is_empty() {
        StatusCode::UNPROCESSABLE_ENTITY
    } else {
        StatusCode::CONFLICT
    };
    let refused = Refused { typed, errors };
    let newest = match load_to_show(app, p, number).await {
        Ok(newest) => newest,
        Err(answer) => return Err(shell::read_failed(p, &action, &refused.typed, answer)),
    };
    let news = News {
        since: &since,
        ..News::default()
    };
    Ok(newest.answer(app, p, status, Some(&refused), news))
}

/// Why a form was not carried out.
pub(crate) enum Trouble {
    /// Fields to mend.
    Fields(FieldErrors),
    /// Another bench wrote meanwhile.
    Conflict(Vec<Entry>),
    /// The record could not be written.
    Store(StoreError),
    /// No such job or form, or a failure while reading.
    Answer(Response),
}

impl From<Response> for Trouble {
    fn from(answer: Response) -> Self {
        Self::Answer(answer)
    }
}

/// Does what the form `kind` of job `number` asks for; whether that was done by an earlier sending
/// of the same form, so that nothing was stored now.
pub(crate) async fn carry_out(
    app: &App,
    p: &Page,
    number: u32,
    kind: &str,
    typed: &Typed,
) -> Result<bool, Trouble> {
    if !post::is_kind(kind) {
        return Err(error_page(p, StatusCode::NOT_FOUND, None).into());
    }
    let too_long = too_long(typed);
    if !too_long.is_empty() {
        return Err(Trouble::Fields(too_long));
    }
    let mut loaded = load(app, p, number).await?;
    if agreed::asks_for_the_past(kind) {
        loaded.tool = past::before(app, &loaded.job).await?;
    }
    if set_up::asks_for_the_past(kind) {
        let desk = app.desk(&loaded.shelf);
        loaded.past = past::of_job(app, &loaded.job, &desk).await?;
    }
    if kind == pulls::KIND {
        loaded.recording = Some(pulls::asked(app, p, &loaded.job, typed).await?);
    }
    let by = writer(app, p).await?;
    let people = post::People {
        typed: named(app, post::name_field(kind), typed).await?,
        second: named(app, post::second_name_field(kind), typed).await?,
        picked: Some(by.clone()),
    };
    let v = loaded.view(app, p, None).ok_or_else(sheets_lost)?;
    let mut command = post::command(kind, typed, &v, people).map_err(Trouble::Fields)?;
    if let Command::IssueCertificate(input) = &mut command {
        input.pulls = pulls::drawn(app, &v).await?;
    }
    // The paper of a certificate bears the day on which it is written.
    let now = app.now();
    let mut kept = None;
    // Of a form that was opened for another version nothing is written: it has no paper.
    if seen_version(typed, v.job.version).ok() == Some(v.job.version)
        && let Some(issued) = certificate::issued_by(&v, &command)
    {
        let paper = papers::keep_certificate(app, &v, &loaded, issued, (now.0, by)).await?;
        command = certificate::with_paper(command, paper.clone());
        kept = Some(paper);
    }
    let written = write_at(app, p, number, typed, command, now).await;
    // Where the record failed nobody knows what was written, so the paper stays.
    let is_refused = !matches!(written, Ok(false) | Err(Trouble::Store(_)));
    if let Some(paper) = kept.filter(|_| is_refused) {
        papers::drop_unnamed(app, &paper).await;
    }
    written
}

/// The key of the name typed under `field`; none where there is no such field, or it is empty.
async fn named(
    app: &App,
    field: Option<&str>,
    typed: &Typed,
) -> Result<Option<PersonKey>, Trouble> {
    let Some(name) = field.and_then(|field| typed.filled(field)) else {
        return Ok(None);
    };
    let key = app.store.person(name).await.map_err(Trouble::Store)?;
    Ok(Some(key))
}

/// The key of the name picked at the bench: without one nothing is written.
async fn writer(app: &App, p: &Page) -> Result<PersonKey, Trouble> {
    let picked = app.visitor_key(p).await?;
    picked.ok_or_else(|| Trouble::Fields(FieldErrors::one("who", Message::new("refuse-who"))))
}

/// Writes what `command` adds to job `number`, under the key and for the version that the form names;
/// whether that was done before.
pub(crate) async fn write(
    app: &App,
    p: &Page,
    number: u32,
    typed: &Typed,
    command: Command,
) -> Result<bool, Trouble> {
    write_at(app, p, number, typed, command, app.now()).await
}

/// The same as of a moment and its day.
async fn write_at(
    app: &App,
    p: &Page,
    number: u32,
    typed: &Typed,
    command: Command,
    (now, today): (Timestamp, Date),
) -> Result<bool, Trouble> {
    let by = writer(app, p).await?;
    let mut loaded = load(app, p, number).await?;
    // The probability that is kept with a cause is the one that the page shows.
    if matches!(command, Command::ConfirmCause { .. }) {
        loaded.know_past(app).await?;
    }
    let subject = loaded.subject;
    let request = Request {
        submission: submission::key(&subject.to_string(), typed, &command),
        subject,
        expected_version: seen_version(typed, loaded.job.version).map_err(Trouble::Fields)?,
        by,
        at: now,
        serial: None,
    };
    let (learned, worn) = (loaded.learned, loaded.worn);
    let zone = app.zone.clone();
    let written = app
        .store
        .append(
            request,
            move |scene| -> Result<Vec<(Uuid, Body)>, Refusals> {
                let desk = Desk {
                    shelf: scene.shelf,
                    now,
                    today,
                    zone: &zone,
                    learned: learned.as_ref(),
                    worn: &worn,
                };
                let job = Job::fold(scene.entries).ok_or_else(Refusals::new)?;
                let bodies = decide(&job, command, &desk)?;
                Ok(bodies.into_iter().map(|body| (subject, body)).collect())
            },
        )
        .await;
    match written {
        Ok(written) => Ok(written.repeated),
        Err(AppendError::Refused(refusals)) => Err(Trouble::Fields(field_errors(refusals))),
        Err(AppendError::Conflict { since }) => Err(Trouble::Conflict(since)),
        Err(AppendError::Store(error)) => Err(Trouble::Store(error)),
    }
}

/// The version that the form was opened for: what it stands on is not guessed. `newest` is the job's.
fn seen_version(typed: &Typed, newest: u32) -> Result<u32, FieldErrors> {
    let refuse = |id| FieldErrors::one("", Message::new(id));
    let seen: u32 = typed
        .get("version")
        .parse()
        .map_err(|_| refuse("refuse-no-version"))?;
    if seen > newest {
        return Err(refuse("refuse-version-ahead"));
    }
    Ok(seen)
}

/// The version that job `number` has now, for forms that no page was opened for.
pub(crate) async fn version_now(app: &App, p: &Page, number: u32) -> Result<u32, Response> {
    Ok(load(app, p, number).await?.job.version)
}

/// The fields of the form `kind` as job `number` shows it now; none where it does not show it.
pub(crate) async fn fields(
    app: &App,
    p: &Page,
    number: u32,
    kind: &str,
) -> Result<BTreeSet<String>, Response> {
    let loaded = load(app, p, number).await?;
    let v = loaded.view(app, p, None).ok_or_else(sheets_lost)?;
    let body = page::body(&v, &loaded.entries, News::default()).into_string();
    Ok(form_fields::of(&body, &format!("/jobs/{number}/{kind}")))
}

/// The stage that the job is in now.
pub(crate) async fn stage_now(app: &App, p: &Page, number: u32) -> Result<&'static str, Response> {
    let loaded = load(app, p, number).await?;
    Ok(loaded.job.stage().map_or("returned", Stage::key))
}

/// Where the work goes on: the step or the test in hand, else the stage.
async fn place_now(app: &App, p: &Page, number: u32) -> Option<String> {
    let loaded = load(app, p, number).await.ok()?;
    let v = loaded.view(app, p, None)?;
    let stage = loaded.job.stage();
    let place = match stage {
        Some(Stage::Rebuilt) => v.job.route_steps(v.model).and_then(|steps| {
            let next = v.job.next_step(&steps)?;
            Some(format!("step-{}", steps[next].id))
        }),
        Some(Stage::Proved) => bench::next(&v),
        _ => None,
    };
    Some(place.unwrap_or_else(|| stage.map_or("returned", Stage::key).to_owned()))
}

/// Refusals of the shop as mistakes of the form.
pub(crate) fn field_errors(refusals: Refusals) -> FieldErrors {
    let mut errors = FieldErrors::new();
    for refusal in refusals {
        errors.add(refusal.field, refusal.message);
    }
    if errors.is_empty() {
        errors.add("", Message::new("refuse-not-now"));
    }
    errors
}
