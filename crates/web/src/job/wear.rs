//! Wear: how long what was gauged lasts, by this tool's own readings, and what to renew now.

use calc::Message;
use calc::working::{figures, fixed, places};
use maud::{Markup, html};
use shop::diagnosis::percent;
use shop::wear::{Advice, Gauged, Since, Worn, gauged_now};

use super::view::View;
use crate::show;

/// A most so many times what is left is not told.
const FAR: f64 = 5.0;

/// What was gauged in this job and is still in the tool; nothing where nothing was.
pub fn shown(v: &View) -> Markup {
    let all = gauged(v);
    html! {
        @if !all.is_empty() {
            h3 { (v.t("wear-heading")) }
            @for worn in &all { (one(v, worn)) }
        }
    }
}

/// The same, to be printed.
pub fn gauged<'a>(v: &View<'a>) -> Vec<Worn<'a>> {
    gauged_now(&v.tool.earlier, v.job, v.model, &v.desk)
}

/// Those whose working is printed: of parts with a past of their own, and the first of those that are reckoned
/// from one reading at the rate of the sheet, for the others differ from it in their numbers alone.
pub fn worth_a_working<'a>(v: &View<'a>) -> Vec<Worn<'a>> {
    let mut first = true;
    let mut all = gauged(v);
    all.retain(|worn| {
        let has_past = worn.since != Since::FirstReading || worn.history.readings.len() > 1;
        worn.life.is_some() && (has_past || std::mem::take(&mut first))
    });
    all
}

fn one(v: &View, worn: &Worn) -> Markup {
    html! {
        div.result {
            p.what { (worn.part.name) ": " (worn.wear.what) }
            p { span class=(class(worn.advice)) { (advice(v, worn.advice)) } }
            @if let Some(newest) = worn.newest() { p { (measured(v, worn, newest)) } }
            p { (left(v, worn)) }
            @if let Some(risk) = risk(v, worn) { p { (risk) } }
            @if worn.life.is_some() { p.hint { (since(v, worn)) } }
            @if let Some(job) = worn.history.anew { p.hint { (v.say(&Message::new("wear-counter-anew").with("job", job.to_string()))) } }
            @if worn.history.readings.len() > 1 {
                ul.done-list {
                    @for read in &worn.history.readings { li { (reading(v, worn, read)) } }
                }
            }
            @if let Some(working) = worn.working() { (show::working(v.p, &working)) }
        }
    }
}

/// The newest size against new and limit.
fn measured(v: &View, worn: &Worn, newest: &Gauged) -> String {
    let wear = worn.wear;
    let unit = wear.unit.symbol();
    let text = Message::new("wear-measured")
        .number("size", newest.value, places(newest.value, 2))
        .number(
            "expanded",
            newest.expanded,
            figures(newest.expanded, 2).min(3),
        )
        .number("new", wear.new, places(wear.new, 2))
        .with("unit", unit)
        .with("limits", show::limits(v.p, &wear.limits, unit));
    v.say(&text)
}

fn class(advice: Advice) -> &'static str {
    match advice {
        Advice::Keep => "v acc",
        Advice::ReplaceNow => "v rej",
        Advice::LookAfter(_) | Advice::CannotTell => "v und",
    }
}

/// The advice in words.
fn advice(v: &View, advice: Advice) -> String {
    let after = match advice {
        Advice::Keep => return v.t("wear-keep"),
        Advice::ReplaceNow => return v.t("wear-replace"),
        Advice::CannotTell => return v.t("wear-cannot-tell"),
        Advice::LookAfter(pulls) => told(pulls as f64),
    };
    let said = match v.job.received.body.counter {
        Some(counter) => {
            Message::new("wear-look-at").with("counter", told((counter + after) as f64))
        }
        None => Message::new("wear-look-after").with("pulls", after),
    };
    v.say(&said)
}

/// Pulls as told: no more figures than they are worth.
fn told(pulls: f64) -> u64 {
    let step = if pulls < 1000.0 { 10.0 } else { 100.0 };
    // A life that is exact on paper is not in a double.
    ((pulls / step + 1e-6).floor() * step) as u64
}

/// How many pulls are left.
fn left(v: &View, worn: &Worn) -> String {
    let Some((left, low, high)) = worn.left() else {
        return v.t("wear-no-rate");
    };
    if left <= 0.0 {
        return v.t("wear-none-left");
    }
    if !left.is_finite() {
        return v.t("wear-not-seen");
    }
    // A most that lies far off says nothing but that little is known.
    let id = if high < FAR * left {
        "wear-left"
    } else {
        "wear-left-open"
    };
    let text = Message::new(id)
        .with("left", told(left))
        .with("low", told(low))
        .with("high", told(high));
    v.say(&text)
}

/// The probability of being beyond the limit at the next service.
fn risk(v: &View, worn: &Worn) -> Option<String> {
    let service = worn.service?;
    let text = Message::new("wear-risk")
        .with("task", service.task.what.as_str())
        .with("pulls", service.in_pulls)
        .with("percent", percent(worn.risk?));
    Some(v.say(&text))
}

/// What the report says of it; nothing where nothing tells how fast it wears.
pub fn in_a_line(v: &View, worn: &Worn) -> String {
    if worn.life.is_none() {
        return String::new();
    }
    let said = [Some(left(v, worn)), risk(v, worn)];
    let said: Vec<String> = said.into_iter().flatten().collect();
    let advice = advice(v, worn.advice);
    v.say(
        &Message::new("wear-on-report")
            .with("said", said.join(" "))
            .with("advice", advice),
    )
}

/// Where its pulls are counted from.
fn since(v: &View, worn: &Worn) -> String {
    let count = worn.history.readings.len();
    let text = match worn.since {
        Since::Renewed(counter) => Message::new("wear-since-renewed").with("counter", counter),
        Since::FirstReading => Message::new("wear-since-first"),
    };
    v.say(&text.with("count", count))
}

/// A reading in a line: at how many pulls, what it measured, in which job.
fn reading(v: &View, worn: &Worn, read: &Gauged) -> String {
    let size = format!(
        "{} {}",
        fixed(read.value, places(read.value, 2)),
        worn.wear.unit.symbol()
    );
    let text = match read.counter {
        Some(counter) => Message::new("wear-reading").with("counter", counter),
        None => Message::new("wear-reading-uncounted"),
    };
    v.say(&text.with("size", size).with("job", read.job.to_string()))
}
