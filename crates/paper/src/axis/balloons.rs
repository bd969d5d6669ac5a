//! Numbered balloons under the parts, and the leaders to them.

use std::fmt::Write as _;

use super::place::{Placed, Row};
use super::{PartState, part};
use crate::svg::{DARK_BRASS, GREEN, INK, LETTERS, SOFT, n};

/// Radius of a balloon.
pub(super) const RADIUS: f64 = 11.0;
/// Least distance between the middles of two balloons.
pub(super) const APART: f64 = 2.0 * RADIUS + 3.0;

/// Places as near as can be (least squares) to `wanted`, in the same order, `apart` from each other
/// and within `ends`. `wanted` must be in order, and there must be room for all.
pub(super) fn spread(wanted: &[f64], apart: f64, ends: (f64, f64)) -> Vec<f64> {
    // Less the distances that must be, the task is to find places that do not fall: neighbours that
    // would fall pool to their mean.
    let mut pools: Vec<(f64, usize)> = Vec::new();
    for (at, place) in wanted.iter().enumerate() {
        pools.push((place - at as f64 * apart, 1));
        while let [.., (before, count), (after, more)] = pools[..] {
            if before <= after {
                break;
            }
            let all = count + more;
            let mean = (before * count as f64 + after * more as f64) / all as f64;
            pools.truncate(pools.len() - 2);
            pools.push((mean, all));
        }
    }
    let last = wanted.len().saturating_sub(1) as f64 * apart;
    let highest = (ends.1 - last).max(ends.0);
    pools
        .iter()
        .flat_map(|(place, count)| std::iter::repeat_n(place.clamp(ends.0, highest), *count))
        .enumerate()
        .map(|(at, place)| place + at as f64 * apart)
        .collect()
}

/// The leader falls straight to below the tallest part and leans only there, so that it crosses no
/// part and no other leader.
pub(super) fn draw(svg: &mut String, placed: &Placed, row: &Row) {
    let (x, y) = (placed.balloon, row.balloons);
    let from = row.axis + part::half_height(placed);
    let (ring, fill, letters, dash) = match placed.part.state {
        PartState::Plain => (INK, "#ffffff", INK, ""),
        PartState::Current => (DARK_BRASS, DARK_BRASS, "#ffffff", ""),
        PartState::Removed => (SOFT, "#ffffff", SOFT, r#" stroke-dasharray="3 2.5""#),
        PartState::Renewed => (GREEN, "#ffffff", INK, ""),
    };
    let _ = write!(
        svg,
        r#"<g class="ax-ball {state}"><path class="ax-leader" d="M{m} {from}V{shelf}L{x} {to}" fill="none" stroke="{SOFT}" stroke-width="0.8"/><circle class="ax-balloon" cx="{x}" cy="{y}" r="{RADIUS}" fill="{fill}" stroke="{ring}" stroke-width="1.2"{dash}/>"#,
        state = placed.part.state.class(),
        m = n(placed.middle()),
        from = n(from),
        shelf = n(row.shelf),
        to = n(y - RADIUS),
        x = n(x),
        y = n(y),
    );
    if placed.part.state == PartState::Renewed {
        let _ = write!(
            svg,
            r#"<circle class="ax-ring" cx="{}" cy="{}" r="{}" fill="none" stroke="{ring}" stroke-width="1.2"/>"#,
            n(x),
            n(y),
            n(RADIUS - 2.8),
        );
    }
    let _ = write!(
        svg,
        r#"<text class="ax-number" x="{}" y="{}" font-family="{LETTERS}" font-size="12" font-weight="600" fill="{letters}" text-anchor="middle">{}</text></g>"#,
        n(x),
        n(y + 4.3),
        placed.number,
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_has_room_stays() {
        assert_eq!(
            spread(&[10.0, 50.0, 90.0], 25.0, (0.0, 100.0)),
            [10.0, 50.0, 90.0]
        );
    }

    #[test]
    fn what_is_crowded_moves_to_both_sides() {
        assert_eq!(
            spread(&[49.0, 50.0, 51.0], 25.0, (0.0, 100.0)),
            [25.0, 50.0, 75.0]
        );
    }

    #[test]
    fn ends_hold() {
        assert_eq!(spread(&[1.0, 2.0], 25.0, (10.0, 100.0)), [10.0, 35.0]);
        assert_eq!(spread(&[98.0, 99.0], 25.0, (10.0, 100.0)), [75.0, 100.0]);
        assert_eq!(spread(&[], 25.0, (10.0, 100.0)), [] as [f64; 0]);
    }
}
