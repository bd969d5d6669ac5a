//! Verdicts: a word, a shape and a colour.

use calc::decision::{Limits, Rule, Verdict};
use calc::units::Unit;
use maud::{Markup, PreEscaped, html};
use paper::GaugeBar;

use crate::shell::Page;

/// A verdict as a chip.
pub fn chip(p: &Page, verdict: Verdict) -> Markup {
    let class = match verdict {
        Verdict::Accept => "v acc",
        Verdict::Undecided => "v und",
        Verdict::Reject => "v rej",
    };
    html! { span class=(class) { (p.words.term(verdict)) } }
}

/// A reading against its limits, as the gauge bar.
#[allow(
    clippy::too_many_arguments,
    reason = "a reading is all of these; they are named at the call"
)]
pub fn bar(
    p: &Page,
    what: &str,
    value: f64,
    expanded: f64,
    limits: Limits,
    rule: Rule,
    verdict: Verdict,
    unit: Unit,
    decimals: usize,
) -> Markup {
    let bar = GaugeBar {
        value,
        expanded,
        limits,
        rule,
        verdict,
        unit,
        decimals,
        label: String::new(),
    };
    PreEscaped(paper::gauge_bar(&bar.labelled(p.words, what)))
}
