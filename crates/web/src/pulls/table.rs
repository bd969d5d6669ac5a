//! Pulls in figures: what stands without the drawing.

use calc::Message;
use calc::pull::envelope::Envelope;
use calc::pull::reading::{self, Reading, Value};
use calc::working::fixed;
use maud::{Markup, html};
use shop::entry::{PullRead, PullsRead};
use shop::pulls::{OnePull, budget, numbers};
use shop::sheet::Feature;

use super::answer::{limits_text, one, value_text};
use super::names;
use super::recording::Recording;
use crate::job::view::View;
use crate::show;

/// Every pull of the recording: one row each, and all its numbers folded below.
pub(super) fn tables(v: &View, recording: &Recording, read: Option<&PullsRead>) -> Markup {
    let of = |pull: &OnePull| read?.pulls.iter().find(|p| p.number == pull.number);
    html! {
        table.stack {
            thead { tr {
                th { (v.t("pulls-pull")) } th { (v.t("pulls-lines")) } th { (v.t("pulls-ends")) }
                th { (v.t("feature-peak")) } th { (v.t("feature-stroke")) } th { (v.t("feature-slips")) }
                th { (v.t("pulls-verdict")) } th { (v.t("pulls-like")) }
            } }
            tbody { @for pull in &recording.pulls { (row(v, pull, of(pull))) } }
        }
        @for pull in &recording.pulls {
            @if let Ok(found) = &pull.reading { (whole(v, recording, pull, found, of(pull))) }
        }
    }
}

fn row(v: &View, pull: &OnePull, judged: Option<&PullRead>) -> Markup {
    let name = Message::new("pull-name").with("number", pull.number);
    let lines = format!("{}–{}", pull.first_line, pull.last_line);
    let shown = |feature, value: Value| value_text(feature, value.value, value.expanded());
    html! {
        tr {
            td data-label=(v.t("pulls-pull")) { (v.say(&name)) }
            td data-label=(v.t("pulls-lines")) { (lines) }
            @match &pull.reading {
                Ok(found) => {
                    td data-label=(v.t("pulls-ends")) { (v.t(names::ending(found.ending))) }
                    td data-label=(v.t("feature-peak")) {
                        (shown(Feature::Peak, found.features.peak_kn))
                        @if names::is_filtered(found.told.filter) {
                            small { (v.say(&Message::new("pulls-raw").number("value", found.features.peak_raw_kn, 2))) }
                        }
                    }
                    td data-label=(v.t("feature-stroke")) { (shown(Feature::Stroke, found.features.stroke_mm)) }
                    td data-label=(v.t("feature-slips")) { (found.slips.len()) }
                }
                Err(why) => { td colspan="4" data-label=(v.t("pulls-ends")) { (v.say(&why.message())) } }
            }
            td data-label=(v.t("pulls-verdict")) { (worst(v, judged)) }
            td data-label=(v.t("pulls-like")) {
                @if let Some(like) = judged.and_then(|p| p.like) { (show::chip(v.p, like.into())) } @else { "–" }
            }
        }
    }
}

/// The worst verdict on the numbers of a pull.
fn worst(v: &View, judged: Option<&PullRead>) -> Markup {
    let features = judged.iter().flat_map(|pull| &pull.features);
    let worst = features
        .filter_map(|f| f.outcome.map(calc::decision::Verdict::from))
        .max();
    html! { @if let Some(verdict) = worst { (show::chip(v.p, verdict)) } @else { "–" } }
}

/// All numbers, phases and events of one pull, and how they came about.
fn whole(
    v: &View,
    recording: &Recording,
    pull: &OnePull,
    found: &Reading,
    judged: Option<&PullRead>,
) -> Markup {
    let to_stall = recording.fastener.is_empty();
    let name = Message::new("pull-all").with("number", pull.number);
    html! {
        details {
            summary { (v.say(&name)) }
            table.stack {
                thead { tr { th { (v.t("pulls-what")) } th { (v.t("pulls-value")) } th { (v.t("pulls-limits")) } th { (v.t("pulls-verdict")) } } }
                tbody { @for (feature, value) in numbers(found, to_stall) { (number_row(v, feature, value, judged)) } }
            }
            p.hint { (v.t("pull-counts")) }
            @if !to_stall && !found.phases.is_empty() { (phases(v, found)) }
            @for slip in &found.slips {
                p.note {
                    (v.say(&Message::new("pull-slip-at")
                        .number("stroke", slip.stroke_mm, 1)
                        .number("time", slip.at_s, 3)
                        .with("drop", value_text(Feature::Peak, slip.drop_kn.value, slip.drop_kn.expanded()))
                        .number("lost", slip.lost_mm, 2)))
                }
            }
            (show::working(v.p, &reading::working(found)))
            @for (feature, _) in numbers(found, to_stall) {
                @if let Some(budget) = budget(found, feature) { (show::budget(v.p, &budget_of(v, feature), &budget, false)) }
            }
            @if let Some(good) = &recording.band { (of_band(v, recording, &good.band, found)) }
        }
    }
}

fn budget_of(v: &View, feature: Feature) -> String {
    v.say(&Message::new("budget-of").with("what", v.t(names::plain(feature))))
}

fn number_row(v: &View, feature: Feature, value: Value, judged: Option<&PullRead>) -> Markup {
    let held = judged.and_then(|pull| one(pull, feature));
    html! {
        tr {
            td data-label=(v.t("pulls-what")) { (v.t(names::plain(feature))) }
            td data-label=(v.t("pulls-value")) { (value_text(feature, value.value, value.expanded())) }
            td data-label=(v.t("pulls-limits")) { (held.map(|f| limits_text(v, feature, f)).unwrap_or_default()) }
            td data-label=(v.t("pulls-verdict")) {
                @if let Some(outcome) = held.and_then(|f| f.outcome) { (show::chip(v.p, outcome.into())) }
            }
        }
    }
}

fn phases(v: &View, found: &Reading) -> Markup {
    let mm = |value: Value| format!("{} ± {}", fixed(value.value, 2), fixed(value.expanded(), 2));
    let energy =
        |value: Value| format!("{} ± {}", fixed(value.value, 1), fixed(value.expanded(), 1));
    html! {
        table.stack {
            thead { tr {
                th { (v.t("pulls-phase")) } th { (v.t("pulls-from")) } th { (v.t("pulls-to")) }
                th { (v.t("pulls-travel")) } th { (v.t("pulls-energy")) }
            } }
            tbody {
                @for phase in &found.phases {
                    tr {
                        td data-label=(v.t("pulls-phase")) { (v.t(names::phase(phase.phase))) }
                        td data-label=(v.t("pulls-from")) { (mm(phase.begin_mm)) }
                        td data-label=(v.t("pulls-to")) { (mm(phase.end_mm)) }
                        td data-label=(v.t("pulls-travel")) { (mm(phase.travel_mm)) }
                        td data-label=(v.t("pulls-energy")) { (energy(phase.energy_j)) }
                    }
                }
            }
        }
    }
}

/// How the pull was held against the band.
fn of_band(v: &View, recording: &Recording, band: &Envelope, found: &Reading) -> Markup {
    let compared = band.compare(found, &recording.beside).ok();
    html! { @if let Some(compared) = compared { (show::working(v.p, &band.working(&compared))) } }
}
