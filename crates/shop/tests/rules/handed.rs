//! What joints and bench tests hand to the fault-finder.

use shop::diagnosis::{Seen, diagnose};
use shop::entry::{Phase, Said, Seen as Eye};
use shop::job::Command;
use shop::sheet::Drive;

use crate::bench::{Bench, check, faults, strike};
use crate::walk::{found_joint, test};

const TB: &str = "tulvane-tb-32";

/// Criterion, gauge, value.
type Read = &'static [(&'static str, &'static str, f64)];

fn probability(seen: &Seen, cause: &str) -> f64 {
    let found = diagnose(faults(), Drive::Battery, seen).expect("possible");
    let of = |r: &&shop::diagnosis::Ranked| r.cause.is_some_and(|c| c.id == cause);
    found.ranked.iter().find(of).expect("ranked").probability
}

#[test]
fn a_bad_joint_shows_its_symptom_and_a_good_one_none() {
    const GOOD: (&str, &str, f64) = ("collar-diameter", "m-1", 13.0);
    // Limits of the demo sheet: collar 12.90 to 13.12, reach 0.7 to 1.5, gap up to 0.10 mm.
    let cases: [(Read, Eye, &[&str]); 8] = [
        (
            &[GOOD, ("reach", "d-1", 1.1), ("gap", "f-1", 0.0)],
            Eye::Good,
            &[],
        ),
        (&[GOOD, ("reach", "d-1", 1.9)], Eye::Good, &["under-swaged"]),
        (&[GOOD, ("reach", "d-1", 0.3)], Eye::Good, &["over-swaged"]),
        (
            &[("collar-diameter", "m-1", 13.4)],
            Eye::Good,
            &["under-swaged"],
        ),
        (&[GOOD, ("gap", "f-1", 0.3)], Eye::Good, &["gap-left"]),
        (&[GOOD], Eye::OffAxis, &["swage-off-axis"]),
        (&[GOOD], Eye::PullGroovesTorn, &["jaws-slip"]),
        (
            &[("reach", "d-1", 1.9)],
            Eye::Marked,
            &["collar-marked", "under-swaged"],
        ),
    ];
    for (read, eye, shows) in cases {
        let mut bench = Bench::received(TB, &["no-return"]);
        bench.does(found_joint(eye, read));
        let seen = bench.seen();
        let handed: Vec<&str> = seen.handed.iter().map(String::as_str).collect();
        assert_eq!(handed, shows, "{read:?} {eye:?}");
        for symptom in shows {
            assert_eq!(seen.symptoms.get(*symptom), Some(&true));
        }
    }
}

#[test]
fn a_symptom_that_was_reported_and_shown_counts_once() {
    let mut bench = Bench::received(TB, &["under-swaged"]);
    let said = probability(&bench.seen(), "anvil-bore-worn");
    let version = bench.does(found_joint(Eye::Good, &[("reach", "d-1", 1.9)]));
    assert_eq!(probability(&bench.seen(), "anvil-bore-worn"), said);
    bench.does(strike(version));
    let mut bench = Bench::received(TB, &[]);
    let nothing = probability(&bench.seen(), "anvil-bore-worn");
    let version = bench.does(found_joint(Eye::Good, &[("reach", "d-1", 1.9)]));
    assert!((probability(&bench.seen(), "anvil-bore-worn") - said).abs() < 1e-12);
    bench.does(strike(version));
    assert_eq!(probability(&bench.seen(), "anvil-bore-worn"), nothing);
}

#[test]
fn a_joint_outweighs_that_nobody_saw_it_before() {
    let mut bench = Bench::received(TB, &["jaws-slip"]);
    bench.does(Command::NoteSymptoms {
        present: Vec::new(),
        absent: vec!["under-swaged".to_owned()],
    });
    bench.does(found_joint(Eye::Good, &[("reach", "d-1", 1.9)]));
    assert_eq!(bench.seen().symptoms.get("under-swaged"), Some(&true));
}

#[test]
fn a_test_as_found_answers_the_check_that_asks_the_same() {
    // Limits of the demo sheet: 30.4 to 35.2 kN. The check asks for a pull below its limit.
    for (kilonewtons, said) in [
        (25.0, Some(Said::Yes)),
        (32.0, Some(Said::No)),
        (30.4, None),
        (40.0, None),
    ] {
        let mut bench = Bench::received(TB, &["stalls-under-load"]);
        let before = bench.seen();
        assert!(!before.checks.contains_key("stall-force"));
        bench.does(test(
            Phase::AsFound,
            "pull-force",
            "lc-50",
            &[kilonewtons; 5],
        ));
        let seen = bench.seen();
        assert_eq!(
            seen.checks.get("stall-force"),
            said.as_ref(),
            "{kilonewtons}"
        );
        let found = diagnose(faults(), Drive::Battery, &seen).expect("possible");
        let asked = found.open.iter().any(|n| n.check.id == "stall-force");
        assert_eq!(asked, said.is_none(), "{kilonewtons}");
    }
    let mut bench = Bench::received(TB, &["stalls-under-load"]);
    bench.does(test(Phase::AsFound, "pull-force", "lc-50", &[25.0; 5]));
    bench.does(check("stall-force", Said::No));
    assert_eq!(
        bench.seen().checks.get("stall-force"),
        Some(&Said::No),
        "a person's word stands"
    );
}

#[test]
fn readings_too_far_apart_answer_nothing() {
    let mut bench = Bench::received(TB, &["stalls-under-load"]);
    let apart = [31.5, 34.5, 31.5, 34.5, 33.0];
    bench.does(test(Phase::AsFound, "pull-force", "lc-50", &apart));
    assert!(!bench.seen().checks.contains_key("stall-force"));
}
