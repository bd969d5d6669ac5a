//! Gauges: calibrations correct readings, what failed takes its readings along, what is refused and where.

use calc::units::Unit;
use jiff::civil::{Date, date};
use shop::entry::{
    Body, CurveShape, GaugeCalibrated, GaugeStruck, Outcome, PersonKey, Reading, WrenchWay,
};
use shop::gauge::{CalibrationIn, GaugeCommand, Given, RowIn, State, StudyIn, decide, subject_of};
use shop::job::{Desk, Measured, TypedValue, all_in_date};
use shop::sheet::{Direction, Gauge, Shelf};

use crate::bench::{TODAY, desk, measured, shelf};

/// A load cell of the demo: 0 to 50 kN, step 0.01, sheet's U 0.26, calibrated 8 April 2026 for a year.
pub const CELL: &str = "lc-50";

pub fn on(shelf: &Shelf) -> Desk<'_> {
    Desk { shelf, ..desk() }
}

pub fn row(row: usize, nominal: f64, found: f64, left: Option<f64>) -> RowIn {
    RowIn {
        row,
        nominal,
        found: Some(found),
        left,
        expanded: 0.1,
        k: 2.0,
    }
}

/// Deviations +0.2 at 10, +0.4 at 30, +0.4 at 50 kN; U = 0.1, k = 2.
pub fn calibration(day: Date) -> CalibrationIn {
    CalibrationIn {
        date: day,
        rows: vec![
            row(0, 10.0, 0.2, None),
            row(1, 30.0, 0.4, None),
            row(2, 50.0, 0.4, None),
        ],
        shape: CurveShape::Points,
        drift: Some(0.0),
        given: Given::Deviation,
        limit: 0.6,
        ways: Vec::new(),
        by: Some(PersonKey("lab".to_owned())),
        certificate: "T-1".to_owned(),
        file: None,
        months: 12,
        note: String::new(),
    }
}

/// The same, found outside its limits at 30 kN and put right.
pub fn bad(day: Date) -> CalibrationIn {
    let mut input = calibration(day);
    input.rows[1] = row(1, 30.0, 1.2, Some(0.1));
    input
}

/// A shelf on which `inputs` were written of the load cell.
pub fn with(inputs: &[CalibrationIn]) -> Shelf {
    inputs.iter().fold(shelf().clone(), |shelf, input| {
        let command = GaugeCommand::Calibrate(Box::new(input.clone()));
        written(shelf, CELL, &command)
    })
}

pub fn written(mut shelf: Shelf, id: &str, command: &GaugeCommand) -> Shelf {
    for body in decide(id, command, &on(&shelf)).expect("allowed") {
        assert!(shelf.note_gauge(id, &body));
    }
    shelf
}

pub fn gauge(id: &str) -> &'static Gauge {
    shelf().gauge_in_force(id).expect("a demo gauge")
}

pub fn read(shelf: &Shelf, values: &[f64]) -> Vec<Reading> {
    let readings = on(shelf).readings(&measured(CELL, values), Unit::Kilonewton, &[]);
    readings.expect("in its range")
}

pub fn refused(id: &str, command: &GaugeCommand) -> Vec<(String, &'static str)> {
    let refusals = decide(id, command, &desk()).expect_err("refused");
    refusals
        .into_iter()
        .map(|r| (r.field, r.message.id))
        .collect()
}

#[test]
fn a_reading_is_corrected_by_the_calibration_and_keeps_what_was_read() {
    let shelf = with(&[calibration(date(2026, 10, 1))]);
    // Indicated 20.3 lies half way from 10.2 to 30.4: deviation 0.3 by hand.
    let readings = read(&shelf, &[20.3]);
    let used = readings[0].calibration.expect("used");
    assert_eq!((used.number, used.indicated), (1, 20.3));
    assert!((used.deviation.expect("inside") - 0.3).abs() < 1e-12);
    assert!((readings[0].value - 20.0).abs() < 1e-12);
    // u² = (0.1 / 2)² + 0.01² / 12, k = 2 at 95.45 % and infinite degrees of freedom.
    let by_hand = 2.0 * (0.0025_f64 + 0.0001 / 12.0).sqrt();
    let expanded = readings[0].expanded.expect("reckoned");
    assert!((expanded - by_hand).abs() < 1e-4, "{expanded}");
    assert!(all_in_date(&readings));
    // In another unit of the same kind.
    let newton = on(&shelf).readings(&measured(CELL, &[20_300.0]), Unit::Newton, &[]);
    let newton = newton.expect("the same force");
    assert!((newton[0].value - 20_000.0).abs() < 1e-6);
}

#[test]
fn without_a_calibration_the_sheet_stands() {
    let readings = read(shelf(), &[20.3]);
    assert_eq!((readings[0].value, readings[0].calibration), (20.3, None));
    // A sheet that is newer than the certificate on the record speaks for itself.
    let older = with(&[calibration(date(2026, 4, 7))]);
    assert_eq!(read(&older, &[20.3])[0].calibration, None);
}

#[test]
fn several_readings_are_corrected_at_their_mean_and_bring_their_spread() {
    let shelf = with(&[calibration(date(2026, 10, 1))]);
    let readings = read(&shelf, &[20.2, 20.4]);
    let mean = on(&shelf).mean_of(&readings).expect("two");
    assert!((mean.value - 20.0).abs() < 1e-9, "{mean:?}");
    // s = 0.1·√2, s / √2 = 0.1.
    assert!((mean.spread - 0.02_f64.sqrt()).abs() < 1e-9);
    let u = (0.01_f64 + 0.0025 + 0.0001 / 12.0).sqrt();
    assert!((mean.standard - u).abs() < 1e-9);
    let corrected = on(&shelf).corrected(&readings).expect("corrected");
    assert_eq!(corrected.parts[0].dof, 1.0);
}

#[test]
fn outside_the_points_nothing_is_corrected_and_nothing_decided() {
    let shelf = with(&[calibration(date(2026, 10, 1))]);
    let readings = read(&shelf, &[9.0]);
    assert!(readings[0].is_beyond() && !all_in_date(&readings));
    assert_eq!(readings[0].value, 9.0);
    // The end of the points is still inside.
    assert!(all_in_date(&read(&shelf, &[10.2])));
}

#[test]
fn the_calibration_says_until_when() {
    let standing = |shelf: &Shelf, day| shelf.standing(gauge(CELL), day, None).state;
    let shelf = with(&[calibration(date(2026, 10, 1))]);
    assert_eq!(standing(&shelf, date(2027, 9, 30)), State::InDate);
    assert_eq!(standing(&shelf, date(2027, 10, 1)), State::OutOfDate);
    // Before it, the sheet's own certificate.
    assert_eq!(standing(&shelf, date(2026, 9, 30)), State::InDate);
    // Left outside its limits: not in date from that day on.
    let mut left_bad = calibration(date(2026, 11, 1));
    left_bad.rows[1] = row(1, 30.0, 1.2, Some(1.1));
    let shelf = with(&[left_bad]);
    assert_eq!(standing(&shelf, TODAY), State::Failed);
    assert!(!all_in_date(&read(&shelf, &[20.3])));
}

fn day_of(failure: &shop::gauge::Failure) -> (Option<Date>, Option<Date>) {
    (failure.good, failure.again)
}

#[test]
fn what_was_found_bad_reaches_back_to_the_last_good_day() {
    let (june, october) = (date(2026, 6, 1), date(2026, 10, 1));
    let failures = |shelf: &Shelf| {
        let history = shelf.gauge_history(CELL).expect("written");
        history.failures(Some(gauge(CELL)))
    };
    assert!(failures(&with(&[calibration(june)])).is_empty());
    // Good in June, bad in October, put right the same day.
    let shelf = with(&[calibration(june), bad(october)]);
    let [failure] = failures(&shelf)[..] else {
        panic!("one failure");
    };
    assert_eq!(day_of(&failure), (Some(june), Some(october)));
    assert!(failure.touches(june, None) && failure.touches(october, None));
    assert!(!failure.touches(date(2026, 5, 31), None));
    assert!(!failure.touches(date(2026, 10, 2), None));
    // Without June, the sheet's calibration of April.
    let [failure] = failures(&with(&[bad(october)]))[..] else {
        panic!("one failure");
    };
    assert_eq!(failure.good, Some(gauge(CELL).calibrated));
    // A line that was struck counts no more.
    let strike = GaugeCommand::Strike {
        number: 2,
        reason: "the other cell".to_owned(),
    };
    let struck = written(shelf, CELL, &strike);
    assert!(failures(&struck).is_empty());
    let readings = read(&struck, &[20.3]);
    assert_eq!(readings[0].calibration.expect("June's").number, 1);
}

#[test]
fn a_job_s_reading_is_in_doubt_only_within_the_days() {
    let shelf = with(&[calibration(date(2026, 6, 1)), bad(date(2026, 10, 1))]);
    let [json] = [
        "{\"phase\":\"as-left\",\"test\":\"pull-force\",\"readings\":[{\"value\":30.0,\"unit\":\"kN\",\"raw\":\"30\",\"gauge\":{\"id\":\"lc-50\",\"revision\":1},\"in_date\":true}],\"value\":30.0,\"expanded\":0.3,\"passed\":null,\"outcome\":\"accept\",\"method\":\"m 1\",\"note\":\"\"}",
    ];
    let body = Body::from_json("bench-test-read", 1, json).expect("reads");
    let doubted = shelf.doubted(&body, date(2026, 8, 1));
    assert_eq!((doubted.len(), doubted[0].readings), (1, 1));
    assert!(shelf.doubted(&body, date(2026, 11, 1)).is_empty());
    // Recorded pulls name the gauges of their rig; each pull that counts is in doubt.
    let of_kind = crate::entries::stored().filter(|(kind, _)| *kind == "pulls-read");
    let bodies = of_kind.map(|(kind, json)| Body::from_json(kind, 1, json).expect("reads"));
    let bodies: Vec<Body> = bodies.collect();
    let doubted = |body: &Body| shelf.doubted(body, date(2026, 8, 1));
    let taken = bodies[0].taken();
    let by: Vec<&str> = taken.iter().map(|t| t.gauge.id.as_str()).collect();
    assert_eq!(by, ["lc-50", "ds-1"]);
    let [used] = &doubted(&bodies[0])[..] else {
        panic!("the load cell alone failed");
    };
    assert_eq!((used.gauge.as_str(), used.readings), (CELL, 1));
    assert!(doubted(&bodies[1]).is_empty(), "nobody knows its gauges");
}

#[test]
fn mistakes_in_a_calibration_are_named_by_row() {
    let try_with = |change: &dyn Fn(&mut CalibrationIn)| {
        let mut input = calibration(date(2026, 10, 1));
        change(&mut input);
        refused(CELL, &GaugeCommand::Calibrate(Box::new(input)))
    };
    let one = |field: &str, id: &'static str| vec![(field.to_owned(), id)];
    type Case<'a> = (Vec<(String, &'static str)>, &'a dyn Fn(&mut CalibrationIn));
    let cases: [Case; 15] = [
        (one("nominal-2", "refuse-row-nominal"), &|c| {
            c.rows[1].nominal = 60.0
        }),
        (one("nominal-3", "refuse-row-twice"), &|c| {
            c.rows[2].nominal = 30.0
        }),
        (one("found-2", "refuse-row-deviation"), &|c| {
            c.rows[1].found = Some(7.51)
        }),
        // Indicates 10.2 at 10 and at 10.2; less at 30 than at 10; and so as left.
        (one("found-2", "refuse-row-not-rising"), &|c| {
            (c.rows[1].nominal, c.rows[1].found) = (10.2, Some(0.0))
        }),
        (one("found-2", "refuse-row-not-rising"), &|c| {
            (c.rows[1].nominal, c.rows[1].found) = (10.3, Some(-0.2))
        }),
        (one("left-3", "refuse-row-not-rising"), &|c| {
            (c.rows[2].nominal, c.rows[2].left) = (30.3, Some(0.1))
        }),
        (one("found-2", "refuse-row-empty"), &|c| {
            c.rows[1].found = None
        }),
        (one("expanded", "refuse-row-expanded"), &|c| {
            c.rows[0].expanded = 0.0
        }),
        (one("k", "refuse-row-k"), &|c| c.rows[0].k = 0.5),
        (one("date", "refuse-calibration-future"), &|c| {
            c.date = date(2026, 11, 26)
        }),
        (one("months", "refuse-calibration-months"), &|c| {
            c.months = 0
        }),
        (one("limit", "refuse-calibration-limit"), &|c| c.limit = 0.0),
        (one("drift", "refuse-calibration-drift"), &|c| {
            c.drift = Some(-0.1)
        }),
        (one("by", "refuse-calibration-by"), &|c| c.by = None),
        (one("certificate", "refuse-calibration-certificate"), &|c| {
            c.certificate = " ".to_owned()
        }),
    ];
    for (expected, change) in cases {
        assert_eq!(try_with(change), expected);
    }
    let few = try_with(&|c| c.rows.truncate(1));
    assert_eq!(few, one("nominal-2", "refuse-calibration-few"));
    // A parabola keeps a point to be judged by.
    let few = try_with(&|c| c.shape = CurveShape::Parabola);
    assert_eq!(few, one("nominal-4", "refuse-calibration-few"));
}

/// The points of a calibration as stored.
fn stored(shelf: &Shelf, input: &CalibrationIn) -> GaugeCalibrated {
    let command = GaugeCommand::Calibrate(Box::new(input.clone()));
    let bodies = decide(CELL, &command, &on(shelf)).expect("allowed");
    match bodies.into_iter().next_back() {
        Some(Body::GaugeCalibrated(c)) => c,
        other => panic!("{other:?}"),
    }
}

#[test]
fn what_a_gauge_showed_is_not_taken_for_a_deviation() {
    // 20.45 at nominal 20: as a deviation refused, with row and value; as an indication +0.45.
    let mut input = calibration(date(2026, 10, 1));
    input.rows = vec![row(0, 20.0, 20.45, None), row(1, 40.0, 40.4, Some(40.1))];
    let refusals = decide(
        CELL,
        &GaugeCommand::Calibrate(Box::new(input.clone())),
        &desk(),
    );
    let refusals = refusals.expect_err("indications");
    let first = format!("{:?}", refusals[0].message);
    assert_eq!(refusals[0].field, "found");
    assert!(first.contains("20.45"), "the value is named: {first}");
    assert_eq!(refusals.len(), 3, "each box: {refusals:?}");
    input.given = Given::Indication;
    let points = stored(shelf(), &input).points;
    assert_eq!((points[0].found, points[0].left), (Some(0.45), 0.45));
    assert_eq!((points[1].found, points[1].left), (Some(0.4), 0.1));
    // Deviations where indications are said to stand: 0.2 at nominal 10.
    let mut input = calibration(date(2026, 10, 1));
    input.given = Given::Indication;
    let command = GaugeCommand::Calibrate(Box::new(input));
    assert!(refused(CELL, &command).contains(&("found".to_owned(), "refuse-row-indication")));
    // A quarter of the range is the most for any point: 12.5 kN of 50.
    let mut input = calibration(date(2026, 10, 1));
    input.rows[2] = row(2, 50.0, 12.6, None);
    let command = GaugeCommand::Calibrate(Box::new(input));
    assert_eq!(
        refused(CELL, &command),
        [("found-3".to_owned(), "refuse-row-deviation")]
    );
}

#[test]
fn the_drift_is_what_the_gauge_moved_since_the_calibration_before() {
    // Left at +0.2, +0.4, +0.4 in June; found at +0.25, +0.1, +0.45 in October: 0.3 is the most.
    let june = with(&[calibration(date(2026, 6, 1))]);
    let mut october = calibration(date(2026, 10, 1));
    october.rows = vec![
        row(0, 10.0, 0.25, None),
        row(1, 30.0, 0.1, None),
        row(2, 50.0, 0.45, None),
    ];
    october.drift = None;
    let c = stored(&june, &october);
    assert!((c.drift - 0.3).abs() < 1e-12 && c.drift_observed, "{c:?}");
    // June in newtons, October in kilonewtons: the same movement.
    let mut in_newtons = stored(shelf(), &calibration(date(2026, 6, 1)));
    in_newtons.unit = "N".to_owned();
    for point in &mut in_newtons.points {
        point.nominal *= 1000.0;
        point.left *= 1000.0;
        point.found = point.found.map(|found| found * 1000.0);
    }
    in_newtons.drift *= 1000.0;
    let mut recorded = shelf().clone();
    assert!(recorded.note_gauge(CELL, &in_newtons.into()));
    let c = stored(&recorded, &october);
    assert!((c.drift - 0.3).abs() < 1e-12 && c.drift_observed, "{c:?}");
    // Typed, the drift is what was typed.
    october.drift = Some(0.1);
    let c = stored(&june, &october);
    assert_eq!((c.drift, c.drift_observed), (0.1, false));
    // Without a calibration before it nothing was observed.
    october.drift = None;
    let c = stored(shelf(), &october);
    assert_eq!((c.drift, c.drift_observed), (0.0, false));
    // Where nothing was read as found, what stood before stays.
    let mut typed = calibration(date(2026, 6, 1));
    typed.drift = Some(0.05);
    for row in &mut october.rows {
        row.left = row.found.take();
    }
    let c = stored(&with(&[typed]), &october);
    assert_eq!((c.drift, c.drift_observed), (0.05, false));
    for row in &mut october.rows {
        row.found = row.left.take();
    }
    // It widens what is read from then on: u² = 0.05² + 0.01² / 12 + 0.3² / 3 by hand.
    let shelf = written(june, CELL, &GaugeCommand::Calibrate(Box::new(october)));
    let expanded = read(&shelf, &[20.3])[0].expanded.expect("reckoned");
    let by_hand = 2.0 * (0.0025_f64 + 0.0001 / 12.0 + 0.03).sqrt();
    assert!((expanded - by_hand).abs() < 1e-4, "{expanded}");
}

#[test]
fn the_verdict_on_a_calibration_has_a_guard_band() {
    let left = |deviation: f64| {
        let mut input = calibration(date(2026, 10, 1));
        input.rows[1] = row(1, 30.0, deviation, None);
        let command = GaugeCommand::Calibrate(Box::new(input));
        let bodies = decide(CELL, &command, &desk()).expect("allowed");
        let Some(Body::GaugeCalibrated(c)) = bodies.into_iter().next_back() else {
            panic!("a calibration");
        };
        (c.found, c.left)
    };
    // Limit 0.6, U 0.1: good to 0.5, bad from 0.7, undecided between them.
    assert_eq!(left(0.49), (Some(Outcome::Accept), Outcome::Accept));
    assert_eq!(left(-0.6), (Some(Outcome::Undecided), Outcome::Undecided));
    assert_eq!(left(0.71), (Some(Outcome::Reject), Outcome::Reject));
}

#[test]
fn a_direction_can_be_added_by_a_certificate() {
    let wrench = gauge("tw-25");
    assert!(!shelf().turns(wrench, TODAY, Direction::CounterClockwise));
    let mut input = calibration(date(2026, 10, 1));
    input.rows = vec![row(0, 5.0, 0.05, None), row(1, 25.0, 0.2, None)];
    let command = GaugeCommand::Calibrate(Box::new(input.clone()));
    assert_eq!(
        refused("tw-25", &command),
        [("ways".to_owned(), "refuse-calibration-ways")]
    );
    input.ways = vec![WrenchWay::CounterClockwise];
    let shelf = written(
        shelf().clone(),
        "tw-25",
        &GaugeCommand::Calibrate(Box::new(input)),
    );
    assert!(shelf.turns(wrench, TODAY, Direction::CounterClockwise));
    let used = |way| {
        shelf
            .standing(wrench, TODAY, Some(way))
            .calibration
            .map(|c| c.number)
    };
    assert_eq!(used(WrenchWay::CounterClockwise), Some(1));
    assert_eq!(used(WrenchWay::Clockwise), None);
}

#[test]
fn a_study_is_reckoned_both_ways() {
    // Person A reads 1, 5 and 3, 5, person B 2, 8 and 4, 8: components by hand in calc::gauge_rr.
    let readings = vec![
        vec![vec![1.0, 5.0], vec![3.0, 5.0]],
        vec![vec![2.0, 8.0], vec![4.0, 8.0]],
    ];
    let input = StudyIn {
        date: TODAY,
        what: "force".to_owned(),
        people: vec![PersonKey("a".to_owned()), PersonKey("b".to_owned())],
        readings,
        note: String::new(),
    };
    let bodies = decide(CELL, &GaugeCommand::Study(input.clone()), &desk()).expect("allowed");
    let [Body::GaugeStudied(s)] = &bodies[..] else {
        panic!("a study")
    };
    // (1 + 0.5 + 1.5) / (3 + 7.5): 53.5 %, far above 30 %.
    assert!((s.anova_pct - 100.0 * (3.0_f64 / 10.5).sqrt()).abs() < 1e-9);
    assert_eq!(s.outcome, Outcome::Reject);
    assert!(s.range_pct.is_some());
    let try_with = |change: &dyn Fn(&mut StudyIn)| {
        let mut input = input.clone();
        change(&mut input);
        refused(CELL, &GaugeCommand::Study(input))[0].1
    };
    assert_eq!(
        try_with(&|s| s.readings[1][1].truncate(1)),
        "refuse-study-uneven"
    );
    assert_eq!(try_with(&|s| s.readings.truncate(1)), "refuse-study-few");
    assert_eq!(
        try_with(&|s| s.readings = vec![vec![vec![2.0; 2]; 2]; 2]),
        "refuse-study-alike"
    );
    assert_eq!(
        try_with(&|s| s.readings[0][0][0] = 51.0),
        "gauge-out-of-range"
    );
    assert_eq!(try_with(&|s| s.what = String::new()), "refuse-study-what");
}

#[test]
fn a_line_is_struck_once_and_with_a_reason() {
    let shelf = with(&[calibration(date(2026, 10, 1))]);
    let strike = |number, reason: &str| GaugeCommand::Strike {
        number,
        reason: reason.to_owned(),
    };
    let told = |shelf: &Shelf, command: &GaugeCommand| {
        decide(CELL, command, &on(shelf)).expect_err("refused")[0]
            .message
            .id
    };
    assert_eq!(told(&shelf, &strike(2, "x")), "refuse-gauge-strike-none");
    assert_eq!(told(&shelf, &strike(1, " ")), "refuse-gauge-strike-reason");
    let mut shelf = shelf;
    let body = GaugeStruck {
        gauge: CELL.to_owned(),
        number: 1,
        reason: "x".to_owned(),
    };
    assert!(shelf.note_gauge(CELL, &body.into()));
    assert_eq!(told(&shelf, &strike(1, "x")), "refuse-gauge-strike-again");
}

#[test]
fn numbers_follow_each_other_and_subjects_are_the_gauge_s_own() {
    let shelf = with(&[calibration(date(2026, 6, 1))]);
    let c: GaugeCalibrated = shelf
        .gauge_history(CELL)
        .and_then(|h| h.calibration(1))
        .expect("one")
        .clone();
    let mut again = shelf.clone();
    assert!(!again.note_gauge(CELL, &Body::from(c)), "number 1 is taken");
    assert_ne!(subject_of("lc-50"), subject_of("lc-120"));
    assert_eq!(subject_of("lc-50"), subject_of("lc-50"));
}

#[test]
fn a_joint_is_judged_by_the_corrected_value() {
    // The same typed value lies inside or outside by what the calibration says.
    let shelf = with(&[calibration(date(2026, 10, 1))]);
    let typed = Measured {
        gauge: CELL.to_owned(),
        gauge_field: "gauge".to_owned(),
        values: vec![TypedValue {
            field: "reading".to_owned(),
            raw: "30.4".to_owned(),
            value: 30.4,
        }],
    };
    let readings = on(&shelf)
        .readings(&typed, Unit::Kilonewton, &[])
        .expect("read");
    assert!((readings[0].value - 30.0).abs() < 1e-9);
    assert_eq!(readings[0].raw, "30.4");
}

#[test]
fn a_certificate_is_brought_from_its_k_to_two_and_drift_counts_beside_it() {
    // U = 0.18 at k = 2.6: u = 0.0692, so 0.1385 at k = 2. It may move by 0.2 to either side.
    let mut input = calibration(date(2026, 10, 1));
    input.drift = Some(0.2);
    for row in &mut input.rows {
        (row.expanded, row.k) = (0.18, 2.6);
    }
    // 0.45 + 0.1385 lies inside the limit of 0.6, 0.45 + 0.18 does not.
    input.rows[1].found = Some(0.45);
    let shelf = with(&[input]);
    let history = shelf.gauge_history(CELL).expect("written");
    let written = history.calibration(1).expect("the first");
    assert_eq!(written.left, Outcome::Accept);
    assert_eq!(written.found, Some(Outcome::Accept));
    let of_certificate = 0.18 / 2.6;
    let near = |is: f64, by_hand: f64| (is - by_hand).abs() < 1e-9;
    let widest = shelf.expanded(gauge(CELL), TODAY);
    assert!(near(widest, 2.0 * of_certificate), "{widest}");
    // JCGM 100:2008, 4.3.7: what lies anywhere within ± a has u = a / √3; the step of 0.01 is ± 0.005.
    let drift = 0.2 / 3_f64.sqrt();
    let read = &read(&shelf, &[20.3])[0];
    let by_hand = of_certificate.hypot(drift).hypot(0.005 / 3_f64.sqrt());
    let is = read.expanded.expect("reckoned");
    // t for 95.45 % and many degrees of freedom is 2.000 0.
    assert!((is - 2.0 * by_hand).abs() < 1e-4, "{is}");
    let doubt = on(&shelf).doubt_of(read).expect("reckoned");
    assert!(
        near(doubt.expanded, 2.0 * of_certificate.hypot(drift)),
        "{doubt:?}"
    );
}
