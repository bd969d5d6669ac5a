//! The run chart of what crews read at one setting: whether the joints stay what they were.

use calc::Message;
use calc::run_chart::{Basis, Chart, Signal, chart, working};
use calc::working::{fixed, places};
use maud::{Markup, PreEscaped, html};
use paper::chart::{RunChart, run_chart};
use shop::crew::{Inbox, Sent, SentState};
use shop::joint_numbers::values_of_crew;
use shop::sheet::{Criterion, Shelf};

use crate::shell::Page;
use crate::show;

/// Fewer readings show no run. Common practice, no source.
const FEWEST: usize = 8;
/// From so many on the limits of a run are steady (ISO 7870-2, from memory).
const ENOUGH: usize = 20;
/// Readings on a chart: the newest.
const MOST: usize = 60;

/// A chart for each criterion of the joints at the setting of the newest sending; nothing while there are few.
pub fn run(p: &Page, inbox: &Inbox, shelf: &Shelf) -> Markup {
    let is_declined = |sent: &&Sent| matches!(sent.state, SentState::Declined { .. });
    let standing: Vec<&Sent> = inbox.sent.iter().filter(|s| !is_declined(s)).collect();
    let Some(newest) = standing.last().map(|sent| &sent.body) else {
        return html! {};
    };
    let Some(fastener) = shelf.fastener(&(&newest.fastener).into()) else {
        return html! {};
    };
    let joints = standing.iter().map(|sent| &sent.body);
    let joints = joints.filter(|sent| {
        let is_same = sent.fastener.id == newest.fastener.id && sent.code == newest.code;
        is_same && sent.turns == newest.turns
    });
    let joints: Vec<_> = joints.flat_map(|sent| sent.joints.clone()).collect();
    html! {
        @for c in &fastener.criteria { (of_criterion(p, c, &values_of_crew(&joints, c))) }
    }
}

fn of_criterion(p: &Page, c: &Criterion, values: &[f64]) -> Markup {
    let values = &values[values.len().saturating_sub(MOST)..];
    if values.len() < FEWEST {
        return html! {};
    }
    let basis = Basis::First(values.len().min(ENOUGH));
    let Ok(found) = chart(values, basis, &Signal::ALL) else {
        return html! {};
    };
    let decimals = values.iter().map(|v| places(*v, 2)).max().unwrap_or(2);
    let mut at: Vec<usize> = found.signals.iter().map(|(_, at)| *at).collect();
    at.extend(&found.jumps);
    at.sort_unstable();
    at.dedup();
    let label = Message::new("run-label")
        .with("criterion", c.name.as_str())
        .with("count", values.len())
        .with("signals", at.len());
    let drawing = run_chart(&RunChart {
        values: values.to_vec(),
        center: found.center,
        run_limits: (found.lower(), found.upper()),
        sheet_limits: (c.limits.lower(), c.limits.upper()),
        signals: at,
        decimals,
        axes: (p.t("run-axis"), c.unit.symbol().to_owned()),
        label: p.say(&label),
    });
    let summary = Message::new("run-summary")
        .with("criterion", c.name.as_str())
        .with("count", values.len());
    html! {
        details {
            summary { (p.say(&summary)) }
            figure.chart { (PreEscaped(drawing)) }
            (said(p, c, values, &found, decimals))
            p.hint { (p.t("run-setting")) }
            @if values.len() < ENOUGH { p.hint { (p.t("run-few")) } }
            (show::working(p, &working(&found)))
        }
    }
}

/// What the chart says, in words.
fn said(p: &Page, c: &Criterion, values: &[f64], found: &Chart, decimals: usize) -> Markup {
    let signals = found
        .signals
        .iter()
        .map(|(signal, at)| (name(*signal), *at));
    let jumps = found.jumps.iter().map(|at| ("signal-jump", *at));
    let mut all: Vec<(&str, usize)> = signals.chain(jumps).collect();
    all.sort_by_key(|(_, at)| *at);
    let reads = |(what, at): &(&str, usize)| {
        let said = Message::new("run-reads")
            .with("what", p.t(what))
            .with("n", at + 1)
            .with("value", fixed(values[*at], decimals))
            .with("unit", c.unit.symbol());
        p.say(&said)
    };
    html! {
        @if found.is_steady() { p { (p.t("run-steady")) } }
        @else {
            p.note { (p.t("run-signals")) }
            ul { @for each in &all { li { (reads(each)) } } }
        }
    }
}

fn name(signal: Signal) -> &'static str {
    match signal {
        Signal::BeyondLimit => "signal-beyond-limit",
        Signal::NineOneSide => "signal-nine-one-side",
        Signal::SixTrend => "signal-six-trend",
        Signal::FourteenAlternating => "signal-fourteen-alternating",
        Signal::TwoOfThree => "signal-two-of-three",
        Signal::FourOfFive => "signal-four-of-five",
        Signal::FifteenWithin => "signal-fifteen-within",
        Signal::EightOutside => "signal-eight-outside",
    }
}
