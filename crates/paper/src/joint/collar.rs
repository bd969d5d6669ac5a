//! A swaged collar on its pin, seen from the side.

use std::fmt::Write as _;

use calc::decision::Limits;

use super::pen::{FINE, Pen};
use super::picture::{Picture, Side};
use super::{JointFeature, JointSketch, Outline};
use crate::gauge_bar::limit_numbers;
use crate::lettering::{Weight, width};
use crate::svg::{INK, LETTERS, n};

const FILL: &str = "#efe0b8";
const LAND: &str = "#f7eed3";
const PIN: &str = "#c9d3d6";
const GOOD: &str = "#5aa877";

/// Height of the flange, mm, for a pin of diameter `d`.
pub(super) fn flange(d: f64) -> f64 {
    0.22 * d
}

/// Height of the collar above the sheet.
pub(super) fn height(d: f64) -> f64 {
    1.2 * d
}

/// Diameter of the land: its lower limit, where a new anvil leaves it.
fn land(sketch: &JointSketch) -> f64 {
    let limits = sketch.collar_mm;
    let stated = limits.and_then(|l| l.lower().or(l.upper()));
    stated.unwrap_or(1.63 * sketch.diameter_mm)
}

fn flange_radius(sketch: &JointSketch) -> f64 {
    0.64 * land(sketch)
}

pub(super) fn outline(sketch: &JointSketch) -> Outline {
    let d = sketch.diameter_mm;
    let tail = match sketch.feature {
        JointFeature::Reach => 0.5 * d,
        _ => 0.0,
    };
    Outline {
        half: 1.04 * flange_radius(sketch),
        above: height(d) + tail,
        below: 0.6 * d,
    }
}

pub(super) fn draw(pen: &mut Pen, sketch: &JointSketch, picture: &Picture) {
    let d = sketch.diameter_mm;
    let outline = outline(sketch);
    pen.sheets(outline.half, 0.3 * d, outline.below);
    let (reach, end) = match sketch.feature {
        JointFeature::Reach => (picture.value, None),
        _ => (0.14 * d, Some(picture.value)),
    };
    tail(pen, d, end);
    barrel(
        pen,
        sketch,
        reach,
        picture.side == Side::Low && end.is_none(),
    );
    if let Some(end) = end.filter(|end| *end < 0.0) {
        // The pin's end lies in the collar: hidden.
        let (r, top) = (0.5 * d, height(d));
        pen.line(
            &[(-r, top), (-r, top + end), (r, top + end), (r, top)],
            true,
        );
    }
    if let Some(limits) = sketch.collar_mm {
        diameter(pen, sketch, limits, reach, picture.side == Side::Good);
    }
}

/// What stands out of the collar: a grooved tail broken off by the drawing, or the pin's own end.
fn tail(pen: &mut Pen, d: f64, end: Option<f64>) {
    let (r, top) = (0.5 * d, height(d));
    match end {
        Some(end) if end > 0.0 => {
            // The break is rough.
            let rough = [
                (r, top),
                (r, top + end),
                (0.2 * r, top + 0.8 * end),
                (-0.3 * r, top + end),
                (-r, top + 0.9 * end),
                (-r, top),
            ];
            pen.shape("jd-pin", PIN, &rough);
        }
        Some(_) => {}
        None => {
            let reaches = top + 0.5 * d;
            let path = format!(
                "{}{}",
                pen.through(&[(r, reaches), (r, top - 0.1 * d), (-r, top - 0.1 * d)]),
                pen.wave(-r, r, reaches),
            );
            pen.closed("jd-pin", PIN, &path);
            for groove in [0.1, 0.22, 0.34] {
                let y = top + groove * d;
                pen.line(&[(-r, y), (r, y)], false);
            }
        }
    }
}

/// Flange, shoulder, land. With `bitten`, the anvil has run into the flange.
fn barrel(pen: &mut Pen, sketch: &JointSketch, reach: f64, bitten: bool) {
    let d = sketch.diameter_mm;
    let (land, rim) = (land(sketch) / 2.0, flange_radius(sketch));
    let (foot, top) = (flange(d), height(d));
    let chamfer = 0.06 * d;
    let swaged = (foot + reach).min(top - chamfer);
    // Where the anvil did not come, the collar keeps the width that it had.
    let shoulder = 1.13 * land;
    let slope = (0.5 * reach).min(0.1 * d);
    if bitten {
        let lip = 0.05 * d;
        pen.turned(
            "jd-collar",
            FILL,
            &[
                (land, foot),
                (land + lip, foot + lip),
                (land + 2.0 * lip, foot),
                (1.03 * rim, 0.75 * foot),
                (1.03 * rim, 0.2 * foot),
                (rim, 0.0),
            ],
        );
    } else {
        pen.turned(
            "jd-collar",
            FILL,
            &[
                (shoulder, swaged - slope),
                (shoulder, foot),
                (rim, foot),
                (rim, 0.0),
            ],
        );
        pen.turned(
            "jd-collar",
            FILL,
            &[(land, swaged), (shoulder, swaged - slope)],
        );
    }
    pen.turned(
        "jd-land",
        LAND,
        &[(land - chamfer, top), (land, top - chamfer), (land, swaged)],
    );
}

/// A green edge as wide as the limits leave room, and on the good joint the numbers.
fn diameter(pen: &mut Pen, sketch: &JointSketch, limits: Limits, reach: f64, is_good: bool) {
    let d = sketch.diameter_mm;
    let (from, to) = (flange(d) + reach.max(0.06 * d), height(d) - 0.06 * d);
    if let (Some(lower), Some(upper)) = (limits.lower(), limits.upper()) {
        for side in [-1.0, 1.0] {
            let (inner, outer) = (side * lower / 2.0, side * upper / 2.0);
            pen.field("jd-edge", GOOD, (inner, from), (outer, to));
        }
    }
    if !is_good {
        return;
    }
    let text = match limit_numbers(limits, 0) {
        [Some(lower), Some(upper)] => format!("{lower}\u{a0}–\u{a0}{upper}"),
        [Some(lower), None] => format!("≥\u{a0}{lower}"),
        [None, upper] => format!("≤\u{a0}{}", upper.unwrap_or_default()),
    };
    let wide = land(sketch);
    let middle = flange(d) + reach + 0.55 * (height(d) - flange(d) - reach);
    let (left, y) = pen.at(-wide / 2.0, middle);
    let (right, _) = pen.at(wide / 2.0, middle);
    // As large as fits between the arrows' ends.
    let size = (0.86 * wide * pen.scale / width(&text, Weight::SemiBold, 1.0)).min(3.2);
    let (y0, tip) = (y + 1.6, 1.5_f64.min(0.2 * wide * pen.scale));
    let _ = write!(
        pen.svg,
        r#"<path class="jd-dim" d="M{l} {y0}H{r}M{} {}L{l} {y0}L{} {}M{} {}L{r} {y0}L{} {}" fill="none" stroke="{INK}" stroke-width="{FINE}"/><text class="jd-limit" x="{}" y="{}" font-family="{LETTERS}" font-size="{}" font-weight="{}" fill="{INK}" text-anchor="middle">{text}</text>"#,
        n(left + tip),
        n(y0 - 0.5),
        n(left + tip),
        n(y0 + 0.5),
        n(right - tip),
        n(y0 - 0.5),
        n(right - tip),
        n(y0 + 0.5),
        n(pen.x),
        n(y0 - 1.2),
        n(size),
        Weight::SemiBold.number(),
        l = n(left),
        r = n(right),
        y0 = n(y0),
    );
}
