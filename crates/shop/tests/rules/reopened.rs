//! A tool that is opened a second time: nothing of the first time counts for it.

use calc::Message;
use shop::entry::Phase;
use shop::job::{Command, Stage, decide};

use crate::bench::{Bench, strike};
use crate::walk::{
    fit, hand_back, look, looked, plan, prove, reading, renew, sign_off, skip, stick_out, test,
    tick,
};

const TB: &str = "tulvane-tb-32";

#[test]
fn a_closed_tool_is_left_alone_until_the_strip_is_planned_anew() {
    let mut bench = Bench::ready(TB).rebuilt("collet");
    for step in [
        look("power-look", false),
        tick("off-anvil"),
        reading("tighten-nose", "tw-100", 20.0),
    ] {
        bench.refuses(step, ": refuse-rebuild-done");
    }
    bench.does(plan("ball-screw"));
    assert_eq!(bench.job().stage(), Some(Stage::Rebuilt));
    bench.refuses(tick("off-anvil"), ": refuse-hold-before");
    bench.does(look("make-safe", true));
}

#[test]
fn a_test_that_fails_leads_back_to_the_bench_and_everything_is_proved_again() {
    let mut bench = Bench::ready(TB).rebuilt("collet").set_up_m8().tested();
    bench.does(test(
        Phase::AsLeft,
        "pull-force",
        "lc-50",
        &[28.0, 28.1, 28.0, 28.2, 28.1],
    ));
    bench.refuses(prove(), ": refuse-test-rejected");
    bench.does(plan("gears"));
    let job = bench.job();
    assert_eq!(job.stage(), Some(Stage::Rebuilt));
    assert!(
        job.step("tighten-nose").is_none(),
        "the nose comes off again"
    );
    assert!(job.set_up().is_none(), "the old setting is gone with it");
    assert!(job.test(Phase::AsLeft, "release").is_none());
    // The first time stays on record.
    assert!(!job.steps.is_empty() && job.set_ups.len() == 1);
    assert!(job.tests.iter().any(|t| t.body.phase == Phase::AsLeft));

    bench.work_until("power-look");
    bench.does(look("power-look", true));
    bench.refuses(sign_off(), ": refuse-fit-first");
    let mut bench = bench.set_up_m8();
    bench.refuses(prove(), ": refuse-test-missing");
    bench = bench.tested();
    bench.does(prove());
    bench.does(hand_back());
}

#[test]
fn a_part_renewed_the_first_time_is_looked_at_again() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("adjuster-lock"));
    bench.does(renew("adjuster-lock"));
    bench.work_until("power-look");
    bench.does(look("power-look", true));
    bench.does(plan("adjuster-lock"));
    bench.work_until("fit-adjuster-lock");
    bench.refuses(tick("fit-adjuster-lock"), ": refuse-renew");
}

#[test]
fn going_deeper_while_all_is_off_keeps_what_was_done() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    bench.work_until("clean");
    bench.does(plan("spacer"));
    let steps = bench.job().route_steps(bench.model()).expect("a route");
    let next = bench.job().next_step(&steps).expect("open");
    assert_eq!(steps[next].id, "off-ejector-sleeve");
}

#[test]
fn going_deeper_when_parts_are_back_on_begins_again() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    bench.work_until("power-shield");
    bench.does(plan("spacer"));
    // The nose that was tightened comes off again, so its torque is owed again.
    assert!(bench.job().step("tighten-nose").is_none());
    bench.refuses(tick("off-anvil"), ": refuse-hold-before");
}

#[test]
fn no_route_leaves_a_part_off() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("spacer"));
    bench.work_until("clean");
    for short in ["collet", "trigger-switch"] {
        bench.refuses(plan(short), "down_to: refuse-route-leaves-off");
    }
    bench.refuses(plan("flux"), "down_to: refuse-no-part");
    bench.does(plan("spacer"));
    // Off until it is fitted: the anvil goes on last.
    bench.work_until("fit-anvil");
    bench.refuses(plan("trigger-switch"), "down_to: refuse-route-leaves-off");
    bench.does(tick("fit-anvil"));
    bench.does(plan("trigger-switch"));
}

#[test]
fn a_strip_after_the_set_up_voids_the_set_up() {
    let mut bench = Bench::ready(TB);
    bench.does(skip(Stage::Rebuilt));
    let mut bench = bench.set_up_m8();
    assert_eq!(bench.job().stage(), Some(Stage::Proved));
    bench.does(plan("collet"));
    bench.work_until("power-look");
    bench.does(look("power-look", true));
    assert_eq!(bench.job().stage(), Some(Stage::SetUp));
    bench.does(fit("marlstead-m8", "06", "n8"));
}

#[test]
fn a_signed_proof_and_a_signed_set_up_stand_until_they_are_struck() {
    let mut bench = Bench::proved();
    let proof = bench.job().version;
    let stands = ": refuse-proof-stands";
    for late in [plan("ball-screw"), looked("release", false), prove()] {
        bench.refuses(late, stands);
    }
    bench.does(strike(proof));
    bench.does(looked("release", false));
    bench.refuses(prove(), ": refuse-test-rejected");

    let bench = Bench::ready(TB).rebuilt("collet").set_up_m8();
    for late in [stick_out(29.2), crate::walk::good_m8(6.5), sign_off()] {
        bench.refuses(late, ": refuse-set-up-stands");
    }
}

#[test]
fn a_set_up_after_the_proof_is_finished_before_the_return() {
    let mut bench = Bench::proved();
    bench.does(fit("marlstead-m8", "07", "n8"));
    bench.refuses(hand_back(), ": refuse-not-yet");
    bench.does(stick_out(26.0));
    let bad = bench.does(crate::walk::good_m8(6.75));
    bench.does(strike(bad));
    for _ in 0..3 {
        bench.does(crate::walk::good_m8(6.75));
    }
    bench.does(sign_off());
    bench.does(hand_back());
}

#[test]
fn an_undecided_test_needs_a_reason_to_pass() {
    let mut bench = Bench::ready(TB).rebuilt("collet").set_up_m8().tested();
    let on_the_limit = [30.4, 30.4, 30.4, 30.4, 30.4];
    bench.does(test(Phase::AsLeft, "pull-force", "lc-50", &on_the_limit));
    let told = decide(&bench.job(), prove(), &bench.desk).expect_err("no reason");
    let names = Message::new("refuse-undecided-reason").with("tests", "Pull force at stall");
    assert_eq!(
        (told[0].field.as_str(), &told[0].message),
        ("reason", &names)
    );
    bench.does(Command::SignOffProof {
        adjuster_stands: true,
        reason: "the customer pulls 26 kN at most".to_owned(),
    });
    assert_eq!(bench.job().stage(), Some(Stage::Returned));
}

#[test]
fn a_part_is_renewed_while_it_is_off_and_at_no_other_time() {
    let mut bench = Bench::ready(TB);
    bench.refuses(renew("collet"), ": refuse-no-route");
    bench.does(plan("collet"));
    // Behind the collet, and beside the axis: both stay on.
    for stays in ["ball-screw", "trigger-switch"] {
        bench.refuses(renew(stays), "part: refuse-not-on-route");
    }
    bench.does(renew("collet"));
    bench.work_until("power-look");
    bench.does(look("power-look", true));
    bench.refuses(renew("collet"), ": refuse-rebuild-done");
    let mut bench = bench.set_up_m8().tested();
    bench.does(prove());
    bench.refuses(renew("collet"), ": refuse-proof-stands");
}

#[test]
fn a_tool_tested_as_left_without_a_strip_is_tested_anew_after_one() {
    let mut bench = Bench::ready(TB);
    bench.does(skip(Stage::Rebuilt));
    bench.does(skip(Stage::SetUp));
    let mut bench = bench.tested();
    bench.does(plan("collet"));
    assert!(bench.job().test(Phase::AsLeft, "release").is_none());
    bench.work_until("power-look");
    bench.does(look("power-look", true));
    bench.refuses(prove(), ": refuse-test-missing");
    let mut bench = bench.tested();
    bench.does(prove());
}

#[test]
fn a_strip_that_was_left_out_is_planned_anew() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    let skipped = bench.does(skip(Stage::Rebuilt));
    bench.refuses(look("make-safe", true), ": refuse-no-route");
    bench.does(strike(skipped));
    bench.does(look("make-safe", true));
}
