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
use shop::trial::own::{self, LeftOut};

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
    // The interval of turns that hands cannot set is not that of the turns that stand in for them.
    let is_fall_back = own::is_fall_back(model, set_turns, exact);
    let (shown, doubt) = if is_fall_back {
        (a.turns, a.expanded_turns)
    } else {
        (exact, expanded)
    };
    html! {
        div.answer {
            p.lab { (p.t("setting-adjuster")) }
            p.big { (paper::fraction(set_turns)) " " (p.t("turns")) }
            (turn(p, a.turn))
            p.pm { (interval(p, "setting-interval", shown, doubt)) }
            @if is_fall_back { p.warn { (interval(p, "setting-own-not-set", exact, expanded)) } }
            (taught)
            p.hint { (p.say(&Message::new("setting-approach").with("key", model.adjuster.key.as_str())
                .with("effect", p.words.term(model.adjuster.approach)))) }
            (working(p, &a.working))
        }
    }
}

fn interval(p: &Page, text: &'static str, exact: f64, expanded: f64) -> String {
    p.say(
        &Message::new(text)
            .number("exact", exact, 2)
            .number("low", (exact - expanded).max(0.0), 2)
            .number("high", exact + expanded, 2),
    )
}

/// Earlier set-ups that say nothing, each with its reason.
pub fn left_out(p: &Page, left_out: &LeftOut) -> Markup {
    let reasons = [
        ("setting-own-left-out", left_out.renewed),
        ("setting-own-not-in-table", left_out.not_in_table),
        ("setting-own-odd", left_out.odd),
    ];
    html! {
        @for (text, set_ups) in reasons.into_iter().filter(|(_, count)| *count > 0) {
            p.hint { (p.say(&Message::new(text).with("set_ups", set_ups))) }
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
            p.mid { (p.t("setting-force")) }
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
                NoSetting::PastIsFar => { p { (p.t("crew-own-far")) } }
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

#[cfg(test)]
mod tests {
    use super::*;
    use shop::sheet::{self, Kind, Shelf};

    const SHEETS: [(&str, &str); 2] = [
        (
            "model.toml",
            include_str!("../../../../sheets/demo/models/tulvane-tb-32.toml"),
        ),
        (
            "fastener.toml",
            include_str!("../../../../sheets/demo/fasteners/marlstead-m8.toml"),
        ),
    ];

    /// The text of a page without its tags and without marks that nobody sees.
    fn plain(page: &Markup) -> String {
        let parts = page.0.split('<');
        let text: String = parts
            .map(|part| part.split_once('>').map_or(part, |(_, after)| after))
            .collect();
        text.replace(['\u{2068}', '\u{2069}'], "")
    }

    #[test]
    fn no_interval_is_shown_that_excludes_the_turns_beside_it() {
        let mut shelf = Shelf::default();
        for (name, text) in SHEETS {
            let read = sheet::read(name, text).expect("a demo sheet");
            shelf.put(read, text.to_owned());
        }
        let newest = |kind, id| shelf.newest(kind, id).expect("a demo sheet");
        let model = shelf.model(&newest(Kind::ToolModel, "tulvane-tb-32"));
        let fastener = shelf.fastener(&newest(Kind::Fastener, "marlstead-m8"));
        let (model, fastener) = model.zip(fastener).expect("sheets");
        let mut rules = model.settings.iter();
        let rule = rules
            .find(|r| r.fastener == "marlstead-m8")
            .expect("a rule");
        let measured = Estimate::exact(26.2);
        let code = fastener.codes.first();
        let table = shop::setting::turns(model, rule, fastener, code, &measured);
        let table = table.expect("a setting");
        let page = crate::by_hand::page_of("");
        let shown = |set: f64, exact: f64| {
            plain(&turns_of_its_own(
                &page,
                model,
                &table,
                (set, exact, 0.3),
                html! {},
            ))
        };
        // The tool's own turns: its own interval, and no other.
        let own = shown(6.25, 6.2);
        assert!(own.contains("6¼ turns") && own.contains("Exact 6.20 turns (5.90 to 6.50"));
        assert!(!own.contains("may not stand"), "{own}");
        // Its past asks for 3.8, and the table's 6 1/2 stand in: (36.0 - 26.2) / 1.5 = 6.53 turns.
        let stands_in = shown(table.set_turns, 3.8);
        assert!(stands_in.contains("6½ turns") && stands_in.contains("Exact 6.53 turns"));
        assert!(stands_in.contains("asks for 3.80 turns (3.50 to 4.10"));
    }

    #[test]
    fn each_reason_why_a_set_up_is_left_out_is_told_apart() {
        let page = crate::by_hand::page_of("");
        let said = |renewed, not_in_table, odd| {
            plain(&left_out(
                &page,
                &LeftOut {
                    renewed,
                    not_in_table,
                    odd,
                },
            ))
        };
        assert_eq!(said(0, 0, 0), "");
        let (renewed, not_in_table, odd) = (said(1, 0, 0), said(0, 1, 0), said(0, 0, 2));
        assert!(renewed.contains("was renewed since") && !renewed.contains("table"));
        assert!(
            not_in_table.contains("not in the sheet's table") && !not_in_table.contains("renewed")
        );
        assert!(odd.contains("2 earlier") && odd.contains("mistyped"));
    }
}
