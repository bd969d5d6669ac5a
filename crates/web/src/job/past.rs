//! What the tool's earlier set-ups say of its adjuster: its ended jobs, and what crews sent and the bench
//! accepted.

use axum::response::Response;
use calc::learned_share::Cases;
use shop::crew::Inbox;
use shop::entry::Entry;
use shop::job::{Desk, Job, SetUpSheets};
use shop::labour::Times;
use shop::sheet::ToolModel;
use shop::trial::own::{self, Past};
use store::{Store, StoreError};
use uuid::Uuid;

use crate::app::{App, failed};
use crate::inbox;

/// What was before a job: the ended jobs of its tool, what crews sent, the times of its model.
#[derive(Default)]
pub struct ToolPast {
    /// Ended before the job began, oldest first.
    pub earlier: Vec<Job>,
    /// What crews sent; `None` where it was not asked for.
    pub inbox: Option<Inbox>,
    /// The shop's own times of work on this model, where labour is proposed.
    pub times: Times,
    /// After how many of the shop's closed jobs the tool came back, where a quote is compared with a new tool.
    pub come_backs: Cases,
}

/// Ended jobs whose times are weighed: what is older was another bench's pace (common practice, no source).
const TIMED_JOBS: u32 = 20;

/// What was before `job`. What came after it changes nothing of its papers.
pub async fn before(app: &App, job: &Job) -> Result<ToolPast, Response> {
    let tool = job.received.body.tool;
    let mut earlier = jobs(&app.store, tool).await.map_err(failed)?;
    let began = job.received.at;
    earlier.retain(|e| e.id != job.id && e.returned.as_ref().is_some_and(|r| r.at <= began));
    let inbox = inbox::load(app, tool).await.map_err(failed)?;
    Ok(ToolPast {
        earlier,
        inbox: Some(inbox),
        times: Times::default(),
        come_backs: Cases::default(),
    })
}

/// The shop's own times of work on `model`, by the clocks of jobs that have ended.
pub async fn times(app: &App, id: &str, model: &ToolModel) -> Result<Times, Response> {
    let timed = app.store.timed_jobs(id, TIMED_JOBS).await.map_err(failed)?;
    let mut jobs = Vec::new();
    for job in timed {
        jobs.extend(read(&app.store, job).await.map_err(failed)?);
    }
    Ok(Times::of(model, &jobs))
}

/// What the earlier set-ups of the tool of `job` say for the one in hand.
pub async fn of_job(app: &App, job: &Job, desk: &Desk<'_>) -> Result<Past, Response> {
    let set_up = job.set_up();
    let Some(sheets) = set_up.and_then(|set_up| job.set_up_sheets(set_up, desk)) else {
        return Ok(Past::default());
    };
    let tool = job.received.body.tool;
    let inbox = inbox::load(app, tool).await.map_err(failed)?;
    let mut earlier = jobs(&app.store, tool).await.map_err(failed)?;
    earlier.retain(|earlier| earlier.id != job.id);
    let (ended, mut open) = ended_and_open(earlier);
    open.push(job.clone());
    Ok(of_jobs(&ended, &open, &inbox, &sheets, desk))
}

/// What all `jobs` of a tool and its `inbox` say for a set-up to `sheets`.
pub(crate) fn of_tool(
    jobs: &[Job],
    inbox: &Inbox,
    sheets: &SetUpSheets<'_>,
    desk: &Desk<'_>,
) -> Past {
    let (ended, open) = ended_and_open(jobs.to_vec());
    of_jobs(&ended, &open, inbox, sheets, desk)
}

fn of_jobs(
    ended: &[Job],
    open: &[Job],
    inbox: &Inbox,
    sheets: &SetUpSheets<'_>,
    desk: &Desk<'_>,
) -> Past {
    let open: Vec<&Job> = open.iter().collect();
    own::past(ended, &open, inbox, sheets, desk)
}

fn ended_and_open(jobs: Vec<Job>) -> (Vec<Job>, Vec<Job>) {
    jobs.into_iter().partition(|job| job.returned.is_some())
}

/// The jobs of `tool`, oldest first.
///
/// # Errors
/// The record cannot be read.
pub async fn jobs(store: &Store, tool: Uuid) -> Result<Vec<Job>, StoreError> {
    let mut rows = store.jobs_of_tool(tool).await?;
    rows.sort_by_key(|row| row.number);
    let mut jobs = Vec::new();
    for row in rows {
        jobs.extend(read(store, row.job).await?);
    }
    Ok(jobs)
}

pub(crate) async fn read(store: &Store, job: Uuid) -> Result<Option<Job>, StoreError> {
    let logged = store.entries(job).await?;
    let entries: Vec<Entry> = logged.into_iter().map(|l| l.entry).collect();
    Ok(Job::fold(&entries))
}
