//! Joints drawn to scale: a good one beside those that miss a limit, each with a scale of its own at
//! the right on which the edge that counts must stand in the green.
//!
//! A unit of the drawing is a millimetre of paper. Only what has limits is to scale; flanges,
//! heads, plates and tails are sketched in proportion to the fastener's diameter.

mod collar;
mod nut;
mod pen;
mod picture;
mod rivet;
mod strip;

use std::fmt::Write as _;

use calc::Message;
use calc::decision::Limits;
use calc::screw_stop::Effect;
use words::Words;

use crate::svg::{escaped, n};
use pen::Pen;

/// What a joint is drawn from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointSketch {
    /// What tells a good joint.
    pub feature: JointFeature,
    /// Nominal diameter of the fastener, mm.
    pub diameter_mm: f64,
    /// Limits of the feature, mm.
    pub limits_mm: Limits,
    /// Collar diameter over the swaged land, mm; of collars only.
    pub collar_mm: Option<Limits>,
    /// What the stroke must do when the feature measures too low, if the stroke is the cause.
    pub if_low: Option<Effect>,
    /// What the stroke must do when the feature measures too high, if the stroke is the cause.
    pub if_high: Option<Effect>,
}

/// What tells a good joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JointFeature {
    /// Collar: from the flange to the end of the swaged land.
    Reach,
    /// Collar: the pin's end above (+) or below (−) the collar's.
    PinEnd,
    /// Blind rivet: the stem's end above (+) or below (−) the head.
    StemEnd,
    /// Rivet nut: its length below the head when set.
    SetLength,
}

/// A drawing of joints.
#[derive(Clone, Debug, PartialEq)]
pub struct JointDrawing {
    /// SVG element; a unit is a millimetre when it is set [`JointDrawing::width_mm`] wide.
    pub svg: String,
    /// Width, mm.
    pub width_mm: f64,
    /// Height, mm.
    pub height_mm: f64,
    /// Millimetres of paper to a millimetre of the joint.
    pub scale: f64,
}

impl JointDrawing {
    /// The scale as written, such as `2 : 1`.
    pub fn scale_text(&self) -> String {
        let side = |length: f64| n(length);
        if self.scale < 1.0 {
            format!("1\u{a0}:\u{a0}{}", side(1.0 / self.scale))
        } else {
            format!("{}\u{a0}:\u{a0}1", side(self.scale))
        }
    }
}

/// Scales, largest first.
const SCALES: [f64; 9] = [5.0, 4.0, 3.0, 2.0, 1.5, 1.0, 0.5, 0.2, 0.1];
/// No column of a picture is narrower, mm.
const COLUMN: f64 = 52.0;
/// Between columns, mm.
const GUTTER: f64 = 6.0;
/// No joint is drawn higher, mm.
const HIGHEST: f64 = 46.0;
/// Above and below a joint: heading, and distance to the caption, mm.
const HEADING: f64 = 8.5;
const ABOVE_CAPTION: f64 = 4.5;
/// Between pictures that stand below each other, mm.
const BETWEEN: f64 = 7.0;

/// The drawing, `width_mm` wide. The pictures stand side by side, or below each other where there is
/// no room.
pub fn joint(sketch: &JointSketch, words: &Words, width_mm: f64) -> JointDrawing {
    let width = if width_mm.is_finite() {
        width_mm.max(COLUMN)
    } else {
        COLUMN
    };
    let pictures = picture::pictures(sketch, words);
    let columns = (((width + GUTTER) / (COLUMN + GUTTER)) as usize).clamp(1, pictures.len().max(1));
    let column = (width - GUTTER * (columns - 1) as f64) / columns as f64;
    let shown = strip::ends(sketch, &pictures);
    let outline = Outline::of(sketch, shown);
    let scale = outline.scale(column);
    let high = (outline.above + outline.below) * scale;

    let mut body = String::new();
    let mut top = 0.0;
    for row in pictures.chunks(columns) {
        let mut bottom: f64 = top;
        for (at, picture) in row.iter().enumerate() {
            let left = at as f64 * (column + GUTTER);
            picture.heading(&mut body, left, top);
            let mut pen = Pen {
                svg: &mut body,
                x: left + outline.half * scale + 1.0,
                y: top + HEADING + outline.above * scale,
                scale,
            };
            match sketch.feature {
                JointFeature::Reach | JointFeature::PinEnd => {
                    collar::draw(&mut pen, sketch, picture)
                }
                JointFeature::StemEnd => rivet::draw(&mut pen, sketch, picture),
                JointFeature::SetLength => nut::draw(&mut pen, sketch, picture),
            }
            strip::draw(&mut pen, sketch, picture, outline.half, zero(sketch), shown);
            let under = top + HEADING + high + ABOVE_CAPTION;
            bottom = bottom.max(picture.caption(&mut body, left, under, column));
        }
        top = bottom + BETWEEN;
    }
    let height = (top - BETWEEN).max(1.0);
    let label = escaped(&words.say(&Message::new("sketch-label")));
    let mut svg = String::new();
    let _ = write!(
        svg,
        r#"<svg xmlns="http://www.w3.org/2000/svg" class="joint" viewBox="0 0 {} {}" role="img" aria-label="{label}"><title>{label}</title>{body}</svg>"#,
        n(width),
        n(height),
    );
    JointDrawing {
        svg,
        width_mm: width,
        height_mm: height,
        scale,
    }
}

/// Height of the feature's zero above the sheet's face, mm, and which way it counts.
fn zero(sketch: &JointSketch) -> (f64, f64) {
    let d = sketch.diameter_mm;
    match sketch.feature {
        JointFeature::Reach => (collar::flange(d), 1.0),
        JointFeature::PinEnd => (collar::height(d), 1.0),
        JointFeature::StemEnd => (rivet::head(d), 1.0),
        JointFeature::SetLength => (0.0, -1.0),
    }
}

/// The room that every picture of a drawing needs, mm of the joint.
struct Outline {
    /// Left and right of the axis.
    half: f64,
    /// Above the sheet's face.
    above: f64,
    below: f64,
}

impl Outline {
    fn of(sketch: &JointSketch, (low, high): (f64, f64)) -> Self {
        let mut outline = match sketch.feature {
            JointFeature::Reach | JointFeature::PinEnd => collar::outline(sketch),
            JointFeature::StemEnd => rivet::outline(sketch.diameter_mm),
            JointFeature::SetLength => nut::outline(sketch.diameter_mm),
        };
        // What is measured is shown whole, and its scale with it.
        let (zero, way) = zero(sketch);
        for end in [zero + way * low, zero + way * high] {
            outline.above = outline.above.max(end);
            outline.below = outline.below.max(-end);
        }
        outline
    }

    /// The largest scale at which a picture with its strip fits.
    fn scale(&self, column: f64) -> f64 {
        let fits = |scale: &f64| {
            2.0 * self.half * scale + strip::WIDTH + 1.5 <= column
                && (self.above + self.below) * scale <= HIGHEST
        };
        SCALES.into_iter().find(fits).unwrap_or(SCALES[8])
    }
}
