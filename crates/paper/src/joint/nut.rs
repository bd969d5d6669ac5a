//! A rivet nut: head on the sheet, body and bulge below.

use super::pen::Pen;
use super::picture::{Picture, Side};
use super::{JointSketch, Outline};

const FILL: &str = "#efe0b8";

pub(super) fn outline(d: f64) -> Outline {
    Outline {
        half: 1.5 * d,
        above: 0.2 * d,
        below: 0.5 * d,
    }
}

pub(super) fn draw(pen: &mut Pen, sketch: &JointSketch, picture: &Picture) {
    let d = sketch.diameter_mm;
    let half = outline(d).half;
    let (sheet, body, thread) = (0.34 * d, 0.75 * d, 0.5 * d);
    let length = picture.value;
    // A short pull leaves the bulge open, a long one folds it flat.
    let (bulge, fold) = match picture.side {
        Side::Good => (1.2 * d, 0.4),
        Side::High => (1.0 * d, 0.58),
        Side::Low => (1.4 * d, 0.26),
    };
    let below = (length - sheet).max(0.1 * d);
    let knee = |share: f64| -sheet - share * fold * below;
    pen.turned("jd-collar", FILL, &[(body, 0.0), (body, -length)]);
    pen.rounded(
        "jd-collar",
        FILL,
        &[
            (body, knee(0.0)),
            (bulge, knee(0.1)),
            (bulge, knee(0.9)),
            (body, knee(1.0)),
        ],
    );
    for side in [-1.0, 1.0] {
        let edge = [
            (side * half, 0.0),
            (side * body, 0.0),
            (side * body, -sheet),
            (side * half, -sheet),
        ];
        pen.shape("jd-plate", "#dfe6e7", &edge);
        pen.line(&[(side * thread, 0.2 * d), (side * thread, -length)], true);
    }
    pen.turned("jd-collar", FILL, &[(1.08 * d, 0.2 * d), (1.08 * d, 0.0)]);
}
