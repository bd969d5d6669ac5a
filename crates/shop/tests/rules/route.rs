//! The strip goes in the order of the sheet, the rebuild back the same way.

use std::collections::BTreeSet;

use calc::screw_stop::{Hand, Rotation};
use shop::route::{Act, LAST_STEP, Step, route};
use shop::sheet::{Joint, ToolModel};

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

#[test]
fn the_strip_follows_the_sheet_from_the_nose() {
    for id in MODELS {
        let model = model(id);
        for (depth, target) in model.parts.iter().enumerate().filter(|(_, p)| !p.off_axis) {
            let steps = route(model, &target.id).expect("a part");
            let off: Vec<&str> = steps
                .iter()
                .filter_map(|s| match &s.act {
                    Act::TakeOff(part) => Some(part.id.as_str()),
                    _ => None,
                })
                .collect();
            let on_axis = model.parts[..=depth].iter().filter(|p| !p.off_axis);
            assert_eq!(off, on_axis.map(|p| p.id.as_str()).collect::<Vec<_>>());
        }
    }
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
fn a_part_beside_the_axis_comes_off_alone() {
    for id in MODELS {
        let model = model(id);
        for part in model.parts.iter().filter(|p| p.off_axis) {
            let (open, _) = halves(&route(model, &part.id).expect("a part"));
            let parts: Vec<&String> = open.iter().filter(|o| o.starts_with("part:")).collect();
            assert_eq!(parts, [&format!("part:{}", part.id)]);
        }
    }
}

#[test]
fn a_part_beside_the_axis_stays_on_when_others_come_off() {
    let mut model = model("tulvane-tb-32").clone();
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
    assert!(route(model("tulvane-tb-32"), "flux").is_none());
}

#[test]
fn minutes_add_up_along_the_way() {
    // Minutes of the demo sheet: anvil 3, nose housing 4, collet 6.
    let minutes = |part| shop::route::minutes(model("tulvane-tb-32"), part);
    assert_eq!(minutes("collet"), Some(13.0));
    assert_eq!(minutes("trigger-switch"), Some(12.0));
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
