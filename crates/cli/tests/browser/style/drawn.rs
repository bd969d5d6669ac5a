//! Drawings over numbers: recorded pulls, and the run chart.

use maud::{Markup, PreEscaped, html};
use paper::PullPlot;
use paper::chart::{RunChart, run_chart};
use paper::pull_plot::{BandEdge, CurveLook, Event, PhaseMark, PullCurve, pull_plot};
use web::assets;

pub fn body() -> Markup {
    html! {
        div.sheet {
            nav aria-label="Stages" { ol.rule { li.now { a href="#main" aria-current="step" { b { "Proved" } } } } }
            article {
                div.head { h1 { "Drawings over numbers" } }
                section.stage.now {
                    h2 { "Recorded pulls" }
                    figure.plot data-in="Closer" data-out="Wider" data-whole="Whole" data-keys="Arrow keys move along the stroke."
                        data-stroke="Stroke, mm" data-force="Force, kN" {
                        (PreEscaped(pull_plot(&pulls())))
                        figcaption { "Each line is a pull." }
                    }
                    script type="module" src=(assets::url("plot.js")) {}
                    details.add-pulls open {
                        summary { "Add recorded pulls" }
                        form { div.field { label for="pulls" { "Files" } input #pulls type="file" multiple; } }
                    }
                    figure.chart { (PreEscaped(run_chart(&run()))) }
                }
            }
        }
    }
}

/// One pull of each look over a band, with a phase and a slip.
fn pulls() -> PullPlot {
    let curve = |name: &str, look: CurveLook, most: f64| PullCurve {
        name: name.to_owned(),
        points: vec![(0.0, 0.0), (4.0, 2.0), (14.0, most), (16.0, 0.4)],
        look,
    };
    let edge = |stroke_mm: f64, kn: f64| BandEdge {
        stroke_mm,
        lower_kn: kn - 0.5,
        upper_kn: kn + 0.5,
    };
    PullPlot {
        curves: vec![
            curve("Pull 1", CurveLook::Counts, 22.0),
            curve("Pull 2", CurveLook::Rejected, 18.0),
            curve("Pull 3", CurveLook::LeftOut, 21.0),
        ],
        band: vec![edge(4.0, 2.0), edge(14.0, 22.0)],
        phases: vec![PhaseMark {
            name: "Take-up".to_owned(),
            from_mm: 0.0,
            to_mm: 4.0,
        }],
        events: vec![Event {
            name: "Slip of 1.2 kN at 9.0 mm".to_owned(),
            stroke_mm: 9.0,
            force_kn: 11.0,
        }],
        axes: ("Stroke, mm".to_owned(), "Force, kN".to_owned()),
        label: "Three pulls, one of them rejected".to_owned(),
    }
}

fn run() -> RunChart {
    RunChart {
        values: vec![13.00, 13.02, 12.99, 13.01, 13.09],
        center: 13.01,
        run_limits: (12.96, 13.06),
        sheet_limits: (Some(12.90), Some(13.12)),
        signals: vec![4],
        decimals: 2,
        axes: ("Joint".to_owned(), "Collar, mm".to_owned()),
        label: "Five collars, the last beyond the limits of the run".to_owned(),
    }
}
