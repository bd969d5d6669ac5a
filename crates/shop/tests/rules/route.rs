//! The strip takes off what the sheet says and no more, the rebuild goes back the same way.

use std::collections::BTreeSet;

use calc::screw_stop::{Hand, Rotation};
use shop::route::{Act, LAST_STEP, NoRoute, Step, route, to};
use shop::sheet::{Joint, Side, ToolModel};

use crate::bench::model;

const MODELS: [&str; 3] = ["tulvane-tb-32", "orrinbeck-ah-21", "skarnholt-hp-90"];

/// What is opened and what is closed, as `joint:x` and `part:x`, in order.
fn halves(steps: &[Step]) -> (Vec<String>, Vec<String>) {
    let (mut open, mut close) = (Vec::new(), Vec::new());
    for step in steps {
        match &step.act {
            Act::Undo(joint, _) => open.push(format!("joint:{}", joint.id)),
            Act::TakeOff(part) => open.push(format!("part:{}", part.id)),
            Act::Fit(part) => close.push(format!("part:{}", part.id)),
            Act::Tighten(joint, _) => close.push(format!("joint:{}", joint.id)),
            _ => {}
        }
    }
    (open, close)
}

#[track_caller]
fn reversed(model: &ToolModel, down_to: &str) {
    let steps = route(model, down_to).expect("a part of the model");
    let (open, mut close) = halves(&steps);
    close.reverse();
    assert_eq!(open, close, "{} down to {down_to}", model.id);
    assert!(open.contains(&format!("part:{down_to}")));
}

#[test]
fn the_rebuild_is_the_strip_backwards() {
    for id in MODELS {
        for part in &model(id).parts {
            reversed(model(id), &part.id);
        }
    }
}

#[test]
fn two_joints_on_one_part_are_tightened_in_reverse() {
    let mut model = model("tulvane-tb-32").clone();
    let ring = model.joints.iter().find(|j| j.id == "lock-ring");
    let lock = Joint {
        id: "nose-lock".to_owned(),
        holds: "nose-housing".to_owned(),
        ..ring.expect("a joint").clone()
    };
    model.joints.insert(0, lock);
    reversed(&model, "nose-housing");
}

/// Ids of what comes off on the way to `parts`, in order.
fn off(model: &ToolModel, parts: &[&str]) -> Vec<String> {
    let route = to(model, parts).expect("a route");
    route.off.iter().map(|part| part.id.clone()).collect()
}

/// The model as a sheet that says nothing of what must be off first.
fn silent(id: &str) -> ToolModel {
    let mut model = model(id).clone();
    for part in &mut model.parts {
        part.after = None;
        part.from = if part.off_axis {
            Side::Beside
        } else {
            Side::Nose
        };
    }
    model
}

#[test]
fn where_the_sheet_is_silent_the_strip_follows_the_axis_from_the_nose() {
    for id in MODELS {
        let model = silent(id);
        for (depth, target) in model.parts.iter().enumerate() {
            let on_axis = model.parts[..=depth].iter().filter(|p| !p.off_axis);
            let ids: Vec<String> = match target.off_axis {
                true => vec![target.id.clone()],
                false => on_axis.map(|p| p.id.clone()).collect(),
            };
            assert_eq!(off(&model, &[&target.id]), ids);
        }
    }
}

#[test]
fn a_part_at_the_rear_leaves_the_front_on() {
    // Demo sheets, read off by eye: what stands in each part's `after`, and theirs.
    let tb = model("tulvane-tb-32");
    assert_eq!(
        off(tb, &["adjuster"]),
        ["tail-tube", "adjuster-lock", "adjuster"]
    );
    assert_eq!(off(tb, &["gears"]), ["shell", "motor", "gears"]);
    assert_eq!(off(tb, &["trigger-switch"]), ["shell", "trigger-switch"]);
    let ah = model("orrinbeck-ah-21");
    assert_eq!(off(ah, &["silencer"]), ["silencer"]);
    assert_eq!(
        off(ah, &["intensifier-seal-kit"]),
        [
            "air-base",
            "air-piston",
            "intensifier-rod",
            "intensifier-seal-kit"
        ]
    );
    let hp = model("skarnholt-hp-90");
    assert_eq!(off(hp, &["adjuster"]), ["deflector", "adjuster"]);
    assert_eq!(off(hp, &["swivel"]), ["coupler", "hose-pair", "swivel"]);
}

#[test]
fn hands_stay_on_one_side_as_long_as_something_comes_off_there() {
    // Everything in front first, then everything at the tail: one change of sides.
    let ah = model("orrinbeck-ah-21");
    let front = [
        "anvil",
        "nose-housing",
        "jaws",
        "follower",
        "follower-spring",
        "head-case",
    ];
    let tail = [
        "adjuster",
        "end-cap",
        "return-spring",
        "pull-piston",
        "seal-kit",
    ];
    assert_eq!(off(ah, &["seal-kit"]), [&front[..], &tail[..]].concat());
    // The collet from the nose, gears and switch through the shell, the stop from the tail.
    let tb = model("tulvane-tb-32");
    let mixed = off(tb, &["collet", "gears", "adjuster", "trigger-switch"]);
    let sides: Vec<Side> = mixed
        .iter()
        .map(|id| tb.part(id).expect("a part").from)
        .collect();
    let changes = sides.windows(2).filter(|two| two[0] != two[1]).count();
    assert_eq!(changes, 2, "{mixed:?}");
}

#[test]
fn oil_that_was_let_out_is_filled_and_bled_before_the_first_power_up() {
    for (id, part, closing) in [
        (
            "orrinbeck-ah-21",
            "seal-kit",
            &["close-fill", "close-bleed", "close-bleed-screw"][..],
        ),
        (
            "orrinbeck-ah-21",
            "intensifier-rod",
            &["close-fill", "close-bleed", "close-bleed-screw"],
        ),
        ("orrinbeck-ah-21", "jaws", &[]),
        ("skarnholt-hp-90", "piston", &["close-fill", "close-bleed"]),
        ("skarnholt-hp-90", "collet", &[]),
        ("tulvane-tb-32", "shell", &["close-wires"]),
        ("tulvane-tb-32", "collet", &[]),
    ] {
        let steps = route(model(id), part).expect("a part");
        let power = steps.iter().position(|s| s.id == "power-shield");
        let power = power.expect("a power-up");
        let ids: Vec<&str> = steps.iter().map(|s| s.id.as_str()).collect();
        assert_eq!(&ids[power - closing.len()..power], closing, "{id} {part}");
        let all = ids.iter().filter(|id| id.starts_with("close-"));
        assert_eq!(all.count(), closing.len());
    }
}

#[test]
fn what_a_route_takes_is_told_before_it_begins() {
    let tb = model("tulvane-tb-32");
    let route = to(tb, &["ball-screw", "adjuster"]).expect("a route");
    // Demo sheet: case screws stay in, every other joint on the way is undone.
    let joints: Vec<&str> = route.joints().iter().map(|j| j.id.as_str()).collect();
    assert_eq!(joints, ["nose", "lock-ring", "adapter", "adjuster-lock"]);
    assert_eq!(route.tools().len(), 4);
    assert!(route.joints().iter().any(|j| j.thread.hand == Hand::Left));
    let goes_on: Vec<&str> = route.consumables().iter().map(|c| c.amount).collect();
    assert!(goes_on.contains(&"6 g over screw and nut"), "{goes_on:?}");
    let renewed: Vec<&str> = route.renewed().iter().map(|p| p.id.as_str()).collect();
    assert_eq!(renewed, ["adjuster-lock"]);
    // By hand: 3+4+6+2+1+1+2+5+4+25 to the screw, 2+1+4 to the stop, 3 for the look at the guide.
    assert_eq!(route.minutes(), 63.0);
    let ah = to(model("orrinbeck-ah-21"), &["seal-kit"]).expect("a route");
    assert!(
        ah.consumables()
            .iter()
            .any(|c| c.amount.starts_with("62 cm³"))
    );
    assert!(ah.cautions().len() > 4);
}

#[test]
fn the_tb_32_down_to_the_collet() {
    // Axis of the demo sheet: anvil, nose housing (M30x1.5 right-hand), collet.
    let ids: Vec<String> = route(model("tulvane-tb-32"), "collet")
        .expect("a part")
        .into_iter()
        .map(|s| s.id)
        .collect();
    assert_eq!(
        ids,
        [
            "make-safe",
            "off-anvil",
            "gauge-anvil-throat",
            "undo-nose",
            "off-nose-housing",
            "gauge-nose-housing-bore",
            "off-collet",
            "gauge-collet-crest-flat",
            "gauge-collet-length",
            "clean",
            "fit-collet",
            "fit-nose-housing",
            "tighten-nose",
            "fit-anvil",
            "power-shield",
            "power-dry-cycles",
            "power-release",
            "power-look",
        ]
    );
}

#[test]
fn a_joint_is_undone_the_other_way_round() {
    let mut left = 0;
    for id in MODELS {
        let model = model(id);
        for part in &model.parts {
            for step in route(model, &part.id).expect("a part") {
                let (joint, rotation, tightens) = match step.act {
                    Act::Undo(joint, rotation) => (joint, rotation, false),
                    Act::Tighten(joint, rotation) => (joint, rotation, true),
                    _ => continue,
                };
                // Definition of thread hand, ISO 5408.
                let clockwise = (joint.thread.hand == Hand::Right) == tightens;
                assert_eq!(rotation == Rotation::Clockwise, clockwise, "{}", step.id);
                left += usize::from(joint.thread.hand == Hand::Left && !tightens);
            }
        }
    }
    assert!(left > 10, "left-hand joints were among them");
}

#[test]
fn step_ids_are_unique_on_every_route() {
    for id in MODELS {
        for part in &model(id).parts {
            let steps = route(model(id), &part.id).expect("a part");
            let ids: BTreeSet<&str> = steps.iter().map(|s| s.id.as_str()).collect();
            assert_eq!(ids.len(), steps.len(), "{id} down to {}", part.id);
            assert_eq!(steps.last().map(|s| s.id.as_str()), Some(LAST_STEP));
        }
    }
}

#[test]
fn a_part_beside_the_axis_stays_on_when_others_come_off() {
    let mut model = silent("tulvane-tb-32");
    let beside = model.parts.iter().position(|p| p.off_axis);
    let part = model.parts.remove(beside.expect("a part beside the axis"));
    let off = format!("part:{}", part.id);
    model.parts.insert(1, part);
    let (open, close) = halves(&route(&model, "collet").expect("a part"));
    assert!(
        open.len() > 2 && !open.contains(&off) && !close.contains(&off),
        "{open:?}"
    );
}

#[test]
fn there_is_no_route_to_a_part_that_is_not_there() {
    let tb = model("tulvane-tb-32");
    assert!(route(tb, "flux").is_none());
    assert_eq!(
        to(tb, &["collet", "flux"]),
        Err(NoRoute::NoPart("flux".to_owned()))
    );
    assert_eq!(to(tb, &[]), Err(NoRoute::Nothing));
}

#[test]
fn minutes_add_up_along_the_way() {
    // Minutes of the demo sheet: anvil 3, nose housing 4, collet 6; shell 15, switch 12, wires 2.
    let minutes = |part| shop::route::minutes(model("tulvane-tb-32"), part);
    assert_eq!(minutes("collet"), Some(13.0));
    assert_eq!(minutes("trigger-switch"), Some(29.0));
    assert_eq!(minutes("flux"), None);
}

#[test]
fn the_caution_of_a_part_stands_where_the_part_is_first_loosened() {
    let mut seen = 0;
    for tool in MODELS.map(model) {
        for part in tool.parts.iter().filter(|p| p.caution.is_some()) {
            let Some(steps) = route(tool, &part.id) else {
                continue;
            };
            let loosens = |step: &&Step| match &step.act {
                Act::Undo(joint, _) => joint.holds == part.id,
                Act::TakeOff(off) => off.id == part.id,
                _ => false,
            };
            let first = steps.iter().find(loosens).expect("it comes off");
            assert!(first.caution.is_some(), "{} {}", tool.id, part.id);
            seen += 1;
        }
    }
    assert!(seen > 5, "{seen}");
}
