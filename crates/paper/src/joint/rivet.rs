//! A blind rivet: head and stem above the sheets, the bulged body below.

use super::pen::Pen;
use super::picture::Picture;
use super::{JointSketch, Outline};

const HEAD: &str = "#efe0b8";
const STEM: &str = "#c9d3d6";

/// Height of the head, mm, for a body of diameter `d`.
pub(super) fn head(d: f64) -> f64 {
    0.36 * d
}

pub(super) fn outline(d: f64) -> Outline {
    Outline {
        half: 1.25 * d,
        above: head(d),
        below: 1.6 * d,
    }
}

pub(super) fn draw(pen: &mut Pen, sketch: &JointSketch, picture: &Picture) {
    let d = sketch.diameter_mm;
    let outline = outline(d);
    let (stack, stem, top) = (0.8 * d, 0.3 * d, head(d));
    // The bulge on the blind side, behind the sheets.
    pen.rounded(
        "jd-collar",
        HEAD,
        &[
            (0.5 * d, -stack + 0.1 * d),
            (0.9 * d, -stack - 0.1 * d),
            (0.95 * d, -stack - 0.55 * d),
            (0.4 * d, -stack - 0.7 * d),
        ],
    );
    let sheets = [(outline.half, 0.0), (outline.half, -stack)];
    pen.turned("jd-plate", "#dfe6e7", &sheets);
    pen.line(
        &[(-outline.half, -0.5 * stack), (outline.half, -0.5 * stack)],
        false,
    );
    let end = top + picture.value;
    if picture.value > 0.0 {
        let rough = [
            (stem, 0.8 * top),
            (stem, end),
            (0.2 * stem, end - 0.2 * picture.value),
            (-stem, end),
            (-stem, 0.8 * top),
        ];
        pen.shape("jd-pin", STEM, &rough);
    }
    pen.rounded(
        "jd-collar",
        HEAD,
        &[(0.4 * d, top), (0.95 * d, top), (d, 0.0)],
    );
    // What of the stem lies in the head is hidden, and so is the hole above it.
    let foot = 0.1 * top;
    pen.line(&[(-stem, foot), (-stem, top)], true);
    pen.line(&[(stem, foot), (stem, top)], true);
    if picture.value < 0.0 {
        pen.line(&[(-stem, end), (stem, end)], true);
    }
}
