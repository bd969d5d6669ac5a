//! The trial loop on the demo shop's sheets: what comes next, and when it ends.

use calc::screw_stop::{Effect, Hand, Rotation, View, Zero};
use proptest::prelude::*;
use shop::entry::{PastSetUp, Seen};
use shop::job::{Command, SetUp, SetUpSheets};
use shop::joint::Advice;
use shop::setting::turn_for;
use shop::sheet::{FastenerFamily, ToolModel};
use shop::trial::{self, Told, Trial, own};

use crate::bench::Bench;
use crate::own::bench_with_past;
use crate::walk::{fit, joint, stick_out};

/// A TB-32 with a Marlstead M8 that stands out by 26.2 mm: (36.0 − 26.2) / 1.5 = 6.533 turns.
pub fn tb_32() -> Bench {
    let mut bench = Bench::ready("tulvane-tb-32").rebuilt("collet");
    bench.does(fit("marlstead-m8", "06", "n8"));
    bench.does(stick_out(26.2));
    bench
}

/// A joint at `turns`, good but for its reach.
pub fn reach(turns: f64, seen: Seen, mm: f64) -> Command {
    let readings = [
        ("collar-diameter", "m-1", 13.0),
        ("reach", "d-1", mm),
        ("gap", "f-1", 0.05),
    ];
    joint(Some(turns), seen, &readings)
}

fn with<T>(bench: &Bench, look: impl FnOnce(&SetUpSheets, &SetUp) -> T) -> T {
    let job = bench.job();
    let set_up = job.set_up().expect("fitted");
    let sheets = job.set_up_sheets(set_up, &bench.desk).expect("pinned");
    look(&sheets, set_up)
}

fn next(bench: &Bench) -> (Advice, Option<Trial>) {
    with(bench, |sheets, set_up| {
        let told = Told::of(sheets, set_up, &bench.desk);
        (told.advice.expect("a joint"), told.trial)
    })
}

#[test]
fn a_reach_too_far_from_the_flange_asks_for_more_stroke() {
    let mut bench = tb_32();
    // 1.58 is 0.48 from the middle, 0.53 beyond what the table foretells at 6 1/2: 0.375 mm are a quarter.
    bench.does(reach(6.5, Seen::Under, 1.58));
    let (advice, trial) = next(&bench);
    let change = Advice::Change {
        effect: Effect::Lengthens,
        by_turns: 0.25,
        to_turns: 6.25,
    };
    assert_eq!(advice, change);
    let trial = trial.expect("led by the reach");
    assert!((trial.next.belief.offset_mm() - 0.52).abs() < 0.02);
    assert_eq!(trial.working.method.name, "trial-loop");
    // Tools differ by 0.7 mm; the table's turns are good to w (k = 2), a turn is 1.5 mm.
    let w = with(&bench, |_, set_up| {
        set_up.stick_out().and_then(|r| r.expanded_turns)
    });
    let doubt = 0.7_f64.hypot(w.expect("a table") / 2.0 * 1.5);
    assert_eq!(trial.working.given[3].value, format!("{doubt:.2}"));
}

#[test]
fn it_ends_when_no_further_joint_is_worth_its_cost() {
    let mut bench = tb_32();
    bench.does(reach(6.5, Seen::Good, 1.10));
    let (advice, trial) = next(&bench);
    assert_eq!(advice, Advice::Again);
    assert!(!trial.expect("led").is_enough());
    bench.does(reach(6.5, Seen::Good, 1.08));
    let (advice, trial) = next(&bench);
    assert_eq!(advice, Advice::Keep);
    let trial = trial.expect("led");
    assert!(
        trial.is_enough() && trial.next.inside > 0.995,
        "{}",
        trial.next.inside
    );
}

#[test]
fn what_no_turn_mends_stops_the_loop() {
    for seen in [
        Seen::OffAxis,
        Seen::Gap,
        Seen::PullGroovesTorn,
        Seen::BrokeLow,
    ] {
        let mut bench = tb_32();
        bench.does(reach(6.5, seen, 1.1));
        let (advice, trial) = next(&bench);
        assert!(
            matches!(advice, Advice::Stop(_)) && trial.is_none(),
            "{seen:?}"
        );
    }
    // 3.6 mm of reach too much want more than two turns.
    let mut bench = tb_32();
    bench.does(reach(6.5, Seen::Under, 4.7));
    match next(&bench).0 {
        Advice::Stop(why) => assert_eq!(why.id, "joint-far-from-table"),
        other => panic!("{other:?}"),
    }
}

#[test]
fn looks_count_and_a_gauge_out_of_date_does_not() {
    let mut bench = tb_32();
    bench.does(joint(Some(6.5), Seen::Under, &[]));
    let (advice, trial) = next(&bench);
    assert!(
        matches!(
            advice,
            Advice::Change {
                effect: Effect::Lengthens,
                ..
            }
        ),
        "{advice:?}"
    );
    // Too short by eye: the reach lies above its limit.
    assert!(trial.expect("led").next.belief.offset_mm() > 0.4);
    // The value of a caliper out of date is kept, and the eye alone speaks.
    let mut bench = tb_32();
    bench.does(joint(Some(6.5), Seen::Good, &[("reach", "c-5", 1.45)]));
    let trial = next(&bench).1.expect("led");
    assert!(trial.next.belief.offset_mm().abs() < 0.1);
}

#[test]
fn the_eye_is_not_turned_against() {
    // Too much stroke by eye: a reach that alone would ask for more does not get it.
    for mm in [1.30, 1.40] {
        let mut bench = tb_32();
        bench.does(reach(6.5, Seen::Cut, mm));
        match next(&bench).0 {
            Advice::Stop(why) => assert_eq!(why.id, "joint-contradicts", "{mm}"),
            other => panic!("{mm}: {other:?}"),
        }
    }
    // In the middle by its reach, and cut: a step shorter.
    let mut bench = tb_32();
    bench.does(reach(6.5, Seen::Cut, 1.10));
    let shorter = Advice::Change {
        effect: Effect::Shortens,
        by_turns: 0.25,
        to_turns: 6.75,
    };
    assert_eq!(next(&bench).0, shorter);
}

/// A joint with a word on what stopped the one before.
fn explained(joint: Command) -> Command {
    match joint {
        Command::ReadJoint(mut joint) => {
            "collet brushed out".clone_into(&mut joint.joint.note);
            Command::ReadJoint(joint)
        }
        other => other,
    }
}

#[test]
fn one_good_joint_does_not_wipe_out_bad_ones_at_its_setting() {
    let mut bench = tb_32();
    for seen in [Seen::Cut, Seen::PullGroovesTorn] {
        bench.does(reach(6.5, seen, 1.10));
    }
    for good in 1..=3 {
        bench.does(explained(reach(6.5, Seen::Good, 1.10)));
        let (advice, trial) = next(&bench);
        let is_enough = trial.expect("led").is_enough();
        assert_eq!(is_enough, good == 3, "{good}");
        assert_eq!(advice == Advice::Keep, good == 3, "{advice:?}");
    }
}

#[test]
fn a_joint_read_in_inches_is_named_and_not_stored() {
    let bench = tb_32();
    let read = |mm: f64| joint(Some(6.5), Seen::Good, &[("collar-diameter", "m-1", mm)]);
    // 0.512 in are 13.005 mm (1 in = 25.4 mm exactly), which lies in 12.90 to 13.12.
    let why = bench.refused(read(0.512));
    assert!(
        why.len() == 1 && why[0].ends_with(": refuse-inches"),
        "{why:?}"
    );
    // A reach of 0.05 mm can be one: too much stroke.
    let mut bench = tb_32();
    bench.does(reach(6.5, Seen::Cut, 0.05));
}

#[test]
fn a_digit_typed_twice_is_named_and_not_stored() {
    let bench = tb_32();
    let read = |mm: f64| joint(Some(6.5), Seen::Good, &[("collar-diameter", "c-3", mm)]);
    let why = bench.refused(read(113.24));
    assert!(why.concat().contains("refuse-no-joint"), "{why:?}");
    // A collar that was hardly swaged is a joint all the same: limits 12.90 to 13.12 mm.
    let mut bench = bench;
    bench.does(read(14.6));
}

#[test]
fn a_joint_whose_reach_says_why_it_is_bad_leaves_no_doubt() {
    let mut bench = tb_32();
    bench.does(reach(6.5, Seen::Under, 1.62));
    assert!(!next(&bench).1.expect("led").is_doubted);
    // Cut with a reach in its limits: the reach does not say why.
    bench.does(reach(6.5, Seen::Cut, 1.10));
    assert!(next(&bench).1.expect("led").is_doubted);
}

#[test]
fn joints_that_scatter_too_much_are_not_signed_off_as_good() {
    let mut bench = tb_32();
    for i in 0..24 {
        bench.does(reach(6.5, Seen::Good, if i % 2 == 0 { 1.40 } else { 0.80 }));
    }
    let (advice, trial) = next(&bench);
    let trial = trial.expect("led");
    assert!(!trial.is_enough() && trial.next.inside < trial::LEAST);
    assert!(!matches!(advice, Advice::Keep), "{advice:?}");
}

/// What is said after joints of `mm` with sheets that `change` alters.
fn told_with(mm: f64, change: impl FnOnce(&mut ToolModel, &mut FastenerFamily)) -> Told {
    let mut bench = tb_32();
    for _ in 0..16 {
        bench.does(reach(6.5, Seen::Good, mm));
    }
    with(&bench, |sheets, set_up| {
        let (mut model, mut fastener) = (sheets.model.clone(), sheets.fastener.clone());
        change(&mut model, &mut fastener);
        let sheets = SetUpSheets {
            model: &model,
            fastener: &fastener,
            ..*sheets
        };
        Told::of(&sheets, set_up, &bench.desk)
    })
}

#[test]
fn what_no_joint_betters_and_is_too_little_stops_with_its_cause() {
    let why = |told: Told| {
        let trial = told.trial.expect("led");
        assert!(!trial.is_enough() && trial.next.inside < trial::LEAST);
        match told.advice {
            Some(Advice::Stop(why)) => why.id,
            other => panic!("{other:?}"),
        }
    };
    // Limits of ± 0.4 mm are 1.3 standard deviations: 8 of 10 at best.
    let spread = |_: &mut ToolModel, f: &mut FastenerFamily| {
        f.criteria.iter_mut().for_each(|c| c.spread_mm = Some(0.3));
    };
    assert_eq!(why(told_with(1.10, spread)), "joint-spread-too-wide");
    // 0.30 mm from the middle, and a step moves the reach by 0.75 mm.
    let coarse = |m: &mut ToolModel, _: &mut FastenerFamily| m.adjuster.step_turns = 0.5;
    assert_eq!(why(told_with(1.40, coarse)), "joint-steps-too-coarse");
}

#[test]
fn a_new_stick_out_keeps_what_the_joints_told_and_asks_for_one_more() {
    let mut bench = tb_32();
    bench.does(reach(6.5, Seen::Good, 1.10));
    bench.does(reach(6.5, Seen::Good, 1.10));
    let before = next(&bench).1.expect("led").next.belief.offset_mm();
    bench.does(stick_out(26.6));
    let trial = with(&bench, |s, set_up| Trial::of(s, set_up, &bench.desk));
    let trial = trial.expect("led");
    // What the tool's offset is does not depend on the pins of the next plate.
    assert!((trial.next.belief.offset_mm() - before).abs() < 0.02);
    assert!(trial.is_stale && !trial.is_enough());
    let told = with(&bench, |s, set_up| Told::of(s, set_up, &bench.desk));
    assert_eq!(told.advice, None, "the new stick-out gives the setting");
}

#[test]
fn the_loop_begins_with_the_tools_own_offset() {
    let past = PastSetUp {
        turns_off: 0.0,
        value_off_mm: 0.6,
        joints: 3,
    };
    let mut bench = bench_with_past(&[past; 5]);
    // Foretold at 6 1/4: 1.10 + 1.5 · (6.25 − 6.533) + 0.58.
    bench.does(reach(6.25, Seen::Good, 1.255));
    let trial = next(&bench).1.expect("led");
    assert_eq!(trial.working.given[2].value, "0.59");
    assert!((trial.next.belief.offset_mm() - 0.58).abs() < 0.02);
    assert!(trial.odd.is_empty());
    // A nose that comes off moves a tool by 0.2 mm however often it came: 2 · 0.2 / 1.5 turns.
    let often = bench_with_past(&[past; 60]);
    let job = often.job();
    let read = job.set_up().expect("fitted").stick_out().expect("read");
    assert!(read.own.as_ref().expect("a past").expanded_turns > 0.267);
}

#[test]
fn a_past_far_from_the_table_is_kept_and_not_turned_to() {
    let of = |value_off_mm: f64| {
        let past = PastSetUp {
            turns_off: 0.0,
            value_off_mm,
            joints: 3,
        };
        let bench = bench_with_past(&[past; 5]);
        let job = bench.job();
        let set_up = job.set_up().expect("fitted");
        let read = set_up.stick_out().expect("read").clone();
        let sheets = job.set_up_sheets(set_up, &bench.desk).expect("sheets");
        let own = read.own.clone().expect("a past");
        let far = own::is_far(&sheets, &own, read.turns.expect("a table"));
        let fall_back = own::is_fall_back(sheets.model, own.set_turns, own.turns);
        assert_eq!(fall_back, Some(own.set_turns) == read.set_turns, "{own:?}");
        (far, fall_back)
    };
    // 4 mm are 2.7 turns of 1.5 mm, which is more than two: the table's turns stand in.
    assert_eq!(of(4.0), (true, true));
    // Tools of a model differ by 0.7 mm, one standard deviation; an offset is pulled by one part in 60.
    assert_eq!(of(1.5), (true, false));
    assert_eq!(of(1.35), (false, false));
    assert_eq!(of(-1.5), (true, false));
}

#[test]
fn a_joint_that_does_not_belong_is_named() {
    let mut bench = tb_32();
    bench.does(reach(6.5, Seen::Good, 0.8));
    bench.does(reach(6.5, Seen::Good, 1.45));
    let trial = next(&bench).1.expect("led");
    assert_eq!(trial.odd, [1, 2]);
    assert!(!trial.is_enough());
}

#[test]
fn a_fastener_at_full_stroke_has_no_loop() {
    let mut bench = Bench::ready("tulvane-tb-32").rebuilt("collet");
    bench.does(fit("drumhale-d6", "04", "n30-d6"));
    bench.does(stick_out(40.0));
    bench.does(joint(None, Seen::Good, &[("collar-diameter", "m-1", 9.55)]));
    assert!(next(&bench).1.is_none());
}

/// The model with its adjuster made another way.
fn made(model: &ToolModel, hand: Hand, screwing_in: Effect, zero: Zero, view: View) -> ToolModel {
    let mut model = model.clone();
    let stop = &mut model.adjuster.stop;
    (stop.hand, stop.screwing_in, stop.zero, stop.view) = (hand, screwing_in, zero, view);
    model
}

proptest! {
    /// Whatever the adjuster's hand, effect, zero and view: a joint that wants more stroke is answered by
    /// a turn that lengthens, the way the thread says.
    #[test]
    fn the_turn_does_what_the_joint_wants(
        left in any::<bool>(), in_shortens in any::<bool>(), closed in any::<bool>(),
        from_nose in any::<bool>(), off in 0.5..1.4f64, under in any::<bool>(), rises in any::<bool>(),
    ) {
        let hand = if left { Hand::Left } else { Hand::Right };
        let screwing_in = if in_shortens { Effect::Shortens } else { Effect::Lengthens };
        let zero = if closed { Zero::Closed } else { Zero::Open };
        let view = if from_nose { View::NoseEnd } else { View::AdjusterEnd };
        let mut bench = tb_32();
        let seen = if under { Seen::Under } else { Seen::Cut };
        // Too little stroke leaves a value that falls with the stroke too high, one that rises too low.
        let value = if under == rises { 1.1 - off } else { 1.1 + off };
        bench.does(reach(6.5, seen, value));
        let job = bench.job();
        let set_up = job.set_up().expect("fitted");
        let desk = bench.desk;
        let sheets = job.set_up_sheets(set_up, &desk).expect("pinned");
        let model = made(sheets.model, hand, screwing_in, zero, view);
        let mut fastener = sheets.fastener.clone();
        if rises {
            let criteria = fastener.criteria.iter_mut();
            for c in criteria { std::mem::swap(&mut c.if_low, &mut c.if_high); }
        }
        let sheets = SetUpSheets { model: &model, fastener: &fastener, ..sheets };
        let advice = Told::of(&sheets, set_up, &desk).advice;
        let Some(Advice::Change { effect, by_turns, to_turns }) = advice else {
            return Err(TestCaseError::fail(format!("{advice:?}")));
        };
        let wanted = if under { Effect::Lengthens } else { Effect::Shortens };
        prop_assert_eq!(effect, wanted);
        // Zero open is screwed fully out, so turns from there screw in; zero closed the other way.
        let in_from_zero = !closed;
        let screws_in = (to_turns > 6.5) == in_from_zero;
        prop_assert_eq!(screws_in, screwing_in == wanted);
        // A right-hand thread goes in clockwise, seen from the end that the key is at.
        let clockwise_from_key = screws_in != left;
        let rotation = if clockwise_from_key != from_nose { Rotation::Clockwise } else { Rotation::CounterClockwise };
        prop_assert_eq!(turn_for(&model, effect).rotation, rotation);
        prop_assert!((to_turns - 6.5).abs() - by_turns < 1e-9 && by_turns >= 0.25);
    }
}
