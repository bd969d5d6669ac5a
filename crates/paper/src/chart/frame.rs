//! The frame that charts share: scales, grid, numbers at the axes.

use std::fmt::Write as _;

use calc::working::fixed;

use crate::svg::{INK, LETTERS, SOFT, escaped, n};

/// Width of every chart in its own units.
pub(super) const WIDTH: f64 = 360.0;
/// Height of every chart.
pub(super) const HEIGHT: f64 = 220.0;
const LEFT: f64 = 52.0;
const RIGHT: f64 = 348.0;
const TOP: f64 = 12.0;
const BOTTOM: f64 = 176.0;
const GRID: &str = "#d8d2c2";

/// Two scales.
#[derive(Clone, Copy, Debug)]
pub(super) struct Frame {
    /// Least and greatest value across.
    pub across: (f64, f64),
    /// Least and greatest value upwards.
    pub up: (f64, f64),
}

impl Frame {
    /// Where a value lies across.
    pub fn x(&self, value: f64) -> f64 {
        LEFT + (RIGHT - LEFT) * part(self.across, value)
    }

    /// Where a value lies upwards.
    pub fn y(&self, value: f64) -> f64 {
        BOTTOM - (BOTTOM - TOP) * part(self.up, value)
    }

    /// The beginning of the drawing: its label, the grid with numbers, what the axes are.
    pub fn open(&self, label: &str, axes: (&str, &str), decimals: (usize, usize)) -> String {
        let mut svg = format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" class="chart" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{}" font-family="{LETTERS}" font-size="10">"#,
            escaped(label)
        );
        for value in ticks(self.up, decimals.1) {
            let y = n(self.y(value));
            write!(
                svg,
                r#"<path class="grid" d="M{} {y}H{}" stroke="{GRID}" fill="none"/><text class="tick" x="{}" y="{}" text-anchor="end" fill="{SOFT}">{}</text>"#,
                n(LEFT), n(RIGHT), n(LEFT - 5.0), n(self.y(value) + 3.5), fixed(value, decimals.1)
            )
            .ok();
        }
        for value in ticks(self.across, decimals.0) {
            write!(
                svg,
                r#"<text class="tick" x="{}" y="{}" text-anchor="middle" fill="{SOFT}">{}</text>"#,
                n(self.x(value)),
                n(BOTTOM + 14.0),
                fixed(value, decimals.0)
            )
            .ok();
        }
        write!(
            svg,
            r#"<path class="axis" d="M{l} {t}V{b}H{r}" stroke="{INK}" fill="none"/><text class="name" x="{m}" y="{f}" text-anchor="middle" fill="{INK}">{}</text><text class="name" transform="translate(11 {h}) rotate(-90)" text-anchor="middle" fill="{INK}">{}</text>"#,
            escaped(axes.0),
            escaped(axes.1),
            l = n(LEFT),
            t = n(TOP),
            b = n(BOTTOM),
            r = n(RIGHT),
            m = n(f64::midpoint(LEFT, RIGHT)),
            f = n(HEIGHT - 12.0),
            h = n(f64::midpoint(TOP, BOTTOM)),
        )
        .ok();
        svg
    }
}

/// Where `value` lies between the ends, kept inside the frame.
fn part(ends: (f64, f64), value: f64) -> f64 {
    let room = ends.1 - ends.0;
    if room > 0.0 && value.is_finite() {
        ((value - ends.0) / room).clamp(0.0, 1.0)
    } else {
        0.5
    }
}

/// About four steps from end to end, each where its number, written with `decimals`, says that it is.
fn ticks((low, high): (f64, f64), decimals: usize) -> Vec<f64> {
    let shift = 10_f64.powi(i32::try_from(decimals).unwrap_or(0));
    let at = |i: i32| low + (high - low) * f64::from(i) / 4.0;
    let written = (0..=4).map(|i| (at(i) * shift).round() / shift);
    let mut ticks: Vec<f64> = written.filter(|tick| (low..=high).contains(tick)).collect();
    ticks.dedup();
    ticks
}

/// A line through `points`, as the path of an SVG element.
pub(super) fn path(points: impl Iterator<Item = (f64, f64)>) -> String {
    points
        .enumerate()
        .map(|(i, (x, y))| format!("{}{} {}", if i == 0 { "M" } else { "L" }, n(x), n(y)))
        .collect()
}
