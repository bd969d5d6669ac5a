//! The axis drawing: the parts of a tool pulled apart along its axis, nose at the left.
//!
//! Each part is drawn by its kind and roughly to scale, with a numbered balloon: its place in the
//! list. The drawing breaks into as many rows as its width asks for, so that a telephone gets a
//! narrow one and a page a wide one. States differ by line and balloon as well as by colour. Every
//! colour stands as an attribute for paper, beside a class with which a page can restyle it.

mod balloons;
mod part;
mod place;
mod rows;
mod size;
mod turn;

use std::fmt::Write as _;

use calc::screw_stop::{Hand, Rotation};

use crate::svg::{SOFT, escaped, n};

/// Parts along an axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// What the drawing says, for those who cannot see it.
    pub label: String,
    /// Parts, nose first. Their balloons count from 1.
    pub parts: Vec<AxisPart>,
    /// The thread to be turned now.
    pub turn: Option<ThreadTurn>,
}

/// A part on the axis.
#[derive(Clone, Debug, PartialEq)]
pub struct AxisPart {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Part number; empty if it has none.
    pub number: String,
    /// How it is drawn.
    pub shape: PartShape,
    /// Length along the axis, mm.
    pub length_mm: f64,
    /// Outside diameter, mm.
    pub outside_mm: f64,
    /// Bore, mm.
    pub bore_mm: Option<f64>,
    /// State.
    pub state: PartState,
}

/// How a part is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartShape {
    /// A tube or housing.
    Sleeve,
    /// A solid rod or piston.
    Rod,
    /// A fingered collet or a set of jaws.
    Collet,
    /// A coil spring.
    Spring,
    /// A flat ring.
    Ring,
    /// A nut.
    Nut,
    /// A block.
    Block,
    /// A key or pin across the axis.
    Key,
}

/// State of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartState {
    /// In its place.
    Plain,
    /// The one in hand.
    Current,
    /// Taken off.
    Removed,
    /// A new one was fitted.
    Renewed,
}

/// A thread and the way it is turned now.
#[derive(Clone, Debug, PartialEq)]
pub struct ThreadTurn {
    /// Id of the part at which the arrow stands.
    pub part: String,
    /// Hand of the thread.
    pub hand: Hand,
    /// The way to turn.
    pub rotation: Rotation,
    /// What is written beside the arrow: hand, way, purpose, view.
    pub words: String,
}

/// No drawing is narrower.
const NARROWEST: f64 = 200.0;
/// Left and right of everything.
const MARGIN: f64 = 16.0;

/// The drawing as an SVG element; its viewBox is `width` units wide and as high as it needs. Letters
/// are 12 to 13 units high: at 360 on a telephone or 760 on a desk, a unit is a pixel.
pub fn axis(axis: &Axis, width: f64) -> String {
    let width = if width.is_finite() {
        width.max(NARROWEST)
    } else {
        NARROWEST
    };
    let rows = place::rows(axis, width);
    let height = rows.last().map_or(0.0, |row| row.bottom);
    let mut svg = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" class="axis" viewBox="0 0 {w} {h}" role="img" aria-label="{label}"><title>{label}</title>"#,
        w = n(width),
        h = n(height.max(1.0)),
        label = escaped(&axis.label),
    );
    for (at, row) in rows.iter().enumerate() {
        centre_line(&mut svg, row.axis, width, at > 0, at + 1 < rows.len());
        for placed in &row.parts {
            part::draw(&mut svg, placed, row.axis, axis.turn.as_ref());
        }
        for placed in &row.parts {
            balloons::draw(&mut svg, placed, row);
        }
        if let Some(turn) = &row.turn {
            turn::draw(&mut svg, turn, row.axis);
        }
    }
    svg.push_str("</svg>");
    svg
}

/// Dash and dot; an arrowhead where the axis goes on in the next row, and where it comes from.
fn centre_line(svg: &mut String, y: f64, width: f64, comes: bool, goes: bool) {
    let (from, to) = (4.0, width - 4.0);
    let _ = write!(
        svg,
        r#"<path class="ax-centre" d="M{} {y}H{}" stroke="{SOFT}" stroke-width="0.8" stroke-dasharray="10 3 1.5 3"/>"#,
        n(from),
        n(to),
        y = n(y),
    );
    for (x, is_there) in [(from, comes), (to - 5.0, goes)] {
        if is_there {
            let _ = write!(
                svg,
                r#"<path class="ax-on" d="M{} {}l5 4l-5 4" fill="none" stroke="{SOFT}" stroke-width="1.4"/>"#,
                n(x),
                n(y - 4.0),
            );
        }
    }
}
