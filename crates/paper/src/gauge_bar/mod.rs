//! The gauge bar: one drawing of a reading against its limits, for screen and paper.
//!
//! Zones as the decision rule makes them (in, undecided, out), a tick with its value at each limit,
//! a whisker as long as the uncertainty, and the verdict as a shape: a full triangle accepts, an
//! open one is undecided, a cross rejects. Every colour stands as an attribute for paper, beside a
//! class with which a page can restyle it.

mod scale;
mod text;

use std::fmt::Write as _;

use calc::Message;
use calc::decision::{Limits, Rule, Verdict};
use calc::units::Unit;
use words::Words;

use scale::Scale;
pub(crate) use text::limit_numbers;

use crate::svg::{INK, escaped};

/// A reading against its limits.
#[derive(Clone, Debug, PartialEq)]
pub struct GaugeBar {
    /// Value in `unit`.
    pub value: f64,
    /// Expanded uncertainty, k = 2.
    pub expanded: f64,
    /// Limits.
    pub limits: Limits,
    /// Decision rule.
    pub rule: Rule,
    /// Verdict, as recorded.
    pub verdict: Verdict,
    /// Unit.
    pub unit: Unit,
    /// Decimals of printed values.
    pub decimals: usize,
    /// What the drawing says, for those who cannot see it; see [`GaugeBar::labelled`].
    pub label: String,
}

impl GaugeBar {
    /// The bar with a label such as "Collar diameter: 13.11 mm, undecided".
    #[must_use]
    pub fn labelled(mut self, words: &Words, what: &str) -> Self {
        let label = Message::new("gauge-bar-label")
            .with("what", what)
            .number("value", self.value, self.decimals)
            .with("unit", self.unit.symbol())
            .with("verdict", words.term(self.verdict));
        self.label = words.say(&label);
        self
    }
}

/// Height of the viewBox; its width is [`scale::WIDTH`].
const HEIGHT: f64 = 50.0;
const TRACK_TOP: f64 = 20.0;
const TRACK_BOTTOM: f64 = 30.0;

/// The drawing, as an SVG element.
pub fn gauge_bar(bar: &GaugeBar) -> String {
    let scale = Scale::of(bar);
    let mut svg = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" class="gauge" viewBox="0 0 {width} {HEIGHT}" role="img" aria-label="{label}">"#,
        width = scale::WIDTH,
        label = escaped(&bar.label),
    );
    zones(&mut svg, bar, &scale);
    limits(&mut svg, bar, &scale);
    whisker(&mut svg, bar, &scale);
    marker(&mut svg, bar.verdict, scale.x(bar.value));
    arrow(&mut svg, &scale, bar.value);
    svg.push_str("</svg>");
    svg
}

/// Out, undecided and in, exactly where the rule draws them.
fn zones(svg: &mut String, bar: &GaugeBar, scale: &Scale) {
    let doubt = match bar.rule {
        Rule::Guarded => bar.expanded,
        Rule::Simple => 0.0,
    };
    let (low, high) = (bar.limits.lower(), bar.limits.upper());
    zone(svg, "g-out", "#e6d0c9", scale.ends());
    for (class, colour, inward) in [("g-guard", "#ead9a4", -doubt), ("g-in", "#bcd9c4", doubt)] {
        if class == "g-guard" && doubt == 0.0 {
            continue;
        }
        let from = low.map_or(scale.ends().0, |l| scale.x(l + inward));
        let to = high.map_or(scale.ends().1, |u| scale.x(u - inward));
        zone(svg, class, colour, (from, to));
    }
}

fn zone(svg: &mut String, class: &str, colour: &str, (from, to): (f64, f64)) {
    if to > from {
        let (width, height) = (to - from, TRACK_BOTTOM - TRACK_TOP);
        let _ = write!(
            svg,
            r#"<rect class="{class}" x="{from:.1}" y="{TRACK_TOP}" width="{width:.1}" height="{height}" fill="{colour}"/>"#,
        );
    }
}

/// A tick and its value at each limit. Two that stand close lean away from each other.
fn limits(svg: &mut String, bar: &GaugeBar, scale: &Scale) {
    let sides = [bar.limits.lower(), bar.limits.upper()];
    let close = match sides {
        [Some(l), Some(u)] => scale.x(u) - scale.x(l) < 70.0,
        _ => false,
    };
    let numbers = limit_numbers(bar.limits, 0);
    for ((limit, value), leaning) in sides.into_iter().zip(numbers).zip(["end", "start"]) {
        let (Some(limit), Some(value)) = (limit, value) else {
            continue;
        };
        let x = scale.x(limit);
        let anchor = if close { leaning } else { "middle" };
        let _ = write!(
            svg,
            r##"<path class="g-lim" d="M{x:.1} 16V34" stroke="{INK}" stroke-width="1.2"/><text class="g-t" x="{x:.1}" y="46" font-family="Inter, system-ui, sans-serif" font-size="13" fill="#5b6f79" text-anchor="{anchor}">{value}</text>"##,
        );
    }
}

/// The uncertainty; an end that lies outside the drawing has no cap.
fn whisker(svg: &mut String, bar: &GaugeBar, scale: &Scale) {
    let (low, high) = (bar.value - bar.expanded, bar.value + bar.expanded);
    let (from, to) = (scale.x(low), scale.x(high));
    if to <= from {
        return;
    }
    let mut path = format!("M{from:.1} 25H{to:.1}");
    for end in [low, high].into_iter().filter(|end| scale.shows(*end)) {
        let _ = write!(path, "M{:.1} 21V29", scale.x(end));
    }
    let _ = write!(
        svg,
        r#"<path class="g-u" d="{path}" fill="none" stroke="{INK}" stroke-width="1.6"/>"#,
    );
}

/// The verdict's shape, its foot on the track at the value.
fn marker(svg: &mut String, verdict: Verdict, x: f64) {
    let (class, path, paint) = match verdict {
        Verdict::Accept => (
            "g-v g-accept",
            format!("M{x:.1} 20l-7 -13h14z"),
            r##"fill="#2c7a4b""##,
        ),
        Verdict::Undecided => (
            "g-v g-undecided",
            format!("M{x:.1} 18.6l-5.6 -10.6h11.2z"),
            r##"fill="#ffffff" stroke="#86691a" stroke-width="2.2" stroke-linejoin="round""##,
        ),
        Verdict::Reject => (
            "g-v g-reject",
            format!("M{:.1} 6l10 10m-10 0l10 -10M{x:.1} 16v4", x - 5.0),
            r##"fill="none" stroke="#b0352c" stroke-width="2.6" stroke-linecap="round""##,
        ),
    };
    let _ = write!(svg, r#"<path class="{class}" d="{path}" {paint}/>"#);
}

/// An arrow at the end beyond which the value lies.
fn arrow(svg: &mut String, scale: &Scale, value: f64) {
    if scale.shows(value) {
        return;
    }
    let (left, right) = scale.ends();
    let path = if scale.x(value) <= left {
        format!("M{:.1} 19.5L2 25L{:.1} 30.5z", left - 3.0, left - 3.0)
    } else {
        let tip = scale::WIDTH - 2.0;
        format!(
            "M{:.1} 19.5L{tip:.1} 25L{:.1} 30.5z",
            right + 3.0,
            right + 3.0
        )
    };
    let _ = write!(svg, r#"<path class="g-far" d="{path}" fill="{INK}"/>"#);
}
