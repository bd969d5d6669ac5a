//! The clock of the step in hand: started and stopped by hand, or stopped by doing the step.

use calc::Message;
use maud::{Markup, html};
use shop::route::Step;

use crate::job::view::View;

/// What the clock of `step` shows, and the button that turns it.
pub fn of(v: &View, step: &Step) -> Markup {
    let id = format!("clock-{}-form", step.id);
    let form = v.form(&id);
    let since = v.job.clock.running().filter(|(it, _)| *it == step.id);
    let stands = v.job.clock.minutes(&step.id, v.desk.now);
    let shows = match (since, stands) {
        (Some((_, since)), _) => {
            Some(Message::new("step-clock-running").with("since", v.moment(since)))
        }
        (None, Some(minutes)) => {
            Some(Message::new("step-clock-stands").number("minutes", minutes, 1))
        }
        (None, None) => None,
    };
    let (on, button) = match since {
        Some(_) => ("no", "button-clock-off"),
        None => ("yes", "button-clock-on"),
    };
    html! {
        details.clock open[shows.is_some() || v.is_refused(&id)] {
            summary { (v.t("step-clock-summary")) }
            @if let Some(shows) = &shows { p.hint { (v.say(shows)) } }
            (v.wrap(&form, "clock", html! {
                input type="hidden" name="step" value=(step.id);
                input type="hidden" name="on" value=(on);
            }, button))
        }
    }
}
