//! Routes on sheets of any order: what comes off, in which order, and what is refused.

use std::collections::BTreeSet;

use proptest::prelude::*;
use shop::route::{Act, DeadEnd, NoRoute, Route, Step, blockers, dead_ends, to};
use shop::sheet::{self, Part, Sheet, Side, ToolModel};

use crate::bench::model;
use crate::demo_sheets::demo_files;

/// A tool with a part for each list of blockers, which are places of other parts.
fn tool(after: &[Vec<usize>], sides: &[u8]) -> ToolModel {
    let mut tool = model("tulvane-tb-32").clone();
    let like = tool.parts[0].clone();
    let id = |i: usize| format!("p{i}");
    let parts = after.iter().enumerate().map(|(i, after)| Part {
        id: id(i),
        after: Some(after.iter().map(|b| id(*b)).collect()),
        from: [Side::Nose, Side::Tail, Side::Beside][usize::from(sides[i % sides.len()] % 3)],
        minutes: (i % 7) as f64 + 0.5,
        ..like.clone()
    });
    tool.parts = parts.collect();
    tool.joints.iter_mut().enumerate().for_each(|(i, joint)| {
        joint.holds = id(i % after.len());
    });
    tool.after_opening.iter_mut().for_each(|closing| {
        closing.parts = vec![id(0), id(after.len() - 1)];
    });
    tool
}

/// Parts each of which waits for some of those before it in a shuffled order: never a circle.
fn acyclic() -> impl Strategy<Value = ToolModel> {
    (2usize..14)
        .prop_flat_map(|n| {
            let order = Just((0..n).collect::<Vec<usize>>()).prop_shuffle();
            let picks =
                prop::collection::vec(prop::collection::vec(any::<prop::sample::Index>(), 0..4), n);
            (order, picks, prop::collection::vec(any::<u8>(), n))
        })
        .prop_map(|(order, picks, sides)| {
            let mut after = vec![Vec::new(); order.len()];
            for (place, part) in order.iter().enumerate().skip(1) {
                let chosen: BTreeSet<usize> = picks[place]
                    .iter()
                    .map(|pick| order[pick.index(place)])
                    .collect();
                after[*part] = chosen.into_iter().collect();
            }
            tool(&after, &sides)
        })
}

/// What must be off for `wanted`, found apart from the product: by going over all parts until nothing
/// is added.
fn must_be_off(tool: &ToolModel, wanted: &[usize]) -> BTreeSet<String> {
    let mut off: BTreeSet<String> = wanted.iter().map(|i| tool.parts[*i].id.clone()).collect();
    loop {
        let before = off.len();
        for part in &tool.parts {
            if off.contains(&part.id) {
                off.extend(part.after.iter().flatten().cloned());
            }
        }
        if off.len() == before {
            return off;
        }
    }
}

fn ids(tool: &ToolModel, wanted: &[usize]) -> Vec<String> {
    wanted.iter().map(|i| tool.parts[*i].id.clone()).collect()
}

fn way<'a>(tool: &'a ToolModel, wanted: &[usize]) -> Route<'a> {
    let ids = ids(tool, wanted);
    let ids: Vec<&str> = ids.iter().map(String::as_str).collect();
    to(tool, &ids).expect("an acyclic sheet has every route")
}

/// What is opened, and what is closed, in order.
fn halves(steps: &[Step]) -> (Vec<String>, Vec<String>) {
    let (mut open, mut close) = (Vec::new(), Vec::new());
    for step in steps {
        match &step.act {
            Act::Undo(joint, _) => open.push(joint.id.clone()),
            Act::TakeOff(part) => open.push(part.id.clone()),
            Act::Fit(part) => close.push(part.id.clone()),
            Act::Tighten(joint, _) => close.push(joint.id.clone()),
            _ => {}
        }
    }
    (open, close)
}

fn set(tool: &ToolModel, picks: &[prop::sample::Index]) -> Vec<usize> {
    picks
        .iter()
        .map(|pick| pick.index(tool.parts.len()))
        .collect()
}

proptest! {
    #[test]
    fn a_route_takes_off_exactly_what_must_be_off(
        tool in acyclic(), picks in prop::collection::vec(any::<prop::sample::Index>(), 1..4),
    ) {
        let wanted = set(&tool, &picks);
        let route = way(&tool, &wanted);
        let off: BTreeSet<String> = route.off.iter().map(|p| p.id.clone()).collect();
        prop_assert_eq!(off.len(), route.off.len());
        prop_assert_eq!(off, must_be_off(&tool, &wanted));
    }

    #[test]
    fn nothing_comes_off_before_what_blocks_it_and_the_rebuild_is_the_reverse(
        tool in acyclic(), picks in prop::collection::vec(any::<prop::sample::Index>(), 1..4),
    ) {
        let route = way(&tool, &set(&tool, &picks));
        for (at, part) in route.off.iter().enumerate() {
            for blocker in part.after.iter().flatten() {
                prop_assert!(route.off[..at].iter().any(|p| p.id == *blocker));
            }
        }
        let (open, mut close) = halves(&route.steps);
        close.reverse();
        prop_assert_eq!(open, close);
    }

    #[test]
    fn a_route_to_a_set_is_never_longer_than_the_routes_to_each(
        tool in acyclic(), picks in prop::collection::vec(any::<prop::sample::Index>(), 1..5),
    ) {
        let wanted = set(&tool, &picks);
        let together = way(&tool, &wanted);
        let each: Vec<Route> = wanted.iter().map(|i| way(&tool, &[*i])).collect();
        let apart: f64 = each.iter().map(Route::minutes).sum();
        prop_assert!(together.minutes() <= apart + 1e-9, "{} {apart}", together.minutes());
        prop_assert!(together.off.len() <= each.iter().map(|r| r.off.len()).sum());
        // And never shorter than the longest of them.
        let longest = each.iter().map(Route::minutes).fold(0.0, f64::max);
        prop_assert!(together.minutes() >= longest - 1e-9);
    }

    #[test]
    fn a_sheet_without_a_circle_is_accepted(tool in acyclic()) {
        prop_assert_eq!(dead_ends(&tool.parts), []);
    }

    #[test]
    fn a_circle_is_refused_and_what_is_named_is_one(
        tool in acyclic(), picks in prop::collection::vec(any::<prop::sample::Index>(), 1..6),
    ) {
        // The picked parts wait for one another in turn.
        let mut tool = tool;
        let mut ring: Vec<usize> = Vec::new();
        for part in set(&tool, &picks) {
            if !ring.contains(&part) {
                ring.push(part);
            }
        }
        for (place, part) in ring.iter().enumerate() {
            let next = tool.parts[ring[(place + 1) % ring.len()]].id.clone();
            tool.parts[*part].after.get_or_insert_default().push(next);
        }
        let ends = dead_ends(&tool.parts);
        let circles: Vec<&Vec<usize>> = ends
            .iter()
            .map(|end| match end {
                DeadEnd::Circle(circle) | DeadEnd::Behind(_, circle) => circle,
            })
            .collect();
        prop_assert!(!circles.is_empty());
        for circle in circles {
            for (place, part) in circle.iter().enumerate() {
                let next = circle[(place + 1) % circle.len()];
                prop_assert!(blockers(&tool.parts, *part).contains(&next), "{:?}", circle);
            }
            let once: BTreeSet<&usize> = circle.iter().collect();
            prop_assert_eq!(once.len(), circle.len());
        }
        // Every part of the ring is named, as in a circle or behind one; none has a route.
        for part in ring {
            let named = ends.iter().any(|end| match end {
                DeadEnd::Circle(circle) => circle.contains(&part),
                DeadEnd::Behind(behind, _) => *behind == part,
            });
            prop_assert!(named);
            let id = tool.parts[part].id.clone();
            prop_assert!(matches!(to(&tool, &[&id]), Err(NoRoute::Circle(_))));
        }
    }
}

/// The TB-32's sheet in which the first `old` reads `new`: its mistakes by key, text and value.
fn told(old: &str, new: &str) -> Vec<(String, &'static str, String)> {
    let (_, text) = demo_files()
        .into_iter()
        .find(|(name, _)| name.ends_with("tulvane-tb-32.toml"))
        .expect("a demo sheet");
    assert!(text.contains(old));
    let text = text.replacen(old, new, 1);
    match sheet::read("tb.toml", &text) {
        Ok(Sheet::ToolModel(_)) => Vec::new(),
        Ok(_) => panic!("another kind"),
        Err(mistakes) => mistakes
            .into_iter()
            .map(|m| {
                let circle = crate::bench::arg(&m.problem, "circle");
                (m.key, m.problem.id, circle)
            })
            .collect(),
    }
}

#[test]
fn a_circle_in_a_sheet_is_named_part_by_part() {
    let adjuster = r#"after = ["tail-tube", "adjuster-lock"]"#;
    assert_eq!(told(adjuster, r#"after = ["tail-tube"]"#), []);
    // The tube waits for the stop, the stop for the tube.
    let tube = "after = []\nfrom = \"tail\"\nminutes = 2";
    let told = told(tube, "after = [\"adjuster\"]\nfrom = \"tail\"\nminutes = 2");
    let circle = "adjuster → tail-tube → adjuster".to_owned();
    assert_eq!(
        told,
        [("part[adjuster].after".to_owned(), "sheet-circle", circle)]
    );
}

#[test]
fn a_part_behind_a_circle_is_told_that_nothing_leads_to_it() {
    // Shell and motor wait for one another; whatever is under the shell waits with them.
    let told = told(
        "also_called = [\"housing-shell\"]",
        "also_called = [\"housing-shell\"]\nafter = [\"motor\"]",
    );
    let told: Vec<(&str, &str)> = told
        .iter()
        .map(|(key, id, _)| (key.as_str(), *id))
        .collect();
    assert!(
        told.contains(&("part[motor].after", "sheet-circle")),
        "{told:?}"
    );
    for part in [
        "gears",
        "home-sensor",
        "trigger-switch",
        "control-board",
        "wire-loom",
        "contact-block",
    ] {
        let key = format!("part[{part}].after");
        assert!(
            told.contains(&(key.as_str(), "sheet-unreachable")),
            "{part}: {told:?}"
        );
    }
    assert_eq!(told.len(), 7);
}
