//! The scale beside a joint: green between the limits, and where the joint's edge stands on it.

use std::fmt::Write as _;

use super::JointSketch;
use super::pen::{FINE, Pen};
use super::picture::{Picture, Side};
use crate::gauge_bar::limit_numbers;
use crate::lettering::Weight;
use crate::svg::{GREEN, INK, LETTERS, RED, n};

/// Room right of the joint for strip, mark and numbers, mm.
pub(super) const WIDTH: f64 = 16.0;
/// From the joint to the strip, and the strip's width, mm.
const BESIDE: f64 = 3.6;
const BROAD: f64 = 2.6;
/// Letters of the limits, and the least distance of two, mm.
const LETTER: f64 = 2.7;
const LEADING: f64 = 3.0;
/// What is drawn beyond the outermost value, as a share of all.
const BEYOND: f64 = 0.12;

/// Lowest and highest value that the strip shows.
pub(super) fn ends(sketch: &JointSketch, pictures: &[Picture]) -> (f64, f64) {
    let limits = [sketch.limits_mm.lower(), sketch.limits_mm.upper()];
    let values = pictures
        .iter()
        .map(|p| p.value)
        .chain(limits.into_iter().flatten());
    let (low, high) = values.fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(v), h.max(v)));
    let beyond = BEYOND * (high - low);
    (low - beyond, high + beyond)
}

/// `half` is the widest that the joint is, `zero` where the feature counts from and which way, `all`
/// what the strip shows.
pub(super) fn draw(
    pen: &mut Pen,
    sketch: &JointSketch,
    picture: &Picture,
    half: f64,
    (zero, way): (f64, f64),
    all: (f64, f64),
) {
    let height = |value: f64| zero + way * value;
    let left = half + BESIDE / pen.scale;
    let right = left + BROAD / pen.scale;
    let (lower, upper) = (sketch.limits_mm.lower(), sketch.limits_mm.upper());
    let (low, high) = (lower.unwrap_or(all.0), upper.unwrap_or(all.1));
    pen.field(
        "jd-out",
        "#e6d0c9",
        (left, height(all.0)),
        (right, height(all.1)),
    );
    pen.field(
        "jd-in",
        "#8fc3a0",
        (left, height(low)),
        (right, height(high)),
    );

    // From the joint's edge to the strip, with the verdict's colour and shape at its end.
    let (class, colour) = match picture.side {
        Side::Good => ("jd-level is-good", GREEN),
        _ => ("jd-level is-bad", RED),
    };
    let (x0, y) = pen.at(half, height(picture.value));
    let (from, _) = pen.at(0.0, 0.0);
    let (tip, _) = pen.at(left, 0.0);
    let _ = write!(
        pen.svg,
        r#"<path class="{class}" d="M{} {y}H{}" fill="none" stroke="{colour}" stroke-width="0.3" stroke-dasharray="1.2 .8"/><path class="{class}" d="M{} {}L{tip} {y}L{} {}Z" fill="{colour}"/>"#,
        n(from),
        n(x0 + 1.4),
        n(tip - 2.2),
        n(y - 1.1),
        n(tip - 2.2),
        n(y + 1.1),
        tip = n(tip),
        y = n(y),
    );

    // Ticks and numbers; two that stand close lean away from each other.
    let texts = limit_numbers(sketch.limits_mm, 0);
    let places = [lower, upper].map(|limit| limit.map(|l| pen.at(right, height(l)).1));
    let close = match places {
        [Some(a), Some(b)] => (LEADING - (a - b).abs()).max(0.0) / 2.0,
        _ => 0.0,
    };
    let (edge, _) = pen.at(right, 0.0);
    for (at, (place, text)) in places.into_iter().zip(texts).enumerate() {
        let (Some(place), Some(text)) = (place, text) else {
            continue;
        };
        // The lower limit stands lower on paper, unless the feature counts downwards.
        let down = if (at == 0) == (way > 0.0) {
            close
        } else {
            -close
        };
        let _ = write!(
            pen.svg,
            r#"<path class="jd-tick" d="M{} {y}H{}L{} {}" fill="none" stroke="{INK}" stroke-width="{FINE}"/><text class="jd-limit" x="{}" y="{}" font-family="{LETTERS}" font-size="{LETTER}" font-weight="{}" fill="{INK}">{text}</text>"#,
            n(edge),
            n(edge + 0.6),
            n(edge + 1.4),
            n(place + down),
            n(edge + 1.8),
            n(place + down + 0.36 * LETTER),
            Weight::SemiBold.number(),
            y = n(place),
        );
    }
}
