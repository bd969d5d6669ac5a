//! Recorded pulls at the ends of what the load cell tells: at rest, beyond the points of its calibration, at its own end.

use std::fmt::Write;

use calc::pull::reading::Filter;
use calc::pull::recording::{self, Fault, Recorded, RecordedPull};
use jiff::civil::date;
use shop::entry::{BenchTestRead, Body, Outcome};
use shop::job::all_in_date;
use shop::pulls::OnePull;

use crate::bench::shelf;
use crate::gauges::{calibration, row, with};
use crate::pulls_by_gauge::{held, one, pulls_of, read, stall, taken};

fn hold(bodies: &[Body]) -> &BenchTestRead {
    let hold = bodies.iter().find_map(|body| match body {
        Body::BenchTestRead(test) if test.test == "hold" => Some(test),
        _ => None,
    });
    hold.expect("it is answered")
}

/// What the cell was off by at rest went with the zero, so that a share of it is all that is left near there.
#[test]
fn below_the_points_of_the_calibration_a_pull_is_corrected_from_its_zero_on() {
    // +0.2 where 10.2 is shown, nothing at rest: +0.1 where 5.1 is.
    let shelf = with(&[calibration(date(2026, 10, 1))]);
    let features = read(&stall(5.1), &shelf).features;
    assert!(
        (features.peak_kn.value - 5.0).abs() < 0.02,
        "{:?}",
        features.peak_kn
    );
    // The energy of 12 mm, by hand of the shape: with nothing taken off at rest the same pull, 0.1 of 5.1 less.
    let exact = read(&stall(5.1), crate::bench::shelf()).features;
    let share = features.energy_j.value / exact.energy_j.value;
    assert!((share - 5.0 / 5.1).abs() < 0.002, "{share}");
}

#[test]
fn a_certificate_with_a_row_at_rest_takes_no_zero_off_twice() {
    // 0.3 too much everywhere, also at rest, where each pull takes it off.
    let mut offset = calibration(date(2026, 10, 1));
    offset.rows = [0.0, 10.0, 30.0, 50.0]
        .iter()
        .enumerate()
        .map(|(at, nominal)| row(at, *nominal, 0.3, None))
        .collect();
    let shelf = with(&[offset]);
    for pulled in [8.0, 20.5] {
        let peak = read(&stall(pulled), &shelf).features.peak_kn;
        assert!((peak.value - pulled).abs() < 0.02, "{peak:?}");
    }
}

#[test]
fn a_loss_beyond_the_points_of_the_calibration_decides_nothing_and_says_why() {
    let mut short = calibration(date(2026, 10, 1));
    short.rows.truncate(2);
    let shelf = with(&[short]);
    let holds = |held_kn: f64| {
        let pulls = (1..=5)
            .map(|n| one(&held(held_kn, 0.2), n, &shelf))
            .collect();
        taken(&shelf, pulls, "").expect("taken")
    };
    let bodies = holds(31.0);
    let beyond = hold(&bodies);
    assert_eq!(beyond.outcome, Outcome::Undecided);
    for reading in &beyond.readings {
        // The cell is in date and did not fail: where it was read is why.
        assert!(reading.in_date && reading.is_beyond() && !reading.is_evidence());
    }
    assert!(!all_in_date(&beyond.readings));
    // Among the points it decides.
    let bodies = holds(20.5);
    let among = hold(&bodies);
    assert!(
        among
            .readings
            .iter()
            .all(|r| r.is_evidence() && !r.is_beyond())
    );
    assert_ne!(among.outcome, Outcome::Undecided);
}

/// `made` as a logger writes it, with a cell that ends at `end_kn`.
fn file(made: &RecordedPull, end_kn: f64) -> String {
    let mut text = "time [s],force [kN],stroke [mm]\n".to_owned();
    for i in 0..made.time_s.len() {
        let force = made.force_kn[i].min(end_kn);
        let (time, stroke) = (made.time_s[i], made.stroke_mm[i]);
        writeln!(text, "{time:.3},{force:.4},{stroke:.3}").expect("a string takes it");
    }
    text
}

#[test]
fn a_pull_that_the_cell_cut_off_decides_nothing() {
    let rig = shelf().rigs().next().expect("the demo's").1;
    let pulls = |end_kn: f64| -> Vec<OnePull> {
        let rig = recording::Rig {
            cell_end_kn: Some(end_kn),
            force: Default::default(),
            stroke: Default::default(),
            time: Default::default(),
            ..rig.recording.clone()
        };
        let text = file(&stall(20.5), end_kn);
        let made = match recording::read(text.as_bytes(), &rig) {
            Recorded::Sound(pulls) | Recorded::Doubtful { pulls, .. } => pulls,
            Recorded::Unreadable(faults) => panic!("{faults:?}"),
        };
        let [made] = &made[..] else {
            panic!("{}", made.len());
        };
        let of_one = |number| OnePull {
            doubtful: !made.faults.is_empty(),
            spoiled: made.faults.iter().any(Fault::spoils),
            ..one(made, number, shelf())
        };
        (1..=5).map(of_one).collect()
    };
    // 19.5 kN lies inside the limits of the demo's test, 19 to 22.
    let cut = pulls(19.5);
    assert!(matches!(
        cut[0].reading.as_ref().expect("reads").told.filter,
        Filter::Butterworth { .. }
    ));
    let refused = taken(shelf(), cut.clone(), "").expect_err("no reason");
    assert_eq!(refused[0].message.id, "refuse-pulls-spoiled");
    let bodies = taken(shelf(), cut, "the amplifier was set too high").expect("taken");
    assert_eq!(pulls_of(&bodies).outcome, Some(Outcome::Undecided));
    assert_eq!(bodies.len(), 1, "no bench test is answered");
    // With room above they decide.
    let bodies = taken(shelf(), pulls(40.0), "").expect("taken");
    assert_eq!(pulls_of(&bodies).outcome, Some(Outcome::Accept));
    assert!(bodies.len() > 1);
}
