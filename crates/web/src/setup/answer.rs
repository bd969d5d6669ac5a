//! The one large answer at the work place: the turns of this very tool where its link is good and its past
//! is known, else the table's; or the refusal, and what explains it.

use calc::Message;
use calc::working::fixed;
use maud::{Markup, html};
use shop::crew::{CrewSetting, MOST_PINS};
use shop::entry::OwnAdjuster;
use shop::grip::explanations;
use shop::job::SetUpSheets;
use shop::setting::{NoSetting, SettingAnswer};

use super::link::Link;
use super::page::View;
use crate::show;

/// The setting.
pub fn setting(v: &View, s: &SetUpSheets, setting: &CrewSetting) -> Markup {
    html! {
        (not_this_tool_s(v))
        (by_link(v, s, setting))
    }
}

/// Of a link that is not good: what stands below is no setting of this tool, and whom to ask for one.
fn not_this_tool_s(v: &View) -> Markup {
    let text = match v.link {
        Link::Void(_) => "crew-answer-void",
        Link::Wrong => "crew-answer-wrong",
        Link::None | Link::Holds(_) => return html! {},
    };
    let shop = v.desk.shelf.shops().next();
    let whom = match shop {
        Some((_, card)) => Message::new("crew-ask-shop")
            .with("shop", card.name.as_str())
            .with("place", card.place.as_str()),
        None => Message::new("crew-ask-maker-of-card"),
    };
    html! { p.warn { b { (v.t(text)) } " " (v.say(&whom)) } }
}

fn by_link(v: &View, s: &SetUpSheets, setting: &CrewSetting) -> Markup {
    match setting {
        CrewSetting::FullStroke => show::full_stroke(v.p),
        CrewSetting::Force => show::by_force(v.p),
        CrewSetting::Turns { table, own } => html! {
            @match own {
                Some(own) => { (of_this_tool(v, s, table, own)) }
                None => { (show::turns(v.p, s.model, table)) }
            }
            p.hint { (v.t(precedence(v, own.is_some()))) }
            (show::left_out(v.p, &v.known.past.left_out))
        },
    }
}

/// The tool's own turns; the table's, and what the difference rests on, one tap away.
fn of_this_tool(v: &View, s: &SetUpSheets, table: &SettingAnswer, own: &OwnAdjuster) -> Markup {
    let says = Message::new("crew-own").with("table", paper::fraction(table.set_turns));
    let taught = html! {
        details {
            summary { (v.say(&says)) }
            (show::taught(v.p, s, table, own))
        }
    };
    let turns = (own.set_turns, own.turns, own.expanded_turns);
    show::turns_of_its_own(v.p, s.model, table, turns, taught)
}

/// What stands before what, where card, tool and table differ.
fn precedence(v: &View, is_own: bool) -> &'static str {
    match v.link {
        Link::Holds(_) if is_own && v.known.has_newer_card => "crew-order-newer-card",
        Link::Holds(_) if is_own => "crew-order-own",
        Link::Holds(_) if v.known.past.left_out.total() > 0 => "crew-order-left-out",
        Link::Holds(_) => "crew-order-no-past",
        _ => "crew-order-table",
    }
}

/// Why nothing is set: in one line, with what explains it where pins can be weighed.
pub fn refusal(v: &View, s: &SetUpSheets, why: &NoSetting) -> Markup {
    let can_be_explained = matches!(
        why,
        NoSetting::OutOfBand { .. } | NoSetting::PinsDiffer | NoSetting::Undecided
    );
    let pins = v.asked.pins.as_ref().filter(|_| can_be_explained);
    let found = pins.and_then(|pins| Some((explanations(s, pins, None)?, pins)));
    if *why == NoSetting::Undecided {
        return html! {
            (near_the_end(v, s))
            @if let Some((found, pins)) = found { (show::explanations(v.p, &found, &pins.values_mm)) }
        };
    }
    match found {
        None => show::no_setting(v.p, why),
        Some((found, pins)) => html! {
            (show::no_setting_in_a_line(v.p, why))
            (show::explanations(v.p, &found, &pins.values_mm))
        },
    }
}

/// So near an end of the band that the doubt reaches over it: nothing is wrong yet, and more pins tell.
fn near_the_end(v: &View, s: &SetUpSheets) -> Markup {
    let pins = v.asked.pins.as_ref().map_or(0, |pins| pins.values_mm.len());
    let (big, why) = if pins + 2 <= MOST_PINS {
        ("crew-more-pins", "crew-more-pins-why")
    } else {
        ("crew-finer", "crew-finer-why")
    };
    html! {
        div.answer {
            p.lab { (v.t("stick-out-heading")) }
            p.big { (v.t(big)) }
            @if let Some(mean) = v.asked.measured {
                p.mid { (fixed(mean.value, 2)) " mm " span.pm { "± " (fixed(mean.expanded, 2)) } }
            }
            @if let Some(band) = s.fastener.stick_out_mm {
                @let band = show::limits(v.p, &band, "mm");
                p { (v.say(&Message::new("crew-band").with("band", band))) }
            }
            p { (v.t(why)) }
        }
    }
}
