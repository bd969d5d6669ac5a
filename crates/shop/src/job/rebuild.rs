//! Strip and rebuild: steps in order, holds with their reading, parts renewed.

use calc::Message;
use calc::decision::{Rule, Verdict};
use calc::screw_stop::Hand;
use calc::torque_adapter;
use calc::units::Unit;

use super::judge::{each_alone, verdict_of, worst_of};
use super::refusal::{Refusals, needed, refuse, refuse_all};
use super::tighten::{adapter_used, of_joint};
use super::{Desk, Job, Measured, Stage, Stamped, TypedValue};
use crate::entry::{
    AdapterUsed, Body, Outcome, PartReplaced, PersonKey, Reading, RoutePlanned, StepDone, WrenchWay,
};
use crate::route::{self, Act, Hold, NoRoute, Route, Step};
use crate::sheet::{Direction, Part, ToolModel};

/// What is typed at a step.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StepIn {
    /// Step id.
    pub step: String,
    /// Reading, where the step asks for one.
    pub measured: Option<Measured>,
    /// Length of the wrench, mm, where the joint needs an adapter and the wrench's sheet does not say.
    pub arm: Option<TypedValue>,
    /// Whether the look passed, where the step asks for one.
    pub passed: Option<bool>,
    /// Why it is passed without a good reading.
    pub reason: String,
    /// What was done after a rejected tightening, before this one.
    pub redone: String,
    /// Who lets a rejected tightening or fit check stand.
    pub overridden: Option<PersonKey>,
    /// Signs that forbade energy and are mended, or were found whole, by id.
    pub mended: Vec<String>,
    /// Remark.
    pub note: String,
}

impl Job {
    /// The route that the job follows, if one was planned.
    pub fn planned<'a>(&self, model: &'a ToolModel) -> Option<Route<'a>> {
        let planned = &self.route.as_ref()?.body;
        let also = planned.also.iter().map(String::as_str);
        let parts: Vec<&str> = std::iter::once(planned.down_to.as_str())
            .chain(also)
            .collect();
        route::to(model, &parts).ok()
    }

    /// Its steps.
    pub fn route_steps<'a>(&self, model: &'a ToolModel) -> Option<Vec<Step<'a>>> {
        self.planned(model).map(|route| route.steps)
    }

    /// The parts that the planned route takes off, in the sheet's order: only these are renewed.
    pub fn parts_off<'a>(&self, model: &'a ToolModel) -> impl Iterator<Item = &'a Part> {
        let route = self.planned(model);
        let off = move |part: &&Part| route.as_ref().is_some_and(|r| r.takes_off(&part.id));
        model.parts.iter().filter(off)
    }

    /// Whether `step` was done so that the next may follow.
    pub fn passed(&self, step: &Step) -> bool {
        let Some(done) = self.step(&step.id) else {
            return false;
        };
        // Washed and looked at is what was off by then, not what came off later.
        let off_later =
            |s: &Stamped<StepDone>| s.body.step.starts_with("off-") && s.version > done.version;
        if matches!(step.act, Act::Clean) && self.steps_now().any(off_later) {
            return false;
        }
        match (step.hold(), done.body.outcome) {
            (None, _) | (_, Some(Outcome::Accept)) => true,
            // What the eye refused, no reason mends: it is looked at again.
            (Some(Hold::Look), _) => false,
            (_, Some(Outcome::Reject)) => match step.act {
                // Worn is a finding, not a hold: it asks for a new part before the old one is fitted.
                Act::Gauge(..) => true,
                // A wrong torque, or a wrong fit, stands only by the name of who answers for it.
                Act::Tighten(..) | Act::Check(..) => done.body.overridden.is_some(),
                _ => false,
            },
            _ => !done.body.reason.is_empty(),
        }
    }

    /// Index of the first step of `steps` that was not passed.
    pub fn next_step(&self, steps: &[Step]) -> Option<usize> {
        steps.iter().position(|step| !self.passed(step))
    }

    pub(super) fn plan_route(
        &self,
        parts: Vec<String>,
        note: String,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        self.open_or_refuse(Stage::Rebuilt)?;
        let model = self.model_or_refuse(desk)?;
        let ids: Vec<&str> = parts.iter().map(String::as_str).collect();
        let at_parts = |message| vec![refuse("down_to", message)];
        let route = route::to(model, &ids).map_err(|no| {
            at_parts(match no {
                NoRoute::Nothing | NoRoute::NoPart(_) => Message::new("refuse-no-part"),
                NoRoute::Circle(ids) => {
                    Message::new("sheet-circle").with("circle", ids.join(" → "))
                }
            })
        })?;
        if self.proof.is_some() {
            return refuse_all(Message::new("refuse-proof-stands"));
        }
        if let Some(left) = self.off_now(model).find(|p| !route.takes_off(&p.id)) {
            let message = Message::new("refuse-route-leaves-off").with("part", left.name.as_str());
            return Err(at_parts(message));
        }
        let mut also = Vec::new();
        for part in parts.iter().skip(1) {
            if *part != parts[0] && !also.contains(part) {
                also.push(part.clone());
            }
        }
        let planned = RoutePlanned {
            down_to: parts[0].clone(),
            also,
            note,
        };
        Ok(vec![planned.into()])
    }

    /// Parts that came off and have not been fitted since.
    fn off_now<'a>(&self, model: &'a ToolModel) -> impl Iterator<Item = &'a Part> {
        let done = |act: &str, part: &Part| self.step(&format!("{act}-{}", part.id)).is_some();
        let parts = model.parts.iter();
        parts.filter(move |part| done("off", part) && !done("fit", part))
    }

    /// Refuses to go past a hold that is open, and names the first.
    pub(super) fn holds_before(&self, before: &[Step]) -> Result<(), Refusals> {
        let mut open = before.iter().filter(|s| !self.passed(s));
        match open.find(|s| s.hold().is_some()) {
            Some(first) => {
                refuse_all(Message::new("refuse-hold-before").with("step", first.title()))
            }
            None => Ok(()),
        }
    }

    pub(super) fn do_step(&self, input: &StepIn, desk: &Desk) -> Result<Vec<Body>, Refusals> {
        self.open_or_refuse(Stage::Rebuilt)?;
        let model = self.model_or_refuse(desk)?;
        let Some(steps) = self.route_steps(model) else {
            return refuse_all(Message::new("refuse-no-route"));
        };
        if self.powered_up() {
            return refuse_all(Message::new("refuse-rebuild-done"));
        }
        let Some(at) = steps.iter().position(|s| s.id == input.step) else {
            return refuse_all(Message::new("refuse-no-step").with("step", input.step.as_str()));
        };
        self.holds_before(&steps[..at])?;
        let runs = |s: &Step| route::runs(&s.id) && !self.passed(s);
        if steps[..=at].iter().any(runs)
            && let Some(sign) = self
                .signs_open(desk)
                .find(|s| !input.mended.contains(&s.id))
        {
            let message = Message::new("refuse-sign-open").with("sign", sign.text.as_str());
            return Err(vec![refuse("mended", message)]);
        }
        let reason = input.reason.trim();
        let mut bodies: Vec<Body> = Vec::new();
        for plain in steps[..at].iter().filter(|s| !self.passed(s)) {
            // A reason is for its own step: it does not let a worn part slip in on the way there.
            self.worn_refused(plain, "")?;
            let minutes = self.clock.minutes(&plain.id, desk.now);
            bodies.push(ticked(&plain.id, minutes).into());
        }
        let step = &steps[at];
        self.worn_refused(step, reason)?;
        let blank = StepDone {
            reason: reason.to_owned(),
            note: input.note.trim().to_owned(),
            mended: input.mended.clone(),
            ..ticked(&step.id, self.clock.minutes(&step.id, desk.now))
        };
        let done = match step.hold() {
            _ if self.override_or_refuse(step, input)? => StepDone {
                outcome: Some(Outcome::Reject),
                overridden: input.overridden.clone(),
                ..blank
            },
            None => blank,
            Some(Hold::Look) => {
                let Some(passed) = input.passed else {
                    return Err(vec![refuse("passed", Message::new("refuse-no-look"))]);
                };
                StepDone {
                    outcome: Some(if passed {
                        Outcome::Accept
                    } else {
                        Outcome::Reject
                    }),
                    ..blank
                }
            }
            Some(hold) => self.hold_reading(step, &hold, input, blank, desk)?,
        };
        bodies.push(done.into());
        Ok(bodies)
    }

    fn hold_reading(
        &self,
        step: &Step,
        hold: &Hold,
        input: &StepIn,
        blank: StepDone,
        desk: &Desk,
    ) -> Result<StepDone, Refusals> {
        let Hold::Reading {
            unit,
            limits,
            gauges,
        } = hold
        else {
            return refuse_all(Message::new("refuse-no-reading"));
        };
        let typed = input.measured.as_ref();
        let Some(measured) = typed.filter(|m| !m.values.is_empty()) else {
            return self.without_reading(step, input, blank, desk);
        };
        self.redone_or_refuse(step, input)?;
        let way = turned(step).map(WrenchWay::from);
        let readings = desk.readings_turned(measured, *unit, gauges, way)?;
        right_way(step, &readings, measured, desk)?;
        beyond_new(step, measured)?;
        let gauge = readings.first().and_then(|r| desk.gauge_of(r));
        let adapter = adapter_used(step, input, gauge)?;
        let judged = match &adapter {
            None => each_alone(readings, *limits, Rule::Guarded, desk),
            Some(used) => behind_adapter(readings, *limits, used),
        };
        let Some((reading, verdict, others)) = judged.and_then(|all| worst_of(all, *limits)) else {
            return refuse_all(Message::new("refuse-no-reading"));
        };
        Ok(StepDone {
            reading: Some(reading),
            others,
            outcome: Some(verdict.into()),
            adapter,
            redone: input.redone.trim().to_owned(),
            ..blank
        })
    }

    /// Passed without a reading: only with a written reason, and never what was measured as wrong.
    fn without_reading(
        &self,
        step: &Step,
        input: &StepIn,
        blank: StepDone,
        desk: &Desk,
    ) -> Result<StepDone, Refusals> {
        let at_reading = |message| Err(vec![refuse("reading", message)]);
        if blank.reason.is_empty() {
            return at_reading(
                what_to_set(step, input, desk)
                    .unwrap_or_else(|| Message::new("refuse-hold-reading")),
            );
        }
        let newest = self.step(&step.id).and_then(|s| s.body.outcome);
        if newest == Some(Outcome::Reject) {
            return at_reading(Message::new(match step.act {
                Act::Tighten(..) => "refuse-torque-rejected",
                Act::Check(..) => "refuse-fit-rejected",
                _ => "refuse-hold-rejected",
            }));
        }
        Ok(blank)
    }

    /// A part that measured beyond its limit is renewed before it is fitted again.
    fn worn_refused(&self, step: &Step, reason: &str) -> Result<(), Refusals> {
        let Act::Fit(part) = &step.act else {
            return Ok(());
        };
        if self.renewed(&part.id) || !reason.is_empty() {
            return Ok(());
        }
        let worn = part.wear.iter().any(|w| {
            self.step(&format!("gauge-{}-{}", part.id, w.id))
                .is_some_and(|s| s.body.outcome == Some(Outcome::Reject))
        });
        if worn {
            let message = Message::new("refuse-worn").with("part", part.name.as_str());
            return refuse_all(message);
        }
        if part.renew {
            let message = Message::new("refuse-renew").with("part", part.name.as_str());
            return refuse_all(message);
        }
        Ok(())
    }

    pub(super) fn replace_part(
        &self,
        part: String,
        (number, counter): (&str, Option<u64>),
        reason: &str,
        unagreed: &str,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        self.open_or_refuse(Stage::Rebuilt)?;
        let model = self.model_or_refuse(desk)?;
        let Some(known) = model.part(&part) else {
            return Err(vec![refuse("part", Message::new("refuse-no-part"))]);
        };
        if self.proof.is_some() {
            return refuse_all(Message::new("refuse-proof-stands"));
        }
        if self.route.is_none() {
            return refuse_all(Message::new("refuse-no-route"));
        }
        if self.powered_up() {
            return refuse_all(Message::new("refuse-rebuild-done"));
        }
        if !self.parts_off(model).any(|p| p.id == part) {
            let message = Message::new("refuse-not-on-route").with("part", known.name.as_str());
            return Err(vec![refuse("part", message)]);
        }
        let reason = needed("reason", reason, "refuse-reason").map_err(|r| vec![r])?;
        let number = match number.trim() {
            "" => known.number.clone(),
            typed => typed.to_owned(),
        };
        let noses = desk.shelf.nose_sets().map(|(_, nose)| nose);
        let twin = noses
            .flat_map(|n| &n.look_alikes)
            .find(|l| l.number == number);
        if let Some(twin) = twin {
            let message = Message::new("refuse-look-alike-part")
                .with("number", number.as_str())
                .with("effect", twin.effect.as_str());
            return Err(vec![refuse("number", message)]);
        }
        if !self.knows_number(&number, desk) {
            let message = Message::new("refuse-part-number").with("number", number.as_str());
            return Err(vec![refuse("number", message)]);
        }
        let unagreed = unagreed.trim();
        if unagreed.is_empty() && self.is_unagreed(known, &number) {
            let message = Message::new("refuse-part-unagreed").with("part", known.name.as_str());
            return Err(vec![refuse("unagreed", message)]);
        }
        let replaced = PartReplaced {
            part,
            number,
            reason,
            counter: counter.or(self.received.body.counter),
            unagreed: unagreed.to_owned(),
        };
        Ok(vec![replaced.into()])
    }
}

fn ticked(step: &str, minutes: Option<f64>) -> StepDone {
    StepDone {
        step: step.to_owned(),
        minutes,
        ..StepDone::default()
    }
}

/// Readings of a wrench behind an adapter, judged in the joint's torque.
fn behind_adapter(
    readings: Vec<Reading>,
    limits: calc::decision::Limits,
    used: &AdapterUsed,
) -> Option<Vec<(Reading, Verdict)>> {
    let judged = readings.into_iter().map(|reading| {
        let reading = of_joint(reading, used)?;
        let alone = std::slice::from_ref(&reading);
        let doubt = reading.expanded?;
        let verdict = verdict_of(alone, reading.value, doubt, limits, Rule::Guarded);
        Some((reading, verdict))
    });
    judged.collect()
}

/// With the length of the wrench known and no reading yet: what to set on its own scale.
fn what_to_set(step: &Step, input: &StepIn, desk: &Desk) -> Option<Message> {
    let Act::Tighten(joint, _) = &step.act else {
        return None;
    };
    let gauge = input.measured.as_ref().and_then(|measured| {
        let known = desk.shelf.gauges().map(|(_, gauge)| gauge);
        known.into_iter().find(|g| g.id == measured.gauge)
    });
    let used = adapter_used(step, input, gauge).ok()??;
    let set = torque_adapter::setting(joint.torque_nm, used.lever()).ok()?;
    let message = Message::new("refuse-adapter-read").number("set", set, 2);
    Some(message.number("arm", used.arm_mm, 0))
}

/// Refuses a reading that wear cannot give: a bore a fifth below its new size, a spring a quarter
/// stronger (common practice, no source). It was taken at another place, or typed wrong.
fn beyond_new(step: &Step, measured: &Measured) -> Result<(), Refusals> {
    let Act::Gauge(_, wear) = &step.act else {
        return Ok(());
    };
    let (least, most) = match (wear.limits.lower(), wear.limits.upper()) {
        (None, Some(_)) => (0.8 * wear.new, f64::INFINITY),
        (Some(_), None) => (f64::NEG_INFINITY, 1.25 * wear.new),
        _ => return Ok(()),
    };
    let is_beyond = |value: f64| wear.new > 0.0 && !(least..=most).contains(&value);
    let beyond = measured
        .values
        .iter()
        .filter(|typed| is_beyond(typed.value));
    let refusals: Refusals = beyond
        .map(|typed| {
            let message = Message::new("refuse-beyond-new")
                .number("value", typed.value, 2)
                .number("new", wear.new, 2)
                .with("unit", wear.unit.symbol());
            refuse(&typed.field, message)
        })
        .collect();
    if refusals.is_empty() {
        Ok(())
    } else {
        Err(refusals)
    }
}

/// The direction in which the joint of `step` is tightened.
fn turned(step: &Step) -> Option<Direction> {
    Some(match step.hand()? {
        Hand::Right => Direction::Clockwise,
        Hand::Left => Direction::CounterClockwise,
    })
}

/// A joint is tightened with a wrench that is calibrated in its direction.
fn right_way(
    step: &Step,
    readings: &[Reading],
    measured: &Measured,
    desk: &Desk,
) -> Result<(), Refusals> {
    let (Some(hand), Some(needs)) = (step.hand(), turned(step)) else {
        return Ok(());
    };
    let wrong = readings.iter().filter_map(|r| desk.gauge_of(r)).find(|g| {
        let is_wrench = g.unit.convert(1.0, Unit::NewtonMetre).is_some();
        is_wrench && !desk.shelf.turns(g, desk.today, needs)
    });
    match wrong {
        None => Ok(()),
        Some(gauge) => {
            let id = match hand {
                Hand::Right => "refuse-wrench-not-right",
                Hand::Left => "refuse-wrench-not-left",
            };
            let message = Message::new(id).with("gauge", gauge.name.as_str());
            Err(vec![refuse(&measured.gauge_field, message)])
        }
    }
}
