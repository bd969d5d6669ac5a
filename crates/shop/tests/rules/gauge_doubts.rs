//! What ends a failure of a gauge, and what falls with it: readings, recorded pulls, one direction of a wrench.

use calc::units::Unit;
use jiff::civil::{Date, date};
use shop::entry::{Body, CheckedAs, Outcome, Phase, WrenchWay};
use shop::gauge::{CheckIn, CheckRowIn, Doubt, GaugeCommand, Stands, State};
use shop::job::{self, BenchTestIn, Command};
use shop::sheet::{BenchTestKind, Shelf};

use crate::bench::{Bench, TODAY, measured, shelf};

const AH: &str = "orrinbeck-ah-21";
use crate::entries::stored;
use crate::gauge_checks::torque_check;
use crate::gauges::{CELL, bad, calibration, gauge, on, row, with, written};

/// A check of the load cell that reads `off` percent too much.
fn force_check(day: Date, off: f64) -> GaugeCommand {
    let row = |row: usize| {
        let nominal = 10.0 * (row as f64 + 1.0);
        let at = |i: usize| (format!("at-{row}-{i}"), nominal * (1.0 + off / 100.0));
        CheckRowIn {
            row,
            nominal,
            readings: (0..3).map(at).collect(),
        }
    };
    GaugeCommand::Check(CheckIn {
        date: day,
        check: Some(CheckedAs::Force {
            reference_expanded_pct: 0.5,
        }),
        limit_pct: 1.0,
        rows: (0..5).map(row).collect(),
        reference: "proving ring".to_owned(),
        note: String::new(),
    })
}

fn state(shelf: &Shelf) -> State {
    shelf.standing(gauge(CELL), TODAY, None).state
}

fn again(shelf: &Shelf) -> Option<Date> {
    let history = shelf.gauge_history(CELL).expect("written");
    history.failures(Some(gauge(CELL)))[0].again
}

#[test]
fn an_undecided_check_does_not_readmit_a_gauge_that_failed() {
    let failed = written(shelf().clone(), CELL, &force_check(date(2026, 11, 1), 5.0));
    assert_eq!(state(&failed), State::Failed);
    // 1 % against a limit of 1 %: undecided.
    let open = written(failed.clone(), CELL, &force_check(date(2026, 11, 2), 0.9));
    assert_eq!((state(&open), again(&open)), (State::Failed, None));
    let good = written(open, CELL, &force_check(date(2026, 11, 3), 0.0));
    let day = Some(date(2026, 11, 3));
    assert_eq!((state(&good), again(&good)), (State::InDate, day));
}

#[test]
fn an_undecided_calibration_does_not_readmit_a_gauge_that_failed() {
    // Found outside its limits and left at the limit, 0.6 kN with U = 0.1.
    let mut open = bad(date(2026, 10, 1));
    open.rows[1] = row(1, 30.0, 1.2, Some(0.6));
    let shelf = with(&[open.clone()]);
    assert_eq!((state(&shelf), again(&shelf)), (State::Failed, None));
    // Failed, then calibrated and still undecided.
    let mut left_bad = calibration(date(2026, 10, 1));
    left_bad.rows[1] = row(1, 30.0, 1.2, Some(1.1));
    let mut later = calibration(date(2026, 10, 20));
    later.rows[1] = row(1, 30.0, 0.6, None);
    let shelf = with(&[left_bad.clone(), later]);
    assert_eq!((state(&shelf), again(&shelf)), (State::Failed, None));
    // A check in the shop does not undo what the laboratory says; a good calibration does.
    let shelf = written(
        with(&[left_bad]),
        CELL,
        &force_check(date(2026, 10, 5), 0.0),
    );
    assert_eq!((state(&shelf), again(&shelf)), (State::Failed, None));
    let good = GaugeCommand::Calibrate(Box::new(calibration(date(2026, 11, 1))));
    let shelf = written(shelf, CELL, &good);
    let day = Some(date(2026, 11, 1));
    assert_eq!((state(&shelf), again(&shelf)), (State::InDate, day));
}

#[test]
fn what_was_undecided_before_any_failure_leaves_the_gauge_in_use() {
    let shelf = written(shelf().clone(), CELL, &force_check(date(2026, 11, 1), 0.9));
    assert_eq!(state(&shelf), State::InDate);
}

#[test]
fn a_calibration_on_the_day_of_a_failed_check_ends_it_if_it_was_written_after_it() {
    let day = date(2026, 11, 2);
    let calibrated = GaugeCommand::Calibrate(Box::new(calibration(day)));
    let shelf = written(shelf().clone(), CELL, &force_check(day, 5.0));
    let shelf = written(shelf, CELL, &calibrated);
    assert_eq!((state(&shelf), again(&shelf)), (State::InDate, Some(day)));
    // The other way round the check has the last word.
    let shelf = written(with(&[calibration(day)]), CELL, &force_check(day, 5.0));
    assert_eq!((state(&shelf), again(&shelf)), (State::Failed, None));
}

fn body(kind: &str, which: usize) -> Body {
    let mut of_kind = stored().filter(|(k, _)| *k == kind);
    let (_, json) = of_kind.nth(which).expect("stored");
    Body::from_json(kind, 1, json).expect("reads")
}

#[test]
fn recorded_pulls_fall_with_their_load_cell() {
    let shelf = with(&[calibration(date(2026, 6, 1)), bad(date(2026, 10, 1))]);
    let pulls = body("pulls-read", 0);
    let doubted = shelf.doubted(&pulls, date(2026, 8, 1));
    let [one] = &doubted[..] else {
        panic!("the cell alone: {doubted:?}");
    };
    // The peak; the stroke is the displacement sensor's.
    assert_eq!((one.gauge.as_str(), one.readings), (CELL, 1));
    assert!(shelf.doubted(&pulls, date(2026, 11, 1)).is_empty());
}

/// A bench test of 20.3 kN indicated, corrected by calibration `number`.
fn corrected_by(number: u32) -> Body {
    let json = format!(
        "{{\"phase\":\"as-left\",\"test\":\"pull-force\",\"readings\":[{{\"value\":20.0,\"unit\":\"kN\",\"raw\":\"20.3\",\"gauge\":{{\"id\":\"lc-50\",\"revision\":1}},\"in_date\":true,\"calibration\":{{\"number\":{number},\"indicated\":20.3,\"deviation\":0.3}}}}],\"value\":20.0,\"expanded\":0.1,\"passed\":null,\"outcome\":\"accept\",\"method\":\"m 1\",\"note\":\"\"}}"
    );
    Body::from_json("bench-test-read", 1, &json).expect("reads")
}

#[test]
fn readings_corrected_by_a_calibration_that_was_struck_are_in_doubt() {
    let shelf = with(&[
        calibration(date(2026, 6, 1)),
        calibration(date(2026, 10, 1)),
    ]);
    let day = date(2026, 11, 1);
    assert!(shelf.doubted(&corrected_by(2), day).is_empty());
    let strike = GaugeCommand::Strike {
        number: 2,
        reason: "points of another cell".to_owned(),
    };
    let shelf = written(shelf, CELL, &strike);
    let doubted = shelf.doubted(&corrected_by(2), day);
    assert_eq!(doubted.len(), 1);
    assert_eq!(doubted[0].doubt, Doubt::Struck(2));
    assert!(shelf.doubted(&corrected_by(1), day).is_empty());
    // June's points, the same, count instead: 20.0 stays accepted between 19 and 22. Struck as well, nothing is known.
    let job = Bench::received(AH, &["tail-not-broken"]);
    let stands = |shelf: &Shelf| {
        let doubt = Doubt::Struck(2);
        job.job()
            .would_stand(&corrected_by(2), CELL, &doubt, day, &on(shelf))
    };
    assert_eq!(stands(&shelf), Stands::Yes);
    let strike = GaugeCommand::Strike {
        number: 1,
        reason: "the same cell".to_owned(),
    };
    assert_eq!(stands(&written(shelf, CELL, &strike)), Stands::Unknown);
}

/// A tightening with the wrench, turned in `way` as far as that was noted.
fn tightened(way: &str) -> Body {
    let json = format!(
        "{{\"step\":\"tighten-x\",\"reading\":{{\"value\":12.0,\"unit\":\"N·m\",\"raw\":\"12\",\"gauge\":{{\"id\":\"tw-25\",\"revision\":1}},\"in_date\":true{way}}},\"outcome\":\"accept\",\"reason\":\"\",\"note\":\"\"}}"
    );
    Body::from_json("step-done", 1, &json).expect("reads")
}

#[test]
fn a_wrench_that_failed_in_one_direction_takes_along_what_was_turned_in_it() {
    let check = GaugeCommand::Check(torque_check(WrenchWay::CounterClockwise, 0.9));
    let shelf = written(shelf().clone(), "tw-25", &check);
    let doubted = |way: &str| shelf.doubted(&tightened(way), TODAY).len();
    assert_eq!(doubted(",\"way\":\"counter-clockwise\""), 1);
    assert_eq!(doubted(",\"way\":\"clockwise\""), 0);
    // Older records do not say: in doubt.
    assert_eq!(doubted(""), 1);
    let history = shelf.gauge_history("tw-25").expect("written");
    let [failure] = history.failures(Some(gauge("tw-25")))[..] else {
        panic!("one failure");
    };
    assert_eq!(failure.way, Some(WrenchWay::CounterClockwise));
}

#[test]
fn whether_a_verdict_would_stand_is_reckoned_from_what_was_found() {
    // The peak of 20.41 ± 0.26 kN was accepted between 19 and 22.
    let pulls = body("pulls-read", 0);
    let job = Bench::received(AH, &["tail-not-broken"]);
    let stands = |found_at_30: f64, body: &Body| {
        let mut failed = bad(date(2026, 10, 1));
        failed.rows[1] = row(1, 30.0, found_at_30, Some(0.1));
        let shelf = with(&[failed]);
        let day = date(2026, 8, 1);
        let doubt = shelf.doubted(body, day)[0].doubt;
        job.job().would_stand(body, CELL, &doubt, day, &on(&shelf))
    };
    // By hand, between (10.2, +0.2) and (30 + d, d): +0.69, +1.53 and +2.79 kN at 20.41.
    assert_eq!(stands(1.2, &pulls), Stands::Yes);
    assert_eq!(stands(3.2, &pulls), Stands::Unknown);
    assert_eq!(stands(7.0, &pulls), Stands::No);
    // A gauge of which no point was found near it says nothing: 9 kN lies below the points.
    let (_, json) = stored().find(|(k, _)| *k == "pulls-read").expect("stored");
    let low = json.replace("20.41", "9.0").replace("19.0", "8.0");
    let low = Body::from_json("pulls-read", 1, &low).expect("reads");
    assert_eq!(stands(1.2, &low), Stands::Unknown);
}

#[test]
fn a_bench_test_is_judged_again_by_the_limits_of_its_sheet() {
    let bench = Bench::received(AH, &["tail-not-broken"]);
    let job = bench.job();
    let model = shelf().model(&job.model_pin()).expect("its model");
    let measured = model.bench_tests.iter().find_map(|test| match &test.kind {
        BenchTestKind::Measured { limits, unit, .. } if *unit == Unit::Kilonewton => {
            Some((test.id.clone(), limits.lower()?))
        }
        _ => None,
    });
    let (test, lower) = measured.expect("a force with a lower limit");
    let stands = |above: f64, found_at_30: f64| {
        let value = lower + above;
        let json = format!(
            "{{\"phase\":\"as-left\",\"test\":\"{test}\",\"readings\":[{{\"value\":{value},\"unit\":\"kN\",\"raw\":\"x\",\"gauge\":{{\"id\":\"lc-50\",\"revision\":1}},\"in_date\":true}}],\"value\":{value},\"expanded\":0.1,\"passed\":null,\"outcome\":\"accept\",\"method\":\"m 1\",\"note\":\"\"}}"
        );
        let body = Body::from_json("bench-test-read", 1, &json).expect("reads");
        let mut failed = bad(date(2026, 10, 1));
        failed.rows[1] = row(1, 30.0, found_at_30, Some(0.1));
        let shelf = with(&[failed]);
        let day = date(2026, 8, 1);
        let doubt = shelf.doubted(&body, day)[0].doubt;
        job.would_stand(&body, CELL, &doubt, day, &on(&shelf))
    };
    assert!((10.2..40.0).contains(&lower), "{lower}");
    assert_eq!(stands(3.0, 0.9), Stands::Yes);
    assert_eq!(stands(0.2, 7.0), Stands::No);
}

#[test]
fn a_loss_of_force_is_a_difference_and_is_no_reading_below_the_points() {
    // The points begin at 10.2 kN; the loss of a hold test is far below and was read between two forces among them.
    let shelf = with(&[calibration(date(2026, 10, 1))]);
    let bench = Bench::received(AH, &["tail-not-broken"]);
    let hold = |shelf: &Shelf| {
        let command = Command::ReadBenchTest(BenchTestIn {
            phase: Phase::AsFound,
            test: "hold".to_owned(),
            measured: Some(measured(CELL, &[0.3])),
            passed: None,
            note: String::new(),
        });
        let bodies = job::decide(&bench.job(), command, &on(shelf)).expect("read");
        match bodies.into_iter().next() {
            Some(Body::BenchTestRead(read)) => read,
            other => panic!("{other:?}"),
        }
    };
    let read = hold(&shelf);
    let reading = &read.readings[0];
    assert!(reading.is_evidence() && !reading.is_beyond());
    assert_eq!((reading.value, read.value), (0.3, Some(0.3)));
    assert_eq!(read.outcome, Outcome::Accept);
    // By hand: u² = 2 · (0.05² + 0.01² / 12), twice as much as of one reading.
    let by_hand = 2.0 * (2.0 * (0.0025_f64 + 0.0001 / 12.0)).sqrt();
    let expanded = read.expanded.expect("reckoned");
    assert!((expanded - by_hand).abs() < 1e-3, "{expanded}");
    // Without a calibration on the record, twice the sheet's: U 0.26.
    let by_hand = 2.0 * (2.0 * (0.13_f64.powi(2) + 0.0001 / 12.0)).sqrt();
    let expanded = hold(crate::bench::shelf()).expanded.expect("reckoned");
    assert!((expanded - by_hand).abs() < 1e-3, "{expanded}");
    // Struck, the calibration takes it along.
    let strike = GaugeCommand::Strike {
        number: 1,
        reason: "points of another cell".to_owned(),
    };
    let struck = written(shelf, CELL, &strike);
    assert_eq!(struck.doubted(&Body::BenchTestRead(read), TODAY).len(), 1);
}

/// The same reading, of a gauge for which only its sheet spoke.
fn corrected_by_none() -> Body {
    let json = "{\"phase\":\"as-left\",\"test\":\"pull-force\",\"readings\":[{\"value\":20.3,\"unit\":\"kN\",\"raw\":\"20.3\",\"gauge\":{\"id\":\"lc-50\",\"revision\":1},\"in_date\":true}],\"value\":20.3,\"expanded\":0.3,\"passed\":null,\"outcome\":\"accept\",\"method\":\"m 1\",\"note\":\"\"}";
    Body::from_json("bench-test-read", 1, json).expect("reads")
}

#[test]
fn what_the_new_calibration_corrected_is_not_in_doubt_by_what_it_found() {
    let (june, day) = (date(2026, 6, 1), date(2026, 10, 1));
    let doubted = |shelf: &Shelf, body: &Body| shelf.doubted(body, day).len();
    // Calibration 2 found the cell outside its limits and left it good: what it corrected came after it.
    let shelf = with(&[calibration(june), bad(day)]);
    assert_eq!(doubted(&shelf, &corrected_by(2)), 0);
    assert_eq!(doubted(&shelf, &corrected_by(1)), 1);
    // Nobody knows on which side of it a reading without a number lies: the day counts.
    assert_eq!(doubted(&shelf, &corrected_by_none()), 1);
    // Found by a check and calibrated on the same day.
    let shelf = written(with(&[calibration(june)]), CELL, &force_check(day, 5.0));
    let calibrated = GaugeCommand::Calibrate(Box::new(calibration(day)));
    let shelf = written(shelf, CELL, &calibrated);
    assert_eq!(doubted(&shelf, &corrected_by(3)), 0);
    assert_eq!(doubted(&shelf, &corrected_by(1)), 1);
    // One that left it undecided ended nothing.
    let mut open = bad(day);
    open.rows[1] = row(1, 30.0, 1.2, Some(0.6));
    let shelf = with(&[calibration(june), open]);
    assert_eq!(doubted(&shelf, &corrected_by(2)), 1);
    // Good that day, and found outside its limits later.
    let shelf = with(&[calibration(june), bad(day), bad(date(2026, 11, 1))]);
    assert_eq!(doubted(&shelf, &corrected_by(2)), 1);
}

#[test]
fn points_that_were_found_not_to_rise_tell_of_no_verdict() {
    let job = Bench::received(AH, &["tail-not-broken"]);
    let stands = |found: [f64; 3]| {
        let mut failed = bad(date(2026, 10, 1));
        for (at, (nominal, found)) in [10.0, 20.0, 24.0].into_iter().zip(found).enumerate() {
            failed.rows[at] = row(at, nominal, found, Some(0.0));
        }
        let shelf = with(&[failed]);
        let (day, body) = (date(2026, 8, 1), corrected_by_none());
        let doubt = shelf.doubted(&body, day)[0].doubt;
        let stands = job.job().would_stand(&body, CELL, &doubt, day, &on(&shelf));
        let history = shelf.gauge_history(CELL).expect("written");
        (stands, history.found_rises(gauge(CELL), &doubt))
    };
    // 20 shows 20.1 and 24 shows 19.9: what shows 20.0 is 20, or 24, or something between.
    assert_eq!(stands([0.0, 0.1, -4.1]), (Stands::Unknown, false));
    // Two that show the same are no better.
    assert_eq!(stands([0.0, 0.1, -3.9]), (Stands::Unknown, false));
    assert_eq!(stands([0.0, 0.1, -0.9]), (Stands::Yes, true));
}
