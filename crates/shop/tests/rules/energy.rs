//! When nothing may put energy on the tool, and what lifts that.

use shop::diagnosis::diagnose;
use shop::entry::{Phase, Said};
use shop::job::{Command, Stage};
use shop::sheet::ToolState;

use crate::bench::{Bench, check, faults};
use crate::walk::{
    answer, cause, estimate, fit, good_m8, hand_back, look, looked, not_safe, plan, prove, skip,
    stick_out, test, warranty,
};

const TB: &str = "tulvane-tb-32";
const NO_ENERGY: &str = ": refuse-no-energy";

fn note(present: &[&str], absent: &[&str]) -> Command {
    let ids = |list: &[&str]| list.iter().map(|s| (*s).to_owned()).collect();
    Command::NoteSymptoms {
        present: ids(present),
        absent: ids(absent),
    }
}

/// Whether any check that is proposed puts energy on the tool.
fn proposes_energy(bench: &Bench) -> bool {
    let found = diagnose(faults(), bench.model().drive, &bench.seen()).expect("possible");
    assert!(!found.open.is_empty(), "some check is left");
    found.open.iter().any(|n| n.check.state.energised())
}

fn refuses_energy(bench: &Bench) {
    let pulls = [31.0, 31.1, 31.2, 31.0, 31.1];
    bench.refuses(
        test(Phase::AsFound, "pull-force", "lc-50", &pulls),
        NO_ENERGY,
    );
    bench.refuses(check("known-good-pack", Said::Yes), NO_ENERGY);
    assert!(!proposes_energy(bench));
}

#[test]
fn a_symptom_that_forbids_energy_leaves_dead_checks_only() {
    for symptom in ["runs-on", "visible-damage", "tool-wet", "pack-damaged"] {
        let mut bench = Bench::received(TB, &["no-start", symptom]);
        refuses_energy(&bench);
        bench.does(check("contact-look", Said::No));
        // Ruled out, it forbids nothing.
        bench.does(note(&[], &[symptom]));
        assert!(proposes_energy(&bench));
        bench.does(check("known-good-pack", Said::No));
    }
}

#[test]
fn a_tool_that_is_not_safe_to_run_is_not_run() {
    let mut bench = Bench::received(TB, &["no-start"]);
    assert!(proposes_energy(&bench));
    bench.does(not_safe());
    refuses_energy(&bench);
    bench.does(check("contact-look", Said::No));
}

#[test]
fn what_forbids_energy_cannot_be_left_unmended() {
    let mut bench = Bench::received(TB, &["runs-on"]);
    bench.does(not_safe());
    bench.does(cause("switch-worn"));
    let mut bench = bench.agreed();
    bench.refuses(skip(Stage::Rebuilt), NO_ENERGY);
    // The first power-up after the mending lifts it.
    bench.does(plan("trigger-switch"));
    let steps = bench.job().route_steps(bench.model()).expect("a route");
    let first = steps.iter().find(|s| s.id.starts_with("power-"));
    let first = first.expect("a power-up").id.clone();
    bench.work_until(&first);
    // Each sign is looked at by name before the tool runs.
    bench.refuses(crate::walk::tick(&first), "mended: refuse-sign-open");
    bench.work_until("power-look");
    bench.does(look("power-look", true));
    assert!(!bench.job().energy_forbidden(&bench.desk));
    assert!(proposes_energy(&bench));
    bench.does(skip(Stage::SetUp));
    bench.does(looked("release", true));
    // No set-up says where the adjuster stands, and this test opens it.
    bench.refuses(
        test(Phase::AsLeft, "stroke-dry", "c-1", &[24.0, 24.0, 24.0]),
        "note: refuse-adjuster-note",
    );
}

#[test]
fn what_shows_after_the_power_up_forbids_anew() {
    let mut bench = Bench::ready(TB).rebuilt("collet");
    bench.does(fit("marlstead-m8", "06", "n8"));
    bench.does(stick_out(26.2));
    bench.does(note(&["runs-on"], &[]));
    bench.refuses(good_m8(6.5), NO_ENERGY);
    bench.does(note(&[], &["runs-on"]));
    bench.does(good_m8(6.5));

    let mut bench = Bench::ready(TB).rebuilt("collet").set_up_m8().tested();
    bench.does(note(&["runs-on"], &[]));
    bench.refuses(looked("release", true), NO_ENERGY);
    bench.refuses(prove(), NO_ENERGY);
}

#[test]
fn symptoms_are_the_sheet_s_and_not_both_ways() {
    let bench = Bench::received(TB, &["no-start"]);
    bench.refuses(note(&["sings"], &[]), "symptoms: refuse-symptom");
    bench.refuses(note(&[], &[]), "symptoms: refuse-no-symptom");
    bench.refuses(
        note(&["hot-body"], &["hot-body"]),
        "symptoms: refuse-symptom-both",
    );
}

#[test]
fn what_shows_after_the_proof_stops_the_return() {
    let mut bench = Bench::proved();
    bench.does(note(&["runs-on"], &[]));
    bench.refuses(hand_back(), ": refuse-return-not-safe");
    bench.does(note(&[], &["runs-on"]));
    bench.does(hand_back());

    // Declined, it goes back as it came.
    let mut bench = Bench::received(TB, &["runs-on"]);
    bench.does(not_safe());
    bench.does(cause("switch-worn"));
    bench.does(warranty());
    bench.does(estimate(100));
    bench.does(answer(false));
    bench.does(hand_back());
}

#[test]
fn a_check_with_the_hands_asks_for_the_ticks() {
    let untouched = |id: &str| match check(id, Said::No) {
        Command::AnswerCheck {
            check,
            answer,
            note,
            ..
        } => Command::AnswerCheck {
            check,
            answer,
            note,
            made_safe: vec!["pack-out".to_owned()],
            beside: Vec::new(),
        },
        other => other,
    };
    let in_state = |state: ToolState| {
        let found = faults()
            .checks
            .iter()
            .find(|c| c.state == state && !c.hands_first);
        found.expect("the demo has one").id.as_str()
    };
    let dead = in_state(ToolState::NoEnergy);
    let stripped = in_state(ToolState::StrippedNoEnergy);
    let mut bench = Bench::received(TB, &["jaws-slip"]);
    let at_risk = "made_safe: refuse-hands-at-risk";
    bench.refuses(untouched(dead), at_risk);
    bench.refuses(untouched(stripped), at_risk);
    bench.does(untouched(in_state(ToolState::RecordOnly)));
    bench.does(untouched(in_state(ToolState::EnergisedLoaded)));
    bench.does(check(dead, Said::No));
    // Ticks of other drives mean nothing on this one.
    let ticks = |bench: &Bench| bench.job().checks.last().map(|c| c.body.made_safe.clone());
    let battery = vec!["pack-out".to_owned(), "trigger-pressed".to_owned()];
    assert_eq!(ticks(&bench), Some(battery));

    let mut bench = bench.found("collet-teeth-worn").agreed();
    bench.does(plan("collet"));
    bench.refuses(untouched(stripped), at_risk);
    bench.does(look("make-safe", true));
    // Made safe for the strip already.
    bench.does(untouched(stripped));
    assert_eq!(ticks(&bench), Some(Vec::new()));
    bench.work_until("power-dry-cycles");
    bench.refuses(untouched(dead), at_risk);
}

fn clear(reason: &str) -> Command {
    cleared_of(reason, &[])
}

fn cleared_of(reason: &str, signs: &[&str]) -> Command {
    Command::ClearEnergy {
        reason: reason.to_owned(),
        signs: signs.iter().map(|s| (*s).to_owned()).collect(),
    }
}

#[test]
fn a_named_person_clears_energised_looks_and_nothing_more() {
    let mut bench = Bench::received(TB, &["no-start"]);
    bench.refuses(clear("nothing is wrong"), ": refuse-nothing-to-clear");
    bench.does(note(&["visible-damage"], &[]));
    refuses_energy(&bench);
    bench.refuses(clear("  "), "reason: refuse-clear-reason");
    bench.refuses(clear("looks fine"), "reason: refuse-clear-reason");
    let looked = "shell taped and looked at, pack of the shop fitted";
    bench.refuses(clear(looked), "signs: refuse-sign-not-cleared");
    bench.does(cleared_of(looked, &["visible-damage"]));
    assert!(proposes_energy(&bench));
    bench.does(check("known-good-pack", Said::Yes));
    // Dry cycles only: no load, no test as found.
    let found = diagnose(faults(), bench.model().drive, &bench.seen()).expect("possible");
    assert!(found.no_load && !found.no_energy);
    let loaded = |n: &shop::diagnosis::OpenCheck| n.check.state == ToolState::EnergisedLoaded;
    assert!(!found.open.iter().any(loaded));
    bench.refuses(check("stall-force", Said::Yes), ": refuse-no-load");
    let pulls = [31.0, 31.1, 31.2, 31.0, 31.1];
    bench.refuses(
        test(Phase::AsFound, "pull-force", "lc-50", &pulls),
        NO_ENERGY,
    );
    // The tool is still not one that may be handed back.
    assert!(bench.job().energy_forbidden(&bench.desk));
    // What shows after the clearing forbids anew.
    bench.does(note(&["runs-on"], &[]));
    assert!(!proposes_energy(&bench));
    bench.refuses(check("known-good-pack", Said::Yes), NO_ENERGY);
}

#[test]
fn a_clearing_that_is_struck_clears_nothing() {
    let mut bench = Bench::received(TB, &["no-start"]);
    bench.does(not_safe());
    let cleared = bench.does(clear("looked at by the shift lead"));
    assert!(proposes_energy(&bench));
    bench.does(crate::bench::strike(cleared));
    refuses_energy(&bench);
}

#[test]
fn a_clearing_does_not_hold_for_what_was_found_after_it() {
    // Cleared of a sign, then found not safe to run: that stands by itself.
    let mut bench = Bench::received(TB, &["visible-damage"]);
    bench.does(cleared_of("shell looked at all round", &["visible-damage"]));
    assert!(proposes_energy(&bench));
    bench.does(not_safe());
    assert!(!proposes_energy(&bench));
}
