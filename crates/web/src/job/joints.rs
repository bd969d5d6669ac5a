//! Trial joints: readings against the limits, verdict, what to change next.

use calc::Message;
use calc::units::Unit;
use maud::{Markup, html};
use shop::entry::{Outcome, TrialJointRead};
use shop::job::{Command, SetUp, SetUpSheets, Stamped, TrialJointIn, TypedValue, far_from_table};
use shop::joint::Advice;
use shop::joint_numbers::JointNumbers;
use shop::sheet::{Criterion, FastenerKind, GaugeKind};
use shop::trial::{Told, Trial};

use super::judged::Judged;
use super::view::{View, measured};
use super::{joint_fields, names, next_joint};
use crate::forms::{FieldErrors, Typed, parse_number};
use crate::shell::{Choice, Field};
use crate::show;

/// Joints so far, the advice, the form for the next, the sign-off.
pub fn section(v: &View, set_up: &SetUp, s: &SetUpSheets, working: bool) -> Markup {
    let without_turns = is_without_turns(s);
    let settled = set_up.stick_out().is_some_and(|r| r.in_band)
        || (without_turns && s.fastener.stick_out_mm.is_none());
    let told = Told::of(s, set_up, &v.desk);
    html! {
        @if settled || !set_up.joints.is_empty() {
            h3 { (v.t("joints-heading")) }
            @if let Some(last) = set_up.joints.last() {
                @if working { (next_joint::section(v, set_up, s, &last.body, &told)) }
                (table(v, set_up, s))
                @if let Some(numbers) = JointNumbers::of_set_up(set_up, s.fastener) {
                    (show::joint_numbers(v.p, &numbers))
                }
            }
        }
        // Once there are enough good joints, the next thing to do is to sign.
        @let trial = told.trial.as_ref();
        @let enough = working && is_enough(v, set_up, trial);
        @if enough { (sign_off(v, set_up, without_turns, trial)) }
        @if working && settled {
            @if enough {
                details open[v.is_refused("joint")] {
                    summary { (v.t("joint-another")) }
                    (joint_form(v, set_up, s, told.advice.as_ref()))
                }
            } @else { (joint_form(v, set_up, s, told.advice.as_ref())) }
        }
        @if working && !enough && set_up.good_in_a_row() > 0 { (sign_off(v, set_up, without_turns, trial)) }
    }
}

fn is_without_turns(s: &SetUpSheets) -> bool {
    s.rule.is_some_and(|r| !r.basis.is_by_turns())
}

/// Every joint in a row: what was measured against its limits, what the eye says, the verdict.
fn table(v: &View, set_up: &SetUp, s: &SetUpSheets) -> Markup {
    let read = |id: &str| {
        let joints = set_up.joints.iter();
        joints
            .flat_map(|j| &j.body.readings)
            .any(|r| r.criterion == id)
    };
    let measured: Vec<&Criterion> = s.fastener.criteria.iter().filter(|c| read(&c.id)).collect();
    html! {
        table.stack.joints {
            thead { tr {
                th { (v.t("joint-column")) }
                @for c in &measured { th { (c.name) } }
                th { (v.t("match-verdict-column")) }
            } }
            tbody {
                @for (i, joint) in set_up.joints.iter().enumerate() { (row(v, s.fastener.kind, &measured, i + 1, joint)) }
            }
        }
        details {
            summary { (v.t("joints-workings")) }
            @for (i, joint) in set_up.joints.iter().enumerate() {
                @for read in &joint.body.readings {
                    @if let Some(c) = s.fastener.criterion(&read.criterion) {
                        @let judged = Judged::of_joint(v, c, read);
                        p.hint {
                            (v.say(&Message::new("joint-number").with("n", i + 1))) ", " (c.name) ": "
                            (judged.value_text()) " " (judged.doubt_text()) ", " (v.gauge_note(&read.reading))
                        }
                        (judged.explained(v))
                        @if let Some((inside, working)) = judged.conformity() {
                            p.hint { (v.say(&Message::new("joint-conformity").with("percent", next_joint::percent_text(v, inside)))) }
                            (show::working(v.p, &working))
                        }
                    }
                }
            }
        }
    }
}

fn row(
    v: &View,
    kind: FastenerKind,
    measured: &[&Criterion],
    number: usize,
    joint: &Stamped<TrialJointRead>,
) -> Markup {
    let body = &joint.body;
    html! {
        tr {
            td data-label=(v.t("joint-column")) {
                b { (number) }
                @if let Some(bar) = body.pressure_bar { " " (show::bar_text(v.p, bar, 2)) }
                @if let Some(t) = body.turns { " " (v.say(&Message::new("joint-at").with("turns", paper::fraction(t)))) }
            }
            @for c in measured {
                td data-label=(c.name) {
                    @let mut read = body.readings.iter().filter(|r| r.criterion == c.id).peekable();
                    @if read.peek().is_none() { "–" }
                    @for read in read {
                        @let judged = Judged::of_joint(v, c, read);
                        b { (judged.value_text()) }
                        (judged.draw(v, &c.name))
                    }
                }
            }
            td data-label=(v.t("match-verdict-column")) {
                (show::chip(v.p, body.outcome.into()))
                small {
                    (v.t(names::look(kind, body.seen).unwrap_or_else(|| names::seen(body.seen))))
                    @if !body.note.is_empty() { ". " (body.note) }
                }
                small { (v.stamp(joint.at, &joint.by)) }
                (super::correct::strike(v, joint.version))
            }
        }
    }
}

fn joint_form(v: &View, set_up: &SetUp, s: &SetUpSheets, advice: Option<&Advice>) -> Markup {
    let form = v.form("joint");
    let wanted = wanted_turns(set_up, advice);
    let is_turned = is_turned(v, set_up, s, &wanted);
    html! {
            (v.joint_caution())
            (v.wrap(&form, "joint", html! {
    @if is_turned { (v.make_safe_ticks(&form)) }
                    @if !is_without_turns(s) {
                    (form.number(&Field::new("turns", v.t("field-turns")).hint(v.t("hint-turns")).short()
                        .value(wanted)))
                }
                @if s.is_by_force() {
                    (form.number(&Field::new("pressure", v.t("field-pressure")).hint(v.t("hint-pressure")).unit("bar").short()))
                    (form.select(&Field::new("gauge-pressure", v.t("field-gauge")), &v.gauges(Unit::Bar, &[GaugeKind::PressureGauge], None)))
                }
                (joint_fields::fields(v, &form, s.fastener))
            }, "button-joint"))
        }
}

/// Whether the adjuster is turned before the next joint; after a refusal, whether it may have been.
fn is_turned(v: &View, set_up: &SetUp, s: &SetUpSheets, wanted: &str) -> bool {
    let last = set_up.joints.last();
    let stays = last.is_some_and(|j| {
        let stood = j.body.turns.map(paper::fraction).unwrap_or_default();
        stood == wanted || is_without_turns(s)
    });
    !stays || v.is_refused("joint")
}

/// The setting that the next joint is meant to be set at.
fn wanted_turns(set_up: &SetUp, advice: Option<&Advice>) -> String {
    let table = set_up.stick_out();
    let first = || {
        let own = table.and_then(|r| r.own.as_ref());
        own.map(|own| own.set_turns)
            .or(table.and_then(|r| r.set_turns))
    };
    let turns = match advice {
        None => first(),
        Some(Advice::Change { to_turns, .. }) => Some(*to_turns),
        Some(_) => set_up.joints.last().and_then(|last| last.body.turns),
    };
    turns.map(paper::fraction).unwrap_or_default()
}

/// Good joints in a row that the shop asks for before the set-up is signed off.
fn wanted_joints(v: &View) -> usize {
    let shop = v.desk.shelf.shop(&v.job.shop_pin());
    shop.map_or(0, |s| s.joints_to_sign_off)
}

fn is_enough(v: &View, set_up: &SetUp, trial: Option<&Trial>) -> bool {
    if let Some(trial) = trial {
        return trial.is_enough();
    }
    let good = set_up.good_in_a_row();
    good > 0 && good >= wanted_joints(v)
}

fn sign_off(v: &View, set_up: &SetUp, without_turns: bool, trial: Option<&Trial>) -> Markup {
    let form = v.form("set-up-done");
    let by_force = set_up
        .joints
        .last()
        .is_some_and(|j| j.body.pressure_bar.is_some());
    let wanted = wanted_joints(v);
    let last_good = set_up
        .joints
        .last()
        .is_some_and(|j| j.body.outcome == Outcome::Accept);
    html! {
        @if last_good {
            h3 { (v.t("sign-off-heading")) }
            @if trial.is_none() {
                p { (v.say(&Message::new("sign-off-count").with("have", set_up.good_in_a_row()).with("need", wanted))) }
            }
            (v.wrap(&form, "set-up-done", html! {
                @if !without_turns {
                    (v.make_safe_ticks(&form))
                    (form.ticks(&Field::new("locked", v.t("field-locked")), &[Choice::new("yes", v.t("locked-yes"))]))
                }
                @if by_force {
                    (form.ticks(&Field::new("locked", v.t("field-open")), &[Choice::new("yes", v.t("open-yes"))]))
                }
                @if !is_enough(v, set_up, trial) || far_from_table(set_up) {
                    (form.text(&Field::new("reason", v.t("field-fewer"))))
                }
            }, "button-set-up-done"))
        }
    }
}

/// The command of the joint form.
pub fn parse(typed: &Typed, v: &View, errors: &mut FieldErrors) -> Option<Command> {
    let set_up = v.job.set_up()?;
    let s = v.job.set_up_sheets(set_up, &v.desk)?;
    let turns = typed.filled("turns").and_then(|raw| {
        let value = errors.keep("turns", v.t("field-turns"), parse_number(raw, Unit::Turn))?;
        Some(TypedValue {
            field: "turns".to_owned(),
            raw: raw.to_owned(),
            value,
        })
    });
    let name = v.t("field-pressure");
    let pressure = measured(
        typed,
        "pressure",
        "gauge-pressure",
        &name,
        Unit::Bar,
        errors,
    );
    Some(Command::ReadJoint(TrialJointIn {
        turns,
        pressure,
        made_safe: typed.all("made_safe").map(str::to_owned).collect(),
        joint: joint_fields::parse(typed, s.fastener, errors),
    }))
}
