//! The tool drawn apart along its axis: what is off, what is new, the part in hand.

use calc::Message;
use maud::{Markup, PreEscaped, html};
use paper::axis::{Axis, AxisPart, PartShape, PartState, ThreadTurn};
use shop::route::{Act, Step};
use shop::sheet::{Part, Shape};

use crate::job::view::View;

/// Widths of the drawing on a desk and on a phone.
const WIDE: f64 = 860.0;
const NARROW: f64 = 330.0;

/// The drawing, with the part of `step` lit; and its parts by number.
pub fn axis(v: &View, step: Option<&Step>) -> Markup {
    let drawing = drawing(v, step);
    html! {
        figure.axis {
            div.wide { (PreEscaped(paper::axis(&drawing, WIDE))) }
            div.narrow { (PreEscaped(paper::axis(&drawing, NARROW))) }
            details {
                summary { (v.t("axis-parts")) }
                ol.axis-parts {
                    @for part in &drawing.parts { li { (part.name) " " small { (part.number) } } }
                }
            }
        }
    }
}

/// The parts along the axis as they stand, with the part of `step` lit.
pub fn drawing(v: &View, step: Option<&Step>) -> Axis {
    let current = step.and_then(part_of);
    let parts = v.model.parts.iter().filter(|p| !p.off_axis);
    Axis {
        label: v.say(&Message::new("axis-label").with("model", v.model.name.as_str())),
        parts: parts.map(|part| drawn(v, part, current)).collect(),
        turn: step.and_then(|step| turn(v, step)),
    }
}

/// The part that a step is about.
fn part_of<'a>(step: &Step<'a>) -> Option<&'a str> {
    match step.act {
        Act::TakeOff(part) | Act::Fit(part) | Act::Gauge(part, _) | Act::Check(part, _) => {
            Some(&part.id)
        }
        Act::Undo(joint, _) | Act::Tighten(joint, _) => Some(&joint.holds),
        Act::MakeSafe(_) | Act::Clean | Act::Close(_) | Act::PowerUp(..) => None,
    }
}

fn drawn(v: &View, part: &Part, current: Option<&str>) -> AxisPart {
    AxisPart {
        id: part.id.clone(),
        name: part.name.clone(),
        number: part.number.clone(),
        shape: match part.shape {
            Shape::Sleeve => PartShape::Sleeve,
            Shape::Rod => PartShape::Rod,
            Shape::Collet => PartShape::Collet,
            Shape::Spring => PartShape::Spring,
            Shape::Ring => PartShape::Ring,
            Shape::Nut => PartShape::Nut,
            Shape::Block => PartShape::Block,
            Shape::Key => PartShape::Key,
        },
        length_mm: part.length_mm,
        outside_mm: part.outside_mm,
        bore_mm: part.bore_mm,
        state: state(v, part, current),
    }
}

fn state(v: &View, part: &Part, current: Option<&str>) -> PartState {
    let done = |step: &str| v.job.step(&format!("{step}-{}", part.id)).is_some();
    if current == Some(&part.id) {
        PartState::Current
    } else if done("off") && !done("fit") {
        PartState::Removed
    } else if v.job.renewed(&part.id) {
        PartState::Renewed
    } else {
        PartState::Plain
    }
}

/// The arrow at a thread that is turned now.
fn turn(v: &View, step: &Step) -> Option<ThreadTurn> {
    let (joint, rotation, id) = match step.act {
        Act::Undo(joint, rotation) => (joint, rotation, "step-turn-free"),
        Act::Tighten(joint, rotation) => (joint, rotation, "step-turn-tight"),
        _ => return None,
    };
    let way = Message::new(id).with("rotation", v.p.words.term(rotation));
    Some(ThreadTurn {
        part: joint.holds.clone(),
        hand: joint.thread.hand,
        rotation,
        words: format!("{}: {}", v.p.words.term(joint.thread.hand), v.say(&way)),
    })
}
