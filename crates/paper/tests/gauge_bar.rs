//! Geometry of the gauge bar.

use calc::decision::{Limits, Rule, Verdict, judge};
use calc::units::Unit;
use paper::{GaugeBar, gauge_bar};
use proptest::prelude::*;
use words::Words;

fn bar(value: f64, expanded: f64, lower: Option<f64>, upper: Option<f64>) -> GaugeBar {
    let limits = Limits::new(lower, upper).expect("good limits");
    GaugeBar {
        value,
        expanded,
        limits,
        rule: Rule::Guarded,
        verdict: judge(value, expanded, limits, Rule::Guarded).expect("finite"),
        unit: Unit::Millimetre,
        decimals: 2,
        label: String::new(),
    }
    .labelled(Words::english(), "Collar diameter")
}

/// The numbers of an attribute, in all elements of `class`.
fn numbers(svg: &str, class: &str, attribute: &str) -> Vec<f64> {
    svg.split('<')
        .filter(|e| e.contains(&format!("class=\"{class}")))
        .filter_map(|e| e.split(&format!(" {attribute}=\"")).nth(1))
        .map(|rest| {
            let text = rest.split('"').next().unwrap_or_default();
            let digits = text.trim_start_matches('M');
            let end = digits.find([' ', 'V', 'H']).unwrap_or(digits.len());
            digits[..end].parse().expect("a number")
        })
        .collect()
}

/// Where the foot of the verdict's shape stands.
fn marker(svg: &str) -> f64 {
    let x = numbers(svg, "g-v", "d")[0];
    if svg.contains("g-reject") { x + 5.0 } else { x }
}

#[test]
fn it_says_what_it_shows() {
    let svg = gauge_bar(&bar(13.11, 0.02, Some(12.90), Some(13.12)));
    assert!(
        svg.contains(r#"aria-label="Collar diameter: 13.11 mm, undecided""#),
        "{svg}"
    );
    assert!(svg.contains(">12.90</text>") && svg.contains(">13.12</text>"));
    assert!(!svg.contains("var("), "paper has no style variables");
}

#[test]
fn a_value_between_the_limits_stands_between_their_ticks() {
    for (value, verdict) in [
        (12.91, "g-undecided"),
        (13.01, "g-accept"),
        (13.11, "g-undecided"),
    ] {
        let svg = gauge_bar(&bar(value, 0.02, Some(12.90), Some(13.12)));
        let ticks = numbers(&svg, "g-lim", "d");
        assert!(ticks[0] < marker(&svg) && marker(&svg) < ticks[1], "{svg}");
        assert!(svg.contains(verdict), "{svg}");
        assert!(!svg.contains("g-far"));
    }
}

#[test]
fn the_zones_are_the_verdicts() {
    let svg = gauge_bar(&bar(13.0, 0.02, Some(12.90), Some(13.12)));
    let edge = |class| numbers(&svg, class, "x")[0];
    let end = |class| edge(class) + numbers(&svg, class, "width")[0];
    let ticks = numbers(&svg, "g-lim", "d");
    assert!(edge("g-out") < edge("g-guard") && edge("g-guard") < ticks[0]);
    assert!(ticks[0] < edge("g-in") && end("g-in") < ticks[1]);
    assert!(ticks[1] < end("g-guard") && end("g-guard") < end("g-out"));
}

#[test]
fn a_doubt_wider_than_the_limits_leaves_no_zone_of_acceptance() {
    let svg = gauge_bar(&bar(14.4, 3.6, Some(12.5), Some(16.3)));
    assert!(!svg.contains("g-in\"") && svg.contains("g-guard") && svg.contains("g-undecided"));
}

#[test]
fn the_simple_rule_has_no_undecided_zone() {
    let simple = GaugeBar {
        rule: Rule::Simple,
        verdict: Verdict::Accept,
        ..bar(13.11, 0.02, Some(12.90), Some(13.12))
    };
    let svg = gauge_bar(&simple);
    assert!(!svg.contains("g-guard") && svg.contains("g-in"));
    let ticks = numbers(&svg, "g-lim", "d");
    assert!((numbers(&svg, "g-in", "x")[0] - ticks[0]).abs() < 0.11);
}

#[test]
fn far_values_are_held_at_the_end_with_an_arrow() {
    for (value, foot) in [(1.0, 16.0), (99.0, 284.0)] {
        let svg = gauge_bar(&bar(value, 0.02, Some(12.90), Some(13.12)));
        assert!(svg.contains("g-far") && svg.contains("g-reject"), "{svg}");
        assert!((marker(&svg) - foot).abs() < 0.11, "{svg}");
        assert!(!svg.contains("g-u\""), "no whisker outside the drawing");
    }
}

#[test]
fn one_limit_has_one_tick_and_the_good_side_open() {
    let svg = gauge_bar(&bar(31.6, 0.35, Some(30.4), None));
    assert_eq!(numbers(&svg, "g-lim", "d").len(), 1);
    let reaches = numbers(&svg, "g-in", "x")[0] + numbers(&svg, "g-in", "width")[0];
    assert!((reaches - 284.0).abs() < 0.2, "{svg}");
    let svg = gauge_bar(&bar(1.2, 0.1, None, Some(5.0)));
    assert!((numbers(&svg, "g-in", "x")[0] - 16.0).abs() < 0.2, "{svg}");
    assert!(marker(&svg) > 16.0 && !svg.contains("g-far"));
}

#[test]
fn labels_are_escaped() {
    let svg =
        gauge_bar(&bar(13.0, 0.0, Some(12.0), Some(14.0)).labelled(Words::english(), "<\"&>"));
    assert!(svg.contains("aria-label=\"&lt;&quot;&amp;&gt;:"), "{svg}");
}

proptest! {
    #[test]
    fn a_larger_value_never_stands_further_left(
        a in -50.0..150.0f64, b in -50.0..150.0f64, w in 0.0..5.0f64,
        low in 0.0..50.0f64, wide in 1.0..50.0f64, sides in 0..3u8,
    ) {
        let lower = (sides != 1).then_some(low);
        let upper = (sides != 2).then_some(low + wide);
        let at = |value| marker(&gauge_bar(&bar(value, w, lower, upper)));
        let (small, large) = if a < b { (a, b) } else { (b, a) };
        // Places are written to a tenth.
        prop_assert!(at(small) <= at(large) + 0.11, "{} {}", at(small), at(large));
    }

    #[test]
    fn everything_stays_on_the_sheet(
        value in -1e4..1e4f64, w in 0.0..100.0f64, low in -100.0..100.0f64, sides in 0..3u8,
    ) {
        let lower = (sides != 1).then_some(low);
        let upper = (sides != 2).then_some(low + 1.0);
        let svg = gauge_bar(&bar(value, w, lower, upper));
        for x in numbers(&svg, "g-lim", "d").into_iter().chain([marker(&svg)]) {
            prop_assert!((15.9..=284.1).contains(&x), "{svg}");
        }
    }
}
