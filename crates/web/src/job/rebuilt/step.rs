//! One step of strip or rebuild: what is done, how, what came of it, the form.

use calc::Message;
use maud::{Markup, PreEscaped, html};
use shop::entry::{Outcome, StepDone};
use shop::job::Stamped;
use shop::route::{Act, Hold, PowerUp, Step};
use shop::sheet::{AfterOpening, Drive, Joint, Part, Shows, Side};

use super::{clock, tighten};
use crate::job::bench;
use crate::job::correct;
use crate::job::judged::Judged;
use crate::job::view::View;
use crate::shell::{Choice, Field, Form};
use crate::show;

/// What is done, in a line. Where a thread is turned the line says its hand.
pub fn title(v: &View, step: &Step) -> String {
    match &step.act {
        Act::Fit(part) if renewed(v, part) => {
            v.say(&Message::new("step-fit-new").with("part", part.name.as_str()))
        }
        _ => v.say(&step.title()),
    }
}

/// How it is done: the way to turn, sizes, lubricant, and the danger.
pub fn detail(v: &View, step: &Step) -> Markup {
    html! {
        @match &step.act {
            Act::MakeSafe(drive) => {
                p.warn { (v.t(make_safe_words(*drive))) small { (v.t("source-energy")) } }
            }
            Act::Undo(joint, rotation) => {
                (hand(v, joint, *rotation, "step-turn-free"))
                p.hint { (size(joint)) ", " (joint.tool) }
            }
            Act::Tighten(joint, rotation) => {
                (hand(v, joint, *rotation, "step-turn-tight"))
                p.hint {
                    (size(joint)) ", " (joint.tool) ", "
                    (v.say(&Message::new("step-locking").with("locking", joint.locking.as_str())))
                }
                @if let Some(limits) = joint.limits() { p.mid { (bench::limits_text(v, &limits, "N·m")) } }
                (tighten::behind_adapter(v, step, joint))
            }
            Act::TakeOff(part) => {
                @if let Some(id) = side(part.from) { p.hint { (v.t(id)) } }
                @if let Some(way) = &part.orientation { p.hint { (way) } }
            }
            Act::Gauge(_, wear) => {
                p.hint {
                    (bench::limits_text(v, &wear.limits, wear.unit.symbol())) ". "
                    (v.say(&Message::new("step-new-size").number("size", wear.new, 2).with("unit", wear.unit.symbol())))
                }
            }
            Act::Clean => { (v.warn("step-clean-caution", "source-clean")) }
            Act::Fit(part) => { (fit(v, part)) }
            Act::Check(_, check) => {
                p.hint { (bench::limits_text(v, &check.limits, check.unit.symbol())) }
            }
            Act::Close(closing) => { (close(v, closing)) }
            Act::PowerUp(PowerUp::Shield, _) => { (v.warn("step-power-caution", "source-common")) }
            Act::PowerUp(..) => {}
        }
        @if let Some(caution) = step.caution { (v.caution(caution)) }
    }
}

fn hand(v: &View, joint: &Joint, rotation: calc::screw_stop::Rotation, id: &'static str) -> Markup {
    let way = Message::new(id).with("rotation", v.p.words.term(rotation));
    html! {
        div.hand {
            (PreEscaped(paper::turn_arrow(rotation)))
            div { b { (v.p.words.term(joint.thread.hand)) } (v.say(&way)) }
        }
    }
}

fn size(joint: &Joint) -> String {
    match joint.count {
        1 => joint.thread.size.clone(),
        count => format!("{} × {count}", joint.thread.size),
    }
}

/// The side from which a part comes off, where that is not the nose.
fn side(from: Side) -> Option<&'static str> {
    match from {
        Side::Nose => None,
        Side::Tail => Some("step-from-tail"),
        Side::Beside => Some("step-from-side"),
    }
}

/// What a step before the first power-up must show, and what goes in.
fn close(v: &View, closing: &AfterOpening) -> Markup {
    html! {
        @if let Some((id, amount)) = &closing.fills { p.hint { (lubricant(v, id, amount)) } }
        @match &closing.shows {
            Shows::Nothing => {}
            Shows::Look(pass) => { p.hint { (pass) } }
            Shows::Reading { unit, limits, .. } => {
                p.hint { (bench::limits_text(v, limits, unit.symbol())) }
            }
        }
    }
}

fn lubricant(v: &View, id: &str, amount: &str) -> String {
    let known = v.model.lubricants.iter().find(|l| l.id == *id);
    let name = known.map_or(id, |l| &l.name);
    v.say(
        &Message::new("step-lubricant")
            .with("name", name)
            .with("amount", amount),
    )
}

fn fit(v: &View, part: &Part) -> Markup {
    let lubricant = part
        .lubricant
        .as_ref()
        .map(|(id, amount)| lubricant(v, id, amount));
    html! {
        @if let Some(lubricant) = lubricant { p.hint { (lubricant) } }
        @if let Some(way) = &part.orientation { p.hint { (way) } }
        @if part.renew { p.hint { (v.t("step-renew")) } }
    }
}

fn make_safe_words(drive: Drive) -> &'static str {
    match drive {
        Drive::Battery => "make-safe-battery",
        Drive::AirHydraulic => "make-safe-air",
        Drive::Hydraulic => "make-safe-hydraulic",
    }
}

/// The readings beside the worst, which decides.
pub fn others(v: &View, done: &StepDone) -> String {
    let raw: Vec<&str> = done.others.iter().map(|r| r.raw.trim()).collect();
    v.say(&Message::new("step-others").with("readings", raw.join(", ")))
}

/// A step that was done: its line and its value; the rest folded.
pub fn done(v: &View, step: &Step, record: &Stamped<StepDone>) -> Markup {
    let judged = Judged::of_step(v, step, &record.body);
    html! {
        details {
            summary {
                span {
                    (title(v, step)) " "
                    @if let Some(judged) = judged { b { (judged.value_text()) } " " }
                    @if let Some(outcome) = record.body.outcome { (show::chip(v.p, outcome.into())) }
                }
            }
            (outcome(v, step, record))
        }
        @if !record.body.reason.is_empty() {
            p.note {
                b {
                    @match &record.body.overridden {
                        Some(by) => { (v.say(&Message::new("step-overridden").with("name", v.person(by)))) }
                        None => { (v.t("step-reason")) }
                    }
                }
                " " (record.body.reason)
            }
        }
    }
}

/// The photos and files of a step.
fn files(v: &View, step: &Step) -> Markup {
    html! {
        @for file in v.job.files_of_step(&step.id) {
            p { a href={ "/jobs/" (v.job.received.body.number) "/files/" (file.version) } { (file.body.name) } }
        }
    }
}

/// The tightenings before the newest one, none of which is lost.
fn earlier(v: &View, step: &Step) -> Markup {
    let all: Vec<_> = v.job.records(&step.id).collect();
    let before = all.split_last().map(|(_, before)| before);
    html! {
        @for record in before.unwrap_or_default() {
            @if let Some(judged) = Judged::of_step(v, step, &record.body) {
                p {
                    (v.t("step-earlier")) " " b { (judged.value_text()) } " "
                    (show::chip(v.p, judged.bar.verdict)) " "
                    small { (v.stamp(record.at, &record.by)) }
                }
            }
        }
    }
}

/// What came of a step.
pub fn outcome(v: &View, step: &Step, record: &Stamped<StepDone>) -> Markup {
    let body = &record.body;
    html! {
        div.result {
            (earlier(v, step))
            @match Judged::of_step(v, step, body) {
                Some(judged) => {
                    (judged.show(v, &title(v, step)))
                    @if !body.others.is_empty() { p { (others(v, body)) } }
                    (judged.explained(v))
                }
                None => { @if let Some(outcome) = body.outcome { p { (show::chip(v.p, outcome.into())) } } }
            }
            @if !body.redone.is_empty() { p { (v.say(&Message::new("step-redone").with("what", body.redone.as_str()))) } }
            @if !body.note.is_empty() { p { (body.note) } }
            @if let Some(minutes) = body.minutes {
                p { (v.say(&Message::new("step-minutes").number("minutes", minutes, 1))) }
            }
            (files(v, step))
            small { (v.stamp(record.at, &record.by)) }
            (correct::strike(v, record.version))
        }
    }
}

/// The form of the step that is next.
pub fn form(v: &View, step: &Step) -> Markup {
    let id = form_id(step);
    let form = v.form(&id);
    let button = if step.hold().is_some() {
        "button-step"
    } else {
        "button-done"
    };
    html! {
        (v.wrap(&form, "step", fields(v, step, &form), button))
        (clock::of(v, step))
    }
}

/// The form of the hold that ends the plain steps in reach: they are done with it.
pub fn form_ahead(v: &View, step: &Step) -> Markup {
    html! {
        details open[v.is_refused(&form_id(step))] {
            summary { (v.t("step-ahead")) }
            (form(v, step))
        }
    }
}

fn form_id(step: &Step) -> String {
    format!("step-{}-form", step.id)
}

fn fields(v: &View, step: &Step, form: &Form) -> Markup {
    let worn = matches!(&step.act, Act::Fit(part) if needs_reason(v, part));
    let signs: Vec<Choice> = match step.act {
        Act::PowerUp(..) => v
            .job
            .signs_open(&v.desk)
            .map(|s| Choice::new(&s.id, &s.text))
            .collect(),
        _ => Vec::new(),
    };
    html! {
        input type="hidden" name="step" value=(step.id);
        @if !signs.is_empty() { (form.ticks(&Field::new("mended", v.t("field-signs-mended")), &signs)) }
        @match step.hold() {
            Some(Hold::Reading { unit, gauges, limits }) => {
                (v.reading_fields(form, v.t("field-reading"), unit, &gauges, &limits, 1))
                (tighten::fields(v, step, form))
                (form.text(&Field::new("reason", v.t(if v.job.waits_for_a_name(step) {
                    "field-override-reason"
                } else {
                    "field-hold-reason"
                }))))
                (form.text(&Field::new("note", v.t("field-note"))))
            }
            Some(Hold::Look) => {
                (form.radios(&Field::new("passed", v.t("field-passed")), &bench::yes_no(v)))
                (form.text(&Field::new("note", v.t("field-note"))))
            }
            None => {
                @if worn { (form.text(&Field::new("reason", v.t("field-worn-reason")))) }
                (form.text(&Field::new("note", v.t("field-note"))))
            }
        }
    }
}

fn renewed(v: &View, part: &Part) -> bool {
    v.job.renewed(&part.id)
}

/// Whether a part goes back in only with a written reason.
fn needs_reason(v: &View, part: &Part) -> bool {
    let worn = part.wear.iter().any(|w| {
        v.job
            .step(&format!("gauge-{}-{}", part.id, w.id))
            .is_some_and(|s| s.body.outcome == Some(Outcome::Reject))
    });
    !renewed(v, part) && (worn || part.renew)
}
