//! Received: what was written down at the counter, and putting it right.

use calc::Message;
use maud::{Markup, html};
use shop::counter::{Anew, AnewIn};
use shop::entry::PackState;
use shop::job::{Command, make_safe_ticks};
use shop::sheet::{Drive, TermFrom};

use super::names;
use super::view::View;
use crate::forms::{FieldErrors, Typed, parse_count, parse_date};
use crate::receive::{anew_in, counter_anew, first_used};
use crate::shell::Field;
use crate::show;

/// The section.
pub fn section(v: &View) -> Markup {
    let r = &v.job.received.body;
    let missing: Vec<String> = r
        .came
        .iter()
        .filter(|c| c.count < c.of)
        .map(|c| format!("{} ({}/{})", c.item, c.count, c.of))
        .collect();
    let symptoms: Vec<&str> = r
        .symptoms
        .iter()
        .filter_map(|id| v.faults.symptom(id))
        .map(|s| s.text.as_str())
        .collect();
    html! {
        dl.facts {
            dt { (v.t("field-complaint")) }
            dd { "“" (r.complaint) "”" }
            dt { (v.t("field-symptoms")) }
            dd {
                @if symptoms.is_empty() { (v.t("none-picked")) }
                @else { ul { @for text in &symptoms { li { (text) } } } }
            }
            dt { (v.t("field-counter")) }
            dd {
                (counter(v))
                @if let Some(anew) = anew(v) { small { (anew) } } @else if let Some(since) = since(v) { small { (since) } }
            }
            dt { (v.t("field-came")) }
            dd {
                @if missing.is_empty() { (v.t("came-complete")) }
                @else { b { (v.t("came-missing")) } " " (missing.join(", ")) }
            }
            dt { (v.t("field-made-safe")) }
            dd {
                ul {
                    @for tick in make_safe_ticks(v.model.drive).iter().filter(|t| r.made_safe.iter().any(|m| m == **t)) {
                        li { "✓ " (v.t(names::make_safe(tick))) }
                    }
                }
            }
            @if v.model.drive == Drive::Battery {
                dt { (v.t("field-pack")) }
                dd { (v.t(names::pack(r.pack))) }
            }
            dt { (v.t("field-sold")) }
            dd {
                @match r.sold { Some(d) => (show::day(d)), None => (v.t("sold-unknown")) }
            }
            @if asks_first_use(v) || r.first_used.is_some() {
                dt { (v.t("field-first-used")) }
                dd { @match r.first_used { Some(d) => (show::day(d)), None => (v.t("sold-unknown")) } }
            }
        }
        p { a href=(format!("/jobs/{}/label.pdf", v.job.received.body.number)) { (v.t("paper-link-label")) } }
        (lithium(v))
        @for caution in &v.model.cautions { (v.caution(caution)) }
        @if v.job.returned.is_none() { (amend(v)) }
    }
}

/// Whether the model's terms count from the day of first use.
pub fn asks_first_use(v: &View) -> bool {
    v.model.warranty.from == TermFrom::FirstUse
}

fn counter(v: &View) -> String {
    match v.job.received.body.counter {
        Some(n) => v.say(&Message::new("pulls").with("pulls", n)),
        None => v.t("counter-none"),
    }
}

/// How far it went since the tool was last here: a digit too many is seen there first.
fn since(v: &View) -> Option<String> {
    let received = &v.job.received.body;
    let pulls = received.counter?.checked_sub(received.counter_was?)?;
    let text = Message::new("counter-since").with("pulls", pulls);
    Some(v.say(&text))
}

/// That the counter began anew, and why.
pub fn anew(v: &View) -> Option<String> {
    let anew = Anew::of(v.job)?;
    let text = match anew.was {
        Some(was) => Message::new("counter-anew-said").with("was", was),
        None => Message::new("counter-anew-said-uncounted"),
    };
    Some(v.say(&text.with("reason", anew.reason)))
}

/// What holds for a battery that came along.
pub fn lithium(v: &View) -> Markup {
    let Some(pack) = v.model.pack else {
        return html! {};
    };
    let energy = Message::new("lithium-energy").number("wh", pack.energy_wh(), 0);
    html! {
        @match v.job.received.body.pack {
            PackState::None => {}
            PackState::Sound => {
                div.note {
                    p { (v.say(&energy)) }
                    p { (v.t(if pack.energy_wh() <= calc::battery::CARRIAGE_LIMIT_WH { "lithium-small" } else { "lithium-large" })) }
                    p.hint { (v.t("lithium-source")) }
                }
            }
            PackState::Damaged => {
                p.warn { b { (v.t("lithium-damaged")) } small { (v.t("lithium-damaged-source")) } }
            }
        }
    }
}

fn amend(v: &View) -> Markup {
    let form = v.form("amend-receipt");
    let r = &v.job.received.body;
    let text = |date: Option<jiff::civil::Date>| date.map(|d| d.to_string()).unwrap_or_default();
    html! {
        details open[v.is_refused("amend-receipt")] {
            summary { (v.t("amend-summary")) }
            (v.wrap(&form, "amend-receipt", html! {
                (form.area(&Field::new("complaint", v.t("field-complaint")).value(&r.complaint)))
                (form.count(&Field::new("counter", v.t("field-counter")).hint(v.t("hint-counter")).short()
                    .value(r.counter.map(|c| c.to_string()).unwrap_or_default())))
                (counter_anew(&form, r.counter_anew.as_deref()))
                (form.text(&Field::new("sold", v.t("field-sold")).hint(v.t("hint-date")).short().value(text(r.sold))))
                @if asks_first_use(v) { (first_used(&form, &text(r.first_used))) }
                (form.text(&Field::new("due", v.t("field-due")).hint(v.t("hint-date")).short().value(text(r.due))))
                (form.text(&Field::new("reason", v.t("field-amend-reason"))))
            }, "button-amend"))
        }
    }
}

/// The command of this section's form.
pub fn parse(kind: &str, typed: &Typed, v: &View, errors: &mut FieldErrors) -> Option<Command> {
    (kind == "amend-receipt").then(|| {
        // The page sends every box. What is not sent at all, at the prompt, stays as it is.
        let is_sent = |name: &str| typed.all(name).next().is_some();
        let now = &v.job.received.body;
        let counter = if is_sent("counter") {
            let raw = typed.filled("counter");
            raw.and_then(|raw| errors.keep("counter", v.t("field-counter"), parse_count(raw)))
        } else {
            now.counter
        };
        // A browser does not send a box without its tick: the reason's box tells that the page had both.
        let anew = if is_sent("counter_reason") || is_sent("counter_anew") {
            anew_in(typed)
        } else {
            AnewIn {
                ticked: now.counter_anew.is_some(),
                reason: now.counter_anew.clone().unwrap_or_default(),
            }
        };
        let mut date = |name: &str, label, now| {
            if !is_sent(name) {
                return now;
            }
            let raw = typed.filled(name)?;
            errors.keep(name, v.t(label), parse_date(raw))
        };
        Command::AmendReceipt {
            counter,
            anew,
            sold: date("sold", "field-sold", now.sold),
            first_used: date("first_used", "field-first-used", now.first_used),
            due: date("due", "field-due", now.due),
            complaint: if is_sent("complaint") {
                typed.get("complaint").to_owned()
            } else {
                now.complaint.clone()
            },
            reason: typed.get("reason").to_owned(),
        }
    })
}
