//! What the tool's earlier set-ups say of its adjuster: its ended jobs, and what crews sent and the bench
//! accepted.

use axum::response::Response;
use shop::crew::Inbox;
use shop::entry::Entry;
use shop::job::{Desk, Job, SetUpSheets};
use shop::trial::own::{self, Past};
use uuid::Uuid;

use crate::app::{App, failed};
use crate::inbox;

/// What was before a job: the ended jobs of its tool, and what crews sent.
#[derive(Default)]
pub struct ToolPast {
    /// Ended before the job began, oldest first.
    pub earlier: Vec<Job>,
    /// What crews sent; `None` where it was not asked for.
    pub inbox: Option<Inbox>,
}

/// What was before `job`. What came after it changes nothing of its papers.
pub async fn before(app: &App, job: &Job) -> Result<ToolPast, Response> {
    let tool = job.received.body.tool;
    let mut earlier = ended(app, tool).await?;
    let began = job.received.at;
    earlier.retain(|e| e.id != job.id && e.returned.as_ref().is_some_and(|r| r.at <= began));
    let inbox = inbox::load(app, tool).await.map_err(failed)?;
    Ok(ToolPast {
        earlier,
        inbox: Some(inbox),
    })
}

/// What the earlier set-ups of the tool of `job` say for the one in hand.
pub async fn of_job(app: &App, job: &Job, desk: &Desk<'_>) -> Result<Past, Response> {
    let set_up = job.set_up();
    let Some(sheets) = set_up.and_then(|set_up| job.set_up_sheets(set_up, desk)) else {
        return Ok(Past::default());
    };
    of_tool(app, job.received.body.tool, Some(job), &sheets, desk).await
}

/// What the earlier set-ups of `tool` say for one to `sheets`; `this` is the job in hand.
pub(crate) async fn of_tool(
    app: &App,
    tool: Uuid,
    this: Option<&Job>,
    sheets: &SetUpSheets<'_>,
    desk: &Desk<'_>,
) -> Result<Past, Response> {
    let inbox = inbox::load(app, tool).await.map_err(failed)?;
    let mut ended = ended(app, tool).await?;
    ended.retain(|earlier| Some(earlier.id) != this.map(|job| job.id));
    Ok(own::past(&ended, this, &inbox, sheets, desk))
}

/// The ended jobs of `tool`, oldest first.
pub(super) async fn ended(app: &App, tool: Uuid) -> Result<Vec<Job>, Response> {
    let mut rows = app.store.jobs_of_tool(tool).await.map_err(failed)?;
    rows.retain(|row| row.closed.is_some());
    rows.sort_by_key(|row| row.number);
    let mut jobs = Vec::new();
    for row in rows {
        let logged = app.store.entries(row.job).await.map_err(failed)?;
        let entries: Vec<Entry> = logged.into_iter().map(|l| l.entry).collect();
        jobs.extend(Job::fold(&entries));
    }
    Ok(jobs)
}
