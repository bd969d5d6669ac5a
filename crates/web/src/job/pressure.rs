//! The pressure that an air-hydraulic or hydraulic tool is set to for its fastener.

use calc::Message;
use calc::working::places;
use maud::{Markup, html};
use shop::job::SetUpSheets;
use shop::pressure_setting::{Goal, NoPressure, PressureAnswer, pressure};
use shop::sheet::Drive;

use super::view::View;
use crate::show;

/// The block after the setting; nothing for a battery tool.
pub fn block(v: &View, s: &SetUpSheets) -> Markup {
    let lab = match s.model.drive {
        Drive::Battery => return html! {},
        Drive::AirHydraulic => "pressure-air",
        Drive::Hydraulic => "pressure-oil",
    };
    match pressure(s.model, s.fastener) {
        Ok(answer) => found(v, lab, &answer),
        Err(NoPressure::NoSupply) => html! {},
        Err(why) => html! {
            div.answer.no {
                p.lab { (v.t(lab)) }
                p.mid { (v.t("pressure-none")) }
                p { (v.say(&reason(&why))) }
            }
        },
    }
}

fn found(v: &View, lab: &'static str, a: &PressureAnswer) -> Markup {
    let decimals = places(a.step_bar, 0).max(places(a.set_bar, 0));
    let limits = match a.goal {
        Goal::Reach => "pressure-at-least",
        Goal::Stop => "pressure-between",
    };
    html! {
        div.answer {
            p.lab { (v.t(lab)) }
            p.mid { (v.say(&Message::new("pressure-set").number("bar", a.set_bar, decimals))) }
            p.pm {
                (v.say(&Message::new(limits)
                    .number("least", a.least_bar, places(a.step_bar, 0) + 1)
                    .number("most", a.most_bar, places(a.step_bar, 0) + 1)))
                " "
                (v.say(&Message::new("pressure-pull")
                    .number("low", a.pull.least_kn, 1).number("high", a.pull.most_kn, 1)))
            }
            p.hint { (v.t("pressure-cycling")) " " (v.t("pressure-caution")) }
            (show::working(v.p, &a.working))
        }
    }
}

fn reason(why: &NoPressure) -> Message {
    match why {
        // Never shown: a battery tool has no such block.
        NoPressure::NoSupply => Message::new("pressure-none"),
        NoPressure::Missing(keys) => Message::new("pressure-missing").with("keys", keys.join(", ")),
        NoPressure::AboveRating { needs_kn, rated_kn } => Message::new("pressure-above-rating")
            .number("needs", *needs_kn, 1)
            .number("rated", *rated_kn, 1),
        NoPressure::NotReached {
            needs_bar,
            rated_bar,
        } => Message::new("pressure-not-reached")
            .number("needs", *needs_bar, 1)
            .number("rated", *rated_bar, 1),
        NoPressure::BetweenSteps {
            least_bar,
            most_bar,
        } => Message::new("pressure-between-steps")
            .number("least", *least_bar, 2)
            .number("most", *most_bar, 2),
    }
}
