//! Reading a trial joint: the verdict, and what to change next.

use calc::Message;
use calc::decision::Limits;
use calc::screw_stop::Effect;
use proptest::prelude::*;
use shop::entry::{JointReading, Outcome, PinRecord, Reading, Seen, TrialJointRead};
use shop::joint::{Advice, advice, outcome};
use shop::sheet::{FastenerFamily, Setting, ToolModel};

use crate::bench::{Bench, model, shelf};
use crate::walk::found_joint;

const ALL_SEEN: [Seen; 10] = [
    Seen::Good,
    Seen::Under,
    Seen::Cut,
    Seen::LockGroovesTorn,
    Seen::PullGroovesTorn,
    Seen::OffAxis,
    Seen::Gap,
    Seen::Marked,
    Seen::BrokeLow,
    Seen::StubProud,
];

fn m8() -> &'static FastenerFamily {
    let found = shelf()
        .fasteners()
        .find(|(pin, _)| pin.id == "marlstead-m8");
    found.expect("a demo fastener").1
}

fn read(criterion: &str, value: f64, outcome: Outcome) -> JointReading {
    JointReading {
        criterion: criterion.to_owned(),
        reading: Reading {
            value,
            unit: "mm".to_owned(),
            raw: value.to_string(),
            gauge: PinRecord {
                id: "c-3".to_owned(),
                revision: 1,
            },
            expanded: None,
            in_date: true,
            calibration: None,
            way: None,
            difference: false,
            from_rest: false,
            beyond: false,
        },
        outcome,
    }
}

fn joint_at(turns: f64, seen: Seen, readings: Vec<JointReading>) -> TrialJointRead {
    TrialJointRead {
        turns: Some(turns),
        pressure_bar: None,
        pressure: None,
        made_safe: Vec::new(),
        outcome: outcome(&readings, seen),
        readings,
        seen,
        method: String::new(),
        note: String::new(),
    }
}

/// What the sheet of `tool` says of `fastener`.
fn rule<'a>(tool: &'a ToolModel, fastener: &str) -> Option<&'a Setting> {
    tool.settings.iter().find(|s| s.fastener == fastener)
}

/// Advice on a TB-32 (zero open, away from zero shortens; pitch 1.5 mm) that the table sets at 6.5.
fn next(joint: &TrialJointRead) -> Advice {
    let tool = model("tulvane-tb-32");
    advice(tool, m8(), rule(tool, "marlstead-m8"), Some(6.5), joint)
}

fn change(effect: Effect, by_turns: f64, to_turns: f64) -> Advice {
    Advice::Change {
        effect,
        by_turns,
        to_turns,
    }
}

#[track_caller]
fn stops(joint: &TrialJointRead, why: &str) {
    match next(joint) {
        Advice::Stop(message) => assert_eq!(message.id, why),
        other => panic!("{other:?}"),
    }
}

#[track_caller]
fn changes(joint: &TrialJointRead, effect: Effect, by_turns: f64, to_turns: f64) {
    assert_eq!(next(joint), change(effect, by_turns, to_turns));
}

#[test]
fn torn_lock_grooves_and_a_cut_collar_ask_for_less_stroke() {
    for seen in [Seen::LockGroovesTorn, Seen::Cut] {
        changes(
            &joint_at(6.5, seen, Vec::new()),
            Effect::Shortens,
            0.25,
            6.75,
        );
    }
    changes(
        &joint_at(6.5, Seen::Under, Vec::new()),
        Effect::Lengthens,
        0.25,
        6.25,
    );
}

#[test]
fn torn_pull_grooves_are_the_collet_s_doing() {
    // Also where a reading asks for a change: the adjuster is left alone.
    let short = vec![read("reach", 1.9, Outcome::Reject)];
    for readings in [Vec::new(), short] {
        stops(
            &joint_at(6.5, Seen::PullGroovesTorn, readings),
            "joint-collet-slips",
        );
    }
}

#[test]
fn what_no_turn_mends_leaves_the_adjuster_alone() {
    for (seen, why) in [
        (Seen::OffAxis, "joint-off-axis"),
        (Seen::Gap, "joint-gap"),
        (Seen::Marked, "joint-anvil-galled"),
        (Seen::BrokeLow, "joint-broke-low"),
        (Seen::StubProud, "joint-stub-proud"),
    ] {
        stops(&joint_at(6.5, seen, Vec::new()), why);
    }
}

#[test]
fn a_reach_outside_its_limits_is_brought_to_the_middle() {
    // Limits 0.7 to 1.5 mm, middle 1.1. 1.9 is 0.8 mm off: 0.53 turns, so two quarters longer.
    let far = joint_at(6.5, Seen::Good, vec![read("reach", 1.9, Outcome::Reject)]);
    changes(&far, Effect::Lengthens, 0.5, 6.0);
    // 0.4 is 0.7 mm off: 0.47 turns, two quarters shorter.
    let near = joint_at(6.5, Seen::Good, vec![read("reach", 0.4, Outcome::Reject)]);
    changes(&near, Effect::Shortens, 0.5, 7.0);
    // Never more than a turn at once.
    let wild = joint_at(6.5, Seen::Good, vec![read("reach", 5.0, Outcome::Reject)]);
    changes(&wild, Effect::Lengthens, 1.0, 5.5);
}

#[test]
fn the_same_change_is_the_other_turn_on_the_other_tool() {
    // AH-21 with a rivet nut: zero closed, away from zero lengthens. Set length 12.8 of 11.9 to
    // 12.7: 0.5 mm off the middle, 0.4 turns of 1.25 mm: two quarters more.
    let found = shelf()
        .fasteners()
        .find(|(pin, _)| pin.id == "drumhale-rn6");
    let nut = found.expect("a demo fastener").1;
    let said = |turns, length| {
        let joint = joint_at(
            turns,
            Seen::Good,
            vec![read("set-length", length, Outcome::Reject)],
        );
        let tool = model("orrinbeck-ah-21");
        advice(tool, nut, rule(tool, "drumhale-rn6"), Some(2.5), &joint)
    };
    let expected = change(Effect::Lengthens, 0.5, 2.75);
    assert_eq!(said(2.25, 12.8), expected);
    // 2.5 turns and three quarters more would be 4.06 mm: the nut allows 3.6 mm.
    assert_eq!(
        said(2.5, 13.1),
        Advice::Stop(Message::new("joint-stroke-limit"))
    );
}

#[test]
fn a_collar_that_is_too_thick_is_not_the_stroke() {
    let thick = vec![read("collar-diameter", 13.2, Outcome::Reject)];
    stops(
        &joint_at(6.5, Seen::Good, thick.clone()),
        "joint-not-the-stroke",
    );
    stops(&joint_at(6.5, Seen::Under, thick), "joint-not-the-stroke");
}

#[test]
fn findings_that_contradict_stop_the_work() {
    let short = vec![read("reach", 1.9, Outcome::Reject)];
    stops(&joint_at(6.5, Seen::Cut, short), "joint-contradicts");
    let long = vec![read("reach", 0.4, Outcome::Reject)];
    stops(&joint_at(6.5, Seen::Under, long), "joint-contradicts");
}

#[test]
fn more_than_two_turns_from_the_table_something_else_is_wrong() {
    let under = |turns| joint_at(turns, Seen::Under, Vec::new());
    changes(&under(4.75), Effect::Lengthens, 0.25, 4.5);
    stops(&under(4.5), "joint-far-from-table");
    let over = |turns| joint_at(turns, Seen::Cut, Vec::new());
    changes(&over(8.25), Effect::Shortens, 0.25, 8.5);
    stops(&over(8.5), "joint-far-from-table");
}

#[test]
fn the_adjuster_has_an_end() {
    let tool = model("tulvane-tb-32");
    let joint = joint_at(0.0, Seen::Under, Vec::new());
    let said = advice(tool, m8(), rule(tool, "marlstead-m8"), Some(0.5), &joint);
    assert!(
        matches!(&said, Advice::Stop(m) if m.id == "joint-adjuster-at-end"),
        "{said:?}"
    );
}

#[test]
fn at_full_stroke_the_adjuster_is_not_the_cause() {
    let tool = model("tulvane-tb-32");
    let joint = TrialJointRead {
        turns: None,
        pressure_bar: None,
        pressure: None,
        made_safe: Vec::new(),
        ..joint_at(0.0, Seen::Under, Vec::new())
    };
    let said = advice(tool, m8(), rule(tool, "drumhale-d6"), None, &joint);
    assert!(
        matches!(&said, Advice::Stop(m) if m.id == "joint-full-stroke"),
        "{said:?}"
    );
}

#[test]
fn a_good_joint_keeps_the_setting_and_an_open_one_asks_again() {
    let with = |outcome| joint_at(6.5, Seen::Good, vec![read("reach", 1.1, outcome)]);
    assert_eq!(next(&with(Outcome::Accept)), Advice::Keep);
    assert_eq!(next(&with(Outcome::Undecided)), Advice::Again);
}

/// From best to worst.
fn rank(outcome: Outcome) -> u8 {
    match outcome {
        Outcome::Accept => 0,
        Outcome::Undecided => 1,
        Outcome::Reject => 2,
    }
}

fn any_outcome() -> impl Strategy<Value = Outcome> {
    prop_oneof![
        Just(Outcome::Accept),
        Just(Outcome::Undecided),
        Just(Outcome::Reject)
    ]
}

proptest! {
    #[test]
    fn the_verdict_is_the_worst_of_all(outcomes in prop::collection::vec(any_outcome(), 0..5), eye in 0..10usize) {
        let readings: Vec<JointReading> = outcomes.iter().map(|o| read("reach", 1.1, *o)).collect();
        let eye = ALL_SEEN[eye];
        let seen = if eye == Seen::Good { Outcome::Accept } else { Outcome::Reject };
        let worst = outcomes.iter().chain([&seen]).map(|o| rank(*o)).max();
        prop_assert_eq!(Some(rank(outcome(&readings, eye))), worst);
    }

    #[test]
    fn nothing_that_gets_worse_makes_the_verdict_better(
        outcomes in prop::collection::vec(any_outcome(), 1..5), at in 0..5usize, to in any_outcome(), eye in 0..10usize,
    ) {
        let at = at % outcomes.len();
        let mut readings: Vec<JointReading> = outcomes.iter().map(|o| read("reach", 1.1, *o)).collect();
        let before = rank(outcome(&readings, Seen::Good));
        if rank(to) >= rank(readings[at].outcome) {
            readings[at].outcome = to;
        }
        prop_assert!(rank(outcome(&readings, Seen::Good)) >= before);
        prop_assert!(rank(outcome(&readings, ALL_SEEN[eye])) >= before);
        readings.push(read("gap", 0.0, to));
        prop_assert!(rank(outcome(&readings, Seen::Good)) >= before);
    }

    #[test]
    fn advice_never_leaves_the_travel_nor_strays_from_the_table(
        turns in 0.0..16.0f64, eye in 0..10usize, reach in -2.0..6.0f64, table in 2.0..10.0f64,
    ) {
        let verdict = if (0.7..=1.5).contains(&reach) { Outcome::Accept } else { Outcome::Reject };
        let joint = joint_at(turns, ALL_SEEN[eye], vec![read("reach", reach, verdict)]);
        let tool = model("tulvane-tb-32");
        let said = advice(tool, m8(), rule(tool, "marlstead-m8"), Some(table), &joint);
        if let Advice::Change { effect, by_turns, to_turns } = said {
            prop_assert!(to_turns >= 0.0 && (to_turns - table).abs() <= 2.0);
            prop_assert!((0.25..=1.0).contains(&by_turns));
            // On this tool more turns are less stroke.
            prop_assert_eq!(to_turns > turns, effect == Effect::Shortens);
            // Too far from the flange ended too soon.
            if verdict == Outcome::Reject {
                prop_assert_eq!(effect == Effect::Lengthens, reach > 1.1);
            }
        }
    }
}

#[test]
fn the_adjuster_ends_at_the_far_end_of_its_travel_too() {
    // 24 mm of 1.5 mm a turn: 16 turns. On this tool more turns are less stroke.
    let tool = model("tulvane-tb-32");
    let at = |turns| {
        let joint = joint_at(turns, Seen::Cut, Vec::new());
        advice(tool, m8(), rule(tool, "marlstead-m8"), Some(15.5), &joint)
    };
    assert!(matches!(at(15.75), Advice::Change { to_turns, .. } if to_turns == 16.0));
    let end = at(16.0);
    assert!(
        matches!(&end, Advice::Stop(m) if m.id == "joint-adjuster-at-end"),
        "{end:?}"
    );
}

#[test]
fn places_on_one_joint_that_ask_for_opposite_changes_contradict() {
    // Reach limits 0.7 to 1.5 mm: one side of the collar too far, the other too near.
    for (one, other) in [(1.9, 0.2), (0.2, 1.9)] {
        let both = vec![
            read("reach", one, Outcome::Reject),
            read("reach", other, Outcome::Reject),
        ];
        stops(&joint_at(6.5, Seen::Good, both), "joint-contradicts");
    }
    // Both too far: the further counts. 3.4 is 2.3 mm off the middle of 1.1: a turn, the most.
    for (one, other) in [(1.7, 3.4), (3.4, 1.7)] {
        let both = vec![
            read("reach", one, Outcome::Reject),
            read("reach", other, Outcome::Reject),
        ];
        let joint = joint_at(6.5, Seen::Good, both);
        changes(&joint, Effect::Lengthens, 1.0, 5.5);
    }
}

/// The rivet nut of the AH-21 (1.25 mm a turn, quarter turns) with other limits.
fn nut(change: impl FnOnce(&mut FastenerFamily)) -> FastenerFamily {
    let found = shelf().fasteners();
    let mut found = found.filter(|(pin, _)| pin.id == "drumhale-rn6");
    let mut nut = found.next().expect("a demo fastener").1.clone();
    change(&mut nut);
    nut
}

fn limits(lower: Option<f64>, upper: Option<f64>) -> Limits {
    Limits::new(lower, upper).expect("limits")
}

#[test]
fn of_one_limit_alone_the_aim_lies_a_step_inside() {
    // At most 12.7 mm, read 13.2: 0.5 mm to the limit and a quarter turn (0.3125 mm) further make
    // 0.65 turns of 1.25 mm, so three quarters. At the limit itself nothing could be accepted.
    let one_sided = nut(|nut| {
        for c in nut.criteria.iter_mut().filter(|c| c.id == "set-length") {
            c.limits = limits(None, Some(12.7));
        }
        nut.stroke_mm = None;
    });
    let tool = model("orrinbeck-ah-21");
    let long = vec![read("set-length", 13.2, Outcome::Reject)];
    let joint = joint_at(2.0, Seen::Good, long);
    let said = advice(
        tool,
        &one_sided,
        rule(tool, "drumhale-rn6"),
        Some(2.0),
        &joint,
    );
    let expected = change(Effect::Lengthens, 0.75, 2.75);
    assert_eq!(said, expected);
}

#[test]
fn a_change_keeps_to_both_stroke_limits_of_this_nose_set() {
    let tool = model("orrinbeck-ah-21");
    let said = |lower, upper, turns, seen| {
        let nut = nut(|nut| nut.stroke_mm = Some(limits(Some(lower), Some(upper))));
        let joint = joint_at(turns, seen, Vec::new());
        advice(tool, &nut, rule(tool, "drumhale-rn6"), None, &joint)
    };
    let to = |said: Advice| match said {
        Advice::Change { to_turns, .. } => Some(to_turns),
        _ => None,
    };
    // From 2 3/4 turns a quarter more makes 3 turns: 3.75 mm.
    assert_eq!(to(said(2.8, 3.75, 2.75, Seen::Under)), Some(3.0));
    assert_eq!(to(said(2.8, 3.72, 2.75, Seen::Under)), None);
    // From 2 1/4 turns a quarter less makes 2 turns: 2.50 mm.
    assert_eq!(to(said(2.5, 3.6, 2.25, Seen::Cut)), Some(2.0));
    assert_eq!(to(said(2.8, 3.6, 2.25, Seen::Cut)), None);
    // Another nose set's rows stand first on the sheet: they say nothing of this one.
    let mut two = tool.clone();
    let own = rule(tool, "drumhale-rn6").expect("a rule").clone();
    let other = Setting {
        nose_set: "other".to_owned(),
        rows: own.rows.iter().map(|(mm, t)| (mm + 1.0, *t)).collect(),
        ..own.clone()
    };
    two.settings = vec![other, own.clone()];
    let nut = nut(|nut| nut.stroke_mm = Some(limits(Some(2.8), Some(3.6))));
    let joint = joint_at(2.5, Seen::Under, Vec::new());
    assert_eq!(to(advice(&two, &nut, Some(&own), None, &joint)), Some(2.75));
}

#[test]
fn a_change_is_whole_steps_and_at_most_a_turn() {
    // Steps of 3/8: two of them fit into a turn.
    let mut tool = model("tulvane-tb-32").clone();
    tool.adjuster.step_turns = 0.375;
    let far = vec![read("reach", 3.4, Outcome::Reject)];
    let joint = joint_at(6.5, Seen::Good, far);
    let said = advice(&tool, m8(), rule(&tool, "marlstead-m8"), Some(6.5), &joint);
    let expected = change(Effect::Lengthens, 0.75, 5.75);
    assert_eq!(said, expected);
}

#[test]
fn a_reading_keeps_the_doubt_that_it_was_judged_with() {
    // M-1 of the demo shop: U = 0.0040 mm at k = 2, step 0.001 mm: u² = 0.002² + 0.0005²/3, w = 2·u.
    let mut bench = Bench::received("tulvane-tb-32", &["jaws-slip"]);
    bench.does(found_joint(Seen::Good, &[("collar-diameter", "m-1", 13.0)]));
    let job = bench.job();
    let read = &job.found_joints[0].body.readings[0].reading;
    let by_hand = 2.0 * (0.002_f64.powi(2) + 0.0005_f64.powi(2) / 3.0).sqrt();
    let kept = read.expanded.expect("kept");
    assert!((kept - by_hand).abs() < 1e-7, "{kept} {by_hand}");
}
