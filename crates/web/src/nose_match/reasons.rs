//! One nose set, criterion by criterion.

use calc::Message;
use maud::{Markup, html};
use shop::nose_match::{Fit, Match};
use shop::sheet::Drive;

use crate::shell::Page;

/// The verdict as a chip.
pub(super) fn chip(p: &Page, fit: Fit) -> Markup {
    html! {
        @match fit {
            Fit::Yes => { span.v.acc { (p.t("match-fits")) } }
            Fit::No => { span.v.rej { (p.t("match-fits-not")) } }
            Fit::Unknown => { span.v.und { (p.t("match-unknown")) } }
        }
    }
}

/// Verdict and count; every criterion one tap away, open unless the set fits.
pub(crate) fn reasons(p: &Page, found: &Match) -> Markup {
    html! {
        details open[found.fit() != Fit::Yes] {
            summary { (chip(p, found.fit())) " " (count(p, found)) }
            (table(p, found))
        }
    }
}

/// The verdict, what speaks against the set or decides it; every criterion one tap away.
pub(super) fn verdict(p: &Page, found: &Match, drive: Drive) -> Markup {
    let failed = found.reasons.iter().filter(|r| r.fit == Fit::No);
    let failed: Vec<_> = failed.collect();
    html! {
        p { (chip(p, found.fit())) }
        @if !failed.is_empty() {
            ul { @for reason in failed { li { b { (p.say(&reason.name)) } ": " (p.say(&reason.detail)) } } }
        }
        @if found.fit() == Fit::Unknown { (to_decide(p, found, drive)) }
        details {
            summary { (count(p, found)) }
            (table(p, found))
        }
    }
}

fn count(p: &Page, found: &Match) -> String {
    let (met, of) = found.count();
    p.say(&Message::new("match-count").with("met", met).with("of", of))
}

/// Every criterion with its numbers.
pub(super) fn table(p: &Page, found: &Match) -> Markup {
    html! {
        table.stack {
            thead { tr { th { (p.t("match-criterion")) } th { (p.t("match-numbers")) } th { (p.t("match-verdict")) } } }
            tbody {
                @for reason in &found.reasons {
                    tr {
                        td data-label=(p.t("match-criterion")) { (p.say(&reason.name)) }
                        td data-label=(p.t("match-numbers")) {
                            (p.say(&reason.detail))
                            @for missing in &reason.missing { small { (p.say(missing)) } }
                        }
                        td data-label=(p.t("match-verdict")) {
                            (p.t(match reason.fit { Fit::Yes => "match-yes", Fit::No => "match-no", Fit::Unknown => "match-open" }))
                        }
                    }
                }
            }
        }
    }
}

/// What to measure or look up; before it, what comes before hands go near the nose.
fn to_decide(p: &Page, found: &Match, drive: Drive) -> Markup {
    html! {
        p { b { (p.t("match-decide")) } }
        @if found.hands_near() { (caution(p, Some(drive))) }
        ul { @for what in found.missing() { li { (p.say(what)) } } }
    }
}

/// The caution before parts come out of the nose, by what drives the tool; of every drive where no
/// tool is named.
pub(super) fn caution(p: &Page, drive: Option<Drive>) -> Markup {
    let text = match drive {
        Some(Drive::Battery) => "setting-caution-battery",
        Some(Drive::AirHydraulic) => "setting-caution-air",
        Some(Drive::Hydraulic) => "setting-caution-pump",
        None => "match-caution-any",
    };
    html! { p.warn { (p.t(text)) small { (p.t("source-energy")) } } }
}
