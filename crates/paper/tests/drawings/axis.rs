//! The axis drawing.

use calc::screw_stop::{Hand, Rotation};
use paper::axis::{Axis, AxisPart, PartShape, PartState, ThreadTurn, axis};
use proptest::prelude::*;

use crate::svg::{Element, elements, points};
use crate::tool;

fn balloons(drawing: &[Element]) -> Vec<(f64, f64, f64)> {
    drawing
        .iter()
        .filter(|e| e.has_class("ax-balloon"))
        .map(|e| (e.number("cx"), e.number("cy"), e.number("r")))
        .collect()
}

fn numbers(drawing: &[Element]) -> Vec<usize> {
    drawing
        .iter()
        .filter(|e| e.has_class("ax-number"))
        .map(|e| e.text.parse().expect("a balloon holds a number"))
        .collect()
}

/// For each part, in order: where its leader meets it.
fn feet(drawing: &[Element]) -> Vec<(f64, f64)> {
    let leaders = drawing.iter().filter(|e| e.has_class("ax-leader"));
    leaders
        .map(|e| points(e.get("d").expect("a path"))[0])
        .collect()
}

/// Left and right end of each part, row by row.
fn rows_of_parts(drawing: &[Element]) -> Vec<Vec<(f64, f64)>> {
    let mut rows: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut in_part = false;
    for element in drawing {
        if element.has_class("ax-centre") {
            rows.push(Vec::new());
        }
        let row = rows.last_mut();
        if element.name == "g" {
            in_part = element.has_class("ax-part");
            if let Some(row) = row.filter(|_| in_part) {
                row.push((f64::MAX, f64::MIN));
            }
        } else if let (true, Some([l, _, r, _])) = (in_part, element.bounds()) {
            let part = row.and_then(|row| row.last_mut()).expect("a part is open");
            *part = (part.0.min(l), part.1.max(r));
        }
    }
    rows
}

fn turned(hand: Hand) -> Axis {
    let mut axis = tool::axis();
    for (at, part) in axis.parts.iter_mut().enumerate() {
        part.state = match at {
            0..7 => PartState::Removed,
            7 => PartState::Current,
            10 => PartState::Renewed,
            _ => PartState::Plain,
        };
    }
    axis.turn = Some(ThreadTurn {
        part: "adapter".to_owned(),
        hand,
        rotation: Rotation::Clockwise,
        words: "Left-hand thread: clockwise loosens, seen from the nose end".to_owned(),
    });
    axis
}

#[test]
fn it_says_what_it_shows() {
    let svg = axis(&tool::axis(), 760.0);
    assert!(svg.contains(
        r#"role="img" aria-label="Tulvane TB-32: parts from the nose to the tail"><title>Tulvane"#
    ));
    assert!(svg.contains("<title>3: Collet CR8, four fingers (CR8)</title>"));
    assert!(!svg.contains("var("), "paper has no style variables");
}

#[test]
fn a_narrow_drawing_has_more_rows() {
    let rows = |width| {
        let drawing = elements(&axis(&tool::axis(), width));
        drawing.iter().filter(|e| e.has_class("ax-centre")).count()
    };
    assert_eq!(rows(1600.0), 1);
    assert_eq!(rows(760.0), 2);
    assert!(rows(320.0) >= 3, "{}", rows(320.0));
    // Each row but the last says that the axis goes on, each but the first that it comes from there.
    let drawing = elements(&axis(&tool::axis(), 320.0));
    let marks = drawing.iter().filter(|e| e.has_class("ax-on")).count();
    assert_eq!(marks, 2 * (rows(320.0) - 1));
}

#[test]
fn states_differ_by_more_than_colour() {
    let drawing = elements(&axis(&turned(Hand::Left), 760.0));
    let with = |class: &str| {
        drawing
            .iter()
            .filter(|e| e.has_class("ax-part") && e.has_class(class))
            .count()
    };
    assert_eq!(
        [
            with("is-removed"),
            with("is-current"),
            with("is-renewed"),
            with("is-plain")
        ],
        [7, 1, 1, 7]
    );
    for element in drawing.iter().filter(|e| e.has_class("ax-part")) {
        let dashed = element.get("stroke-dasharray").is_some();
        assert_eq!(dashed, element.has_class("is-removed"), "{element:?}");
    }
    let rings = drawing.iter().filter(|e| e.has_class("ax-ring")).count();
    assert_eq!(rings, 1, "a renewed part has a second ring");
}

/// Seen from the side, a right-hand thread on a level axis falls to the right, as a backslash: turned
/// upright it rises to the right, which is the mark of a right-hand thread (common practice).
#[test]
fn flanks_lean_as_the_thread_does() {
    for (hand, falls) in [(Hand::Right, true), (Hand::Left, false)] {
        let drawing = elements(&axis(&turned(hand), 760.0));
        let thread = drawing
            .iter()
            .find(|e| e.has_class("ax-thread"))
            .expect("flanks are drawn");
        let ends = points(thread.get("d").expect("a path"));
        let ((x0, y0), (x1, y1)) = (ends[0], ends[1]);
        assert_eq!((x1 - x0) * (y1 - y0) > 0.0, falls, "{hand:?}");
    }
}

#[test]
fn the_arrow_points_at_its_part() {
    for width in [320.0, 760.0] {
        let drawing = elements(&axis(&turned(Hand::Left), width));
        let leader = drawing
            .iter()
            .find(|e| e.has_class("ax-turn-leader"))
            .expect("an arrow");
        let (x, _) = *points(leader.get("d").expect("a path"))
            .last()
            .expect("an end");
        assert!((x - feet(&drawing)[7].0).abs() < 0.02, "{width}");
        let said: Vec<&str> = drawing
            .iter()
            .filter(|e| e.name == "tspan")
            .map(|e| e.text.as_str())
            .collect();
        assert_eq!(
            said.join(" "),
            "Left-hand thread: clockwise loosens, seen from the nose end"
        );
    }
}

#[test]
fn an_arrow_at_a_part_that_is_not_there_is_not_drawn() {
    let mut axis_of = turned(Hand::Left);
    axis_of.parts.remove(7);
    assert!(!axis(&axis_of, 760.0).contains("ax-turn"));
}

#[test]
fn names_cannot_break_out() {
    let mut axis_of = tool::axis();
    axis_of.label = "<script>\"&".to_owned();
    axis_of.parts[0].name = "</title><script>".to_owned();
    let svg = axis(&axis_of, 760.0);
    assert!(!svg.contains("<script>"), "{svg}");
    elements(&svg);
}

#[test]
fn nothing_to_draw_is_an_empty_drawing() {
    let none = Axis {
        label: String::new(),
        parts: Vec::new(),
        turn: None,
    };
    assert_eq!(balloons(&elements(&axis(&none, f64::NAN))), []);
}

/// Sizes from a pin's to a crane's, and what cannot be a size.
fn size() -> impl Strategy<Value = f64> {
    prop_oneof![
        6 => 0.5..150.0f64,
        2 => 0.001..5000.0f64,
        1 => prop::sample::select(vec![0.0, -3.0, f64::NAN, f64::INFINITY, 1e300]),
    ]
}

fn part() -> impl Strategy<Value = AxisPart> {
    use PartShape::{Block, Collet, Key, Nut, Ring, Rod, Sleeve, Spring};
    let shape = prop::sample::select(vec![Block, Collet, Key, Nut, Ring, Rod, Sleeve, Spring]);
    let state = prop::sample::select(vec![
        PartState::Plain,
        PartState::Current,
        PartState::Removed,
        PartState::Renewed,
    ]);
    (shape, state, size(), size(), prop::option::of(size())).prop_map(
        |(shape, state, length_mm, outside_mm, bore_mm)| AxisPart {
            id: String::new(),
            name: "part".to_owned(),
            number: String::new(),
            shape,
            length_mm,
            outside_mm,
            bore_mm,
            state,
        },
    )
}

fn any_axis() -> impl Strategy<Value = Axis> {
    (
        prop::collection::vec(part(), 1..=40),
        any::<prop::sample::Index>(),
        "[a-z ]{0,90}",
    )
        .prop_map(|(mut parts, at, words)| {
            for (at, part) in parts.iter_mut().enumerate() {
                part.id = format!("p{at}");
            }
            let turn = ThreadTurn {
                part: format!("p{}", at.index(parts.len())),
                hand: Hand::Left,
                rotation: Rotation::CounterClockwise,
                words,
            };
            Axis {
                label: "parts".to_owned(),
                parts,
                turn: Some(turn),
            }
        })
}

proptest! {
    #[test]
    fn each_part_has_one_balloon_and_none_overlaps(axis_of in any_axis(), width in 200.0..1600.0f64) {
        let drawing = elements(&axis(&axis_of, width));
        let balloons = balloons(&drawing);
        prop_assert_eq!(numbers(&drawing), (1..=axis_of.parts.len()).collect::<Vec<_>>());
        prop_assert_eq!(balloons.len(), axis_of.parts.len());
        for (at, (x, y, r)) in balloons.iter().enumerate() {
            for (x2, y2, r2) in &balloons[..at] {
                let apart = (x - x2).hypot(y - y2);
                prop_assert!(apart > r + r2, "{apart}");
            }
        }
    }

    #[test]
    fn parts_stand_in_order_and_apart(axis_of in any_axis(), width in 200.0..1600.0f64) {
        let drawing = elements(&axis(&axis_of, width));
        let balloons = balloons(&drawing);
        for (two, feet) in balloons.windows(2).zip(feet(&drawing).windows(2)) {
            let ((x, y, _), (x2, y2, _)) = (two[0], two[1]);
            // On in the same row, or down into the next.
            prop_assert!((y2 == y && x2 > x) || y2 > y, "{two:?}");
            prop_assert!(y2 > y || feet[1].0 > feet[0].0, "{feet:?}");
        }
        for row in rows_of_parts(&drawing) {
            for two in row.windows(2) {
                prop_assert!(two[0].1 + 1.0 < two[1].0, "{row:?}");
            }
        }
    }

    #[test]
    fn nothing_lies_outside(axis_of in any_axis(), width in 100.0..1600.0f64) {
        let drawing = elements(&axis(&axis_of, width));
        let frame: Vec<f64> = drawing[0]
            .get("viewBox")
            .expect("a frame")
            .split(' ')
            .map(|n| n.parse().expect("a number"))
            .collect();
        let (right, bottom) = (frame[2] + 0.01, frame[3] + 0.01);
        for element in drawing.iter().filter(|e| !e.has_class("turn-arc") && !e.has_class("turn-head")) {
            if let Some([l, t, r, b]) = element.bounds() {
                prop_assert!(l >= -0.01 && t >= -0.01 && r <= right && b <= bottom, "{element:?}");
            }
        }
        for line in drawing.iter().filter(|e| e.name == "tspan" || e.name == "text") {
            if let Some(y) = line.get("y") {
                let y: f64 = y.parse().expect("a number");
                prop_assert!(y > 0.0 && y < bottom && line.number("x") < right);
            }
        }
    }
}
