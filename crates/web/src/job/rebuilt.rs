//! Rebuilt: how far, the steps in order, holds with their reading, parts renewed.

use calc::Message;
use calc::units::Unit;
use maud::{Markup, PreEscaped, html};
use shop::entry::{Outcome, StepDone};
use shop::estimate::parts_for;
use shop::job::{Command, Stage, Stamped};
use shop::route::{Act, Hold, PowerUp, Step};
use shop::sheet::{Drive, Part};

use super::bench;
use super::judged::Judged;
use super::view::{View, measured};
use crate::forms::{FieldErrors, Typed, parse_count};
use crate::shell::{Choice, Field};
use crate::show;

/// The section.
pub fn section(v: &View) -> Markup {
    let open = v.job.is_open(Stage::Rebuilt);
    let steps = v.job.route_steps(v.model);
    html! {
        @match &steps {
            Some(steps) => { (route(v, steps, open)) }
            None => { @if open { (plan(v)) } }
        }
        @if !v.job.replaced.is_empty() { (replaced(v)) }
        @if open && steps.is_some() && !v.job.powered_up() {
            (replace_form(v))
            details {
                summary { (v.t("route-deeper")) }
                (plan(v))
            }
        }
        @if open && !v.job.opened() && v.job.standing(Stage::Rebuilt) == shop::job::Standing::Now {
            (super::pause::skip_form(v, Stage::Rebuilt))
        }
    }
}

fn plan(v: &View) -> Markup {
    let form = v.form("route");
    let wanted = parts_for(v.job, v.model, v.faults);
    let deepest = v
        .model
        .parts
        .iter()
        .rposition(|p| wanted.iter().any(|w| w.id == p.id));
    let choices: Vec<Choice> = v
        .model
        .parts
        .iter()
        .enumerate()
        .map(|(i, p)| {
            let text = Message::new("route-part")
                .with("n", i + 1)
                .with("part", p.name.as_str());
            Choice::new(&p.id, v.say(&text)).chosen(deepest == Some(i))
        })
        .collect();
    v.wrap(&form, "route", html! {
        (form.select(&Field::new("down_to", v.t("field-down-to")).hint(v.t("hint-down-to")), &choices))
        (form.text(&Field::new("note", v.t("field-note"))))
    }, "button-route")
}

fn route(v: &View, steps: &[Step], open: bool) -> Markup {
    let next = v.job.next_step(steps);
    let done = steps.iter().filter(|s| v.job.passed(s)).count();
    let count = Message::new("route-progress")
        .with("done", done)
        .with("of", steps.len());
    html! {
        p.lab { (v.say(&count)) }
        ol.steps {
            @for (i, step) in steps.iter().enumerate() {
                @let is_next = open && next == Some(i);
                @let record = v.job.step(&step.id);
                li.done[v.job.passed(step)].now[is_next].next[next.is_some_and(|n| i > n)]
                    id={ "step-" (step.id) } {
                    (line(v, step))
                    @if let Some(record) = record { (outcome(v, step, record)) }
                    @if is_next || (open && ahead(v, steps, i)) { (step_form(v, step, is_next)) }
                }
            }
        }
    }
}

/// A step after the next one that may be done already: only plain steps lie between, which are
/// then done with it.
fn ahead(v: &View, steps: &[Step], i: usize) -> bool {
    let Some(next) = v.job.next_step(steps) else {
        return false;
    };
    i > next && steps[i].hold().is_some() && steps[next..i].iter().all(|s| s.hold().is_none())
}

/// What is done, with the way to turn.
fn line(v: &View, step: &Step) -> Markup {
    html! {
        div.do {
            @match &step.act {
                Act::MakeSafe(drive) => {
                    b { (v.t("step-make-safe")) }
                    p.warn { (v.t(make_safe_words(*drive))) small { (v.t("source-energy")) } }
                }
                Act::Undo(joint, rotation) | Act::Tighten(joint, rotation) => {
                    @let undo = matches!(step.act, Act::Undo(..));
                    b { (v.say(&Message::new(if undo { "step-undo" } else { "step-tighten" }).with("joint", joint.name.as_str()))) }
                    div.hand {
                        (PreEscaped(paper::turn_arrow(*rotation)))
                        div {
                            b { (v.p.words.term(joint.thread.hand)) }
                            (v.say(&Message::new(if undo { "step-turn-free" } else { "step-turn-tight" })
                                .with("rotation", v.p.words.term(*rotation))))
                        }
                    }
                    p.hint {
                        (joint.thread.size)
                        @if joint.count > 1 { " × " (joint.count) }
                        ", " (joint.tool)
                        @if !undo { ", " (v.say(&Message::new("step-locking").with("locking", joint.locking.as_str()))) }
                    }
                }
                Act::TakeOff(part) => {
                    b { (v.say(&Message::new("step-off").with("part", part.name.as_str()))) }
                    @if let Some(way) = &part.orientation { p.hint { (way) } }
                }
                Act::Gauge(part, wear) => {
                    b { (v.say(&Message::new("step-gauge").with("part", part.name.as_str()).with("what", wear.what.as_str()))) }
                    p.hint {
                        (bench::limits_text(v, &wear.limits, wear.unit.symbol()))
                        " " (v.say(&Message::new("step-new-size").number("size", wear.new, 2).with("unit", wear.unit.symbol())))
                    }
                }
                Act::Clean => { b { (v.t("step-clean")) } (v.warn("step-clean-caution", "source-clean")) }
                Act::Fit(part) => { (fit(v, part)) }
                Act::PowerUp(part, drive) => {
                    b { (v.t(power_words(*part, *drive))) }
                    @if *part == PowerUp::Shield { (v.warn("step-power-caution", "source-common")) }
                }
            }
            @if let Some(caution) = step.caution { (v.caution(caution)) }
        }
    }
}

fn fit(v: &View, part: &Part) -> Markup {
    let renew = v.job.replaced.iter().any(|r| r.body.part == part.id);
    html! {
        b { (v.say(&Message::new(if renew { "step-fit-new" } else { "step-fit" }).with("part", part.name.as_str()))) }
        @if let Some((id, amount)) = &part.lubricant {
            p.hint {
                (v.say(&Message::new("step-lubricant")
                    .with("name", v.model.lubricants.iter().find(|l| l.id == *id).map_or(id.as_str(), |l| &l.name))
                    .with("amount", amount.as_str())))
            }
        }
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

fn outcome(v: &View, step: &Step, record: &Stamped<StepDone>) -> Markup {
    let body = &record.body;
    html! {
        div.result {
            @match Judged::of_step(v, step, body) {
                Some(judged) => {
                    (judged.show(v, &step_name(v, step)))
                    (show::working(v.p, &judged.working()))
                }
                None => { @if let Some(outcome) = body.outcome { p { (show::chip(v.p, outcome.into())) } } }
            }
            @if !body.reason.is_empty() { p.note { b { (v.t("step-reason")) } " " (body.reason) } }
            @if !body.note.is_empty() { p { (body.note) } }
            small { (v.stamp(record.at, &record.by)) }
            (super::correct::strike(v, record.version))
        }
    }
}

/// The name of what a step measures.
fn step_name(v: &View, step: &Step) -> String {
    match &step.act {
        Act::Gauge(part, wear) => format!("{}, {}", part.name, wear.what),
        Act::Undo(joint, _) | Act::Tighten(joint, _) => joint.name.clone(),
        _ => v.t("stage-rebuilt"),
    }
}

fn step_form(v: &View, step: &Step, is_next: bool) -> Markup {
    let id = format!("step-{}-form", step.id);
    let form = v.form(&id);
    let worn = matches!(&step.act, Act::Fit(part) if needs_reason(v, part));
    let button = if step.hold().is_some() {
        "button-step"
    } else {
        "button-done"
    };
    let body = v.wrap(
        &form,
        "step",
        html! {
            input type="hidden" name="step" value=(step.id);
            @match step.hold() {
                Some(Hold::Reading { unit, gauges, .. }) => {
                    (v.reading_fields(&form, v.t("field-reading"), unit, &gauges, 1))
                    (form.text(&Field::new("reason", v.t("field-hold-reason"))))
                }
                Some(Hold::Look) => {
                    (form.radios(&Field::new("passed", v.t("field-passed")), &bench::yes_no(v)))
                    (form.text(&Field::new("note", v.t("field-note"))))
                }
                None => {
                    @if worn { (form.text(&Field::new("reason", v.t("field-worn-reason")))) }
                }
            }
        },
        button,
    );
    html! {
        @if is_next { (body) }
        @else {
            details open[v.is_refused(&id)] {
                summary { (v.t("step-ahead")) }
                (body)
            }
        }
    }
}

/// Whether a part goes back in only with a written reason.
fn needs_reason(v: &View, part: &Part) -> bool {
    let renewed = v.job.replaced.iter().any(|r| r.body.part == part.id);
    let worn = part.wear.iter().any(|w| {
        v.job
            .step(&format!("gauge-{}-{}", part.id, w.id))
            .is_some_and(|s| s.body.outcome == Some(Outcome::Reject))
    });
    !renewed && (worn || part.renew)
}

fn replaced(v: &View) -> Markup {
    html! {
        h3 { (v.t("replaced-heading")) }
        ul.done-list {
            @for r in &v.job.replaced {
                li {
                    b { (v.model.parts.iter().find(|p| p.id == r.body.part).map_or(r.body.part.as_str(), |p| &p.name)) }
                    " " (r.body.number) ": " (r.body.reason)
                    @if let Some(n) = r.body.counter { ", " (v.say(&Message::new("pulls").with("pulls", n))) }
                    small { (v.stamp(r.at, &r.by)) }
                    (super::correct::strike(v, r.version))
                }
            }
        }
    }
}

fn replace_form(v: &View) -> Markup {
    let form = v.form("part");
    let choices: Vec<Choice> = v
        .model
        .parts
        .iter()
        .map(|p| Choice::new(&p.id, format!("{} ({})", p.name, p.number)))
        .collect();
    html! {
        details open[v.is_refused("part")] {
            summary { (v.t("replace-summary")) }
            (v.wrap(&form, "part", html! {
                (form.select(&Field::new("part", v.t("field-part")), &choices))
                (form.text(&Field::new("number", v.t("field-number")).hint(v.t("hint-number")).short()))
                (form.text(&Field::new("reason", v.t("field-why"))))
                (form.count(&Field::new("counter", v.t("field-counter")).hint(v.t("hint-part-counter")).short()))
            }, "button-part"))
        }
    }
}

/// The commands of this section's forms.
pub fn parse(kind: &str, typed: &Typed, v: &View, errors: &mut FieldErrors) -> Option<Command> {
    let text = |name| typed.get(name).to_owned();
    Some(match kind {
        "route" => Command::PlanRoute {
            down_to: text("down_to"),
            note: text("note"),
        },
        "step" => {
            let steps = v.job.route_steps(v.model).unwrap_or_default();
            let step = steps.iter().find(|s| s.id == typed.get("step"));
            let unit = match step.and_then(Step::hold) {
                Some(Hold::Reading { unit, .. }) => Some(unit),
                _ => None,
            };
            Command::DoStep {
                step: text("step"),
                measured: unit.map(|unit: Unit| {
                    measured(
                        typed,
                        "reading",
                        "gauge",
                        &v.t("field-reading"),
                        unit,
                        errors,
                    )
                }),
                passed: bench::passed(typed),
                reason: text("reason"),
                note: text("note"),
            }
        }
        "part" => Command::ReplacePart {
            part: text("part"),
            number: text("number"),
            reason: text("reason"),
            counter: typed
                .filled("counter")
                .and_then(|raw| errors.keep("counter", v.t("field-counter"), parse_count(raw))),
        },
        _ => return None,
    })
}

/// The stage that was left out, and why.
pub fn skipped(v: &View, stage: Stage) -> Markup {
    html! {
        @if let Some(s) = v.job.skipped.get(&stage) {
            p.note {
                b { (v.t("skipped")) } " " (s.body.reason)
                small { (v.stamp(s.at, &s.by)) }
            }
            (super::correct::strike(v, s.version))
        } @else if v.job.declined() {
            p.note { (v.t("skipped-declined")) }
        }
    }
}
