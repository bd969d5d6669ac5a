//! A run chart: readings in the order in which they came, with centre, limits, and those that signal.

use std::fmt::Write as _;

use super::frame::{Frame, path};
use crate::svg::{BRASS, GREEN, INK, RED, SOFT, n};

/// A chart.
#[derive(Clone, Debug, PartialEq)]
pub struct RunChart {
    /// Readings in order.
    pub values: Vec<f64>,
    /// Centre.
    pub center: f64,
    /// Limits of the run: what chance alone gives.
    pub run_limits: (f64, f64),
    /// Limits of the sheet, where there are some.
    pub sheet_limits: (Option<f64>, Option<f64>),
    /// Readings, from 0, that complete a signal.
    pub signals: Vec<usize>,
    /// Decimals of readings.
    pub decimals: usize,
    /// What the axes are: across, upwards.
    pub axes: (String, String),
    /// What the drawing says, for those who cannot see it.
    pub label: String,
}

/// The drawing, as an SVG element.
pub fn run_chart(chart: &RunChart) -> String {
    let (low, high) = chart.run_limits;
    let limits = [chart.sheet_limits.0, chart.sheet_limits.1];
    let all = chart.values.iter().copied().chain([low, high]);
    let all = all.chain(limits.into_iter().flatten());
    let (least, most) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, m), v| {
        (l.min(v), m.max(v))
    });
    let room = (most - least).max(f64::MIN_POSITIVE) * 0.05;
    let frame = Frame {
        across: (1.0, chart.values.len().max(2) as f64),
        up: (least - room, most + room),
    };
    let axes = (chart.axes.0.as_str(), chart.axes.1.as_str());
    let mut svg = frame.open(&chart.label, axes, (0, chart.decimals));
    let mut level = |class: &str, value: f64, colour: &str, dashes: &str| {
        let (from, to) = (n(frame.x(frame.across.0)), n(frame.x(frame.across.1)));
        let y = n(frame.y(value));
        write!(
            svg,
            r#"<path class="{class}" d="M{from} {y}H{to}" stroke="{colour}" stroke-dasharray="{dashes}" fill="none"/>"#
        )
        .ok();
    };
    level("center", chart.center, GREEN, "none");
    level("run-limit", low, SOFT, "5 3");
    level("run-limit", high, SOFT, "5 3");
    for limit in limits.into_iter().flatten() {
        level("sheet-limit", limit, RED, "2 2");
    }
    let place = |(i, value): (usize, &f64)| (frame.x(i as f64 + 1.0), frame.y(*value));
    let line = path(chart.values.iter().enumerate().map(place));
    write!(
        svg,
        r#"<path class="run" d="{line}" stroke="{BRASS}" fill="none"/>"#
    )
    .ok();
    for (i, value) in chart.values.iter().enumerate() {
        let (x, y) = place((i, value));
        // One that signals is a large open square: it is found without its colour.
        if chart.signals.contains(&i) {
            write!(
                svg,
                r##"<rect class="signal" x="{}" y="{}" width="9" height="9" stroke="{RED}" stroke-width="1.8" fill="#fff"/>"##,
                n(x - 4.5),
                n(y - 4.5)
            )
            .ok();
        } else {
            write!(
                svg,
                r#"<circle class="reading" cx="{}" cy="{}" r="2.6" fill="{INK}"/>"#,
                n(x),
                n(y)
            )
            .ok();
        }
    }
    svg.push_str("</svg>");
    svg
}
