//! The pressure that an air-hydraulic or hydraulic tool is set to for its fastener.

use calc::Message;
use calc::working::places;
use maud::{Markup, html};
use shop::job::SetUpSheets;
use shop::pressure_setting::{At, Goal, NoPressure, PressureAnswer, goal, pressure};
use shop::sheet::Drive;

use super::working;
use crate::shell::Page;

/// The block after the setting; nothing for a battery tool.
pub fn pressure_to_set(p: &Page, s: &SetUpSheets, at: At) -> Markup {
    let Some(lab) = of_what(s.model.drive) else {
        return html! {};
    };
    match pressure(s.model, s.fastener, goal(s.rule), at) {
        Ok(answer) => found(p, lab, &answer),
        Err(NoPressure::NoSupply) => html! {},
        Err(why) => html! {
            div.answer.no {
                p.lab { (p.t(lab)) }
                p.mid { (p.t("pressure-none")) }
                p { (p.say(&why.message())) }
            }
        },
    }
}

/// What pressure it is; `None` for a battery tool.
pub fn of_what(drive: Drive) -> Option<&'static str> {
    match drive {
        Drive::Battery => None,
        Drive::AirHydraulic => Some("pressure-air"),
        Drive::Hydraulic => Some("pressure-oil"),
    }
}

/// The value with its unit: the one to set where the force ends the pull, else from what is enough to the most.
pub fn value_text(p: &Page, a: &PressureAnswer) -> String {
    let decimals = decimals(a);
    match a.goal {
        Goal::Stop => bar_text(p, a.set_bar, decimals),
        Goal::Reach => p.say(
            &Message::new("pressure-from-to")
                .number("least", a.set_bar, decimals)
                .number("most", a.most_bar, decimals.max(1)),
        ),
    }
}

fn decimals(a: &PressureAnswer) -> usize {
    places(a.step_bar, 0).max(places(a.set_bar, 0)).min(2)
}

/// A pressure as written.
pub fn bar_text(p: &Page, bar: f64, decimals: usize) -> String {
    p.say(&Message::new("pressure-set").number("bar", bar, decimals))
}

/// The limits that it has to keep.
pub fn limits_text(p: &Page, a: &PressureAnswer) -> String {
    let limits = Message::new(match a.goal {
        Goal::Reach => "pressure-at-least",
        Goal::Stop => "pressure-between",
    });
    let decimals = places(a.step_bar, 0) + 1;
    p.say(
        &limits
            .number("least", a.least_bar, decimals)
            .number("most", a.most_bar, decimals)
            .number("gauge", a.gauge_bar, decimals),
    )
}

fn found(p: &Page, lab: &'static str, a: &PressureAnswer) -> Markup {
    html! {
        div.answer {
            p.lab { (p.t(lab)) }
            @if a.goal == Goal::Stop { p.big { (value_text(p, a)) } } @else { p.mid { (value_text(p, a)) } }
            p.pm {
                (limits_text(p, a))
                " "
                (p.say(&Message::new("pressure-pull")
                    .number("bar", a.set_bar, decimals(a))
                    .number("low", a.pull.least_kn, 1).number("high", a.pull.most_kn, 1)))
            }
            p.hint { (p.t("pressure-cycling")) " " (p.t("pressure-caution")) }
            (working(p, &a.working))
        }
    }
}
