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

/// So many of the first joints make the limits, which are kept when more come: a later shift does not widen them. Fewer
/// show no run. Common practice, no source.
const BASELINE: usize = 8;
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

/// The chart of all `values`, and how many of the first its limits rest on: more than [`BASELINE`] only where those are
/// all the same. `None` while there are too few.
fn chart_of(values: &[f64]) -> Option<(Chart, usize)> {
    let bases = BASELINE..=values.len();
    bases
        .into_iter()
        .find_map(|m| Some((chart(values, Basis::First(m), &Signal::ALL).ok()?, m)))
}

fn of_criterion(p: &Page, c: &Criterion, all: &[f64]) -> Markup {
    let Some((found, baseline)) = chart_of(all) else {
        return html! {};
    };
    // The newest are drawn, against limits from the first of all.
    let first = all.len().saturating_sub(MOST);
    let values = &all[first..];
    let decimals = values.iter().map(|v| places(*v, 2)).max().unwrap_or(2);
    let mut at: Vec<usize> = found.signals.iter().map(|(_, at)| *at).collect();
    at.extend(&found.jumps);
    at.retain(|at| *at >= first);
    at.iter_mut().for_each(|at| *at -= first);
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
        .with("count", all.len());
    html! {
        details {
            summary { (p.say(&summary)) }
            figure.chart { (PreEscaped(drawing)) }
            (said(p, c, all, &found, decimals))
            p.hint { (p.say(&Message::new("run-baseline").with("count", baseline))) }
            p.hint { (p.t("run-setting")) }
            (show::working(p, &working(&found)))
        }
    }
}

/// A kind of signal: where it first shows, and how many runs of it come after.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Told {
    what: &'static str,
    at: usize,
    again: usize,
}

/// Each kind of signal once, in the order in which they first show. Signals of one kind at values that follow each other
/// are one run.
fn told(found: &Chart) -> Vec<Told> {
    let signals = found.signals.iter().map(|(s, at)| (name(*s), *at));
    let jumps = found.jumps.iter().map(|at| ("signal-jump", *at));
    let mut all: Vec<(&'static str, usize)> = signals.chain(jumps).collect();
    all.sort_by_key(|(_, at)| *at);
    let mut told: Vec<Told> = Vec::new();
    for (what, at) in &all {
        let goes_on = all.iter().any(|(o, before)| o == what && before + 1 == *at);
        match told.iter_mut().find(|t| t.what == *what) {
            Some(known) => known.again += usize::from(!goes_on),
            None => told.push(Told {
                what,
                at: *at,
                again: 0,
            }),
        }
    }
    told
}

/// What the chart says, in words.
fn said(p: &Page, c: &Criterion, values: &[f64], found: &Chart, decimals: usize) -> Markup {
    let reads = |told: &Told| {
        let said = Message::new("run-reads")
            .with("what", p.t(told.what))
            .with("n", told.at + 1)
            .with("value", fixed(values[told.at], decimals))
            .with("unit", c.unit.symbol())
            .with("again", told.again);
        p.say(&said)
    };
    html! {
        @if found.is_steady() { p { (p.t("run-steady")) } }
        @else {
            p.note { (p.t("run-signals")) }
            ul { @for each in &told(found) { li { (reads(each)) } } }
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

#[cfg(test)]
mod tests {
    use super::*;

    /// Twelve steady joints, then `after`.
    fn run(after: &[f64]) -> Vec<f64> {
        let steady = [
            13.00, 13.01, 12.99, 13.00, 13.02, 12.99, 13.01, 12.98, 13.00, 13.01, 12.99, 13.00,
        ];
        steady.iter().chain(after).copied().collect()
    }

    #[test]
    fn a_step_is_told_where_it_comes_and_once_a_kind() {
        let values = run(&[13.10; 20]);
        let (found, baseline) = chart_of(&values).expect("enough");
        assert_eq!(baseline, 8);
        let told = told(&found);
        assert!(told.iter().all(|t| t.at >= 12), "{told:?}");
        assert_eq!(told[0].at, 12);
        // A line a kind, though each of the twenty completes several.
        assert!(found.signals.len() > 20 && told.len() <= 9, "{told:?}");
        let beyond = told.iter().find(|t| t.what == "signal-beyond-limit");
        assert_eq!(beyond.map(|t| (t.at, t.again)), Some((12, 0)));
    }

    #[test]
    fn limits_are_kept_when_more_come() {
        let few = chart_of(&run(&[])).expect("enough").0;
        let more = chart_of(&run(&[13.10; 20])).expect("enough").0;
        assert_eq!((few.center, few.deviation), (more.center, more.deviation));
        assert!(few.is_steady(), "{few:?}");
    }

    #[test]
    fn a_second_run_of_a_kind_is_counted() {
        let values = run(&[13.10, 13.00, 13.10, 13.10]);
        let (found, _) = chart_of(&values).expect("enough");
        let told = told(&found);
        let beyond = told.iter().find(|t| t.what == "signal-beyond-limit");
        assert_eq!(beyond.map(|t| (t.at, t.again)), Some((12, 1)));
    }

    #[test]
    fn a_baseline_without_spread_reaches_on_and_seven_are_too_few() {
        let alike = [13.0, 13.0, 13.0, 13.0, 13.0, 13.0, 13.0, 13.0, 13.01, 13.0];
        assert_eq!(chart_of(&alike).map(|(_, m)| m), Some(9));
        assert!(chart_of(&alike[..8]).is_none());
        assert!(chart_of(&run(&[])[..7]).is_none());
    }
}
