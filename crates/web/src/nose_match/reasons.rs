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
            summary { (summary(p, found)) }
            (table(p, found))
        }
    }
}

/// The same, closed: what speaks against the set stands before it.
pub(super) fn reasons_below(p: &Page, found: &Match) -> Markup {
    let failed = found.reasons.iter().filter(|r| r.fit == Fit::No);
    let failed: Vec<_> = failed.collect();
    html! {
        @if !failed.is_empty() {
            ul { @for reason in failed { li { b { (p.say(&reason.name)) } ": " (p.say(&reason.detail)) } } }
        }
        details {
            summary { (summary(p, found)) }
            (table(p, found))
        }
    }
}

fn summary(p: &Page, found: &Match) -> Markup {
    let (met, of) = found.count();
    let count = Message::new("match-count").with("met", met).with("of", of);
    html! { (chip(p, found.fit())) " " (p.say(&count)) }
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

/// What to measure or look up, with what comes before hands go near. Nothing where nothing is missing.
pub(super) fn to_decide(p: &Page, found: &Match, drive: Drive) -> Markup {
    let missing = found.missing();
    html! {
        @if !missing.is_empty() {
            p { b { (p.t("match-decide")) } }
            (caution(p, Some(drive)))
            ul { @for what in &missing { li { (p.say(what)) } } }
        }
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
