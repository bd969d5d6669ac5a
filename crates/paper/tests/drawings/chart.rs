//! The operating curve and the run chart.

use paper::chart::{OperatingCurve, RunChart, operating_curve, run_chart};

use crate::svg::elements;

fn curve() -> OperatingCurve {
    OperatingCurve {
        points: vec![(0.0, 100.0), (5.0, 60.0), (10.0, 20.0), (20.0, 0.0)],
        good: (1.0, 95.0),
        bad: (12.0, 10.0),
        decimals: 1,
        axes: ("Bad joints, %".to_owned(), "Accepted, %".to_owned()),
        label: "Curve <of> 50".to_owned(),
    }
}

fn chart() -> RunChart {
    RunChart {
        values: vec![13.0, 13.01, 12.99, 13.20],
        center: 13.0,
        run_limits: (12.95, 13.05),
        sheet_limits: (Some(12.90), Some(13.12)),
        signals: vec![3],
        decimals: 2,
        axes: ("Joint".to_owned(), "mm".to_owned()),
        label: "Four joints".to_owned(),
    }
}

#[test]
fn the_curve_falls_from_left_to_right_and_marks_both_shares() {
    let svg = operating_curve(&curve());
    let found = elements(&svg);
    let class = |name: &str| found.iter().filter(|e| e.has_class(name)).count();
    assert_eq!((class("curve"), class("good"), class("bad")), (1, 1, 1));
    assert!(svg.contains("aria-label=\"Curve &lt;of&gt; 50\""), "{svg}");
    // 0 % bad is always accepted: the curve begins at the top left corner of the frame.
    assert!(svg.contains("d=\"M52 12L"), "{svg}");
    assert!(svg.contains("L348 176\""), "{svg}");
}

#[test]
fn a_signal_is_drawn_in_another_shape_than_a_reading() {
    let svg = run_chart(&chart());
    let found = elements(&svg);
    let class = |name: &str| found.iter().filter(|e| e.has_class(name)).count();
    assert_eq!((class("reading"), class("signal")), (3, 1));
    assert_eq!(
        (class("run-limit"), class("sheet-limit"), class("center")),
        (2, 2, 1)
    );
}

#[test]
fn odd_numbers_stay_inside_the_frame() {
    let mut odd = chart();
    odd.values = vec![f64::NAN, 1e300, -1e300];
    let mut alone = chart();
    alone.values = vec![13.0];
    alone.run_limits = (13.0, 13.0);
    alone.sheet_limits = (None, None);
    let mut none = curve();
    none.points.clear();
    for svg in [run_chart(&odd), run_chart(&alone), operating_curve(&none)] {
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
    }
}

#[test]
fn a_number_stands_where_it_says() {
    let mut six = chart();
    six.values = vec![13.0; 6];
    let svg = run_chart(&six);
    // By hand: from 1 to 6 over 52 to 348; a quarter is 2.25, written and placed as 2: 52 + 296 / 5 = 111.2.
    assert!(svg.contains("x=\"111.2\" y=\"190\""), "{svg}");
}

#[test]
fn no_style_stands_in_a_chart() {
    for svg in [run_chart(&chart()), operating_curve(&curve())] {
        assert!(!svg.contains("style="), "{svg}");
    }
}
