//! The jobs in which a gauge took something that is in doubt.

use std::collections::BTreeMap;

use jiff::civil::Date;
use shop::entry::Entry;
use shop::gauge::{Doubt, Stands, Taken, Written};
use shop::job::Job;
use store::StoreError;
use uuid::Uuid;

use super::page::View;

/// Everything that throws doubt on what the gauge took, newest first: each failure, and each calibration that was struck.
pub(super) fn doubts(v: &View) -> Vec<Doubt> {
    let lines = v.history.lines().iter();
    let struck = lines
        .filter(|line| line.struck.is_some() && matches!(line.what, Written::Calibrated(_)))
        .map(|line| (line.date(), Doubt::Struck(line.number())));
    let failures = v.history.failures(Some(v.gauge)).into_iter();
    let failed = failures.map(|f| (f.found, Doubt::Failed(f)));
    let mut doubts: Vec<(Date, Doubt)> = struck.chain(failed).collect();
    doubts.sort_by_key(|(day, doubt)| std::cmp::Reverse((*day, doubt.number())));
    doubts.into_iter().map(|(_, doubt)| doubt).collect()
}

/// A job with the entries that count in it and that the gauge took something in, oldest first.
pub(super) struct Touched {
    /// The job.
    pub job: Job,
    entries: Vec<Entry>,
}

/// An entry with what is in doubt in it.
pub(super) struct InDoubt<'a> {
    /// The entry.
    pub entry: &'a Entry,
    /// What the gauge took in it that is in doubt.
    pub taken: Vec<Taken<'a>>,
    /// Whether its verdict would stand.
    pub stands: Stands,
}

impl Touched {
    /// What any of `doubts` throws doubt on.
    pub fn in_doubt(&self, v: &View, doubts: &[Doubt]) -> Vec<InDoubt<'_>> {
        let entries = self.entries.iter();
        let in_doubt = entries.filter_map(|entry| self.of_entry(v, doubts, entry));
        in_doubt.collect()
    }

    /// Of several doubts the one by which the verdict stands worst is told.
    fn of_entry<'a>(&self, v: &View, doubts: &[Doubt], entry: &'a Entry) -> Option<InDoubt<'a>> {
        let day = entry.at.to_zoned_datetime(v.app.zone.clone()).date();
        let id = v.gauge.id.as_str();
        let falls = |one: &Taken, doubt: &Doubt| {
            one.gauge.id == id && one.doubts(v.history, Some(v.gauge), day).contains(doubt)
        };
        let mut taken = entry.body.taken();
        taken.retain(|one| doubts.iter().any(|doubt| falls(one, doubt)));
        let desk = v.app.desk(v.shelf);
        let by = doubts
            .iter()
            .filter(|d| taken.iter().any(|one| falls(one, d)));
        let stands = by.map(|doubt| self.job.would_stand(&entry.body, id, doubt, day, &desk));
        Some(InDoubt {
            entry,
            stands: stands.max()?,
            taken,
        })
    }
}

/// The jobs that any of `doubts` can touch, newest first: one look at the logbook for all of them, from the earliest
/// day on.
pub(super) async fn touched(v: &View<'_>, doubts: &[Doubt]) -> Result<Vec<Touched>, StoreError> {
    if doubts.is_empty() {
        return Ok(Vec::new());
    }
    let from = |doubt: &Doubt| match doubt {
        Doubt::Failed(failure) => failure.good,
        Doubt::Struck(number) => v.history.line(*number).map(|line| line.date()),
    };
    let first = doubts.iter().map(from).min().flatten();
    let since = first.and_then(|day| day.to_zoned_datetime(v.app.zone.clone()).ok());
    let since = since.map(|at| at.timestamp());
    let entries = v.app.store.entries_with_gauge(&v.gauge.id, since).await?;
    let mut by_subject: BTreeMap<Uuid, Vec<Entry>> = BTreeMap::new();
    for entry in entries {
        by_subject.entry(entry.subject).or_default().push(entry);
    }
    let mut touched = Vec::new();
    for (subject, mut entries) in by_subject {
        let took = |t: &Taken| t.gauge.id == v.gauge.id;
        entries.retain(|entry| entry.body.taken().iter().any(took));
        if entries.is_empty() {
            continue;
        }
        let all = v.app.store.entries(subject).await?;
        let all: Vec<Entry> = all.into_iter().map(|l| l.entry).collect();
        let Some(job) = Job::fold(&all) else { continue };
        let struck = |version| job.struck.iter().any(|(entry, _)| entry.version == version);
        entries.retain(|entry| !struck(entry.version));
        touched.push(Touched { job, entries });
    }
    touched.retain(|touched| !touched.entries.is_empty());
    touched.sort_by_key(|touched| std::cmp::Reverse(touched.job.received.body.number));
    Ok(touched)
}
