//! Force over stroke of recorded pulls: one drawing for screen and paper.
//!
//! Pulls lie over each other, before them the band of good ones; phases are named along the top, events marked where
//! they are. Every colour stands as an attribute for paper, beside a class with which a page can restyle it. Where the
//! plot lies and what it spans stands in `data-` attributes, so that a script can read places off it.

mod axes;

use std::fmt::Write as _;

use axes::{Axis, BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH};

use crate::lettering::{self, Weight};
use crate::svg::{INK, LETTERS, RED, SOFT, escaped, n};

/// What is drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PullPlot {
    /// The pulls.
    pub curves: Vec<PullCurve>,
    /// The band of good pulls, by stroke; empty where there is none.
    pub band: Vec<BandEdge>,
    /// Phases.
    pub phases: Vec<PhaseMark>,
    /// Events.
    pub events: Vec<Event>,
    /// Words beside the axes: stroke, force.
    pub axes: (String, String),
    /// What the drawing says, for those who cannot see it.
    pub label: String,
}

/// One pull.
#[derive(Clone, Debug, PartialEq)]
pub struct PullCurve {
    /// Name.
    pub name: String,
    /// Stroke from home, mm, and force, kN.
    pub points: Vec<(f64, f64)>,
    /// How it is drawn.
    pub look: CurveLook,
}

/// How a pull is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CurveLook {
    /// It counts.
    Counts,
    /// It counts, and is rejected.
    Rejected,
    /// It does not count.
    LeftOut,
}

/// The band at one stroke.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BandEdge {
    /// Stroke from home, mm.
    pub stroke_mm: f64,
    /// Lowest good force, kN.
    pub lower_kn: f64,
    /// Highest good force, kN.
    pub upper_kn: f64,
}

/// A phase along the stroke.
#[derive(Clone, Debug, PartialEq)]
pub struct PhaseMark {
    /// Name.
    pub name: String,
    /// Stroke at its begin, mm.
    pub from_mm: f64,
    /// Stroke at its end, mm.
    pub to_mm: f64,
}

/// Something that happened.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// What.
    pub name: String,
    /// Stroke from home, mm.
    pub stroke_mm: f64,
    /// Force, kN.
    pub force_kn: f64,
}

/// The drawing, as an SVG element.
pub fn pull_plot(plot: &PullPlot) -> String {
    let points = plot.curves.iter().flat_map(|curve| &curve.points);
    let edges = plot.band.iter();
    let most = |values: &mut dyn Iterator<Item = f64>| values.fold(0.0, f64::max);
    let x = Axis::across(most(&mut points.clone().map(|p| p.0)));
    let y = Axis::up(most(
        &mut points.map(|p| p.1).chain(edges.map(|e| e.upper_kn)),
    ));
    let mut svg = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" class="pull-plot" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{label}" data-x="{LEFT} {RIGHT} 0 {x_most}" data-y="{BOTTOM} {TOP} 0 {y_most}"><rect class="pp-ground" width="{WIDTH}" height="{HEIGHT}" fill="white"/>"#,
        label = escaped(&plot.label),
        x_most = n(x.most),
        y_most = n(y.most),
    );
    axes::draw(&mut svg, &x, &y, &plot.axes);
    band(&mut svg, plot, &x, &y);
    phases(&mut svg, plot, &x);
    for look in [CurveLook::LeftOut, CurveLook::Counts, CurveLook::Rejected] {
        for curve in plot.curves.iter().filter(|curve| curve.look == look) {
            line(&mut svg, curve, &x, &y);
        }
    }
    events(&mut svg, plot, &x, &y);
    svg.push_str("</svg>");
    svg
}

fn through(points: impl Iterator<Item = (f64, f64)>) -> String {
    let mut path = String::new();
    for (i, (x, y)) in points.enumerate() {
        let _ = write!(path, "{}{x:.1} {y:.1}", if i == 0 { "M" } else { "L" });
    }
    path
}

fn band(svg: &mut String, plot: &PullPlot, x: &Axis, y: &Axis) {
    if plot.band.len() < 2 {
        return;
    }
    let upper = plot
        .band
        .iter()
        .map(|e| (x.at(e.stroke_mm), y.at(e.upper_kn)));
    let lower = plot.band.iter().rev();
    let lower = lower.map(|e| (x.at(e.stroke_mm), y.at(e.lower_kn.max(0.0))));
    let path = through(upper.chain(lower));
    let _ = write!(
        svg,
        r##"<path class="pp-band" d="{path}Z" fill="#cfe3d5" stroke="#2c7a4b" stroke-width=".6"/>"##
    );
}

/// A line at each end, the name in the middle: on the second row where the first has no room.
fn phases(svg: &mut String, plot: &PullPlot, x: &Axis) {
    const SIZE: f64 = 10.0;
    let mut ends = [f64::MIN; 2];
    for phase in &plot.phases {
        let (from, to) = (x.at(phase.from_mm), x.at(phase.to_mm));
        let wide = lettering::width(&phase.name, Weight::Regular, SIZE);
        let middle = f64::midpoint(from, to).clamp(LEFT + wide / 2.0, RIGHT - wide / 2.0);
        let row = usize::from(middle - wide / 2.0 < ends[0] + 4.0);
        ends[row] = middle + wide / 2.0;
        let base = TOP - 16.0 + 12.0 * row as f64;
        let _ = write!(
            svg,
            r#"<path class="pp-phase" d="M{to:.1} {TOP}V{BOTTOM}" stroke="{SOFT}" stroke-width=".6" stroke-dasharray="3 3"/><text class="pp-t" x="{middle:.1}" y="{base}" font-family="{LETTERS}" font-size="{SIZE}" fill="{SOFT}" text-anchor="middle">{name}</text>"#,
            name = escaped(&phase.name),
        );
    }
}

fn line(svg: &mut String, curve: &PullCurve, x: &Axis, y: &Axis) {
    let path = through(curve.points.iter().map(|(s, f)| (x.at(*s), y.at(*f))));
    let (class, paint) = match curve.look {
        CurveLook::Counts => ("pp-curve", format!(r#"stroke="{INK}" stroke-width="1.1""#)),
        CurveLook::Rejected => (
            "pp-curve pp-bad",
            format!(r#"stroke="{RED}" stroke-width="1.5""#),
        ),
        CurveLook::LeftOut => (
            "pp-curve pp-out",
            format!(r#"stroke="{SOFT}" stroke-width=".8" stroke-dasharray="2 2""#),
        ),
    };
    let _ = write!(
        svg,
        r#"<path class="{class}" data-name="{name}" d="{path}" fill="none" {paint} stroke-linejoin="round"/>"#,
        name = escaped(&curve.name),
    );
}

/// A ring at each event; the page says its name when the pointer or the keys come to it, and it stands in the table beside the drawing.
fn events(svg: &mut String, plot: &PullPlot, x: &Axis, y: &Axis) {
    for event in &plot.events {
        let _ = write!(
            svg,
            r#"<circle class="pp-event" cx="{:.1}" cy="{:.1}" r="4" fill="none" stroke="{RED}" stroke-width="1.4"><title>{}</title></circle>"#,
            x.at(event.stroke_mm),
            y.at(event.force_kn),
            escaped(&event.name),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plot() -> PullPlot {
        let rise =
            |top: f64| (0..=40).map(move |i| (f64::from(i) * 0.25, f64::from(i) * top / 40.0));
        PullPlot {
            curves: vec![
                PullCurve {
                    name: "Pull <1>".to_owned(),
                    points: rise(14.8).collect(),
                    look: CurveLook::Counts,
                },
                PullCurve {
                    name: "Pull 2".to_owned(),
                    points: rise(11.0).collect(),
                    look: CurveLook::Rejected,
                },
            ],
            band: vec![
                BandEdge {
                    stroke_mm: 1.0,
                    lower_kn: -0.2,
                    upper_kn: 2.0,
                },
                BandEdge {
                    stroke_mm: 9.0,
                    lower_kn: 12.0,
                    upper_kn: 15.0,
                },
            ],
            phases: vec![
                PhaseMark {
                    name: "take-up".to_owned(),
                    from_mm: 0.0,
                    to_mm: 1.5,
                },
                PhaseMark {
                    name: "pull-up".to_owned(),
                    from_mm: 1.5,
                    to_mm: 3.0,
                },
            ],
            events: vec![Event {
                name: "slip".to_owned(),
                stroke_mm: 5.0,
                force_kn: 7.0,
            }],
            axes: ("Stroke, mm".to_owned(), "Force, kN".to_owned()),
            label: "two pulls".to_owned(),
        }
    }

    #[test]
    fn everything_lies_within_the_axes() {
        let svg = pull_plot(&plot());
        assert!(svg.contains("data-y=\"256 40 0 16\""), "{svg}");
        for path in svg.split(" d=\"").skip(1) {
            let path = path.split('"').next().expect("an end");
            for place in path
                .split(['M', 'L', 'Z'])
                .filter(|p| p.contains(' ') && !p.contains('V'))
            {
                let (x, y) = place.split_once(' ').expect("two numbers");
                let (Ok(x), Ok(y)) = (x.parse::<f64>(), y.parse::<f64>()) else {
                    continue;
                };
                assert!((LEFT - 6.0..=RIGHT + 0.1).contains(&x), "{place}");
                assert!((TOP - 0.1..=BOTTOM + 6.0).contains(&y), "{place}");
            }
        }
    }

    #[test]
    fn a_pull_that_is_rejected_looks_it_and_names_are_escaped() {
        let svg = pull_plot(&plot());
        assert_eq!(svg.matches("pp-bad").count(), 1);
        assert_eq!(svg.matches("pp-event").count(), 1);
        assert!(svg.contains("Pull &lt;1&gt;") && !svg.contains("<1>"));
        assert!(!svg.contains("style="));
    }

    #[test]
    fn nothing_recorded_still_has_axes() {
        let svg = pull_plot(&PullPlot::default());
        assert!(svg.contains("data-x=\"46 410 0 1\""), "{svg}");
    }
}
