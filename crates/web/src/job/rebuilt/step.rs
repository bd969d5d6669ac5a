//! One step of strip or rebuild: what is done, how, what came of it, the form.

use calc::Message;
use maud::{Markup, PreEscaped, html};
use shop::entry::{Outcome, StepDone};
use shop::job::Stamped;
use shop::route::{Act, Hold, PowerUp, Step};
use shop::sheet::{Drive, Joint, Part};

use crate::job::bench;
use crate::job::correct;
use crate::job::judged::Judged;
use crate::job::view::View;
use crate::shell::{Field, Form};
use crate::show;

/// What is done, in a line. Where a thread is turned the line says its hand.
pub fn title(v: &View, step: &Step) -> String {
    let joint = |id, joint: &Joint| {
        let text = Message::new(id)
            .with("joint", joint.name.as_str())
            .with("hand", v.p.words.term(joint.thread.hand));
        v.say(&text)
    };
    let part = |id, part: &Part| v.say(&Message::new(id).with("part", part.name.as_str()));
    match &step.act {
        Act::MakeSafe(_) => v.t("step-make-safe"),
        Act::Undo(it, _) => joint("step-undo", it),
        Act::Tighten(it, _) => joint("step-tighten", it),
        Act::TakeOff(it) => part("step-off", it),
        Act::Gauge(it, wear) => v.say(
            &Message::new("step-gauge")
                .with("part", it.name.as_str())
                .with("what", wear.what.as_str()),
        ),
        Act::Clean => v.t("step-clean"),
        Act::Fit(it) if renewed(v, it) => part("step-fit-new", it),
        Act::Fit(it) => part("step-fit", it),
        Act::PowerUp(it, drive) => v.t(power_words(*it, *drive)),
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
            }
            Act::TakeOff(part) => { @if let Some(way) = &part.orientation { p.hint { (way) } } }
            Act::Gauge(_, wear) => {
                p.hint {
                    (bench::limits_text(v, &wear.limits, wear.unit.symbol())) ". "
                    (v.say(&Message::new("step-new-size").number("size", wear.new, 2).with("unit", wear.unit.symbol())))
                }
            }
            Act::Clean => { (v.warn("step-clean-caution", "source-clean")) }
            Act::Fit(part) => { (fit(v, part)) }
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

fn fit(v: &View, part: &Part) -> Markup {
    let lubricant = part.lubricant.as_ref().map(|(id, amount)| {
        let known = v.model.lubricants.iter().find(|l| l.id == *id);
        let name = known.map_or(id.as_str(), |l| &l.name);
        v.say(
            &Message::new("step-lubricant")
                .with("name", name)
                .with("amount", amount.as_str()),
        )
    });
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

fn power_words(part: PowerUp, drive: Drive) -> &'static str {
    match (part, drive) {
        (PowerUp::Shield, _) => "power-shield",
        (PowerUp::DryCycles, _) => "power-dry-cycles",
        (PowerUp::Release, _) => "power-release",
        (PowerUp::Look, Drive::Battery) => "power-look-battery",
        (PowerUp::Look, _) => "power-look-oil",
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
            p.note { b { (v.t("step-reason")) } " " (record.body.reason) }
        }
    }
}

/// What came of a step.
pub fn outcome(v: &View, step: &Step, record: &Stamped<StepDone>) -> Markup {
    let body = &record.body;
    html! {
        div.result {
            @match Judged::of_step(v, step, body) {
                Some(judged) => {
                    (judged.show(v, &title(v, step)))
                    @if !body.others.is_empty() { p { (others(v, body)) } }
                    (show::working(v.p, &judged.working(v)))
                }
                None => { @if let Some(outcome) = body.outcome { p { (show::chip(v.p, outcome.into())) } } }
            }
            @if !body.note.is_empty() { p { (body.note) } }
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
    v.wrap(&form, "step", fields(v, step, &form), button)
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
    html! {
        input type="hidden" name="step" value=(step.id);
        @match step.hold() {
            Some(Hold::Reading { unit, gauges, limits }) => {
                (v.reading_fields(form, v.t("field-reading"), unit, &gauges, &limits, 1))
                (form.text(&Field::new("reason", v.t("field-hold-reason"))))
                (form.text(&Field::new("note", v.t("field-note"))))
            }
            Some(Hold::Look) => {
                (form.radios(&Field::new("passed", v.t("field-passed")), &bench::yes_no(v)))
                (form.text(&Field::new("note", v.t("field-note"))))
            }
            None => {
                @if worn { (form.text(&Field::new("reason", v.t("field-worn-reason")))) }
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
