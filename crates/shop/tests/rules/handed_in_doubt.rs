//! A tool that goes back with readings in doubt: by a reason in words, kept beside what was in doubt.

use calc::Message;
use shop::entry::{Body, Returned};
use shop::job::{Command, ReturnIn, decide};
use shop::sheet::Shelf;

use crate::bench::{Bench, TODAY};
use crate::certificate_doubts::{doubted, pull_force};
use crate::gauges::{bad, calibration, on, with};
use crate::walk::hand_back;

/// The hand-back for `reason`, with every doubt of `shelf` in sight.
fn back(bench: &Bench, reason: &str, shelf: &Shelf) -> Command {
    let Command::Return(input) = hand_back() else {
        panic!("it goes back");
    };
    Command::Return(ReturnIn {
        doubted: doubted(reason, &bench.job().all_in_doubt(&on(shelf))),
        ..input
    })
}

fn handed(bench: &Bench, reason: &str, shelf: &Shelf) -> Returned {
    let bodies = decide(&bench.job(), back(bench, reason, shelf), &on(shelf)).expect("allowed");
    match bodies.into_iter().next() {
        Some(Body::Returned(returned)) => returned,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_tool_with_readings_in_doubt_goes_back_by_a_reason_in_words_only() {
    let mut bench = Bench::proved();
    let failed = with(&[bad(TODAY)]);
    let what = Message::new("doubt-gauge-failed")
        .with("found", "25 Nov 2026")
        .with("gauge", "LC-50")
        .with("what", pull_force("measured-as-found"));
    for short in ["", "driver waits", "driver – waits !"] {
        let told =
            decide(&bench.job(), back(&bench, short, &failed), &on(&failed)).expect_err(short);
        let told: Vec<_> = told.into_iter().map(|r| (r.field, r.message)).collect();
        let message = Message::new("refuse-return-doubt").with("what", what.clone());
        assert_eq!(told, [("doubt".to_owned(), message)], "{short:?}");
    }
    // A doubt that came since the page was opened has no reason yet.
    let twice = with(&[bad(TODAY), bad(TODAY)]);
    let early = back(&bench, "the driver waits", &failed);
    let told = decide(&bench.job(), early, &on(&twice)).expect_err("a doubt nobody saw");
    assert_eq!(told[0].message.id, "refuse-doubt-unseen");
    let kept = handed(&bench, " the driver waits ", &failed);
    assert_eq!(kept.doubt_reason, "the driver waits");
    assert_eq!(kept.in_doubt, bench.job().all_in_doubt(&on(&failed)));
    assert_eq!(kept.in_doubt.len(), 2, "as found and as left");
    // Nothing in doubt: no reason is asked for, and none kept.
    let sound = with(&[calibration(TODAY)]);
    let plain = handed(&bench, "to be sure", &sound);
    assert_eq!((plain.in_doubt.len(), plain.doubt_reason.as_str()), (0, ""));
    // What was in doubt then is told once; what came since is told, too.
    bench.write([Body::from(kept)]);
    let job = bench.job();
    assert!(job.doubted_since_returned(&on(&failed)).is_empty());
    let since = job.doubted_since_returned(&on(&twice));
    assert_eq!(since.iter().map(|d| d.number).collect::<Vec<_>>(), [2, 2]);
}

#[test]
fn a_tool_handed_back_before_it_was_asked_reads() {
    let json = r#"{"to":"k1","with":[],"report":"1-R1","authorised":"k2","note":""}"#;
    let body = Body::from_json("returned", 1, json).expect("an older record");
    let Body::Returned(back) = &body else {
        panic!("{body:?}");
    };
    assert_eq!((back.in_doubt.len(), back.doubt_reason.as_str()), (0, ""));
}
