//! Rebuilt: how far, the steps in order, holds with their reading, parts renewed.

mod clock;
mod drawing;
mod needs;
pub(crate) mod step;
mod tighten;

pub use drawing::drawing as axis_drawing;

use calc::Message;
use calc::units::Unit;
use maud::{Markup, html};
use shop::entry::{PartReplaced, PersonKey};
use shop::estimate::{parts_agreed, parts_for};
use shop::job::{Command, Stage, Standing, StepIn};
use shop::route::{Hold, Step};
use shop::sheet::Part;

use super::bench;
use super::view::{View, measured};
use crate::forms::{FieldErrors, Typed, parse_count};
use crate::shell::{Choice, Field};

/// The section.
pub fn section(v: &View) -> Markup {
    let open = v.job.is_open(Stage::Rebuilt);
    let steps = v.job.route_steps(v.model);
    html! {
        @match &steps {
            Some(steps) => { (route(v, steps, open)) }
            None => { @if open { (plan(v)) } }
        }
        (crate::job::wear::shown(v))
        @if !v.job.replaced.is_empty() { (replaced(v)) }
        @if open && steps.is_some() && !v.job.powered_up() {
            (replace_form(v))
            details open[v.is_refused("route")] {
                summary { (v.t("route-deeper")) }
                (plan(v))
            }
        }
        @if open && v.job.powered_up() && v.job.proof.is_none() {
            details open[v.is_refused("route")] {
                summary { (v.t("refuse-rebuild-done")) }
                (plan(v))
            }
        }
        @if open && !v.job.opened() && v.job.standing(Stage::Rebuilt) == Standing::Now {
            (crate::job::pause::skip_form(v, Stage::Rebuilt))
        }
    }
}

/// A step by its id, in words; the id itself where the model sheet has no such step.
pub fn step_name(v: &View, id: &str) -> String {
    let step = shop::route::step(v.model, id);
    step.map_or_else(|| id.to_owned(), |step| step::title(v, &step))
}

/// The form for the parts to be reached: proposed are those that the cause calls for.
fn plan(v: &View) -> Markup {
    let form = v.form("route");
    let agreed = parts_agreed(v.job, v.model);
    let for_cause = parts_for(v.job, v.model, v.faults);
    let is_wanted = |part: &&Part| {
        let mut all = agreed.iter().chain(&for_cause);
        all.any(|wanted| wanted.id == part.id)
    };
    let wanted: Vec<&Part> = v.model.parts.iter().filter(is_wanted).collect();
    let last = wanted.last();
    let on_the_way = last.and_then(|last| shop::route::to(v.model, &[&last.id]).ok());
    let others: Vec<&str> = wanted
        .iter()
        .map(|part| part.id.as_str())
        .filter(|id| on_the_way.as_ref().is_some_and(|way| !way.takes_off(id)))
        .collect();
    let choice = |i: usize, part: &Part, chosen: bool| {
        let text = Message::new("route-part")
            .with("n", i + 1)
            .with("part", part.name.as_str());
        Choice::new(&part.id, v.say(&text)).chosen(chosen)
    };
    let parts = || v.model.parts.iter().enumerate();
    let first: Vec<Choice> = parts()
        .map(|(i, p)| choice(i, p, last.is_some_and(|last| last.id == p.id)))
        .collect();
    let also: Vec<Choice> = parts()
        .map(|(i, p)| choice(i, p, others.contains(&p.id.as_str())))
        .collect();
    v.wrap(&form, "route", html! {
        (form.select(&Field::new("down_to", v.t("field-down-to")).hint(v.t("hint-down-to")), &first))
        details open[!others.is_empty()] {
            summary { (v.t("route-also-summary")) }
            (form.ticks(&Field::new("also", v.t("field-also")), &also))
        }
        (form.text(&Field::new("note", v.t("field-note"))))
    }, "button-route")
}

fn route(v: &View, steps: &[Step], open: bool) -> Markup {
    let next = v.job.next_step(steps).unwrap_or(steps.len());
    // The plain steps from the next one on may be done together with the hold that ends them.
    let hold = (next..steps.len()).find(|i| steps[*i].hold().is_some());
    let done = steps.iter().filter(|s| v.job.passed(s)).count();
    let count = Message::new("route-progress")
        .with("done", done)
        .with("of", steps.len());
    html! {
        p.lab { (v.say(&count)) }
        (needs::needs(v))
        (drawing::axis(v, steps.get(next)))
        ol.steps {
            @for (i, step) in steps.iter().enumerate() {
                @let is_now = open && i == next;
                @let in_reach = open && i > next && hold.is_some_and(|hold| i <= hold);
                li.done[v.job.passed(step)].now[is_now].next[i > next && !v.job.passed(step)]
                    id={ "step-" (step.id) } {
                    @match v.job.step(&step.id) {
                        Some(record) if !is_now => { (step::done(v, step, record)) }
                        record => {
                            b { (step::title(v, step)) }
                            @if is_now || in_reach { (step::detail(v, step)) }
                            @if let Some(record) = record { (step::outcome(v, step, record)) }
                            @if is_now { (step::form(v, step)) }
                            @if in_reach && hold == Some(i) { (step::form_ahead(v, step)) }
                        }
                    }
                }
            }
        }
    }
}

fn replaced(v: &View) -> Markup {
    html! {
        h3 { (v.t("replaced-heading")) }
        ul.done-list {
            @for r in &v.job.replaced {
                li {
                    b { (v.model.part(&r.body.part).map_or(r.body.part.as_str(), |p| &p.name)) }
                    " " (r.body.number) ": " (why(v, &r.body))
                    @if let Some(n) = r.body.counter { ", " (v.say(&Message::new("pulls").with("pulls", n))) }
                    small { (v.stamp(r.at, &r.by)) }
                    (crate::job::correct::strike(v, r.version))
                }
            }
        }
    }
}

/// Why a part was renewed, and who agreed to it where the quote does not say.
pub fn why(v: &View, part: &PartReplaced) -> String {
    if part.unagreed.is_empty() {
        return part.reason.clone();
    }
    let said = Message::new("replaced-unagreed")
        .with("reason", part.reason.as_str())
        .with("who", part.unagreed.as_str());
    v.say(&said)
}

fn replace_form(v: &View) -> Markup {
    let form = v.form("part");
    let choices: Vec<Choice> = v
        .job
        .parts_off(v.model)
        .map(|p| Choice::new(&p.id, format!("{} ({})", p.name, p.number)))
        .collect();
    let unagreed = v.job.parts_off(v.model);
    let unagreed = unagreed.filter(|p| v.job.is_unagreed(p, &p.number));
    let unagreed: Vec<&str> = unagreed.map(|p| p.name.as_str()).collect();
    html! {
        details open[v.is_refused("part")] {
            summary { (v.t("replace-summary")) }
            (v.wrap(&form, "part", html! {
                (form.select(&Field::new("part", v.t("field-part")), &choices))
                (form.text(&Field::new("number", v.t("field-number")).hint(v.t("hint-number")).short()))
                (form.text(&Field::new("reason", v.t("field-why"))))
                (form.count(&Field::new("counter", v.t("field-counter")).hint(v.t("hint-part-counter")).short()))
                @if !unagreed.is_empty() {
                    (form.text(&Field::new("unagreed", v.t("field-unagreed")).hint(v.say(&Message::new("hint-unagreed").with("parts", unagreed.join(", "))))))
                }
            }, "button-part"))
        }
    }
}

/// The commands of this section's forms. `name` is the key of the name typed at a step: who lets a
/// wrong torque stand.
pub fn parse(
    kind: &str,
    typed: &Typed,
    v: &View,
    name: Option<PersonKey>,
    errors: &mut FieldErrors,
) -> Option<Command> {
    let text = |name| typed.get(name).to_owned();
    Some(match kind {
        "route" => {
            let first = typed.get("down_to");
            Command::PlanRoute {
                parts: std::iter::once(first)
                    .chain(typed.all("also").filter(|id| *id != first))
                    .map(str::to_owned)
                    .collect(),
                note: text("note"),
            }
        }
        "clock" => Command::TimeStep {
            step: text("step"),
            on: typed.get("on") == "yes",
        },
        "step" => {
            let steps = v.job.route_steps(v.model).unwrap_or_default();
            let step = steps.iter().find(|s| s.id == typed.get("step"));
            let unit = match step.and_then(Step::hold) {
                Some(Hold::Reading { unit, .. }) => Some(unit),
                _ => None,
            };
            Command::DoStep(StepIn {
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
                arm: tighten::arm(typed, v, errors),
                passed: bench::passed(typed),
                reason: text("reason"),
                redone: text("redone"),
                overridden: name,
                mended: typed.all("mended").map(str::to_owned).collect(),
                note: text("note"),
            })
        }
        "part" => Command::ReplacePart {
            part: text("part"),
            number: text("number"),
            reason: text("reason"),
            counter: typed
                .filled("counter")
                .and_then(|raw| errors.keep("counter", v.t("field-counter"), parse_count(raw))),
            unagreed: text("unagreed"),
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
            (crate::job::correct::strike(v, s.version))
        } @else if v.job.declined() {
            p.note { (v.t("skipped-declined")) }
        } @else if stage == Stage::Rebuilt && v.job.is_set_up_only() && v.job.route.is_none() {
            p.note { (v.t("rebuilt-set-up-only")) }
        }
    }
}
