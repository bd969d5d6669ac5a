//! Certificates and gauges that failed: what is in doubt is certified with a reason only, and a doubt that comes while
//! one waits makes it stale.

use calc::Message;
use jiff::civil::date;
use jiff::tz::TimeZone;
use shop::entry::{Body, CalibrationUsed, CertificateIssued, InDoubt, PullsCorrected, Reading};
use shop::gauge::GaugeCommand;
use shop::job::{CertificateState, Command, Desk, Doubted, Job, decide};
use shop::sheet::Shelf;

use crate::bench::{Bench, TODAY, desk};
use crate::certificate::{authorise, issue, issues, of, recorded, sha256, stored};
use crate::gauges::{CELL, bad, calibration, on, with, written};

/// What `command` is refused for at a bench with the gauges of `shelf`.
fn refused(bench: &Bench, command: Command, shelf: &Shelf) -> Vec<(String, Message)> {
    let told = decide(&bench.job(), command, &on(shelf)).expect_err("refused");
    let told = told.into_iter().map(|r| (r.field, r.message));
    told.collect()
}

/// `reason`, written with `seen` in sight.
pub fn doubted(reason: &str, seen: &[InDoubt]) -> Doubted {
    Doubted {
        reason: reason.to_owned(),
        seen: seen.iter().map(InDoubt::key).collect(),
    }
}

/// The form of a certificate for `reason`, with every doubt of `shelf` in sight.
fn issue_for(bench: &Bench, reason: &str, shelf: &Shelf) -> Command {
    let seen = bench.job().in_doubt(&on(shelf));
    issue(|c| c.doubted = doubted(reason, &seen))
}

/// The certificate that is prepared at a bench with the gauges of `shelf`, for `reason`.
fn prepared(bench: &Bench, reason: &str, shelf: &Shelf) -> CertificateIssued {
    let command = issue_for(bench, reason, shelf);
    let bodies = decide(&bench.job(), command, &on(shelf)).expect("allowed");
    match &bodies[..] {
        [Body::CertificatePrepared(prepared)] => prepared.certificate.clone(),
        other => panic!("{other:?}"),
    }
}

/// The entries of what the load cell took, as found and as left.
fn taken(bench: &Bench) -> [u32; 2] {
    let by_cell = |readings: &[Reading]| readings.iter().any(|r| r.gauge.id == CELL);
    let tests = bench.job().tests.into_iter();
    let taken = tests.filter(|t| by_cell(&t.body.readings));
    let taken: Vec<u32> = taken.map(|t| t.version).collect();
    taken.try_into().expect("the pull force in both phases")
}

/// The pull force, by its name on the model sheet, as found or as left.
pub fn pull_force(phase: &'static str) -> Message {
    Message::new(phase).with("what", "Pull force at stall")
}

/// That the load cell was found outside its limits on the day of every test.
fn failed_today(phase: &'static str) -> Message {
    Message::new("doubt-gauge-failed")
        .with("found", "25 Nov 2026")
        .with("gauge", "LC-50")
        .with("what", pull_force(phase))
}

const FOUND: &str = "measured-as-found";
const LEFT: &str = "measured-as-left";

fn in_doubt(entry: u32, number: u32, struck: bool) -> InDoubt {
    let gauge = CELL.to_owned();
    InDoubt {
        entry,
        gauge,
        number,
        struck,
    }
}

#[test]
fn a_doubted_reading_is_certified_with_a_written_reason_only() {
    let bench = Bench::proved();
    let [found, left] = taken(&bench);
    let failed = with(&[bad(TODAY)]);
    for nothing in ["", "  ", "customer knows", "customer – knows"] {
        let command = issue_for(&bench, nothing, &failed);
        let told = refused(&bench, command, &failed);
        let message = Message::new("refuse-certificate-doubt").with("what", failed_today(FOUND));
        assert_eq!(told, [("doubt".to_owned(), message)], "{nothing:?}");
    }
    // A reason for one doubt is none for another that came since.
    let twice = with(&[bad(TODAY), bad(TODAY)]);
    let early = issue_for(&bench, "seen by the customer", &failed);
    let told = refused(&bench, early, &twice);
    assert_eq!(
        (told[0].0.as_str(), told[0].1.id),
        ("doubt", "refuse-doubt-unseen")
    );
    let made = prepared(&bench, " seen by the customer ", &failed);
    let both = [in_doubt(found, 1, false), in_doubt(left, 1, false)];
    assert_eq!(made.in_doubt, both);
    assert_eq!(made.doubt_reason, "seen by the customer");
    // The content says so, and that it does.
    let mut silent = made.clone();
    silent.in_doubt.clear();
    assert_ne!(bench.job().certificate_content(&silent), made.content);
    let mut silent = made.clone();
    silent.doubt_reason.clear();
    assert_ne!(bench.job().certificate_content(&silent), made.content);

    // Where nothing is in doubt no reason is kept: it would stand on the paper for nothing.
    let sound = with(&[calibration(TODAY)]);
    let made = prepared(&bench, "to be sure", &sound);
    assert_eq!((made.in_doubt.len(), made.doubt_reason.as_str()), (0, ""));
    // A calibration before the readings ends what was found then.
    let earlier = with(&[bad(date(2026, 11, 24))]);
    assert!(prepared(&bench, "", &earlier).in_doubt.is_empty());
}

#[test]
fn the_day_of_a_reading_is_that_of_the_shop() {
    let bench = Bench::proved();
    // Read on the 25th in the morning, UTC; far enough to the west it was still the 24th.
    let failed = with(&[bad(date(2026, 11, 24))]);
    let west = TimeZone::fixed(jiff::tz::offset(-12));
    let there = Desk {
        zone: &west,
        ..on(&failed)
    };
    assert!(bench.job().in_doubt(&on(&failed)).is_empty());
    let found = bench.job().in_doubt(&there);
    assert_eq!(found, taken(&bench).map(|e| in_doubt(e, 1, false)));
}

#[test]
fn a_gauge_that_fails_while_it_waits_wants_it_prepared_anew() {
    let mut bench = Bench::proved();
    bench.does(issue(|_| {}));
    let failed = with(&[bad(TODAY)]);
    let changes = bench.job().changed_since_prepared(&on(&failed));
    assert_eq!(changes, [failed_today(FOUND), failed_today(LEFT)]);
    let told = refused(&bench, authorise(&bench, |_| {}), &failed);
    let message = Message::new("refuse-prepared-changed").with("what", failed_today(FOUND));
    assert_eq!(told, [(String::new(), message)]);
    // Prepared anew with the reason it waits again, and is authorised as it is.
    let anew = issue_for(&bench, "the customer knows", &failed);
    let bodies = decide(&bench.job(), anew, &on(&failed)).expect("allowed");
    bench.write(bodies);
    let job = bench.job();
    assert_eq!(job.changed_since_prepared(&on(&failed)), []);
    let bodies = decide(&job, authorise(&bench, |_| {}), &on(&failed)).expect("allowed");
    let [Body::CertificateIssued(issued)] = &bodies[..] else {
        panic!("{bodies:?}");
    };
    assert_eq!(issued.doubt_reason, "the customer knows");
    // What found it was struck: it would say a doubt that is none.
    let strike = GaugeCommand::Strike {
        number: 1,
        reason: "another cell".to_owned(),
    };
    let again = written(failed, CELL, &strike);
    assert_eq!(
        job.changed_since_prepared(&on(&again)),
        [FOUND, LEFT].map(|phase| {
            let gone = Message::new("prepared-doubt-gone").with("what", pull_force(phase));
            gone.with("gauge", "LC-50")
        })
    );
    bench.write(bodies);
    let issued = of(&bench, bench.job().version);
    assert_eq!(
        bench.job().certificate_state(&issued),
        CertificateState::InForce
    );
}

#[test]
fn every_doubt_on_a_reading_counts_not_only_the_first() {
    let bench = Bench::proved();
    let twice = with(&[bad(TODAY), bad(TODAY)]);
    let both = |entry| [in_doubt(entry, 1, false), in_doubt(entry, 2, false)];
    let all = taken(&bench).map(both).concat();
    assert_eq!(bench.job().in_doubt(&on(&twice)), all);
}

/// What a program of before made and another authorises keeps the form in which it was made.
#[test]
fn a_certificate_of_before_keeps_its_content() {
    let mut bench = Bench::received("tulvane-tb-32", &["jaws-slip"]);
    bench.write(recorded());
    let older = stored(2);
    assert_eq!(older.method, "bench-proof 2");
    // The third listed otherwise and said the same.
    let between = stored(3);
    assert_eq!(between.method, "bench-proof 3");
    let newer = stored(4);
    assert_eq!(newer.method, "bench-proof 4");
    let said = |bench: &Bench| {
        let job = bench.job();
        [&older, &newer, &between].map(|c| job.certificate_content(c))
    };
    let before = said(&bench);
    let altered_at = |version: u32, with: fn(&mut shop::entry::PullsRead)| {
        let mut other = Bench {
            entries: bench.entries.clone(),
            desk: desk(),
        };
        let mut entries = other.entries.iter_mut().filter(|e| e.version == version);
        let read = entries.find_map(|e| match &mut e.body {
            Body::PullsRead(read) => Some(read),
            _ => None,
        });
        with(read.expect("recorded"));
        said(&other)
    };
    let altered = |with| altered_at(2, with);
    for now in [
        altered(|read| read.pulls[0].spoiled = true),
        altered(|read| {
            let gauge = CELL.to_owned();
            read.calibrations = vec![PullsCorrected { gauge, number: 3 }];
        }),
        altered(|read| read.no_curve = vec![CELL.to_owned()]),
        altered_at(3, |read| {
            let band = read.band.as_mut().expect("held against a band");
            band.counts_gauges = true;
        }),
    ] {
        assert_eq!(now[0], before[0], "it says what it said");
        assert_eq!(now[2], before[2], "it says what it said");
        assert_ne!(now[1], before[1], "it says this, too");
    }
}

#[test]
fn the_calibration_behind_a_reading_stands_in_the_content() {
    let mut bench = Bench::proved();
    let version = issues(&mut bench, |_| {});
    let issued = of(&bench, version);
    let alters: [fn(&mut Reading); 3] = [
        |reading| {
            reading.calibration = Some(CalibrationUsed {
                number: 1,
                indicated: reading.value,
                deviation: Some(0.0),
            });
        },
        |reading| reading.from_rest = true,
        |reading| reading.beyond = true,
    ];
    for alter in alters {
        let mut altered = bench.entries.clone();
        let reading = altered.iter_mut().find_map(|e| match &mut e.body {
            Body::BenchTestRead(b) => b.readings.first_mut(),
            _ => None,
        });
        alter(reading.expect("a reading"));
        let then = Job::as_certified(&altered, version).expect("a job");
        assert_ne!(then.certificate_content(&issued), issued.content);
    }
}

/// Written out by hand, as those of before: another form would make what was issued unprintable.
#[test]
fn the_form_of_the_content_with_calibrations_is_fixed() {
    let mut bench = Bench::received("tulvane-tb-32", &["jaws-slip"]);
    bench.write(recorded());
    // A test made of pulls, by a cell that was corrected.
    let tests = crate::entries::stored().filter(|(kind, _)| *kind == "bench-test-read");
    let bodies = tests.map(|(kind, json)| Body::from_json(kind, 1, json).expect("it reads"));
    let from_rest = |body: &Body| body.readings().iter().any(|r| r.from_rest);
    bench.write(bodies.filter(from_rest));
    let test = r#"[4,"as-left","pull-force",20.0,0.1,null,"accept",[[20.0,"kN","20.6000 kN",["lc-50",1],0.1,true,[1,20.6,0.6],null,false,true,false]],""]"#;
    let hash = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    let left = format!(
        r#"["as-left","{hash}","stall.csv",["bench-1",1],null,[["lc-50",1],["ds-1",1]],true,6,[[2,[["peak",20.41,0.26,19.0,22.0,"accept"],["stroke",11.2,0.08,null,null,null]],null,false]],null,"accept",["pull-reading 1"],"",[],[],1,false]"#
    );
    let found = format!(
        r#"["as-found","{hash}","d6.csv",null,["drumhale-d6",1],[],false,1,[[1,[],"undecided",false]],[12,0.92,["{hash}"]],"undecided",["pull-reading 1","pull-envelope 1"],"no rig",[],[],0,false]"#
    );
    let written = format!(
        r#"["setwright certificate 3","1-P1","bench-proof 4",null,"",[1,"T-1"],12000,"customer",[["tulvane-tb-32",1]],[1,2,3],null,[{test}],null,null,[21.5,""],"","k3",null,[[2,{left},null],[3,{found},null]],[3,2],[[2,"lc-50",3,false],[2,"lc-50",1,true]],"the customer waits"]"#
    );
    let job = bench.job();
    assert_eq!(
        job.certificate_content(&stored(4)),
        sha256(&written),
        "{written}"
    );
}

#[test]
fn whatever_a_certificate_rests_on_is_looked_at_for_doubt() {
    let mut bench = Bench::ready("tulvane-tb-32").rebuilt("collet").set_up_m8();
    bench.write(recorded());
    let failed = with(&[bad(TODAY)]);
    let kinds = |bench: &Bench| {
        let doubts = bench.job().in_doubt(&on(&failed));
        let of = |entry: u32| bench.entries.iter().find(|e| e.version == entry);
        let kinds = doubts.iter().filter_map(|d| Some(of(d.entry)?.body.kind()));
        kinds.collect::<Vec<_>>()
    };
    // The bench test as found, and the pulls that name the cell.
    assert_eq!(kinds(&bench), ["bench-test-read", "pulls-read"]);
    // The collet of the fitting, as if it had been measured with that gauge.
    let by_cell = bench.job().tests[0].body.readings.first().cloned();
    assert_eq!(by_cell.as_ref().map(|r| r.gauge.id.as_str()), Some(CELL));
    let mut fitted = bench.entries.iter_mut().filter_map(|e| match &mut e.body {
        Body::Fitted(fitted) => Some(fitted),
        _ => None,
    });
    fitted.next().expect("fitted").collet_mm = by_cell.clone();
    assert_eq!(kinds(&bench), ["bench-test-read", "fitted", "pulls-read"]);
    // A trial joint, once the setting that it made is signed off.
    let joints = bench.entries.iter_mut().filter_map(|e| match &mut e.body {
        Body::TrialJointRead(joint) => Some(joint),
        _ => None,
    });
    let last = joints.last().expect("set");
    last.readings[0].reading = by_cell.expect("a reading");
    let all = [
        "bench-test-read",
        "fitted",
        "trial-joint-read",
        "pulls-read",
    ];
    assert_eq!(kinds(&bench), all);
}
