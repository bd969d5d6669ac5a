//! A setting: the large answer with the way to turn, or why there is none. The job page and the crew's
//! page show the same.

use calc::Message;
use calc::decision::Rule;
use calc::repeated::Estimate;
use calc::units::Unit;
use maud::{Markup, PreEscaped, html};
use paper::GaugeBar;
use shop::entry::OwnAdjuster;
use shop::job::SetUpSheets;
use shop::setting::{NoSetting, SettingAnswer, band_verdict};
use shop::sheet::{FastenerFamily, ToolModel};
use shop::trial::own;

use super::{chip, turn, working};
use crate::shell::Page;

/// Turns, direction, reference, interval, and how to approach it.
pub fn turns(p: &Page, model: &ToolModel, a: &SettingAnswer) -> Markup {
    let table = (a.set_turns, a.turns, a.expanded_turns);
    turns_of_its_own(p, model, a, table, html! {})
}

/// The same where the tool's own joints moved the setting: turns to set, exact, and their expanded
/// uncertainty; `taught` says from what.
pub fn turns_of_its_own(
    p: &Page,
    model: &ToolModel,
    a: &SettingAnswer,
    (set_turns, exact, expanded): (f64, f64, f64),
    taught: Markup,
) -> Markup {
    html! {
        div.answer {
            p.lab { (p.t("setting-adjuster")) }
            p.big { (paper::fraction(set_turns)) " " (p.t("turns")) }
            (turn(p, a.turn))
            p.pm {
                (p.say(&Message::new("setting-interval").number("exact", exact, 2)
                    .number("low", (exact - expanded).max(0.0), 2)
                    .number("high", exact + expanded, 2)))
            }
            (taught)
            p.hint { (p.say(&Message::new("setting-approach").with("key", model.adjuster.key.as_str())
                .with("effect", p.words.term(model.adjuster.approach)))) }
            (working(p, &a.working))
        }
    }
}

/// From what the tool's own past sets it otherwise than the table, and how that was reckoned.
pub fn taught(p: &Page, s: &SetUpSheets, table: &SettingAnswer, own: &OwnAdjuster) -> Markup {
    html! {
        p { (p.say(&Message::new("setting-own").with("set_ups", own.past.len())
            .with("joints", own.past.iter().map(|past| past.joints).sum::<usize>())
            .with("table", paper::fraction(table.set_turns)))) }
        @if let Some(reckoned) = own::working(s, own, table) { (working(p, &reckoned)) }
    }
}

/// The whole stroke.
pub fn full_stroke(p: &Page) -> Markup {
    html! {
        div.answer {
            p.lab { (p.t("setting-adjuster")) }
            p.big { (p.t("setting-full")) }
            p.pm { (p.t("setting-full-why")) }
        }
    }
}

/// No turns: the pressure ends the pull.
pub fn by_force(p: &Page) -> Markup {
    html! {
        div.answer {
            p.lab { (p.t("setting-adjuster")) }
            p.big { (p.t("setting-force")) }
            p.pm { (p.t("setting-force-why")) }
        }
    }
}

/// Why there is no setting, and what to do.
pub fn no_setting(p: &Page, why: &NoSetting) -> Markup {
    html! {
        div.answer.no {
            p.big { (p.t("setting-none")) }
            @match why {
                NoSetting::PinsDiffer => { p { (p.t("band-pins-differ")) } }
                NoSetting::NotInSheet => { p { (p.t("match-setting-none")) } }
                NoSetting::BetweenSteps => { p { (p.t("refuse-between-steps")) } }
                NoSetting::Undecided => { p { (p.t("setting-undecided")) } }
                NoSetting::OutOfTable { min_mm, max_mm } => {
                    p { (p.say(&Message::new("refuse-out-of-table").number("min", *min_mm, 1).number("max", *max_mm, 1))) }
                }
                NoSetting::OutOfBand { long, stack_mm, suits } => {
                    p { b { (p.t(if *long { "band-long" } else { "band-short" })) } }
                    @if let Some(stack) = stack_mm { p { (p.say(&Message::new("band-stack").number("mm", *stack, 1))) } }
                    @match suits {
                        Some(code) => { p.mid { (p.say(&Message::new("band-suits").with("code", code.as_str()))) } }
                        None => { p { (p.t("band-suits-none")) } }
                    }
                    p { (p.t("band-find-out")) }
                }
            }
        }
    }
}

/// The refusal of a stick-out that explanations follow: what is wrong, in one line.
pub fn no_setting_in_a_line(p: &Page, why: &NoSetting) -> Markup {
    let (text, stack_mm) = match why {
        NoSetting::OutOfBand { long, stack_mm, .. } => {
            (if *long { "band-long" } else { "band-short" }, *stack_mm)
        }
        NoSetting::PinsDiffer => ("band-pins-differ", None),
        NoSetting::Undecided => ("setting-undecided", None),
        _ => return no_setting(p, why),
    };
    html! {
        div.answer.no {
            p.big { (p.t("setting-none")) }
            p {
                b { (p.t(text)) }
                @if let Some(mm) = stack_mm { " " (p.say(&Message::new("band-stack").number("mm", mm, 1))) }
            }
        }
    }
}

/// The mean stick-out beside the band of its family; nothing where stick-out says nothing.
pub fn in_band(p: &Page, fastener: &FastenerFamily, mean: &Estimate) -> Markup {
    let Some((band, verdict)) = fastener.stick_out_mm.zip(band_verdict(fastener, mean)) else {
        return html! {};
    };
    let bar = GaugeBar {
        value: mean.value,
        expanded: mean.expanded,
        limits: band,
        rule: Rule::Guarded,
        verdict,
        unit: Unit::Millimetre,
        decimals: 2,
        label: String::new(),
    };
    html! {
        (PreEscaped(paper::gauge_bar(&bar.labelled(p.words, &p.t("stick-out-heading")))))
        p { (chip(p, verdict)) }
    }
}
