//! Joints drawn to scale.

use calc::decision::Limits;
use calc::screw_stop::Effect;
use paper::joint::{JointDrawing, JointFeature, JointSketch, joint};
use proptest::prelude::*;
use words::Words;

use crate::svg::{Element, elements};

fn limits(lower: f64, upper: f64) -> Limits {
    Limits::new(Some(lower), Some(upper)).expect("good limits")
}

/// The demo shop's fasteners.
fn sketches() -> [(&'static str, JointSketch); 5] {
    let sketch = |feature, diameter_mm, limits_mm, collar_mm, by_stroke: bool| JointSketch {
        feature,
        diameter_mm,
        limits_mm,
        collar_mm,
        if_low: by_stroke.then_some(Effect::Shortens),
        if_high: by_stroke.then_some(Effect::Lengthens),
    };
    let (m8, b12, d6) = (
        limits(12.90, 13.12),
        limits(20.80, 21.05),
        limits(9.45, 9.67),
    );
    [
        (
            "m8",
            sketch(JointFeature::Reach, 7.9, limits(0.7, 1.5), Some(m8), true),
        ),
        (
            "b12",
            sketch(
                JointFeature::PinEnd,
                12.7,
                limits(-1.5, 1.0),
                Some(b12),
                false,
            ),
        ),
        (
            "d6",
            sketch(
                JointFeature::PinEnd,
                6.4,
                limits(-1.0, 0.8),
                Some(d6),
                false,
            ),
        ),
        (
            "db4",
            sketch(JointFeature::StemEnd, 4.8, limits(-0.5, 0.5), None, false),
        ),
        (
            "rn6",
            sketch(JointFeature::SetLength, 6.0, limits(11.9, 12.7), None, true),
        ),
    ]
}

fn drawn(sketch: &JointSketch) -> (JointDrawing, Vec<Element>) {
    let drawing = joint(sketch, Words::english(), 190.0);
    let elements = elements(&drawing.svg);
    (drawing, elements)
}

fn with<'a>(elements: &'a [Element], class: &str) -> Vec<&'a Element> {
    elements.iter().filter(|e| e.has_class(class)).collect()
}

fn near(measured: f64, stated: f64) {
    assert!((measured - stated).abs() < 0.03, "{measured}, not {stated}");
}

#[test]
fn a_card_of_190_mm_shows_three_joints_to_scale() {
    for (name, sketch) in sketches() {
        let (drawing, elements) = drawn(&sketch);
        assert!(drawing.height_mm < 80.0, "{name}: {}", drawing.height_mm);
        let strips = with(&elements, "jd-in");
        assert_eq!(strips.len(), 3, "{name}");
        let (lower, upper) = (sketch.limits_mm.lower(), sketch.limits_mm.upper());
        let wide = upper.expect("a limit") - lower.expect("a limit");
        for strip in strips {
            near(strip.number("height"), drawing.scale * wide);
        }
    }
}

#[test]
fn the_collar_s_edges_stand_at_its_limits() {
    for (name, sketch) in sketches() {
        let (drawing, elements) = drawn(&sketch);
        let edges = with(&elements, "jd-edge");
        let Some(collar) = sketch.collar_mm else {
            assert!(edges.is_empty(), "{name}");
            continue;
        };
        // Left and right edge of each of three joints.
        assert_eq!(edges.len(), 6, "{name}");
        for pair in edges.chunks(2) {
            let bounds: Vec<_> = pair.iter().filter_map(|e| e.bounds()).collect();
            near(
                bounds[1][2] - bounds[0][0],
                drawing.scale * collar.upper().expect("a limit"),
            );
            near(
                bounds[1][0] - bounds[0][2],
                drawing.scale * collar.lower().expect("a limit"),
            );
        }
    }
}

/// The end of the land, the pin, the stem or the nut stands in the green on the good joint only.
#[test]
fn only_the_good_joint_stands_in_the_green() {
    for (name, sketch) in sketches() {
        let (_, elements) = drawn(&sketch);
        let levels = with(&elements, "jd-level");
        let strips = with(&elements, "jd-in");
        let arrows: Vec<_> = levels
            .iter()
            .filter(|e| e.get("stroke").is_none())
            .collect();
        assert_eq!(arrows.len(), 3, "{name}");
        for (at, (arrow, strip)) in arrows.iter().zip(strips).enumerate() {
            let [_, top, _, bottom] = arrow.bounds().expect("an arrow");
            let [_, from, _, to] = strip.bounds().expect("a strip");
            let inside = (from..=to).contains(&f64::midpoint(top, bottom));
            assert_eq!(inside, at == 0, "{name} {at}");
            assert_eq!(arrow.has_class("is-good"), at == 0);
        }
    }
}

#[test]
fn the_stroke_is_named_where_it_is_the_cause() {
    let [(_, reach), (_, pin), ..] = sketches();
    let captions = |sketch: &JointSketch| -> Vec<String> {
        let (_, elements) = drawn(sketch);
        let mut said = vec![String::new()];
        for element in &elements {
            match element.name.as_str() {
                "text" if element.has_class("jd-caption") => said.push(String::new()),
                "tspan" => {
                    let last = said.last_mut().expect("a caption is open");
                    *last += &format!("{} ", element.text);
                }
                _ => {}
            }
        }
        said
    };
    let said = captions(&reach);
    assert!(
        said[2].contains("shoulder") && said[2].contains("too short"),
        "{said:?}"
    );
    assert!(
        said[3].contains("into the flange") && said[3].contains("too long"),
        "{said:?}"
    );
    let said = captions(&pin);
    assert!(!said.concat().contains("stroke"), "{said:?}");
    assert!(
        said[2].contains("-1.5\u{a0}mm") && said[3].contains("1.0\u{a0}mm"),
        "{said:?}"
    );
}

#[test]
fn one_limit_gives_one_bad_joint() {
    let (_, mut sketch) = sketches()[0];
    sketch.limits_mm = Limits::new(None, Some(1.5)).expect("a limit");
    sketch.collar_mm = Limits::new(None, Some(13.12)).ok();
    let (_, elements) = drawn(&sketch);
    assert_eq!(with(&elements, "jd-good").len(), 1);
    assert_eq!(with(&elements, "jd-bad").len(), 1);
    // Nothing can be nearer to the flange than the flange.
    sketch.limits_mm = limits(0.0, 1.5);
    assert_eq!(with(&drawn(&sketch).1, "jd-bad").len(), 1);
}

#[test]
fn a_telephone_gets_them_below_each_other() {
    let (_, sketch) = sketches()[0];
    let narrow = joint(&sketch, Words::english(), 60.0);
    let wide = joint(&sketch, Words::english(), 190.0);
    assert!(narrow.height_mm > 2.5 * wide.height_mm);
}

#[test]
fn scales_are_written_as_usual() {
    let (_, sketch) = sketches()[0];
    let mut drawing = joint(&sketch, Words::english(), 190.0);
    for (scale, text) in [
        (2.0, "2 : 1"),
        (1.5, "1.5 : 1"),
        (1.0, "1 : 1"),
        (0.5, "1 : 2"),
    ] {
        drawing.scale = scale;
        assert_eq!(drawing.scale_text().replace('\u{a0}', " "), text);
    }
}

proptest! {
    #[test]
    fn nothing_lies_outside(
        at in 0..4usize, d in 2.0..40.0f64, low in -0.3..0.5f64, wide in 0.02..0.6f64,
        collar in 1.2..2.2f64, width in 40.0..400.0f64, sides in 0..3u8,
    ) {
        let feature = [
            JointFeature::Reach,
            JointFeature::PinEnd,
            JointFeature::StemEnd,
            JointFeature::SetLength,
        ][at];
        let shift = if at == 3 { 2.0 * d } else { 0.0 };
        let lower = (sides != 1).then_some(shift + low * d);
        let upper = (sides != 2).then_some(shift + (low + wide) * d);
        let sketch = JointSketch {
            feature,
            diameter_mm: d,
            limits_mm: Limits::new(lower, upper).expect("good limits"),
            collar_mm: (at < 2).then(|| limits(collar * d, collar * d + 0.3)),
            if_low: None,
            if_high: None,
        };
        let drawing = joint(&sketch, Words::english(), width);
        for element in elements(&drawing.svg) {
            if let Some([l, t, r, b]) = element.bounds() {
                let inside = l >= -0.01 && t >= -0.01
                    && r <= drawing.width_mm + 0.01 && b <= drawing.height_mm + 0.01;
                prop_assert!(inside, "{element:?} {} {}", drawing.width_mm, drawing.height_mm);
            }
        }
    }
}
