//! A recording read from its file, piece by piece: what is kept of a pull is its reading, not its samples.

use std::io::{self, Read};

use axum::http::StatusCode;
use axum::response::Response;
use calc::pull::reading::{Setup, read_pull};
use calc::pull::recording::{Bounds, Fault, Reader, RecordedPull, Rig, Told};
use shop::entry::{FileAttached, PullsRead};
use shop::job::{Job, Stamped};
use shop::pulls::{
    Good, KnownBy, OnePull, beside, known_by, known_now, recording_again, recording_of, setup,
    setup_again,
};
use shop::sheet::{FastenerFamily, Kind, Pin, Rig as RigSheet, Shelf};
use store::{FileError, FileHash, Files, StoreError};

use super::{good, phase_of};
use crate::app::{App, failed};
use crate::forms::Typed;
use crate::shell::{Page, error_page, internal};

/// Pulls of one recording that are read; more are counted.
const MOST_PULLS: usize = 200;

/// A recording, read.
pub(crate) struct Recording {
    /// Its entry: the file.
    pub file: Stamped<FileAttached>,
    /// Rig id; empty for none.
    pub rig: String,
    /// Fastener id; empty to stall.
    pub fastener: String,
    /// What was found beside the pulls.
    pub told: Told,
    /// By what the gauges behind the pulls were known when they were read.
    pub known_by: Vec<KnownBy>,
    /// Its pulls.
    pub pulls: Vec<OnePull>,
    /// How many more pulls stand in it: they are counted, not read.
    pub more: u32,
    /// Good pulls of the same model and fastener.
    pub band: Option<Good>,
    /// How a pull is read beside those.
    pub beside: Setup,
    /// How many good pulls there are.
    pub good: usize,
}

impl Recording {
    /// Faults that lie in `pull`.
    pub fn faults_in(&self, pull: &OnePull) -> impl Iterator<Item = &Fault> {
        let (first, last) = (pull.first_line, pull.last_line);
        self.told
            .faults
            .iter()
            .filter(move |fault| fault.line <= last && fault.last_line >= first)
    }
}

/// What a recording is read with.
struct With<'a> {
    rig: Option<&'a RigSheet>,
    fastener: Option<&'a FastenerFamily>,
    of_rig: Rig,
    setup: Setup,
    known_by: Vec<KnownBy>,
    shelf: &'a Shelf,
}

/// The recording of the entry `version`, read with what was picked in `typed`: `rig`, `fastener`.
///
/// # Errors
/// No such file in the job; the disk or the record fails.
pub(super) async fn picked(
    app: &App,
    p: &Page,
    job: &Job,
    version: u32,
    typed: &Typed,
) -> Result<Recording, Response> {
    let not_here = || error_page(p, StatusCode::NOT_FOUND, None);
    let file = job.files.iter().find(|f| f.version == version);
    let file = file.ok_or_else(not_here)?.clone();
    let shelf = app.store.shelf();
    let desk = app.desk(&shelf);
    let newest = |kind: Kind, name: &str| shelf.newest(kind, typed.get(name));
    let (rig, fastener) = (newest(Kind::Rig, "rig"), newest(Kind::Fastener, "fastener"));
    let rig = rig.as_ref().and_then(|pin| shelf.rig(pin));
    let fastener = fastener.as_ref().and_then(|pin| shelf.fastener(pin));
    let known_by = rig.map_or(Vec::new(), |rig| known_now(rig, &desk));
    let with = With {
        rig,
        fastener,
        of_rig: rig.map(|rig| recording_of(rig, &desk)).unwrap_or_default(),
        setup: setup(rig, fastener, &desk),
        known_by: known_by.clone(),
        shelf: &shelf,
    };
    let counts_gauges = |good: &Good| good.counts_gauges(&known_by);
    let recording = of_file(app, job, file, with, None, counts_gauges).await?;
    recording.ok_or_else(not_here)
}

/// The recording whose pulls count by `read`, as it was read then: by the sheets and the calibrations that it names.
///
/// # Errors
/// The disk or the record fails; `None` where the file is lost.
pub(super) async fn of_entry(
    app: &App,
    job: &Job,
    read: &PullsRead,
) -> Result<Option<Recording>, Response> {
    let shelf = app.store.shelf();
    let Some(file) = file_of(&job.files, read).cloned() else {
        return Ok(None);
    };
    let pin = |record: &Option<shop::entry::PinRecord>| record.as_ref().map(Pin::from);
    let (rig, fastener) = (pin(&read.rig), pin(&read.fastener));
    let with = With {
        rig: rig.as_ref().and_then(|pin| shelf.rig(pin)),
        fastener: fastener.as_ref().and_then(|pin| shelf.fastener(pin)),
        of_rig: recording_again(read, &shelf),
        setup: setup_again(read, &shelf),
        known_by: known_by(read),
        shelf: &shelf,
    };
    let used = read.band.as_ref().is_some_and(|band| band.counts_gauges);
    of_file(app, job, file, with, Some(read), |_| used).await
}

/// The file that `read` is of. The same one may have been brought as found and as left: then the one at its stage.
fn file_of<'a>(
    files: &'a [Stamped<FileAttached>],
    read: &PullsRead,
) -> Option<&'a Stamped<FileAttached>> {
    let same = || files.iter().filter(|f| f.body.sha256 == read.sha256);
    let at_stage = same().find(|f| phase_of(&f.body.stage) == read.phase);
    at_stage.or_else(|| same().next())
}

/// The recording that the form of kind `pulls` is about: its field `file` names it by entry, or by its name.
///
/// # Errors
/// As [`picked`].
pub(crate) async fn asked(
    app: &App,
    p: &Page,
    job: &Job,
    typed: &Typed,
) -> Result<Recording, Response> {
    let named = typed.get("file");
    let file = job.files.iter().rev().find(|f| {
        let by_version = named.parse() == Ok(f.version);
        by_version || f.body.name == named
    });
    let not_here = || error_page(p, StatusCode::NOT_FOUND, None);
    let version = file.ok_or_else(not_here)?.version;
    picked(app, p, job, version, typed).await
}

async fn of_file(
    app: &App,
    job: &Job,
    file: Stamped<FileAttached>,
    with: With<'_>,
    read: Option<&PullsRead>,
    counts_gauges: impl Fn(&Good) -> bool,
) -> Result<Option<Recording>, Response> {
    let (files, setup) = (app.store.files(), with.setup);
    let found = stream(files, &file.body.sha256, with.of_rig, setup.clone()).await?;
    let Some(Streamed { told, pulls, more }) = found else {
        return Ok(None);
    };
    let (band, good) = match with.rig.zip(with.fastener) {
        Some(both) => {
            let good = good::of(app, job, both, read, with.shelf).await;
            good.map_err(failed)?
        }
        None => (None, 0),
    };
    let beside = beside(&setup, band.as_ref().is_some_and(counts_gauges));
    Ok(Some(Recording {
        file,
        rig: with.rig.map(|rig| rig.id.clone()).unwrap_or_default(),
        fastener: with.fastener.map(|f| f.id.clone()).unwrap_or_default(),
        told,
        known_by: with.known_by,
        pulls,
        more,
        band,
        beside,
        good,
    }))
}

/// What a file holds.
pub(super) struct Streamed {
    told: Told,
    pub pulls: Vec<OnePull>,
    more: u32,
}

/// Reads the file with this hash beside the threads that answer; `None` where it is not kept.
async fn stream(
    files: &Files,
    sha256: &str,
    rig: Rig,
    setup: Setup,
) -> Result<Option<Streamed>, Response> {
    let (files, sha256) = (files.clone(), sha256.to_owned());
    let look = move || kept(&files, &sha256, rig, setup);
    let looked = tokio::task::spawn_blocking(look).await;
    looked.map_err(internal)?.map_err(failed)
}

/// The same, waiting for the disk.
pub(super) fn kept(
    files: &Files,
    sha256: &str,
    rig: Rig,
    setup: Setup,
) -> Result<Option<Streamed>, StoreError> {
    let Some(hash) = FileHash::parse(sha256) else {
        return Ok(None);
    };
    let file = match files.open(&hash) {
        Ok(file) => file,
        Err(FileError::Store(error)) => return Err(error),
        Err(FileError::Refused(_)) => return Ok(None),
    };
    let read = file.map(|file| read(file, rig, &setup)).transpose();
    read.map_err(StoreError::from)
}

/// What the file holds.
fn read(mut file: impl Read, rig: Rig, setup: &Setup) -> io::Result<Streamed> {
    let mut reader = Reader::new(rig, Bounds::default());
    let mut piece = vec![0; 256 * 1024];
    let (mut found, mut pulls, mut number) = (Vec::new(), Vec::new(), 0_u32);
    let mut take = |found: &mut Vec<RecordedPull>, pulls: &mut Vec<OnePull>| {
        for pull in found.drain(..) {
            number += 1;
            if pulls.len() < MOST_PULLS {
                pulls.push(one(number, &pull, setup));
            }
        }
    };
    loop {
        let length = file.read(&mut piece)?;
        if length == 0 {
            break;
        }
        reader.feed(&piece[..length], &mut found);
        take(&mut found, &mut pulls);
    }
    let told = reader.finish(&mut found);
    take(&mut found, &mut pulls);
    let more = number - pulls.len() as u32;
    Ok(Streamed { told, pulls, more })
}

fn one(number: u32, pull: &RecordedPull, setup: &Setup) -> OnePull {
    OnePull {
        number,
        first_line: pull.first_line,
        last_line: pull.last_line,
        doubtful: !pull.faults.is_empty(),
        spoiled: pull.faults.iter().any(Fault::spoils),
        reading: read_pull(pull, setup),
    }
}

#[cfg(test)]
mod tests {
    use jiff::Timestamp;
    use shop::entry::{Body, FileAttached, PersonKey, PullsRead};
    use shop::job::Stamped;

    use super::file_of;

    fn file(version: u32, stage: &str) -> Stamped<FileAttached> {
        Stamped {
            version,
            at: Timestamp::UNIX_EPOCH,
            by: PersonKey(String::new()),
            body: FileAttached {
                name: "d6.csv".to_owned(),
                media_type: "text/csv".to_owned(),
                bytes: 9,
                sha256: "ba78".to_owned(),
                stage: stage.to_owned(),
                note: String::new(),
                step: String::new(),
            },
        }
    }

    fn read(phase: &str) -> PullsRead {
        let json = r#"{"phase":"PHASE","sha256":"ba78","name":"d6.csv","rig":null,"fastener":null,"gauges":[],
            "in_date":false,"found":1,"faults":0,"pulls":[],"band":null,"outcome":null,"methods":[],"note":""}"#;
        match Body::from_json("pulls-read", 1, &json.replace("PHASE", phase)) {
            Ok(Body::PullsRead(read)) => read,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_recording_that_was_brought_twice_is_the_one_at_the_stage_of_the_reading() {
        let files = [file(3, "fault"), file(8, "proved")];
        let of = |files: &[Stamped<FileAttached>], phase| {
            file_of(files, &read(phase)).map(|file| file.version)
        };
        assert_eq!(of(&files, "as-found"), Some(3));
        assert_eq!(of(&files, "as-left"), Some(8));
        // Brought once it is that one, wherever it stands.
        assert_eq!(of(&files[..1], "as-left"), Some(3));
        assert_eq!(of(&[], "as-left"), None);
    }
}
