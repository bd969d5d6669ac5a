//! Gauges checked in the shop against a reference: torque wrenches in their direction, what measures force.

use shop::entry::{Body, CheckedAs, Outcome, WrenchWay};
use shop::gauge::{
    CheckIn, CheckRowIn, GaugeCommand, State, decide, is_tester_coarse, points_not_asked,
    torque_points,
};

use crate::bench::{TODAY, desk, shelf};
use crate::gauges::{CELL, gauge, refused, written};

pub fn torque_check(way: WrenchWay, third: f64) -> CheckIn {
    let rows = torque_points(gauge("tw-25")).into_iter().enumerate();
    let rows = rows.map(|(row, nominal)| {
        let mut readings: Vec<(String, f64)> = (0..5)
            .map(|i| (format!("at-{}-{i}", row + 1), nominal))
            .collect();
        readings[2].1 *= third;
        CheckRowIn {
            row,
            nominal,
            readings,
        }
    });
    CheckIn {
        date: TODAY,
        check: Some(CheckedAs::Torque {
            way,
            reference_expanded_pct: None,
        }),
        limit_pct: 0.0,
        rows: rows.collect(),
        reference: "transducer".to_owned(),
        note: String::new(),
    }
}

#[test]
fn a_torque_wrench_is_checked_at_three_points_in_its_direction() {
    // 4 to 25 N·m: 20, 60, 100 % are 5, 15, 25.
    assert_eq!(torque_points(gauge("tw-25")), [5.0, 15.0, 25.0]);
    let check = |third| {
        let command = GaugeCommand::Check(torque_check(WrenchWay::Clockwise, third));
        match &decide("tw-25", &command, &desk()).expect("allowed")[..] {
            [Body::GaugeChecked(c)] => c.clone(),
            other => panic!("{other:?}"),
        }
    };
    // (1 − 1/0.97) = −3.1 % of the reading, allowed 4 %; at 0.95 it is 5.3 %.
    assert_eq!(check(0.97).outcome, Outcome::Accept);
    let failed = check(0.95);
    assert_eq!(failed.outcome, Outcome::Reject);
    assert!((failed.points[0].deviation_pct - 100.0 * (1.0 / 0.95 - 1.0)).abs() < 1e-9);
    // A wrench that failed is no evidence in that direction any more; the other stands for itself.
    let command = GaugeCommand::Check(torque_check(WrenchWay::Clockwise, 0.95));
    let shelf = written(shelf().clone(), "tw-25", &command);
    let state = |way| shelf.standing(gauge("tw-25"), TODAY, Some(way)).state;
    assert_eq!(state(WrenchWay::Clockwise), State::Failed);
    assert_eq!(state(WrenchWay::CounterClockwise), State::InDate);
    let shelf = written(
        shelf,
        "tw-25",
        &GaugeCommand::Check(torque_check(WrenchWay::Clockwise, 1.0)),
    );
    assert_eq!(
        shelf
            .standing(gauge("tw-25"), TODAY, Some(WrenchWay::Clockwise))
            .state,
        State::InDate
    );
}

#[test]
fn the_uncertainty_of_the_tester_guards_a_torque_check() {
    let check = |third: f64, tester: Option<f64>| {
        let mut input = torque_check(WrenchWay::Clockwise, third);
        input.check = Some(CheckedAs::Torque {
            way: WrenchWay::Clockwise,
            reference_expanded_pct: tester,
        });
        match &decide("tw-25", &GaugeCommand::Check(input), &desk()).expect("allowed")[..] {
            [Body::GaugeChecked(c)] => c.clone(),
            other => panic!("{other:?}"),
        }
    };
    // 1/0.97 − 1 = 3.09 %, allowed 4 %: good without the tester, undecided with ± 1 %, good with ± 0.9 %.
    assert_eq!(check(0.97, None).outcome, Outcome::Accept);
    assert_eq!(check(0.97, Some(1.0)).outcome, Outcome::Undecided);
    assert_eq!(check(0.97, Some(0.9)).outcome, Outcome::Accept);
    // 1/0.955 − 1 = 4.71 %: bad beyond ± 0.5 %, undecided within ± 1 %.
    assert_eq!(check(0.955, Some(0.5)).outcome, Outcome::Reject);
    assert_eq!(check(0.955, Some(1.0)).outcome, Outcome::Undecided);
    // A quarter of 4 % is 1 %.
    assert!(is_tester_coarse(&check(1.0, Some(1.1))));
    assert!(!is_tester_coarse(&check(1.0, Some(1.0))) && !is_tester_coarse(&check(1.0, None)));
    assert_eq!(
        points_not_asked(&check(1.0, None), gauge("tw-25")),
        [0.0; 0]
    );
    let mut other = torque_check(WrenchWay::Clockwise, 1.0);
    other.rows[1].nominal = 12.0;
    other.rows[1]
        .readings
        .iter_mut()
        .for_each(|(_, v)| *v = 12.0);
    let bodies = decide("tw-25", &GaugeCommand::Check(other), &desk()).expect("allowed");
    let [Body::GaugeChecked(c)] = &bodies[..] else {
        panic!("a check")
    };
    assert_eq!(points_not_asked(c, gauge("tw-25")), [12.0]);
    // Out of reach.
    let mut input = torque_check(WrenchWay::Clockwise, 1.0);
    input.check = Some(CheckedAs::Torque {
        way: WrenchWay::Clockwise,
        reference_expanded_pct: Some(11.0),
    });
    assert_eq!(
        refused("tw-25", &GaugeCommand::Check(input)),
        [(
            "reference_expanded".to_owned(),
            "refuse-check-reference-doubt"
        )]
    );
}

#[test]
fn a_point_of_a_check_is_asked_for_once() {
    let mut input = torque_check(WrenchWay::Clockwise, 1.0);
    input.rows[1].nominal = 5.0;
    input.rows[1]
        .readings
        .iter_mut()
        .for_each(|(_, v)| *v = 5.0);
    assert_eq!(
        refused("tw-25", &GaugeCommand::Check(input)),
        [("nominal-2".to_owned(), "refuse-row-twice")]
    );
}

#[test]
fn mistakes_in_a_check_are_named_by_point() {
    let mut input = torque_check(WrenchWay::Clockwise, 1.0);
    input.rows[1].readings.truncate(4);
    input.rows[2].readings[0].1 = 80.0;
    input.check = None;
    let refused = refused("tw-25", &GaugeCommand::Check(input));
    let fields: Vec<&str> = refused.iter().map(|(field, _)| field.as_str()).collect();
    assert_eq!(fields, ["way", "at-2", "at-3-0"]);
}

#[test]
fn a_force_gauge_is_checked_with_the_uncertainty_of_the_reference() {
    let check = |third: f64| {
        let rows = [10.0, 30.0, 50.0]
            .into_iter()
            .enumerate()
            .map(|(row, nominal)| CheckRowIn {
                row,
                nominal,
                readings: (0..3)
                    .map(|i| (format!("at-{}-{i}", row + 1), nominal * third))
                    .collect(),
            });
        let input = CheckIn {
            date: TODAY,
            check: Some(CheckedAs::Force {
                reference_expanded_pct: 0.2,
            }),
            limit_pct: 1.0,
            rows: rows.collect(),
            reference: "proving ring".to_owned(),
            note: String::new(),
        };
        let bodies = decide(CELL, &GaugeCommand::Check(input), &desk()).expect("allowed");
        let [Body::GaugeChecked(c)] = &bodies[..] else {
            panic!("a check")
        };
        c.outcome
    };
    // Limit 1 %, U about 0.2 %: 0.5 % is good, 0.95 % undecided, 2 % bad.
    assert_eq!(check(1.005), Outcome::Accept);
    assert_eq!(check(0.9905), Outcome::Undecided);
    assert_eq!(check(1.02), Outcome::Reject);
}
