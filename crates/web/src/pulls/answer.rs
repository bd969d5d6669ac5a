//! What pulls come down to: verdict, peak, stroke, and what stands against them.

use calc::Message;
use calc::working::fixed;
use maud::{Markup, html};
use shop::entry::{FeatureRead, Outcome, PullRead, PullsRead};
use shop::pulls::FEWEST;
use shop::sheet::Feature;

use super::names;
use crate::job::view::View;
use crate::show;

/// The answer, large.
pub(super) fn answer(v: &View, read: &PullsRead) -> Markup {
    html! {
        div.answer {
            p.lab { (what(v, read)) }
            @if let Some(outcome) = read.outcome { p { (show::chip(v.p, outcome.into())) } }
            @for feature in [Feature::Peak, Feature::Stroke] {
                @if let Some(text) = summed(v, read, feature) { p.mid { (text) } }
            }
            @for line in against(v, read) { p { (line) } }
            p.pm { (band_text(v, read)) }
            @if let Some(text) = gauges_text(v, read) { p.pm { (text) } }
        }
    }
}

/// What was pulled, and how many count.
pub(super) fn what(v: &View, read: &PullsRead) -> String {
    let fastener = read.fastener.as_ref();
    let named = fastener.and_then(|f| v.desk.shelf.fastener(&f.into()));
    let said = match named {
        Some(fastener) => Message::new("pulls-of").with("fastener", fastener.name.as_str()),
        None => Message::new("pulls-to-stall"),
    };
    let said = said
        .with("count", read.pulls.len())
        .with("found", read.found);
    v.say(&said)
}

/// Mean of a number with its uncertainty, and from where to where it goes.
pub(super) fn summed(v: &View, read: &PullsRead, feature: Feature) -> Option<String> {
    let of = |pull: &PullRead| one(pull, feature).map(|f| (f.value, f.expanded));
    let all: Vec<(f64, f64)> = read.pulls.iter().filter_map(of).collect();
    let count = all.len() as f64;
    let mean = all.iter().map(|f| f.0).sum::<f64>() / count;
    let widest = all.iter().map(|f| f.1).fold(0.0, f64::max);
    let least = all.iter().map(|f| f.0).fold(f64::MAX, f64::min);
    let most = all.iter().map(|f| f.0).fold(f64::MIN, f64::max);
    let decimals = feature.decimals();
    let said = Message::new(if all.len() > 1 {
        "pulls-mean"
    } else {
        "pulls-one"
    })
    .with("what", v.t(names::plain(feature)))
    .with("unit", feature.symbol())
    .number("value", mean, decimals)
    .number("expanded", widest, decimals)
    .number("least", least, decimals)
    .number("most", most, decimals);
    (!all.is_empty()).then(|| v.say(&said))
}

/// The number of `pull` that is kept under `feature`.
pub(super) fn one(pull: &PullRead, feature: Feature) -> Option<&FeatureRead> {
    pull.features.iter().find(|f| f.feature == feature.key())
}

/// Value with its uncertainty and unit.
pub(super) fn value_text(feature: Feature, value: f64, expanded: f64) -> String {
    let decimals = feature.decimals();
    let unit = feature.symbol();
    let space = if unit.is_empty() { "" } else { " " };
    if expanded > 0.0 {
        format!(
            "{} ± {}{space}{unit}",
            fixed(value, decimals),
            fixed(expanded, decimals)
        )
    } else {
        format!("{}{space}{unit}", fixed(value, decimals))
    }
}

/// Limits in words; empty where there are none.
pub(super) fn limits_text(v: &View, feature: Feature, read: &FeatureRead) -> String {
    // A slip has no half: what stands in the record is one and less.
    if feature == Feature::Slips && read.upper == Some(0.5) {
        return v.t("pulls-no-slip");
    }
    let limits = calc::decision::Limits::new(read.lower, read.upper);
    limits.map_or(String::new(), |limits| {
        show::limits(v.p, &limits, feature.symbol())
    })
}

/// Each number that is not accepted, with what it speaks for.
pub(super) fn against(v: &View, read: &PullsRead) -> Vec<String> {
    let mut lines = Vec::new();
    let spoiled = read.pulls.iter().filter(|pull| pull.spoiled);
    let spoiled: Vec<String> = spoiled.map(|pull| pull.number.to_string()).collect();
    if !spoiled.is_empty() {
        let said = Message::new("pulls-spoiled")
            .with("pulls", spoiled.join(", "))
            .with("note", read.note.as_str());
        lines.push(v.say(&said));
    }
    for feature in Feature::ALL {
        let of = |pull: &PullRead, wanted: Outcome| {
            one(pull, feature).is_some_and(|f| f.outcome == Some(wanted))
        };
        for (outcome, id) in [
            (Outcome::Reject, "pulls-rejected"),
            (Outcome::Undecided, "pulls-undecided"),
        ] {
            let of_it: Vec<&PullRead> = read.pulls.iter().filter(|p| of(p, outcome)).collect();
            let reads = of_it.iter().filter_map(|pull| one(pull, feature));
            let worst = reads.max_by(|a, b| beyond(a).total_cmp(&beyond(b)));
            let Some(worst) = worst else {
                continue;
            };
            let numbers: Vec<String> = of_it.iter().map(|p| p.number.to_string()).collect();
            let said = Message::new(id)
                .with("what", v.t(names::plain(feature)))
                .with("pulls", numbers.join(", "))
                .with("value", value_text(feature, worst.value, worst.expanded))
                .with("limits", limits_text(v, feature, worst));
            let meaning = names::meaning(feature).filter(|_| outcome == Outcome::Reject);
            let meaning = meaning
                .map(|id| format!(" {}", v.t(id)))
                .unwrap_or_default();
            lines.push(format!("{}{meaning}", v.say(&said)));
        }
    }
    lines
}

/// How far a number lies beyond the nearer of its limits; less than nothing inside them.
fn beyond(read: &FeatureRead) -> f64 {
    let below = read.lower.map(|lower| lower - read.value);
    let above = read.upper.map(|upper| read.value - upper);
    below.into_iter().chain(above).fold(f64::MIN, f64::max)
}

/// How the pulls lie to the good ones, or why there is nothing to hold them against.
pub(super) fn band_text(v: &View, read: &PullsRead) -> String {
    let Some(band) = &read.band else {
        let id = match read.fastener {
            Some(_) => "pulls-no-band",
            None => "pulls-no-band-to-stall",
        };
        return v.say(&Message::new(id).with("need", FEWEST));
    };
    let like = |wanted: Outcome| {
        let all = read.pulls.iter();
        all.filter(|pull| pull.like == Some(wanted)).count()
    };
    let said = v.say(
        &Message::new("pulls-band")
            .with("good", band.pulls)
            .number("share", 100.0 * band.share, 0)
            .with("inside", like(Outcome::Accept))
            .with("undecided", like(Outcome::Undecided))
            .with("outside", like(Outcome::Reject)),
    );
    match band.counts_gauges {
        true => format!("{said} {}", v.t("pulls-band-gauges")),
        false => said,
    }
}

/// Why nothing is decided: no rig, gauges out of date, a calibration without a curve, or pulls beyond it.
pub(super) fn gauges_text(v: &View, read: &PullsRead) -> Option<String> {
    match (&read.rig, read.in_date) {
        (None, _) => Some(v.t("pulls-no-rig")),
        (Some(_), false) => Some(v.t("pulls-out-of-date")),
        (Some(_), true) if read.no_curve.is_empty() => beyond_text(v, read),
        (Some(_), true) => {
            let shelf = v.desk.shelf;
            let named = |id: &String| {
                shelf
                    .gauge_in_force(id)
                    .map_or(id.clone(), |g| g.name.clone())
            };
            let gauges: Vec<String> = read.no_curve.iter().map(named).collect();
            Some(v.say(&Message::new("pulls-no-curve").with("gauge", gauges.join(", "))))
        }
    }
}

/// Which pulls went further than a gauge is known, by gauge.
fn beyond_text(v: &View, read: &PullsRead) -> Option<String> {
    let said = read.gauges.iter().filter_map(|pin| {
        let beyond = read.pulls.iter().filter(|p| p.beyond.contains(&pin.id));
        let beyond: Vec<String> = beyond.map(|pull| pull.number.to_string()).collect();
        let gauge = v.desk.shelf.gauge_in_force(&pin.id);
        let name = gauge.map_or(pin.id.as_str(), |gauge| gauge.name.as_str());
        let said = Message::new("pulls-beyond").with("pulls", beyond.join(", "));
        (!beyond.is_empty()).then(|| v.say(&said.with("gauge", name)))
    });
    let said: Vec<String> = said.collect();
    (!said.is_empty()).then(|| said.join(" "))
}
