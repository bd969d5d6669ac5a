//! Recorded pulls stand and fall with what is known of the load cell.

use calc::pull::reading::{Reading, read_pull};
use calc::pull::recording::RecordedPull;
use jiff::civil::date;
use shop::entry::{Body, Outcome, PullsRead};
use shop::job::{Desk, Refusals, decide};
use shop::pulls::{OnePull, setup};
use shop::sheet::Shelf;

use crate::bench::{desk, shelf};
use crate::gauges::{calibration, row, with};
use crate::pulls::{input, pull, takes, with_file};

/// `made` read on the demo's rig with what `shelf` knows of its gauges.
fn read(made: &RecordedPull, shelf: &Shelf) -> Reading {
    let rig = shelf.rigs().next().expect("the demo's").1;
    let desk = Desk { shelf, ..desk() };
    let setup = setup(Some(rig), None, &desk);
    read_pull(made, &setup).expect("a pull")
}

fn one(made: &RecordedPull, number: u32, shelf: &Shelf) -> OnePull {
    OnePull {
        number,
        first_line: made.first_line,
        last_line: made.last_line,
        doubtful: false,
        spoiled: false,
        reading: Ok(read(made, shelf)),
    }
}

fn taken(shelf: &Shelf, pulls: Vec<OnePull>, note: &str) -> Result<Vec<Body>, Refusals> {
    let mut input = input(pulls, None);
    input.note = note.to_owned();
    let desk = Desk { shelf, ..desk() };
    decide(&with_file().job(), takes(input), &desk)
}

fn pulls_of(bodies: &[Body]) -> &PullsRead {
    match &bodies[0] {
        Body::PullsRead(read) => read,
        other => panic!("{other:?}"),
    }
}

fn stall(peak_kn: f64) -> RecordedPull {
    pull(peak_kn, false, &[])
}

#[test]
fn a_failed_cell_decides_nothing() {
    // Left 1.1 kN off at 30 kN, limit 0.5.
    let mut bad = calibration(date(2026, 11, 1));
    bad.rows[1] = row(1, 30.0, 1.2, Some(1.1));
    let shelf = with(&[bad]);
    let bodies = taken(&shelf, vec![one(&stall(20.5), 1, &shelf)], "").expect("taken");
    let read = pulls_of(&bodies);
    assert!(!read.in_date);
    assert_eq!(read.outcome, Some(Outcome::Undecided));
}

#[test]
fn a_calibration_corrects_pulls_once_and_the_bench_test_made_of_them_alike() {
    // Deviations +0.2 at 10, +0.4 at 30 kN: +0.302 where 20.5 is shown, so 20.198 was pulled.
    let shelf = with(&[calibration(date(2026, 10, 1))]);
    let pulls = (1..=5).map(|n| one(&stall(20.5), n, &shelf)).collect();
    let bodies = taken(&shelf, pulls, "").expect("taken");
    let read = pulls_of(&bodies);
    let peak = read.pulls[0].features.iter().find(|f| f.feature == "peak");
    let peak = peak.expect("a peak");
    assert!((peak.value - 20.198).abs() < 0.02, "{peak:?}");
    assert_eq!(read.calibrations[0].gauge, "lc-50");
    let test = bodies.iter().find_map(|body| match body {
        Body::BenchTestRead(test) => Some(test),
        _ => None,
    });
    let test = test.expect("five to stall answer it");
    assert!(
        (test.value.expect("measured") - peak.value).abs() < 0.001,
        "{test:?}"
    );
    assert!(
        (test.readings[0].indicated() - 20.5).abs() < 0.02,
        "{test:?}"
    );
    assert!(
        test.expanded.expect("measured") >= peak.expanded - 1e-9,
        "{test:?}"
    );
}

#[test]
fn what_a_pull_is_unsure_by_itself_stays_in_the_bench_test() {
    // A tip of 2 kN over 3 ms: the filter hides it, and says that it does not know.
    let made: RecordedPull = {
        let mut made = stall(20.5);
        let top = made.force_kn.iter().position(|f| *f > 20.4).expect("a top") + 100;
        made.force_kn[top..top + 3]
            .iter_mut()
            .for_each(|f| *f += 2.0);
        made
    };
    let pulls = (1..=5).map(|n| one(&made, n, shelf())).collect();
    let bodies = taken(shelf(), pulls, "").expect("taken");
    let peak = pulls_of(&bodies).pulls[0]
        .features
        .iter()
        .find(|f| f.feature == "peak")
        .expect("a peak")
        .clone();
    assert!(peak.expanded > 0.5, "{peak:?}");
    let tests: Vec<_> = bodies[1..]
        .iter()
        .filter_map(|body| match body {
            Body::BenchTestRead(test) => test.expanded,
            _ => None,
        })
        .collect();
    assert!(!tests.is_empty());
    assert!(
        tests
            .iter()
            .all(|expanded| *expanded >= peak.expanded - 1e-9),
        "{tests:?} {peak:?}"
    );
}

#[test]
fn a_pull_that_a_fault_spoils_is_taken_with_a_reason_only_and_decides_nothing() {
    let pulls = || -> Vec<OnePull> {
        (1..=5)
            .map(|n| OnePull {
                doubtful: true,
                spoiled: true,
                ..one(&stall(20.5), n, shelf())
            })
            .collect()
    };
    let refused = taken(shelf(), pulls(), " ").expect_err("no reason");
    assert_eq!(
        (refused[0].field.as_str(), refused[0].message.id),
        ("note", "refuse-pulls-spoiled")
    );
    let bodies = taken(shelf(), pulls(), "the logger ran out of paper").expect("taken");
    let read = pulls_of(&bodies);
    assert_eq!(read.outcome, Some(Outcome::Undecided));
    assert!(read.pulls.iter().all(|pull| pull.spoiled));
    assert_eq!(bodies.len(), 1, "no bench test is answered: {bodies:?}");
    // The sound ones beside it count.
    let mut some = pulls();
    for pull in &mut some[1..] {
        pull.spoiled = false;
    }
    let bodies = taken(shelf(), some, "the first was cut off").expect("taken");
    assert_eq!(bodies.len(), 1, "four are too few");
}

#[test]
fn beyond_the_points_of_the_calibration_nothing_is_decided() {
    let mut short = calibration(date(2026, 10, 1));
    short.rows.truncate(2);
    let shelf = with(&[short]);
    let bodies = taken(&shelf, vec![one(&stall(31.0), 1, &shelf)], "").expect("taken");
    assert_eq!(pulls_of(&bodies).outcome, Some(Outcome::Undecided));
}
