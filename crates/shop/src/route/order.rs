//! What must be off before a part can come off, and in which order.

use std::collections::BTreeSet;

use crate::sheet::{Part, Side};

/// Why a part never comes off.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DeadEnd {
    /// These parts wait for one another: each for the next, the last for the first.
    Circle(Vec<usize>),
    /// This part waits for such a circle.
    Behind(usize, Vec<usize>),
}

/// The parts that block part `index`, by place in the sheet. Where the sheet does not say, the part
/// before it on the axis; a part beside the axis waits for none.
pub fn blockers(parts: &[Part], index: usize) -> Vec<usize> {
    let part = &parts[index];
    match &part.after {
        Some(ids) => {
            let place = |id: &String| parts.iter().position(|p| p.id == *id);
            ids.iter().filter_map(place).collect()
        }
        None if part.off_axis => Vec::new(),
        None => {
            let before = parts[..index].iter().rposition(|p| !p.off_axis);
            before.into_iter().collect()
        }
    }
}

/// Everything that must be off so that `wanted` are off, `wanted` among it.
pub(super) fn all_off(parts: &[Part], wanted: &[usize]) -> BTreeSet<usize> {
    let mut off = BTreeSet::new();
    let mut open = wanted.to_vec();
    while let Some(index) = open.pop() {
        if off.insert(index) {
            open.extend(blockers(parts, index));
        }
    }
    off
}

/// `off` in an order in which nothing comes off before what blocks it. Hands stay on one side of the
/// tool as long as something can come off there; ties go by the sheet's order. Each side is tried as
/// the first, and the order that changes sides least is taken.
///
/// # Errors
/// A circle among `off`.
pub(super) fn in_order(parts: &[Part], off: &BTreeSet<usize>) -> Result<Vec<usize>, Vec<usize>> {
    let mut best: Option<(usize, Vec<usize>)> = None;
    for first in [Side::Nose, Side::Tail, Side::Beside] {
        let order = from_side(parts, off, first);
        if order.len() < off.len() {
            let stuck = off.iter().filter(|i| !order.contains(i)).copied();
            let stuck: BTreeSet<usize> = stuck.collect();
            return Err(circle_from(
                parts,
                &stuck,
                stuck.first().copied().unwrap_or_default(),
            ));
        }
        let changes = order
            .windows(2)
            .filter(|two| parts[two[0]].from != parts[two[1]].from)
            .count();
        if best.as_ref().is_none_or(|(least, _)| changes < *least) {
            best = Some((changes, order));
        }
    }
    Ok(best.map(|(_, order)| order).unwrap_or_default())
}

/// As far as parts of `off` come off, hands at `side` first.
fn from_side(parts: &[Part], off: &BTreeSet<usize>, mut side: Side) -> Vec<usize> {
    let mut waiting: Vec<(usize, Vec<usize>)> =
        off.iter().map(|i| (*i, blockers(parts, *i))).collect();
    let mut order: Vec<usize> = Vec::new();
    loop {
        let free = |(_, blockers): &(usize, Vec<usize>)| blockers.is_empty();
        let here = |it: &(usize, Vec<usize>)| free(it) && parts[it.0].from == side;
        let next = waiting.iter().position(here);
        let Some(next) = next.or_else(|| waiting.iter().position(free)) else {
            return order;
        };
        let (next, _) = waiting.remove(next);
        for (_, blockers) in &mut waiting {
            blockers.retain(|blocker| *blocker != next);
        }
        side = parts[next].from;
        order.push(next);
    }
}

/// Every circle in which parts of a sheet wait for one another, and every part behind one.
pub fn dead_ends(parts: &[Part]) -> Vec<DeadEnd> {
    let all: BTreeSet<usize> = (0..parts.len()).collect();
    let free = from_side(parts, &all, Side::Nose);
    let stuck: BTreeSet<usize> = all.into_iter().filter(|i| !free.contains(i)).collect();
    let mut ends: Vec<DeadEnd> = Vec::new();
    for part in &stuck {
        let circle = circle_from(parts, &stuck, *part);
        let end = if circle.contains(part) {
            DeadEnd::Circle(circle)
        } else {
            DeadEnd::Behind(*part, circle)
        };
        if !ends.contains(&end) {
            ends.push(end);
        }
    }
    ends
}

/// The circle that the way on from `start` ends in, begun at its first part in the sheet. Each of
/// `stuck` waits for another of them.
fn circle_from(parts: &[Part], stuck: &BTreeSet<usize>, start: usize) -> Vec<usize> {
    let mut way = vec![start];
    loop {
        let here = way[way.len() - 1];
        let next = blockers(parts, here)
            .into_iter()
            .find(|b| stuck.contains(b));
        let Some(next) = next else {
            return way;
        };
        if let Some(at) = way.iter().position(|i| *i == next) {
            let mut circle = way.split_off(at);
            let least = circle.iter().enumerate().min_by_key(|(_, i)| **i);
            let turn = least.map_or(0, |(at, _)| at);
            circle.rotate_left(turn);
            return circle;
        }
        way.push(next);
    }
}
