//! Good pulls of the same model and fastener: recorded as left, on tools that were proved and went back.

use calc::pull::envelope::Envelope;
use calc::pull::reading::Reading;
use shop::entry::PullsRead;
use shop::job::{Desk, Job, Stamped};
use shop::pulls::{accepted, band, recording_of, setup};
use shop::sheet::{FastenerFamily, Pin, Rig};
use store::StoreError;

use super::recording;
use crate::app::App;
use crate::job::past;

/// Ended jobs with recordings that are looked through.
const MOST_JOBS: u32 = 200;

/// Good pulls from which on no older ones are read: the tool was another then.
const ENOUGH: usize = 40;

/// The band of good pulls with the recordings that they stand in, and how many good pulls there are. Of pulls that
/// count already (`read`), the band that they were held against; its recordings are named there.
pub(super) async fn of(
    app: &App,
    job: &Job,
    (rig, fastener): (&Rig, &FastenerFamily),
    read: Option<&PullsRead>,
    desk: &Desk<'_>,
) -> Result<(Option<(Envelope, Vec<String>)>, usize), StoreError> {
    let mut found: Vec<Stamped<PullsRead>> = Vec::new();
    let mut count = 0;
    let wanted = |other: &PullsRead| match read {
        None => true,
        Some(read) => read
            .band
            .as_ref()
            .is_some_and(|band| band.recordings.contains(&other.sha256)),
    };
    let model = &job.received.body.model.id;
    for earlier in app.store.pulled_jobs(model, MOST_JOBS).await? {
        if earlier == job.id || (read.is_none() && count >= ENOUGH) {
            continue;
        }
        let Some(earlier) = past::read(&app.store, earlier).await? else {
            continue;
        };
        for other in accepted(&earlier, &fastener.id, rig).filter(|other| wanted(&other.body)) {
            count += other.body.pulls.len();
            found.push(other.clone());
        }
    }
    let mut readings: Vec<Reading> = Vec::new();
    let mut recordings = Vec::new();
    for other in found {
        readings.extend(again(app, &other, fastener, desk).await?);
        recordings.push(other.body.sha256);
    }
    let all: Vec<&Reading> = readings.iter().collect();
    let band = band(&all).map(|band| (band, recordings));
    Ok((band, readings.len()))
}

/// The pulls of `other` that count, read from its file again.
async fn again(
    app: &App,
    stamped: &Stamped<PullsRead>,
    fastener: &FastenerFamily,
    desk: &Desk<'_>,
) -> Result<Vec<Reading>, StoreError> {
    let desk = &recording::on_day_of(app, stamped, *desk);
    let other = &stamped.body;
    let pin = other.rig.as_ref().map(Pin::from);
    let rig = pin.as_ref().and_then(|pin| desk.shelf.rig(pin));
    let setup = setup(rig, Some(fastener), desk);
    let of_rig = rig.map(|rig| recording_of(rig, desk)).unwrap_or_default();
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
