//! Torques that were wrong, torques behind an adapter, what closes a rebuild, and the clock of a step.

use jiff::ToSpan;
use shop::entry::{Outcome, WaitFor};
use shop::job::{Command, StepIn};

use crate::bench::{Bench, arg, person};
use crate::walk::{look, plan, plan_all, read, reading, tick};

const TB: &str = "tulvane-tb-32";
const HP: &str = "skarnholt-hp-90";

/// A TB-32 whose adapter was tightened to 20 N·m where 28 ± 2.8 are wanted.
fn rejected() -> Bench {
    let mut bench = Bench::ready(TB);
    bench.does(plan("adapter"));
    bench.work_until("tighten-adapter");
    bench.does(reading("tighten-adapter", "tw-100", 20.0));
    bench
}

fn stand(name: Option<&str>, reason: &str) -> StepIn {
    StepIn {
        step: "tighten-adapter".to_owned(),
        reason: reason.to_owned(),
        overridden: name.map(person),
        ..StepIn::default()
    }
}

fn is_next(bench: &Bench, step: &str) -> bool {
    let steps = bench.job().route_steps(bench.model()).expect("a route");
    let next = bench.job().next_step(&steps).expect("a step is open");
    steps[next].id == step
}

#[test]
fn a_wrong_torque_stands_only_by_a_name_and_a_reason() {
    let mut bench = rejected();
    bench.refuses(
        Command::DoStep(stand(Some("chief"), " ")),
        "reason: refuse-override-reason",
    );
    bench.refuses(
        Command::DoStep(stand(None, "the maker allows 19 to 31")),
        "reading: refuse-torque-rejected",
    );
    // Not together with a reading: which of them would stand?
    bench.refuses(
        Command::DoStep(StepIn {
            redone: "undone".to_owned(),
            ..StepIn {
                overridden: Some(person("chief")),
                ..read("tighten-adapter", "tw-100", &[28.0])
            }
        }),
        "override: refuse-override-reading",
    );
    assert!(is_next(&bench, "tighten-adapter"));
    bench.does(Command::DoStep(stand(
        Some("chief"),
        "the maker allows 19 to 31",
    )));
    let job = bench.job();
    let records: Vec<_> = job
        .records("tighten-adapter")
        .map(|s| s.body.clone())
        .collect();
    // The rejected reading stays, and beside it who let it stand.
    assert_eq!(records.len(), 2);
    assert_eq!(records[0].reading.as_ref().map(|r| r.value), Some(20.0));
    assert_eq!(records[1].overridden, Some(person("chief")));
    assert_eq!(
        records[1].outcome,
        Some(Outcome::Reject),
        "it is not called good"
    );
    assert!(!is_next(&bench, "tighten-adapter"));
}

#[test]
fn nothing_but_a_rejected_torque_can_be_let_stand() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("adapter"));
    bench.work_until("gauge-anvil-throat");
    let early = StepIn {
        step: "gauge-anvil-throat".to_owned(),
        ..stand(Some("chief"), "in a hurry")
    };
    bench.refuses(Command::DoStep(early), "override: refuse-override-nothing");
    bench.work_until("tighten-adapter");
    let early = stand(Some("chief"), "in a hurry");
    bench.refuses(Command::DoStep(early), "override: refuse-override-nothing");
    // Undecided is no reject: it has its own way, a better reading or a reason.
    bench.does(reading("tighten-adapter", "tw-100", 25.4));
    let close = stand(Some("chief"), "in a hurry");
    bench.refuses(Command::DoStep(close), "override: refuse-override-nothing");
}

#[test]
fn a_second_tightening_says_what_was_done_and_both_are_kept() {
    let mut bench = rejected();
    bench.refuses(
        reading("tighten-adapter", "tw-100", 28.0),
        "redone: refuse-redone",
    );
    bench.does(Command::DoStep(StepIn {
        redone: " undone, threads brushed ".to_owned(),
        ..read("tighten-adapter", "tw-100", &[28.0])
    }));
    let job = bench.job();
    let outcomes: Vec<_> = job
        .records("tighten-adapter")
        .map(|s| s.body.outcome)
        .collect();
    assert_eq!(outcomes, [Some(Outcome::Reject), Some(Outcome::Accept)]);
    let newest = job.step("tighten-adapter").expect("written");
    assert_eq!(newest.body.redone, "undone, threads brushed");
    // The other joints ask for nothing of the kind.
    bench.work_until("tighten-nose");
    bench.does(reading("tighten-nose", "tw-100", 40.0));
}

/// An HP-90 at its swivels: 45 ± 4 N·m with a crow-foot of 45 mm in line.
fn at_swivels() -> Bench {
    let mut bench = Bench::ready(HP);
    bench.does(plan("swivel"));
    bench.work_until("tighten-swivels");
    bench
}

#[test]
fn a_crow_foot_is_reckoned_in() {
    // TW-100 is 380 mm long: 40.2 on its scale puts 40.2 · 425 / 380 = 44.96 on the joint; 45.0 on its
    // scale puts 50.3 there, which is too much.
    let mut bench = at_swivels();
    bench.does(reading("tighten-swivels", "tw-100", 45.0));
    let job = bench.job();
    let done = &job.step("tighten-swivels").expect("written").body;
    assert_eq!(done.outcome, Some(Outcome::Reject));
    let kept = done.reading.as_ref().expect("kept");
    assert!((kept.value - 45.0 * 425.0 / 380.0).abs() < 1e-9, "{kept:?}");
    assert_eq!(kept.raw, "45", "what the wrench showed stays");
    bench.does(Command::DoStep(StepIn {
        redone: "undone, new seals".to_owned(),
        ..read("tighten-swivels", "tw-100", &[40.2, 40.0])
    }));
    let job = bench.job();
    let done = &job.step("tighten-swivels").expect("written").body;
    assert_eq!(done.outcome, Some(Outcome::Accept));
    assert_eq!(done.adapter.map(|a| a.arm_mm), Some(380.0));
    // The doubt of the wrench grows with the lever, and the hand's place on the grip comes in.
    let doubt = done
        .reading
        .as_ref()
        .and_then(|r| r.expanded)
        .expect("reckoned");
    assert!(doubt > 0.8 * 425.0 / 380.0, "{doubt}");
}

#[test]
fn a_wrench_of_unknown_length_is_measured() {
    // TW-200's sheet does not give its length.
    let typed = |mm: f64| StepIn {
        arm: crate::bench::measured("", &[mm])
            .values
            .pop()
            .map(|v| shop::job::TypedValue {
                field: "arm".to_owned(),
                ..v
            }),
        ..read("tighten-swivels", "tw-200", &[41.5])
    };
    let mut bench = at_swivels();
    bench.refuses(
        reading("tighten-swivels", "tw-200", 41.5),
        "arm: refuse-arm",
    );
    for wrong in [0.0, -380.0, 29.0, 3001.0, f64::NAN, f64::INFINITY] {
        bench.refuses(Command::DoStep(typed(wrong)), "arm: refuse-arm-range");
    }
    // Without a reading yet, the length gives what to set: 45 · 600 / 645 = 41.86.
    let ask = StepIn {
        measured: Some(crate::bench::measured("tw-200", &[])),
        ..typed(600.0)
    };
    let refusals = shop::job::decide(&bench.job(), Command::DoStep(ask), &bench.desk);
    let refusals = refusals.expect_err("nothing was read");
    assert_eq!(refusals[0].message.id, "refuse-adapter-read");
    assert!(
        arg(&refusals[0].message, "set").contains("Number(41.86"),
        "{refusals:?}"
    );
    bench.does(Command::DoStep(typed(600.0)));
    let job = bench.job();
    let done = &job.step("tighten-swivels").expect("written").body;
    let value = done.reading.as_ref().map(|r| r.value).expect("read");
    assert!((value - 41.5 * 645.0 / 600.0).abs() < 1e-9);
}

#[test]
fn a_step_that_was_skipped_is_refused_by_name() {
    let mut bench = Bench::ready(HP);
    bench.does(plan("gland"));
    bench.work_until("close-fill");
    for later in ["close-bleed", "power-shield", "power-look"] {
        let refusals = shop::job::decide(&bench.job(), look(later, true), &bench.desk);
        let refusals = refusals.expect_err("a step is open");
        assert_eq!(refusals[0].message.id, "refuse-hold-before");
        let first = format!("{:?}", refusals[0].message.args);
        assert!(first.contains("Fill the head"), "{first}");
    }
    bench.does(look("close-fill", false));
    bench.refuses(look("close-bleed", true), ": refuse-hold-before");
    bench.does(look("close-fill", true));
    bench.does(look("close-bleed", true));
    bench.does(look("power-shield", true));
}

#[test]
fn a_play_that_is_too_large_holds_the_rebuild() {
    // 0.15 mm at most, D-1 is known to 0.03.
    let mut bench = Bench::ready(TB);
    bench.does(plan("ball-screw"));
    bench.work_until("check-ball-screw-axial-play");
    bench.does(reading("check-ball-screw-axial-play", "d-1", 0.31));
    bench.refuses(tick("fit-guide-key"), ": refuse-hold-before");
    bench.does(reading("check-ball-screw-axial-play", "d-1", 0.05));
    bench.does(tick("fit-guide-key"));
}

#[test]
fn a_wrong_fit_stands_only_by_a_name_and_a_reason() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("ball-screw"));
    bench.work_until("check-ball-screw-axial-play");
    let at_play = |name: Option<&str>, reason: &str| {
        Command::DoStep(StepIn {
            step: "check-ball-screw-axial-play".to_owned(),
            ..stand(name, reason)
        })
    };
    bench.refuses(
        at_play(Some("chief"), "in a hurry"),
        "override: refuse-override-nothing",
    );
    bench.does(reading("check-ball-screw-axial-play", "d-1", 0.31));
    bench.refuses(
        at_play(None, "the maker allows 0.4"),
        "reading: refuse-fit-rejected",
    );
    bench.refuses(
        at_play(Some("chief"), " "),
        "reason: refuse-override-fit-reason",
    );
    bench.does(at_play(Some("chief"), "the maker allows 0.4"));
    assert!(!is_next(&bench, "check-ball-screw-axial-play"));
    let job = bench.job();
    let records: Vec<_> = job.records("check-ball-screw-axial-play").collect();
    assert_eq!(
        records[0].body.reading.as_ref().map(|r| r.value),
        Some(0.31)
    );
    assert_eq!(records[1].body.overridden, Some(person("chief")));
    assert_eq!(records[1].body.outcome, Some(Outcome::Reject));
    bench.does(tick("fit-guide-key"));
}

#[test]
fn a_route_to_several_parts_is_one_route() {
    let mut bench = Bench::ready(TB);
    bench.refuses(plan_all(&[]), "down_to: refuse-no-part");
    bench.refuses(plan_all(&["collet", "flux"]), "down_to: refuse-no-part");
    bench.does(plan_all(&["collet", "adjuster", "collet", "adjuster"]));
    let job = bench.job();
    let planned = &job.route.as_ref().expect("planned").body;
    assert_eq!(planned.also, ["adjuster"]);
    let off: Vec<&str> = job
        .parts_off(bench.model())
        .map(|p| p.id.as_str())
        .collect();
    let all = [
        "anvil",
        "nose-housing",
        "collet",
        "adjuster",
        "tail-tube",
        "adjuster-lock",
    ];
    assert_eq!(off, all);
}

fn clock(step: &str, on: bool) -> Command {
    Command::TimeStep {
        step: step.to_owned(),
        on,
    }
}

#[test]
fn the_minutes_of_a_step_s_clock_go_with_its_entry() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    bench.refuses(clock("off-anvil", true), ": refuse-hold-before");
    bench.does(look("make-safe", true));
    bench.refuses(clock("off-anvil", false), ": refuse-clock-stands");
    bench.refuses(clock("polish", true), ": refuse-no-step");
    let minutes = |bench: &mut Bench, command: Command, later: i64| {
        bench.does(command);
        // An entry is stamped a minute after the one before; the next happens `later` after it.
        if let Some(last) = bench.entries.last_mut() {
            last.at += later.minutes();
        }
        bench.desk.now = bench.entries.last().expect("written").at;
    };
    minutes(&mut bench, clock("off-anvil", true), 0);
    bench.refuses(clock("off-anvil", true), ": refuse-clock-runs");
    minutes(&mut bench, clock("off-anvil", false), 3);
    // Started again, and stopped by the job's wait: no hour of waiting counts as work.
    minutes(&mut bench, clock("off-anvil", true), 0);
    let wait = Command::Wait {
        wait_for: WaitFor::Parts,
        note: "anvil on Friday".to_owned(),
    };
    minutes(&mut bench, wait, 1);
    minutes(&mut bench, Command::Resume, 600);
    assert!(bench.job().clock.running().is_none());
    // 1 + 3 minutes, then 1 + 1.
    bench.does(tick("off-anvil"));
    let job = bench.job();
    assert_eq!(job.step("off-anvil").expect("done").body.minutes, Some(6.0));
    // A step whose clock was never started says nothing of its time.
    bench.does(reading("gauge-anvil-throat", "p-1", 12.92));
    let job = bench.job();
    assert_eq!(
        job.step("gauge-anvil-throat").expect("done").body.minutes,
        None
    );
}

#[test]
fn what_comes_off_after_the_wash_is_washed_too() {
    let mut bench = Bench::ready(TB);
    bench.does(plan("collet"));
    bench.work_until("fit-collet");
    bench.does(plan("spacer"));
    bench.work_until("clean");
    bench.work_until("fit-spacer");
    let job = bench.job();
    assert_eq!(job.records("clean").count(), 2);
}
