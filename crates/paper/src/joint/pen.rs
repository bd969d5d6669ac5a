//! Drawing in millimetres of the joint.

use std::fmt::Write as _;

use crate::svg::{INK, SOFT, n};

/// Line widths, mm of paper.
pub(super) const LINE: f64 = 0.3;
pub(super) const FINE: f64 = 0.15;

/// A pen over the paper: `x` and `y` are where the joint's axis meets the sheet's face.
pub(super) struct Pen<'a> {
    pub(super) svg: &'a mut String,
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) scale: f64,
}

impl Pen<'_> {
    /// A place on paper: `x` right of the axis, `y` above the sheet's face, mm of the joint.
    pub(super) fn at(&self, x: f64, y: f64) -> (f64, f64) {
        (self.x + x * self.scale, self.y - y * self.scale)
    }

    /// A closed outline through `points`.
    pub(super) fn shape(&mut self, class: &str, fill: &str, points: &[(f64, f64)]) {
        let path = self.through(points);
        self.closed(class, fill, &path);
    }

    /// The right half of an outline, from top to bottom, mirrored at the axis.
    pub(super) fn turned(&mut self, class: &str, fill: &str, right: &[(f64, f64)]) {
        let left = right.iter().rev().map(|(x, y)| (-x, *y));
        let points: Vec<_> = right.iter().copied().chain(left).collect();
        self.shape(class, fill, &points);
    }

    /// As [`Pen::turned`], but what lies between the ends is passed in one bend.
    pub(super) fn rounded(&mut self, class: &str, fill: &str, right: &[(f64, f64)]) {
        let (Some(first), Some(last)) = (right.first(), right.last()) else {
            return;
        };
        let bends = |points: &[(f64, f64)]| {
            let mut path = String::new();
            for pair in points.windows(2).skip(1) {
                let middle = (
                    f64::midpoint(pair[0].0, pair[1].0),
                    f64::midpoint(pair[0].1, pair[1].1),
                );
                let is_last = pair[1] == points[points.len() - 1];
                let (bend, to) = (
                    self.at(pair[0].0, pair[0].1),
                    if is_last { pair[1] } else { middle },
                );
                let to = self.at(to.0, to.1);
                let _ = write!(path, "Q{} {} {} {}", n(bend.0), n(bend.1), n(to.0), n(to.1));
            }
            path
        };
        let left: Vec<_> = right.iter().rev().map(|(x, y)| (-x, *y)).collect();
        let start = self.through(&[*first]);
        let across = self.through(&[(-last.0, last.1)]).replacen('M', "L", 1);
        let path = format!("{start}{}{across}{}", bends(right), bends(&left));
        self.closed(class, fill, &path);
    }

    pub(super) fn closed(&mut self, class: &str, fill: &str, path: &str) {
        let _ = write!(
            self.svg,
            r#"<path class="{class}" d="{path}Z" fill="{fill}" stroke="{INK}" stroke-width="{LINE}" stroke-linejoin="round"/>"#
        );
    }

    /// A fine line; `dash` for what is hidden.
    pub(super) fn line(&mut self, points: &[(f64, f64)], dash: bool) {
        let path = self.through(points);
        let dash = if dash {
            r#" stroke-dasharray="1 .7""#
        } else {
            ""
        };
        let _ = write!(
            self.svg,
            r#"<path class="jd-line" d="{path}" fill="none" stroke="{SOFT}" stroke-width="{FINE}"{dash}/>"#
        );
    }

    /// A rectangle that has no outline.
    pub(super) fn field(&mut self, class: &str, fill: &str, from: (f64, f64), to: (f64, f64)) {
        let ((x0, y0), (x1, y1)) = (self.at(from.0, from.1), self.at(to.0, to.1));
        let _ = write!(
            self.svg,
            r#"<rect class="{class}" x="{}" y="{}" width="{}" height="{}" fill="{fill}"/>"#,
            n(x0.min(x1)),
            n(y0.min(y1)),
            n((x1 - x0).abs()),
            n((y1 - y0).abs()),
        );
    }

    pub(super) fn through(&self, points: &[(f64, f64)]) -> String {
        let mut path = String::new();
        for (at, (x, y)) in points.iter().enumerate() {
            let (x, y) = self.at(*x, *y);
            let _ = write!(path, "{}{} {}", if at == 0 { 'M' } else { 'L' }, n(x), n(y));
        }
        path
    }

    /// Two sheets from the face down to `depth`, broken off below; `joint` is where they meet.
    pub(super) fn sheets(&mut self, half: f64, joint: f64, depth: f64) {
        let path = format!(
            "{}{}",
            self.through(&[(half, -depth), (half, 0.0), (-half, 0.0), (-half, -depth)]),
            self.wave(-half, half, -depth),
        );
        self.closed("jd-plate", "#dfe6e7", &path);
        self.line(&[(-half, -joint), (half, -joint)], false);
    }

    /// The rest of a path that runs from the left to the right as a wave: a piece broken off.
    pub(super) fn wave(&self, from: f64, to: f64, y: f64) -> String {
        let (x0, y0) = self.at(from, y);
        let (x1, _) = self.at(to, y);
        let (quarter, high) = ((x1 - x0) / 4.0, 1.1);
        format!(
            "L{} {}C{} {} {} {} {} {}S{} {} {} {}",
            n(x0),
            n(y0),
            n(x0 + quarter),
            n(y0 - high),
            n(x0 + quarter),
            n(y0 - high),
            n(x0 + 2.0 * quarter),
            n(y0),
            n(x0 + 3.0 * quarter),
            n(y0 + high),
            n(x1),
            n(y0),
        )
    }
}
