//! Photos and files of a job: where they may stand, and that they can be struck.

use jiff::Timestamp;
use shop::entry::{
    Body, CauseConfirmed, Entry, FileAttached, PackState, PersonKey, PinRecord, Received, Struck,
};
use shop::job::{Command, Desk, Job, Stage, decide};
use shop::sheet::Shelf;
use uuid::Uuid;

fn pin(id: &str) -> PinRecord {
    PinRecord {
        id: id.to_owned(),
        revision: 1,
    }
}

fn received() -> Body {
    Received {
        number: 1001,
        customer: PersonKey("c".to_owned()),
        tool: Uuid::from_u128(2),
        serial: "7K-1".to_owned(),
        model: pin("m"),
        faults: pin("f"),
        shop: pin("s"),
        counter: None,
        counter_was: None,
        counter_anew: None,
        sold: None,
        first_used: None,
        complaint: "slips".to_owned(),
        symptoms: Vec::new(),
        came: Vec::new(),
        pack: PackState::None,
        made_safe: Vec::new(),
        due: None,
    }
    .into()
}

fn photo(stage: &str, sha256: &str) -> FileAttached {
    FileAttached {
        name: format!("{sha256}.jpg"),
        media_type: "image/jpeg".to_owned(),
        bytes: 9,
        sha256: sha256.to_owned(),
        stage: stage.to_owned(),
        note: " cracked shell ".to_owned(),
        step: String::new(),
    }
}

/// The job that `bodies` tell after the receipt.
fn job(bodies: impl IntoIterator<Item = Body>) -> Job {
    let all = std::iter::once(received()).chain(bodies);
    let entries: Vec<Entry> = all
        .zip(1..)
        .map(|(body, version)| Entry {
            subject: Uuid::from_u128(1),
            version,
            at: Timestamp::UNIX_EPOCH,
            by: PersonKey("a".to_owned()),
            body,
        })
        .collect();
    Job::fold(&entries).expect("a job")
}

/// What comes of attaching `files`, or the ids of the refusals.
fn attach(job: &Job, files: Vec<FileAttached>) -> Result<Vec<Body>, Vec<&'static str>> {
    let shelf = Shelf::default();
    let desk = Desk {
        shelf: &shelf,
        now: Timestamp::UNIX_EPOCH,
        today: jiff::civil::date(2026, 11, 25),
        zone: &jiff::tz::TimeZone::UTC,
        learned: None,
        worn: &[],
    };
    decide(job, Command::Attach(files), &desk)
        .map_err(|refusals| refusals.iter().map(|r| r.message.id).collect())
}

#[test]
fn a_photo_stands_at_its_stage_with_its_caption() {
    let bodies = attach(
        &job([]),
        vec![photo("received", "aa"), photo("fault", "aa")],
    );
    let job = job(bodies.expect("both stages are open"));
    let at: Vec<&str> = job
        .files_at(Stage::Received)
        .map(|f| f.body.note.as_str())
        .collect();
    assert_eq!(at, ["cracked shell"]);
    assert_eq!(job.files_at(Stage::Fault).count(), 1);
    assert_eq!(job.files_at(Stage::Agreed).count(), 0);
}

#[test]
fn a_stage_that_is_not_open_or_not_there_takes_none() {
    for stage in ["agreed", "proved", "nowhere", ""] {
        let refused = attach(&job([]), vec![photo(stage, "aa")]);
        assert_eq!(refused, Err(vec!["refuse-file-stage"]), "{stage}");
    }
    let cause = CauseConfirmed {
        set_up_only: false,
        causes: vec!["worn".to_owned()],
        probability: None,
        handed: Default::default(),
        note: String::new(),
    };
    assert!(attach(&job([cause.into()]), vec![photo("agreed", "aa")]).is_ok());
}

#[test]
fn the_same_file_is_attached_to_a_stage_once() {
    let refused = attach(&job([]), vec![photo("fault", "aa"), photo("fault", "aa")]);
    assert_eq!(refused, Err(vec!["refuse-file-again"]));
    let refused = attach(
        &job([photo("fault", "aa").into()]),
        vec![photo("fault", "aa")],
    );
    assert_eq!(refused, Err(vec!["refuse-file-again"]));
    assert_eq!(attach(&job([]), Vec::new()), Err(vec!["refuse-file-none"]));
}

#[test]
fn a_struck_photo_is_gone_and_may_be_attached_again() {
    let there = job([photo("fault", "aa").into()]);
    assert!(there.may_strike(2));
    let struck = Struck {
        version: 2,
        reason: "the wrong tool".to_owned(),
    };
    let after = job([photo("fault", "aa").into(), struck.into()]);
    assert_eq!(after.files_at(Stage::Fault).count(), 0);
    assert!(attach(&after, vec![photo("fault", "aa")]).is_ok());
}
