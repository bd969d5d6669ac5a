//! The operating curve of a sampling plan: how likely a lot is accepted, by how many of it are bad.

use std::fmt::Write as _;

use super::frame::{Frame, path};
use crate::svg::{BRASS, GREEN, RED, n};

/// A curve. Shares and chances are in percent.
#[derive(Clone, Debug, PartialEq)]
pub struct OperatingCurve {
    /// Share of bad ones and chance of acceptance, in order of the share.
    pub points: Vec<(f64, f64)>,
    /// The share that is to be accepted nearly always, with its chance.
    pub good: (f64, f64),
    /// The share that is accepted one time in ten, with its chance.
    pub bad: (f64, f64),
    /// Decimals of shares.
    pub decimals: usize,
    /// What the axes are: across, upwards.
    pub axes: (String, String),
    /// What the drawing says, for those who cannot see it.
    pub label: String,
}

/// The drawing, as an SVG element.
pub fn operating_curve(curve: &OperatingCurve) -> String {
    let most = curve.points.last().map_or(1.0, |(share, _)| *share);
    let frame = Frame {
        across: (0.0, most),
        up: (0.0, 100.0),
    };
    let axes = (curve.axes.0.as_str(), curve.axes.1.as_str());
    let mut svg = frame.open(&curve.label, axes, (curve.decimals, 0));
    let points = curve.points.iter();
    let line = path(points.map(|(share, chance)| (frame.x(*share), frame.y(*chance))));
    write!(
        svg,
        r#"<path class="curve" d="{line}" stroke="{BRASS}" stroke-width="2" fill="none"/>"#
    )
    .ok();
    // A full dot and an open one: they differ without their colour, too.
    for ((share, chance), class, colour, fill) in [
        (curve.good, "good", GREEN, GREEN),
        (curve.bad, "bad", RED, "#fff"),
    ] {
        write!(
            svg,
            r#"<circle class="{class}" cx="{}" cy="{}" r="4" stroke="{colour}" stroke-width="1.6" fill="{fill}"/>"#,
            n(frame.x(share)),
            n(frame.y(chance))
        )
        .ok();
    }
    svg.push_str("</svg>");
    svg
}
