//! What the tool's earlier set-ups say of its adjuster: its ended jobs, and what crews sent and the bench
//! accepted.

use axum::response::Response;
use shop::entry::{Entry, PastSetUp};
use shop::job::{Desk, Job};
use shop::trial::own;
use uuid::Uuid;

use crate::app::{App, failed};
use crate::inbox;

/// The earlier set-ups of the tool of `job` with the nose set and the fastener in hand, oldest first.
pub async fn set_ups(app: &App, job: &Job, desk: &Desk<'_>) -> Result<Vec<PastSetUp>, Response> {
    let Some(set_up) = job.set_up() else {
        return Ok(Vec::new());
    };
    let fitted = &set_up.fitted.body;
    let (nose, fastener) = (&fitted.nose_set.id, &fitted.fastener.id);
    of_tool(
        app,
        job.received.body.tool,
        Some(job.id),
        (nose, fastener),
        desk,
    )
    .await
}

/// The earlier set-ups of `tool` with this nose set and fastener, those of the job `but` left out, oldest
/// first, then what crews sent and the bench accepted.
pub(crate) async fn of_tool(
    app: &App,
    tool: Uuid,
    but: Option<Uuid>,
    (nose, fastener): (&str, &str),
    desk: &Desk<'_>,
) -> Result<Vec<PastSetUp>, Response> {
    let mut rows = app.store.jobs_of_tool(tool).await.map_err(failed)?;
    rows.retain(|row| row.closed.is_some() && Some(row.job) != but);
    rows.sort_by_key(|row| row.number);
    let mut past = Vec::new();
    for row in rows {
        let logged = app.store.entries(row.job).await.map_err(failed)?;
        let entries: Vec<Entry> = logged.into_iter().map(|l| l.entry).collect();
        let earlier = Job::fold(&entries);
        past.extend(earlier.and_then(|earlier| own::past(&earlier, nose, fastener, desk)));
    }
    let inbox = inbox::load(app, tool).await.map_err(failed)?;
    past.extend(own::crews(&inbox, nose, fastener, desk));
    Ok(past)
}
