//! Which pictures there are, and what is said about each.

use std::fmt::Write as _;

use calc::Message;
use calc::screw_stop::Effect;
use words::Words;

use super::{JointFeature, JointSketch};
use crate::gauge_bar::limit_numbers;
use crate::lettering::{Weight, lines};
use crate::svg::{GREEN, INK, LETTERS, RED, escaped, n};

/// A bad joint misses its limit by this share of the limits' distance, and of the diameter at least.
const MISS: (f64, f64) = (0.9, 0.12);
/// Letters of headings and captions, mm.
const HEAD: f64 = 4.4;
const LETTER: f64 = 3.1;
const LINE: f64 = 4.1;

/// A joint to be drawn.
pub(super) struct Picture {
    /// The feature, mm.
    pub(super) value: f64,
    /// On which side of the limits.
    pub(super) side: Side,
    head: String,
    said: String,
}

/// Where a value lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    Good,
    Low,
    High,
}

/// The good joint first, then one beyond each limit: too little before too much.
pub(super) fn pictures(sketch: &JointSketch, words: &Words) -> Vec<Picture> {
    let (lower, upper) = (sketch.limits_mm.lower(), sketch.limits_mm.upper());
    let least = MISS.1 * sketch.diameter_mm;
    let miss = lower
        .zip(upper)
        .map_or(least, |(l, u)| least.max(MISS.0 * (u - l)));
    let good = match (lower, upper) {
        (Some(l), Some(u)) => f64::midpoint(l, u),
        (Some(l), None) => l + least,
        (None, upper) => upper.unwrap_or(0.0) - least,
    };
    let texts = Texts { sketch, words };
    let mut pictures = vec![texts.picture(Side::Good, good)];
    // A length cannot be less than nothing.
    let least_value = match sketch.feature {
        JointFeature::Reach | JointFeature::SetLength => 0.0,
        JointFeature::PinEnd | JointFeature::StemEnd => f64::MIN,
    };
    let low = lower.map(|l| (l - miss).max(least_value)).zip(lower);
    let low = low
        .filter(|(value, limit)| value < limit)
        .map(|(value, _)| value);
    let low = low.map(|value| texts.picture(Side::Low, value));
    let high = upper.map(|u| texts.picture(Side::High, u + miss));
    if matches!(
        sketch.feature,
        JointFeature::Reach | JointFeature::SetLength
    ) {
        pictures.extend(high.into_iter().chain(low));
    } else {
        pictures.extend(low.into_iter().chain(high));
    }
    pictures
}

struct Texts<'a> {
    sketch: &'a JointSketch,
    words: &'a Words,
}

impl Texts<'_> {
    fn picture(&self, side: Side, value: f64) -> Picture {
        Picture {
            value,
            side,
            head: self.words.text(self.head(side)),
            said: self.said(side),
        }
    }

    fn head(&self, side: Side) -> &'static str {
        let is_stroke = matches!(
            self.sketch.feature,
            JointFeature::Reach | JointFeature::SetLength
        );
        match (side, is_stroke) {
            (Side::Good, _) => "sketch-good",
            (Side::High, true) => "sketch-too-little",
            (Side::Low, true) => "sketch-too-much",
            (Side::Low, false) => "sketch-too-low",
            (Side::High, false) => "sketch-too-high",
        }
    }

    fn said(&self, side: Side) -> String {
        let [lower, upper] = limit_numbers(self.sketch.limits_mm, 0);
        let limits = match (&lower, &upper) {
            (Some(l), Some(u)) => Message::new("limits-both")
                .with("lower", l.as_str())
                .with("upper", u.as_str()),
            (Some(l), None) => Message::new("limits-lower").with("lower", l.as_str()),
            _ => Message::new("limits-upper").with("upper", upper.clone().unwrap_or_default()),
        };
        let limits = limits.with("unit", "mm");
        let (low, high) = (lower.unwrap_or_default(), upper.unwrap_or_default());
        let seen = match (self.sketch.feature, side) {
            (JointFeature::Reach, Side::Good) => {
                Message::new("sketch-reach").with("limits", limits)
            }
            (JointFeature::Reach, Side::Low) => Message::new("sketch-reach-low").with("limit", low),
            (JointFeature::Reach, Side::High) => {
                Message::new("sketch-reach-high").with("limit", high)
            }
            (JointFeature::PinEnd, Side::Good) => Message::new("sketch-pin").with("limits", limits),
            (JointFeature::PinEnd, Side::Low) => Message::new("sketch-pin-low").with("limit", low),
            (JointFeature::PinEnd, Side::High) => {
                Message::new("sketch-pin-high").with("limit", high)
            }
            (JointFeature::StemEnd, Side::Good) => {
                Message::new("sketch-stem").with("limits", limits)
            }
            (JointFeature::StemEnd, Side::Low) => {
                Message::new("sketch-stem-low").with("limit", low)
            }
            (JointFeature::StemEnd, Side::High) => {
                Message::new("sketch-stem-high").with("limit", high)
            }
            (JointFeature::SetLength, Side::Good) => {
                Message::new("sketch-nut").with("limits", limits)
            }
            (JointFeature::SetLength, Side::Low) => {
                Message::new("sketch-nut-low").with("limit", low)
            }
            (JointFeature::SetLength, Side::High) => {
                Message::new("sketch-nut-high").with("limit", high)
            }
        };
        let effect = match side {
            Side::Good => return self.say([&seen]),
            Side::Low => self.sketch.if_low,
            Side::High => self.sketch.if_high,
        };
        let why = match (effect, self.sketch.feature) {
            (Some(Effect::Lengthens), _) => Message::new("sketch-stroke-short"),
            (Some(Effect::Shortens), _) => Message::new("sketch-stroke-long"),
            (None, JointFeature::PinEnd) if side == Side::Low => Message::new("sketch-why-low"),
            (None, _) => Message::new("sketch-why-code"),
        };
        self.say([&seen, &why])
    }

    /// A number and its unit stay on one line.
    fn say<const N: usize>(&self, messages: [&Message; N]) -> String {
        let said = messages.map(|message| self.words.say(message));
        said.join(" ").replace(" mm", "\u{a0}mm")
    }
}

impl Picture {
    /// The verdict's shape and the word.
    pub(super) fn heading(&self, svg: &mut String, x: f64, y: f64) {
        let (class, colour, mark) = match self.side {
            Side::Good => (
                "jd-good",
                GREEN,
                format!("M{} {}l2.1 3.7h-4.2z", n(x + 2.1), n(y + 0.6)),
            ),
            _ => (
                "jd-bad",
                RED,
                format!("M{} {}l3.2 3.2m-3.2 0l3.2 -3.2", n(x + 0.6), n(y + 0.9)),
            ),
        };
        let paint = if self.side == Side::Good {
            format!(r#"fill="{colour}""#)
        } else {
            format!(r#"fill="none" stroke="{colour}" stroke-width="0.9" stroke-linecap="round""#)
        };
        let _ = write!(
            svg,
            r#"<g class="{class}"><path class="jd-mark" d="{mark}" {paint}/><text class="jd-word" x="{}" y="{}" font-family="{LETTERS}" font-size="{HEAD}" font-weight="{}" fill="{colour}">{}</text></g>"#,
            n(x + 6.0),
            n(y + 4.2),
            Weight::Bold.number(),
            escaped(&self.head),
        );
    }

    /// What is seen and why, from `y` down; gives the bottom.
    pub(super) fn caption(&self, svg: &mut String, x: f64, y: f64, room: f64) -> f64 {
        let lines = lines(&self.said, Weight::Regular, LETTER, room);
        let _ = write!(
            svg,
            r#"<text class="jd-caption" font-family="{LETTERS}" font-size="{LETTER}" fill="{INK}">"#
        );
        for (at, line) in lines.iter().enumerate() {
            let _ = write!(
                svg,
                r#"<tspan x="{}" y="{}">{}</tspan>"#,
                n(x),
                n(y + LETTER + at as f64 * LINE),
                escaped(line),
            );
        }
        svg.push_str("</text>");
        y + LETTER + (lines.len().saturating_sub(1)) as f64 * LINE + 1.0
    }
}
