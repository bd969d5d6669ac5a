//! Good pulls of the same model and fastener: recorded as left, on tools that were proved and went back.

use calc::pull::reading::Reading;
use jiff::Timestamp;
use shop::entry::{BandUsed, PullsRead};
use shop::job::{Job, Stamped};
use shop::pulls::{
    Good, GoodRecording, accepted, band, comparable, known_by, recording_again, setup_again,
};
use shop::sheet::{FastenerFamily, Rig, Shelf};
use store::StoreError;

use super::recording;
use crate::app::App;
use crate::job::past;

/// Ended jobs with recordings that are looked through.
const MOST_JOBS: u32 = 200;

/// Good pulls from which on no older ones are read: the tool was another then.
const ENOUGH: usize = 40;

/// The band of good pulls, and how many of them there are. Of pulls that count already (`read`), the band that they were held
/// against, whatever is known of its recordings since; they are named there.
pub(super) async fn of(
    app: &App,
    job: &Job,
    (rig, fastener): (&Rig, &FastenerFamily),
    read: Option<&PullsRead>,
    shelf: &Shelf,
) -> Result<(Option<Good>, usize), StoreError> {
    let mut found: Vec<Stamped<PullsRead>> = Vec::new();
    let mut count = 0;
    let used = |band: &BandUsed, other: &PullsRead| band.recordings.contains(&other.sha256);
    let day_of = |at: Timestamp| at.to_zoned_datetime(app.zone.clone()).date();
    let model = &job.received.body.model.id;
    for earlier in app.store.pulled_jobs(model, MOST_JOBS).await? {
        if earlier == job.id || (read.is_none() && count >= ENOUGH) {
            continue;
        }
        let Some(earlier) = past::read(&app.store, earlier).await? else {
            continue;
        };
        let others: Vec<&Stamped<PullsRead>> = match read.map(|read| &read.band) {
            None => accepted(&earlier, &fastener.id, rig, shelf, day_of).collect(),
            Some(None) => Vec::new(),
            Some(Some(band)) => comparable(&earlier, &fastener.id, rig)
                .filter(|other| used(band, &other.body))
                .collect(),
        };
        for other in others {
            count += other.body.pulls.len();
            found.push(other.clone());
        }
    }
    let mut readings: Vec<Reading> = Vec::new();
    let mut recordings = Vec::new();
    for other in found {
        let other = other.body;
        readings.extend(again(app, &other, shelf).await?);
        recordings.push(GoodRecording {
            known_by: known_by(&other),
            sha256: other.sha256,
        });
    }
    let all: Vec<&Reading> = readings.iter().collect();
    let good = band(&all).map(|band| Good { band, recordings });
    Ok((good, readings.len()))
}

/// The pulls of `other` that count, read from its file again as they were.
async fn again(app: &App, other: &PullsRead, shelf: &Shelf) -> Result<Vec<Reading>, StoreError> {
    let (of_rig, setup) = (recording_again(other, shelf), setup_again(other, shelf));
    let (files, sha256) = (app.store.files().clone(), other.sha256.clone());
    let look = move || recording::kept(&files, &sha256, of_rig, setup);
    let looked = tokio::task::spawn_blocking(look).await;
    let Some(read) = looked.map_err(|_| StoreError::Panicked)?? else {
        return Ok(Vec::new());
    };
    let counts = |number: u32| other.pulls.iter().any(|p| p.number == number);
    let of_it = read.pulls.into_iter().filter(|pull| counts(pull.number));
    Ok(of_it.filter_map(|pull| pull.reading.ok()).collect())
}
