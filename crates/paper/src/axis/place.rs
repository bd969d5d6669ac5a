//! Where everything stands.

use super::size::{Drawn, Size};
use super::turn::{self, TurnPlaced};
use super::{Axis, AxisPart, MARGIN, balloons, rows};

/// Widest distance between two parts.
const WIDEST_GAP: f64 = 30.0;
/// Between the tops of parts and what stands above.
const ABOVE: f64 = 8.0;
/// From the lowest part to where leaders begin to lean, and from there to the balloons.
const SHELF: f64 = 7.0;
const LEAN: f64 = 12.0;
/// Below the balloons.
const BELOW: f64 = 12.0;

/// A part in its place.
pub(super) struct Placed<'a> {
    pub(super) part: &'a AxisPart,
    /// Place in the list, from 1.
    pub(super) number: usize,
    /// Left end.
    pub(super) x: f64,
    pub(super) drawn: Drawn,
    /// Middle of the balloon.
    pub(super) balloon: f64,
}

impl Placed<'_> {
    pub(super) fn middle(&self) -> f64 {
        self.x + self.drawn.length / 2.0
    }
}

/// A row in its place.
pub(super) struct Row<'a> {
    pub(super) parts: Vec<Placed<'a>>,
    /// Height of the axis.
    pub(super) axis: f64,
    /// Where leaders begin to lean.
    pub(super) shelf: f64,
    /// Middle of the balloons.
    pub(super) balloons: f64,
    pub(super) bottom: f64,
    pub(super) turn: Option<TurnPlaced<'a>>,
}

pub(super) fn rows(axis: &Axis, width: f64) -> Vec<Row<'_>> {
    let room = width - 2.0 * MARGIN;
    let size = Size::of(&axis.parts, room);
    let drawn: Vec<Drawn> = axis.parts.iter().map(|part| size.drawn(part)).collect();
    let lengths: Vec<f64> = drawn.iter().map(|d| d.length).collect();
    let mut placed = Vec::new();
    let (mut first, mut top) = (0, 0.0);
    for count in rows::broken(&lengths, room, balloons::APART) {
        let row = row(axis, &drawn, first, count, top, width);
        (first, top) = (first + count, row.bottom);
        placed.push(row);
    }
    placed
}

fn row<'a>(
    axis: &'a Axis,
    drawn: &[Drawn],
    first: usize,
    count: usize,
    top: f64,
    width: f64,
) -> Row<'a> {
    let drawn = &drawn[first..first + count];
    let parts = &axis.parts[first..first + count];
    let used: f64 = drawn.iter().map(|d| d.length).sum();
    let gaps = count.saturating_sub(1) as f64;
    let gap = ((width - 2.0 * MARGIN - used) / gaps.max(1.0)).min(WIDEST_GAP);
    let mut x = (width - used - gaps * gap) / 2.0;
    let middles: Vec<f64> = drawn
        .iter()
        .map(|d| {
            let middle = x + d.length / 2.0;
            x += d.length + gap;
            middle
        })
        .collect();
    let edge = MARGIN + balloons::RADIUS - 2.0;
    let balloons = balloons::spread(&middles, balloons::APART, (edge, width - edge));
    let parts: Vec<Placed> = parts
        .iter()
        .zip(drawn)
        .zip(middles.iter().zip(balloons))
        .enumerate()
        .map(|(at, ((part, drawn), (middle, balloon)))| Placed {
            part,
            number: first + at + 1,
            x: middle - drawn.length / 2.0,
            drawn: *drawn,
            balloon,
        })
        .collect();

    let tallest = drawn.iter().map(|d| d.diameter).fold(0.0, f64::max);
    let turned = axis.turn.as_ref().and_then(|turn| {
        let part = parts.iter().find(|p| p.part.id == turn.part)?;
        Some((turn, part.middle(), part.drawn.diameter / 2.0))
    });
    let turn = turned.map(|(turn, at, radius)| turn::place(turn, (at, radius), top, width));
    let parts_top = turn.as_ref().map_or(top, |t| t.bottom) + ABOVE;
    let middle = parts_top + tallest / 2.0;
    let shelf = parts_top + tallest + SHELF;
    let balloons = shelf + LEAN + balloons::RADIUS;
    Row {
        parts,
        axis: middle,
        shelf,
        balloons,
        bottom: balloons + balloons::RADIUS + BELOW,
        turn,
    }
}
