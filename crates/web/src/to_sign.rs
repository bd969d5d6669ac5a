//! Certificates that wait for a second person, on the bench: which of them can still be signed.

use std::collections::BTreeSet;

use maud::{Markup, html};
use shop::entry::Entry;
use shop::job::Job;
use shop::tables::JobRow;
use store::StoreError;

use crate::app::App;

/// Numbers of those of `jobs` whose certificate can no longer be authorised: what it rests on changed, or a gauge behind it.
/// Whether a gauge failed stands in no job, so each that waits is looked at; there are never many.
pub(crate) async fn stale(app: &App, jobs: &[JobRow]) -> Result<BTreeSet<u32>, StoreError> {
    let shelf = app.store.shelf();
    let mut stale = BTreeSet::new();
    for row in jobs {
        let entries = app.store.entries(row.job).await?;
        let entries: Vec<Entry> = entries.into_iter().map(|l| l.entry).collect();
        let Some(job) = Job::fold(&entries) else {
            continue;
        };
        let changes = job.changed_since_prepared(&app.desk(&shelf));
        if !job.certifiable() || !changes.is_empty() {
            stale.insert(row.number);
        }
    }
    Ok(stale)
}

/// The certificates of `jobs`, each with the way to where it is signed or prepared.
pub(crate) fn listed(said: &str, jobs: &[JobRow]) -> Markup {
    html! {
        @if !jobs.is_empty() {
            p.note {
                (said)
                @for job in jobs { " " a href=(format!("/jobs/{}#certificate-waits", job.number)) { (job.signature) } }
            }
        }
    }
}
