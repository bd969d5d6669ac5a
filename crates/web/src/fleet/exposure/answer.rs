//! What the day comes to, and what each tool adds to it.

use calc::hand_arm_vibration::{self, ACTION, LIMIT, LONGEST_HOURS, Task};
use calc::noise_exposure::{self, LIMIT as NOISE_LIMIT, LOWER_ACTION, UPPER_ACTION};
use calc::working::fixed;
use calc::{Message, noise_exposure::Task as NoiseTask};
use maud::{Markup, html};

use super::question::{Use, Vibration};
use crate::shell::Page;
use crate::show;

/// The day, then each tool.
pub fn answer(p: &Page, uses: &[Use]) -> Markup {
    let without = |known: fn(&Use) -> bool, id: &'static str| {
        let names: Vec<&str> = uses
            .iter()
            .filter(|u| !known(u))
            .map(|u| u.name.as_str())
            .collect();
        let said = Message::new(id).with("tools", names.join(", "));
        (!names.is_empty()).then(|| p.say(&said))
    };
    html! {
        h2 { (p.t("exposure-day")) }
        (vibration_of_day(p, uses))
        @if let Some(said) = without(|u| u.vibration.is_some(), "exposure-without-vibration") { p.note { (said) } }
        (noise_of_day(p, uses))
        @if let Some(said) = without(|u| u.noise_db.is_some(), "exposure-without-noise") { p.note { (said) } }
        @for each in uses { (tool(p, each)) }
    }
}

fn task(each: &Use) -> Option<Task> {
    Some(Task {
        a_hv: each.vibration?.value(),
        hours: each.hours(),
    })
}

fn noise_task(each: &Use) -> Option<NoiseTask> {
    Some(NoiseTask {
        levels: vec![each.noise_db?],
        hours: each.hours(),
    })
}

fn vibration_of_day(p: &Page, uses: &[Use]) -> Markup {
    let tasks: Vec<Task> = uses.iter().filter_map(task).collect();
    let Ok(day) = hand_arm_vibration::day(&tasks) else {
        return html! {};
    };
    let means = if day.is_above_limit() {
        "exposure-vibration-above-limit"
    } else if day.is_above_action() {
        "exposure-vibration-above-action"
    } else {
        "exposure-vibration-below"
    };
    html! {
        div.answer {
            p.big { (p.say(&Message::new("exposure-vibration-day").number("a8", day.a8, 2))) }
            p.mid { (p.t(means)) }
        }
        (show::working(p, &hand_arm_vibration::day_working(&tasks, &day)))
    }
}

fn noise_of_day(p: &Page, uses: &[Use]) -> Markup {
    let tasks: Vec<NoiseTask> = uses.iter().filter_map(noise_task).collect();
    let Ok(day) = noise_exposure::day(&tasks) else {
        return html! {};
    };
    let above = [
        (NOISE_LIMIT, "exposure-noise-above-limit"),
        (UPPER_ACTION, "exposure-noise-above-upper"),
        (LOWER_ACTION, "exposure-noise-above-lower"),
    ];
    let means = above.iter().find(|(value, _)| day.level_8h > *value);
    let means = means.map_or("exposure-noise-below", |(_, id)| id);
    html! {
        div.answer {
            p.big { (p.say(&Message::new("exposure-noise-day").number("level", day.level_8h, 1))) }
            p.mid { (p.t(means)) }
        }
        (show::working(p, &noise_exposure::working(&tasks, &day)))
    }
}

fn tool(p: &Page, each: &Use) -> Markup {
    let of = Message::new("exposure-of-tool")
        .number("hours", each.hours(), 2)
        .with("pulls", p.words.count(each.pulls))
        .number("seconds", each.seconds, 1);
    let alone = noise_task(each).and_then(|task| noise_exposure::day(&[task]).ok());
    html! {
        h3 { (each.name) }
        p.pm { (p.say(&of)) }
        @if let Some(vibration) = each.vibration { (of_vibration(p, each, vibration)) }
        @if let (Some(day), Some(noise)) = (alone, each.noise_db) {
            p { (p.say(&Message::new("exposure-tool-noise").number("level", day.level_8h, 1).number("noise", noise, 1))) }
        }
    }
}

fn of_vibration(p: &Page, each: &Use, vibration: Vibration) -> Markup {
    let a_hv = vibration.value();
    let uses = match vibration {
        Vibration::Measured(_) => Message::new("exposure-uses").number("value", a_hv, 1),
        Vibration::Declared(declared, uncertainty) => Message::new("exposure-uses-declared")
            .number("value", a_hv, 1)
            .number("declared", declared, 1)
            .number("uncertainty", uncertainty, 1),
    };
    let alone = task(each).and_then(|task| hand_arm_vibration::day(&[task]).ok());
    // The partial value of one task is its A(8); a day of one is given whole.
    let a8 = alone.map(|day| day.partial[0]);
    let to = |value| hand_arm_vibration::hours_to(a_hv, value).ok();
    html! {
        p { (p.say(&uses)) }
        @if let Some(a8) = a8 { p { (p.say(&Message::new("exposure-tool-a8").number("a8", a8, 2))) } }
        @if let (Some(action), Some(limit)) = (to(ACTION), to(LIMIT)) {
            p { (p.say(&until(p, each, action, limit))) }
            (show::working(p, &hand_arm_vibration::time_working(a_hv, action, limit)))
        }
    }
}

/// After how many pulls the values are reached.
fn until(p: &Page, each: &Use, action: f64, limit: f64) -> Message {
    let pulls = |hours: f64| {
        let whole = fixed((hours * 3600.0 / each.seconds).floor(), 0);
        p.words.count(whole.parse().unwrap_or_default())
    };
    if action >= LONGEST_HOURS {
        return Message::new("exposure-pulls-none");
    }
    if limit >= LONGEST_HOURS {
        return Message::new("exposure-pulls-action").with("action", pulls(action));
    }
    Message::new("exposure-pulls-to")
        .with("action", pulls(action))
        .with("limit", pulls(limit))
}
