//! Axes with round numbers.

use std::fmt::Write as _;

use crate::svg::{LETTERS, SOFT, escaped, n};

pub(super) const WIDTH: f64 = 420.0;
pub(super) const HEIGHT: f64 = 300.0;
pub(super) const LEFT: f64 = 46.0;
pub(super) const RIGHT: f64 = 410.0;
pub(super) const TOP: f64 = 40.0;
pub(super) const BOTTOM: f64 = 256.0;

/// Ticks that are aimed at.
const TICKS: f64 = 8.0;

/// An axis from 0.
pub(super) struct Axis {
    /// Its end, a round number.
    pub(super) most: f64,
    step: f64,
    /// Where 0 and the end lie in the drawing.
    ends: (f64, f64),
}

impl Axis {
    /// Up to `most` or a little more, from left to right.
    pub(super) fn across(most: f64) -> Self {
        Self::round(most, (LEFT, RIGHT))
    }

    /// The same from bottom to top.
    pub(super) fn up(most: f64) -> Self {
        Self::round(most, (BOTTOM, TOP))
    }

    fn round(most: f64, ends: (f64, f64)) -> Self {
        if !(most.is_finite() && most > 0.0) {
            let (most, step) = (1.0, 0.5);
            return Self { most, step, ends };
        }
        let rough = most / TICKS;
        let ten = 10f64.powf(rough.log10().floor());
        let steps = [1.0, 2.0, 2.5, 5.0, 10.0].map(|k| k * ten);
        let step = steps
            .into_iter()
            .find(|s| *s >= rough * 0.999)
            .unwrap_or(rough);
        Self {
            most: step * (most / step - 1e-6).ceil(),
            step,
            ends,
        }
    }

    /// Where `value` lies, no further out than the ends.
    pub(super) fn at(&self, value: f64) -> f64 {
        let share = (value / self.most).clamp(0.0, 1.0);
        self.ends.0 + (self.ends.1 - self.ends.0) * share
    }

    fn ticks(&self) -> impl Iterator<Item = f64> + '_ {
        let count = (self.most / self.step).round() as u32;
        (0..=count).map(|i| f64::from(i) * self.step)
    }
}

/// Both axes with their numbers and words.
pub(super) fn draw(svg: &mut String, x: &Axis, y: &Axis, words: &(String, String)) {
    let text = |svg: &mut String, (px, py): (f64, f64), anchor: &str, said: &str| {
        let _ = write!(
            svg,
            r#"<text class="pp-t" x="{px:.1}" y="{py:.1}" font-family="{LETTERS}" font-size="11" fill="{SOFT}" text-anchor="{anchor}">{}</text>"#,
            escaped(said),
        );
    };
    let mut grid = String::new();
    for tick in y.ticks() {
        let at = y.at(tick);
        let _ = write!(grid, "M{LEFT} {at:.1}H{RIGHT}");
        text(svg, (LEFT - 5.0, at + 4.0), "end", &n(tick));
    }
    for tick in x.ticks() {
        let at = x.at(tick);
        let _ = write!(grid, "M{at:.1} {BOTTOM}v4");
        text(svg, (at, BOTTOM + 16.0), "middle", &n(tick));
    }
    let _ = write!(
        svg,
        r##"<path class="pp-grid" d="{grid}" fill="none" stroke="#cdd6d9" stroke-width=".6"/>"##
    );
    text(
        svg,
        (f64::midpoint(LEFT, RIGHT), HEIGHT - 8.0),
        "middle",
        &words.0,
    );
    text(svg, (4.0, 12.0), "start", &words.1);
}
