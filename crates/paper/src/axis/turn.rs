//! The arrow at a thread that is to be turned, and the words beside it.

use std::fmt::Write as _;

use super::{MARGIN, ThreadTurn};
use crate::lettering::{Weight, lines, width};
use crate::svg::{BRASS, DARK_BRASS, LETTERS, escaped, n};
use crate::turns::{ARROW_SIDE, arrow};

/// Side of the arrow as drawn.
const SIDE: f64 = 32.0;
/// From the arrow to the words.
const BESIDE: f64 = 8.0;
/// Size and distance of the lines of words.
const LETTER: f64 = 13.0;
const LINE: f64 = 16.0;
/// Words break before they are wider, so that the arrow stays near its part.
const WIDEST: f64 = 250.0;
/// From the arrow to where its leader leans.
const LEAN: f64 = 10.0;
/// Above the arrow.
const ABOVE: f64 = 4.0;

/// An arrow in its place, with its words.
pub(super) struct TurnPlaced<'a> {
    turn: &'a ThreadTurn,
    lines: Vec<String>,
    /// Left end of the arrow.
    x: f64,
    top: f64,
    /// The part: its middle and half its diameter.
    part: (f64, f64),
    pub(super) bottom: f64,
}

/// Arrow and words stand over the part if they fit there, else as near as the drawing's edge lets.
pub(super) fn place(turn: &ThreadTurn, part: (f64, f64), top: f64, room: f64) -> TurnPlaced<'_> {
    let beside = (room - 2.0 * MARGIN - SIDE - BESIDE).min(WIDEST);
    let lines = lines(&turn.words, Weight::Bold, LETTER, beside);
    let wide = lines
        .iter()
        .map(|line| width(line, Weight::Bold, LETTER))
        .fold(0.0, f64::max);
    let rightmost = room - MARGIN - SIDE - BESIDE - wide;
    let x = (part.0 - SIDE / 2.0).min(rightmost).max(MARGIN);
    let high = SIDE.max(lines.len() as f64 * LINE);
    TurnPlaced {
        turn,
        lines,
        x,
        top: top + ABOVE,
        part,
        bottom: top + ABOVE + high + LEAN,
    }
}

pub(super) fn draw(svg: &mut String, placed: &TurnPlaced, axis: f64) {
    let TurnPlaced { x, top, .. } = *placed;
    let (at, radius) = placed.part;
    let scale = SIDE / ARROW_SIDE;
    let _ = write!(
        svg,
        r#"<path class="ax-turn-leader" d="M{} {}V{}L{at} {}V{}" fill="none" stroke="{BRASS}" stroke-width="1"/><g transform="translate({} {}) scale({})">{}</g>"#,
        n(x + SIDE / 2.0),
        n(top + SIDE - 1.0),
        n(placed.bottom - LEAN + 1.0),
        n(placed.bottom + 2.0),
        n(axis - radius),
        n(x),
        n(top),
        n(scale),
        arrow(placed.turn.rotation),
        at = n(at),
    );
    let _ = write!(
        svg,
        r#"<text class="ax-turn" font-family="{LETTERS}" font-size="{LETTER}" font-weight="{}" fill="{DARK_BRASS}">"#,
        Weight::Bold.number(),
    );
    let block = placed.lines.len() as f64 * LINE;
    let first = top + (SIDE - block).max(0.0) / 2.0 + LETTER - 1.0;
    for (at, line) in placed.lines.iter().enumerate() {
        let _ = write!(
            svg,
            r#"<tspan x="{}" y="{}">{}</tspan>"#,
            n(x + SIDE + BESIDE),
            n(first + at as f64 * LINE),
            escaped(line),
        );
    }
    svg.push_str("</text>");
}
