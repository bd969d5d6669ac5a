//! A gauge's offset is not in what its recorded pulls say: the zero is taken off at rest, the way begins at home.

use calc::pull::recording::RecordedPull;
use calc::units::Unit;
use jiff::civil::date;
use shop::entry::{BenchTestRead, Body, CurveShape, FeatureRead, Outcome};
use shop::gauge::{CalibrationIn, GaugeCommand, Given, RowIn, Stands};
use shop::sheet::Shelf;

use crate::gauges::{CELL, calibration, gauge, on, row, with, written};
use crate::pulls::with_file;
use crate::pulls_by_gauge::{one, pulls_of, stall, taken};

const SENSOR: &str = "ds-1";

/// The calibration `input` of the displacement sensor.
fn of_sensor(input: CalibrationIn, shelf: Shelf) -> Shelf {
    written(shelf, SENSOR, &GaugeCommand::Calibrate(Box::new(input)))
}

/// Deviations of `off` mm at 0, 10, 30 and 50 mm, left as they were.
fn sensor(day: jiff::civil::Date, off: f64) -> CalibrationIn {
    let at = |(i, nominal): (usize, f64)| RowIn {
        expanded: 0.05,
        ..row(i, nominal, off, Some(0.0))
    };
    let rows = [0.0, 10.0, 30.0, 50.0].into_iter().enumerate().map(at);
    CalibrationIn {
        rows: rows.collect(),
        limit: 0.3,
        ..calibration(day)
    }
}

/// October's calibration of the cell: as found 2 kN more than June's at every point and without load.
fn zero_moved() -> CalibrationIn {
    CalibrationIn {
        rows: vec![
            row(0, 10.0, 2.2, Some(0.1)),
            row(1, 30.0, 2.4, Some(0.1)),
            row(2, 50.0, 2.4, Some(0.1)),
            row(3, 0.0, 2.0, Some(0.0)),
        ],
        ..calibration(date(2026, 10, 1))
    }
}

/// The one number `kept` of pulls taken on `known`, accepted between `limits`, and whether it stands with what `shelf` knows
/// of gauge `id` since.
fn stands(
    (known, shelf): (&Shelf, &Shelf),
    id: &str,
    kept: &str,
    (lower, upper): (f64, f64),
) -> Stands {
    let day = date(2026, 8, 1);
    let bodies = taken(known, vec![one(&stall(20.5), 1, known)], "").expect("taken");
    let mut body = bodies[0].clone();
    let Body::PullsRead(read) = &mut body else {
        panic!("pulls");
    };
    for pull in &mut read.pulls {
        pull.features.retain(|f| f.feature == kept);
        let [found] = &mut pull.features[..] else {
            panic!("{kept} alone");
        };
        (found.lower, found.upper) = (Some(lower), Some(upper));
        (found.expanded, found.outcome) = (0.1, Some(Outcome::Accept));
    }
    let doubt = shelf.doubted(&body, day)[0].doubt;
    let job = with_file().job();
    job.would_stand(&body, id, &doubt, day, &on(shelf))
}

/// The peak of the first of five pulls to `kn`, and the bench test that they answer.
fn peak_and_test(kn: f64, shelf: &Shelf) -> (FeatureRead, BenchTestRead) {
    let pulls = (1..=5).map(|n| one(&stall(kn), n, shelf)).collect();
    let bodies = taken(shelf, pulls, "").expect("taken");
    let mut features = pulls_of(&bodies).pulls[0].features.iter();
    let peak = features.find(|f| f.feature == "peak").expect("a peak");
    let test = bodies.iter().find_map(|body| match body {
        Body::BenchTestRead(test) if test.test == "pull-force" => Some(test.clone()),
        _ => None,
    });
    (peak.clone(), test.expect("five answer it"))
}

#[test]
fn a_sensor_that_is_off_by_the_same_everywhere_lets_its_ways_stand() {
    let june = of_sensor(sensor(date(2026, 6, 1), 0.0), crate::bench::shelf().clone());
    // 12 mm from home; 1 mm more at home and at the end alike.
    let all_off = of_sensor(sensor(date(2026, 10, 1), 1.0), june.clone());
    let way = |shelf: &Shelf| stands((&june, shelf), SENSOR, "stroke", (11.5, 12.5));
    assert_eq!(way(&all_off), Stands::Yes);
    // Off at 10 mm and beyond alone, it turns over.
    let mut bent = sensor(date(2026, 10, 1), 1.0);
    bent.rows[0] = RowIn {
        expanded: 0.05,
        ..row(0, 0.0, 0.0, None)
    };
    assert_eq!(way(&of_sensor(bent, june.clone())), Stands::No);
}

#[test]
fn a_cell_whose_zero_moved_lets_its_pulls_stand() {
    let june = calibration(date(2026, 6, 1));
    let known = with(std::slice::from_ref(&june));
    let shelf = with(&[june, zero_moved()]);
    let peak = stands((&known, &shelf), CELL, "peak", (19.5, 22.0));
    assert_eq!(peak, Stands::Yes);
}

#[test]
fn a_bench_test_made_of_pulls_takes_the_zero_of_the_certificate_off_once() {
    // Shows 0.3 too much without load; 0.5 at 10, 0.7 at 30 and 50 kN.
    let mut input = calibration(date(2026, 10, 1));
    input.limit = 1.0;
    input.rows = vec![
        row(0, 0.0, 0.3, None),
        row(1, 10.0, 0.5, None),
        row(2, 30.0, 0.7, None),
        row(3, 50.0, 0.7, None),
    ];
    let shelf = with(&[input]);
    let (peak, test) = peak_and_test(20.5, &shelf);
    // Counted from zero +0.2 at 10 and +0.4 at 30: 0.302 of the 20.5 shown.
    assert!((peak.value - 20.198).abs() < 0.02, "{peak:?}");
    assert!(
        (test.value.expect("measured") - peak.value).abs() < 1e-3,
        "{test:?}"
    );
    // With the certificate's zero the cell shows 20.8.
    let read = &test.readings[0];
    assert!((read.indicated() - 20.8).abs() < 0.02, "{read:?}");
    assert!(read.from_rest && read.is_evidence());
}

#[test]
fn a_bench_test_made_of_pulls_stands_where_the_cell_s_zero_moved() {
    let june = calibration(date(2026, 6, 1));
    let known = with(std::slice::from_ref(&june));
    let pulls = (1..=5).map(|n| one(&stall(20.5), n, &known)).collect();
    let bodies = taken(&known, pulls, "").expect("taken");
    let mut body = bodies
        .into_iter()
        .find(|body| matches!(body, Body::BenchTestRead(t) if t.test == "pull-force"))
        .expect("five answer it");
    let Body::BenchTestRead(test) = &mut body else {
        panic!("a test");
    };
    assert_eq!(test.outcome, Outcome::Accept);
    let shelf = with(&[june, zero_moved()]);
    let job = with_file().job();
    let day = date(2026, 8, 1);
    let stands = |body: &Body| {
        let doubt = shelf.doubted(body, day)[0].doubt;
        job.would_stand(body, CELL, &doubt, day, &on(&shelf))
    };
    // 20.2 kN between 19 and 22 as before; typed from the display, the 2 kN would be in it: 18.2.
    assert_eq!(stands(&body), Stands::Yes);
    let mut typed = body.clone();
    if let Body::BenchTestRead(test) = &mut typed {
        test.readings.iter_mut().for_each(|r| r.from_rest = false);
    }
    assert_eq!(stands(&typed), Stands::No);
}

/// `made` by a cell that shows `offset` without load.
fn beside_zero(mut made: RecordedPull, offset: f64) -> RecordedPull {
    made.force_kn.iter_mut().for_each(|f| *f += offset);
    made
}

#[test]
fn what_the_cell_shows_at_rest_counts_into_its_range() {
    // The cell reads to 50 kN.
    assert_eq!(gauge(CELL).range.1, 50.0);
    assert_eq!(gauge(CELL).unit, Unit::Kilonewton);
    let shelf = crate::bench::shelf();
    let outcome = |peak: f64, offset: f64| {
        let made = beside_zero(stall(peak), offset);
        let bodies = taken(shelf, vec![one(&made, 1, shelf)], "").expect("taken");
        pulls_of(&bodies).outcome
    };
    assert_eq!(outcome(48.0, 0.0), Some(Outcome::Reject));
    assert_eq!(outcome(48.0, 3.0), Some(Outcome::Undecided));
    assert_eq!(outcome(45.0, 3.0), Some(Outcome::Reject));
    // Its zero below does not make it reach further.
    assert_eq!(outcome(51.0, -3.0), Some(Outcome::Undecided));
}

#[test]
fn a_curve_of_least_squares_makes_the_same_of_pulls_and_of_the_bench_test() {
    let mut input = calibration(date(2026, 10, 1));
    input.shape = CurveShape::Parabola;
    input.given = Given::Deviation;
    input.rows = vec![
        row(0, 10.0, 0.1, None),
        row(1, 20.0, 0.3, None),
        row(2, 30.0, 0.4, None),
        row(3, 40.0, 0.42, None),
        row(4, 50.0, 0.4, None),
    ];
    let shelf = with(&[input]);
    let (peak, test) = peak_and_test(20.5, &shelf);
    assert!((test.value.expect("measured") - peak.value).abs() < 1e-3);
}

#[test]
fn beyond_the_points_of_the_sensor_nothing_is_decided_wherever_home_lies() {
    // Points at 0, 10, 30 and 50 mm; 12 mm of stroke.
    let shelf = of_sensor(
        sensor(date(2026, 10, 1), 0.0),
        crate::bench::shelf().clone(),
    );
    let beyond = |home: f64| {
        let mut made = stall(23.5);
        made.stroke_mm.iter_mut().for_each(|s| *s += home);
        let bodies = taken(&shelf, vec![one(&made, 1, &shelf)], "").expect("taken");
        let read = pulls_of(&bodies);
        (read.pulls[0].beyond.clone(), read.outcome)
    };
    let inside = (Vec::new(), Some(Outcome::Reject));
    let outside = (vec![SENSOR.to_owned()], Some(Outcome::Undecided));
    assert_eq!(beyond(0.0), inside);
    // At its zero the sensor wavers by a little.
    assert_eq!(beyond(-0.3), inside);
    assert_eq!(beyond(30.0), inside);
    // It ends at 57 mm; it begins at -5 mm.
    assert_eq!(beyond(45.0), outside);
    assert_eq!(beyond(-5.0), outside);
}

#[test]
fn below_the_points_of_the_cell_neither_the_pulls_nor_their_test_decide() {
    // Points from 10 kN on.
    let shelf = with(&[calibration(date(2026, 10, 1))]);
    let pulls = (1..=5).map(|n| one(&stall(5.1), n, &shelf)).collect();
    let read = pulls_of(&taken(&shelf, pulls, "").expect("taken")).clone();
    assert_eq!(read.outcome, Some(Outcome::Undecided));
    assert_eq!(read.pulls[0].beyond, [CELL]);
    let (_, test) = peak_and_test(5.1, &shelf);
    assert_eq!(test.outcome, Outcome::Undecided);
}
