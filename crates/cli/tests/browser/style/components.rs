//! Small parts that several style pages show.

use calc::decision::{Limits, Rule, Verdict};
use calc::screw_stop::Rotation;
use calc::units::Unit;
use maud::{Markup, PreEscaped, html};
use paper::GaugeBar;
use words::Words;

/// The chip of a verdict.
pub fn chip(verdict: Verdict) -> Markup {
    let class = match verdict {
        Verdict::Accept => "v acc",
        Verdict::Undecided => "v und",
        Verdict::Reject => "v rej",
    };
    html! { span class=(class) { (Words::english().term(verdict)) } }
}

/// The gauge bar of a collar diameter.
pub fn bar(value: f64, limits: Limits, verdict: Verdict) -> Markup {
    let bar = GaugeBar {
        value,
        expanded: 0.02,
        limits,
        rule: Rule::Guarded,
        verdict,
        unit: Unit::Millimetre,
        decimals: 2,
        label: String::new(),
    };
    PreEscaped(paper::gauge_bar(
        &bar.labelled(Words::english(), "Collar diameter"),
    ))
}

/// The arrow of a sense of turning.
pub fn arrow(rotation: Rotation) -> Markup {
    PreEscaped(paper::turn_arrow(rotation))
}
