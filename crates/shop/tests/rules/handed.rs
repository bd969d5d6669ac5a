//! What joints and bench tests hand to the fault-finder.

use shop::diagnosis::{Seen, diagnose};
use shop::entry::{Phase, Said, Seen as Eye};
use shop::job::{BenchTestIn, Command};
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
        // What answers a check shows no symptom beside it.
        (&[GOOD, ("reach", "d-1", 1.9)], Eye::Good, &[]),
        (&[("collar-diameter", "m-1", 13.4)], Eye::Good, &[]),
        (&[GOOD, ("reach", "d-1", 0.3)], Eye::Good, &["over-swaged"]),
        (&[GOOD, ("gap", "f-1", 0.3)], Eye::Good, &["gap-left"]),
        (&[GOOD], Eye::OffAxis, &["swage-off-axis"]),
        (&[GOOD], Eye::PullGroovesTorn, &["jaws-slip"]),
        (&[], Eye::Marked, &["collar-marked"]),
    ];
    for (read, eye, shows) in cases {
        let mut bench = Bench::received(TB, &["no-return"]);
        bench.does(found_joint(eye, read));
        let seen = bench.seen();
        let symptom = |id: &&String| faults().symptom(id).is_some();
        let handed: Vec<&str> = seen
            .handed
            .iter()
            .filter(symptom)
            .map(String::as_str)
            .collect();
        assert_eq!(handed, shows, "{read:?} {eye:?}");
        for symptom in shows {
            assert_eq!(seen.symptoms.get(*symptom), Some(&true));
        }
    }
}

#[test]
fn a_criterion_answers_the_check_that_asks_the_same() {
    for (read, diameter, reach) in [
        (("collar-diameter", "m-1", 13.4), Some(Said::Yes), None),
        (("collar-diameter", "m-1", 13.0), Some(Said::No), None),
        // Too small is not what the check asks.
        (("collar-diameter", "m-1", 12.5), None, None),
        (("reach", "d-1", 1.9), None, Some(Said::Yes)),
        (("reach", "d-1", 1.1), None, Some(Said::No)),
        (("reach", "d-1", 0.3), None, None),
    ] {
        let mut bench = Bench::received(TB, &["under-swaged"]);
        bench.does(found_joint(Eye::Good, &[read]));
        let seen = bench.seen();
        assert_eq!(
            seen.checks.get("collar-diameter"),
            diameter.as_ref(),
            "{read:?}"
        );
        assert_eq!(seen.checks.get("swage-length"), reach.as_ref(), "{read:?}");
    }
    // A good reach speaks against a short stroke.
    let mut bench = Bench::received(TB, &["under-swaged"]);
    let before = probability(&bench.seen(), "stroke-set-short");
    bench.does(found_joint(Eye::Good, &[("reach", "d-1", 1.1)]));
    assert!(probability(&bench.seen(), "stroke-set-short") < before / 3.0);
}

#[test]
fn a_symptom_that_was_reported_and_shown_counts_once() {
    let mut bench = Bench::received(TB, &["gap-left"]);
    let said = probability(&bench.seen(), "sheet-gap-or-burr");
    bench.does(found_joint(Eye::Gap, &[]));
    assert_eq!(probability(&bench.seen(), "sheet-gap-or-burr"), said);
    let mut bench = Bench::received(TB, &[]);
    let nothing = probability(&bench.seen(), "sheet-gap-or-burr");
    let version = bench.does(found_joint(Eye::Gap, &[]));
    assert!((probability(&bench.seen(), "sheet-gap-or-burr") - said).abs() < 1e-12);
    bench.does(strike(version));
    assert_eq!(probability(&bench.seen(), "sheet-gap-or-burr"), nothing);
}

#[test]
fn too_little_and_too_much_at_once_says_neither() {
    let mut bench = Bench::received(TB, &["no-return"]);
    bench.does(found_joint(Eye::Under, &[("reach", "d-1", 0.3)]));
    let seen = bench.seen();
    assert!(!seen.symptoms.contains_key("under-swaged"));
    assert!(!seen.symptoms.contains_key("over-swaged"));
}

#[test]
fn a_joint_outweighs_that_nobody_saw_it_before() {
    let mut bench = Bench::received(TB, &["jaws-slip"]);
    bench.does(Command::NoteSymptoms {
        present: Vec::new(),
        absent: vec!["gap-left".to_owned()],
    });
    bench.does(found_joint(Eye::Gap, &[]));
    assert_eq!(bench.seen().symptoms.get("gap-left"), Some(&true));
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
    bench.does(check("stall-force", Said::NotSure));
    assert_eq!(
        bench.seen().checks.get("stall-force"),
        Some(&Said::Yes),
        "not sure is no answer"
    );
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

#[test]
fn a_test_that_was_looked_at_answers_too() {
    let look = |passed: bool| {
        Command::ReadBenchTest(BenchTestIn {
            phase: Phase::AsFound,
            test: "oil-retention".to_owned(),
            measured: None,
            passed: Some(passed),
            note: String::new(),
        })
    };
    for (passed, said) in [(true, Said::No), (false, Said::Yes)] {
        let mut bench = Bench::received("orrinbeck-ah-21", &["oil-outside"]);
        bench.does(look(passed));
        assert_eq!(bench.seen().checks.get("paper-wipe-20"), Some(&said));
    }
}

#[test]
fn a_nut_that_the_force_sets_does_not_speak_of_the_stroke() {
    let joint = |fastener: &str, mm: f64| {
        let Command::ReadFoundJoint { joint, .. } =
            found_joint(Eye::Good, &[("set-length", "c-3", mm)])
        else {
            unreachable!()
        };
        Command::ReadFoundJoint {
            fastener: fastener.to_owned(),
            joint,
        }
    };
    // RN6 is set by stroke, 11.9 to 12.7 mm; RN5 by force, 9.8 to 10.8 mm.
    for (fastener, mm, shows) in [
        ("drumhale-rn6", 13.5, "nut-too-long"),
        ("drumhale-rn6", 11.0, "nut-too-short"),
        ("drumhale-rn5", 11.6, "nut-pull-small"),
        ("drumhale-rn5", 9.0, "nut-pull-large"),
    ] {
        let mut bench = Bench::received("orrinbeck-ah-21", &["slow-cycle"]);
        bench.does(joint(fastener, mm));
        let seen = bench.seen();
        let handed: Vec<&str> = seen.handed.iter().map(String::as_str).collect();
        assert_eq!(handed, [shows], "{fastener} {mm}");
    }
    let mut bench = Bench::received("orrinbeck-ah-21", &["nut-spins"]);
    bench.does(joint("drumhale-rn5", 11.6));
    let found = diagnose(faults(), Drive::AirHydraulic, &bench.seen()).expect("possible");
    let lead = found.ranked[0].cause.expect("in the list");
    assert_ne!(lead.id, "stroke-set-short");
}
