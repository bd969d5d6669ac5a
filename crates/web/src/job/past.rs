//! The earlier jobs of the tool, and what they say of its adjuster.

use axum::response::Response;
use shop::entry::{Entry, PastSetUp};
use shop::job::Job;
use shop::trial::own;

use super::view::View;
use crate::app::{App, failed};

/// The ended jobs of the tool of `job`, oldest first.
pub async fn earlier(app: &App, job: &Job) -> Result<Vec<Job>, Response> {
    let rows = app.store.jobs_of_tool(job.received.body.tool).await;
    let mut rows = rows.map_err(failed)?;
    rows.retain(|row| row.closed.is_some() && row.job != job.id);
    rows.sort_by_key(|row| row.number);
    let mut jobs = Vec::with_capacity(rows.len());
    for row in rows {
        let logged = app.store.entries(row.job).await.map_err(failed)?;
        let entries: Vec<Entry> = logged.into_iter().map(|l| l.entry).collect();
        jobs.extend(Job::fold(&entries));
    }
    Ok(jobs)
}

/// The set-ups of these jobs for the nose set and the fastener in hand.
pub fn set_ups(v: &View) -> Vec<PastSetUp> {
    let Some(set_up) = v.job.set_up() else {
        return Vec::new();
    };
    let fitted = &set_up.fitted.body;
    let (nose, fastener) = (&fitted.nose_set.id, &fitted.fastener.id);
    let past = v.past.iter();
    past.filter_map(|job| own::past(job, nose, fastener, &v.desk))
        .collect()
}
