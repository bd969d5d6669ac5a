//! Strip and rebuild: steps in order, holds with their reading, parts renewed.

use calc::Message;
use calc::decision::Rule;
use calc::screw_stop::Hand;
use calc::units::Unit;

use super::judge::{each_alone, worst_of};
use super::refusal::{Refusals, needed, refuse, refuse_all};
use super::{Desk, Job, Measured, Stage};
use crate::entry::{Body, Outcome, PartReplaced, Reading, RoutePlanned, StepDone};
use crate::route::{Act, Hold, Step, route, takes_off};
use crate::sheet::{Direction, Part, ToolModel};

impl Job {
    /// The route that the job follows, if one was planned.
    pub fn route_steps<'a>(&self, model: &'a ToolModel) -> Option<Vec<Step<'a>>> {
        route(model, &self.route.as_ref()?.body.down_to)
    }

    /// The parts that the planned route takes off: only these are renewed.
    pub fn parts_off<'a>(&self, model: &'a ToolModel) -> impl Iterator<Item = &'a Part> {
        let down_to = self.route.as_ref().map(|r| r.body.down_to.clone());
        let off = move |part: &&Part| {
            let down_to = down_to.as_deref();
            down_to.is_some_and(|down_to| takes_off(model, down_to, &part.id))
        };
        model.parts.iter().filter(off)
    }

    /// Whether `step` was done so that the next may follow.
    pub fn passed(&self, step: &Step) -> bool {
        let Some(done) = self.step(&step.id) else {
            return false;
        };
        match (step.hold(), done.body.outcome) {
            (None, _) | (_, Some(Outcome::Accept)) => true,
            // What the eye refused, no reason mends: it is looked at again.
            (Some(Hold::Look), _) => false,
            // Worn is a finding, not a hold: it asks for a new part before the old one is fitted.
            (_, Some(Outcome::Reject)) => matches!(step.act, Act::Gauge(..)),
            _ => !done.body.reason.is_empty(),
        }
    }

    /// Index of the first step of `steps` that was not passed.
    pub fn next_step(&self, steps: &[Step]) -> Option<usize> {
        steps.iter().position(|step| !self.passed(step))
    }

    pub(super) fn plan_route(
        &self,
        down_to: String,
        note: String,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        self.open_or_refuse(Stage::Rebuilt)?;
        let model = self.model_or_refuse(desk)?;
        if !model.parts.iter().any(|p| p.id == down_to) {
            return Err(vec![refuse("down_to", Message::new("refuse-no-part"))]);
        }
        if self.proof.is_some() {
            return refuse_all(Message::new("refuse-proof-stands"));
        }
        if let Some(left) = self
            .off_now(model)
            .find(|p| !takes_off(model, &down_to, &p.id))
        {
            let message = Message::new("refuse-route-leaves-off").with("part", left.name.as_str());
            return Err(vec![refuse("down_to", message)]);
        }
        Ok(vec![RoutePlanned { down_to, note }.into()])
    }

    /// Parts that came off and have not been fitted since.
    fn off_now<'a>(&self, model: &'a ToolModel) -> impl Iterator<Item = &'a Part> {
        let done = |act: &str, part: &Part| self.step(&format!("{act}-{}", part.id)).is_some();
        let parts = model.parts.iter();
        parts.filter(move |part| done("off", part) && !done("fit", part))
    }

    pub(super) fn do_step(
        &self,
        step: &str,
        measured: Option<&Measured>,
        passed: Option<bool>,
        reason: &str,
        note: &str,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        self.open_or_refuse(Stage::Rebuilt)?;
        let model = self.model_or_refuse(desk)?;
        let Some(steps) = self.route_steps(model) else {
            return refuse_all(Message::new("refuse-no-route"));
        };
        if self.powered_up() {
            return refuse_all(Message::new("refuse-rebuild-done"));
        }
        let Some(at) = steps.iter().position(|s| s.id == step) else {
            return refuse_all(Message::new("refuse-no-step").with("step", step));
        };
        let before: Vec<&Step> = steps[..at].iter().filter(|s| !self.passed(s)).collect();
        if before.iter().any(|s| s.hold().is_some()) {
            return refuse_all(Message::new("refuse-hold-before"));
        }
        let reason = reason.trim();
        let mut bodies: Vec<Body> = Vec::new();
        for plain in before {
            // A reason is for its own step: it does not let a worn part slip in on the way there.
            self.worn_refused(plain, "")?;
            bodies.push(ticked(&plain.id, "", "").into());
        }
        self.worn_refused(&steps[at], reason)?;
        let done = match steps[at].hold() {
            None => ticked(step, reason, note),
            Some(Hold::Look) => {
                let Some(passed) = passed else {
                    return Err(vec![refuse("passed", Message::new("refuse-no-look"))]);
                };
                StepDone {
                    outcome: Some(if passed {
                        Outcome::Accept
                    } else {
                        Outcome::Reject
                    }),
                    ..ticked(step, reason, note)
                }
            }
            Some(hold) => self.hold_reading(&steps[at], &hold, measured, reason, note, desk)?,
        };
        bodies.push(done.into());
        Ok(bodies)
    }

    fn hold_reading(
        &self,
        step: &Step,
        hold: &Hold,
        measured: Option<&Measured>,
        reason: &str,
        note: &str,
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
        let Some(measured) = measured.filter(|m| !m.values.is_empty()) else {
            // Passed without a reading: only with a written reason.
            if reason.is_empty() {
                return Err(vec![refuse("reading", Message::new("refuse-hold-reading"))]);
            }
            // What was measured as wrong is not passed unmeasured.
            let newest = self.step(&step.id).and_then(|s| s.body.outcome);
            if newest == Some(Outcome::Reject) {
                return Err(vec![refuse(
                    "reading",
                    Message::new("refuse-hold-rejected"),
                )]);
            }
            return Ok(ticked(&step.id, reason, note));
        };
        let readings = desk.readings(measured, *unit, gauges)?;
        right_way(step, &readings, measured, desk)?;
        beyond_new(step, measured)?;
        let judged = each_alone(readings, *limits, Rule::Guarded, desk);
        let Some((reading, verdict, others)) = judged.and_then(|all| worst_of(all, *limits)) else {
            return refuse_all(Message::new("refuse-no-reading"));
        };
        Ok(StepDone {
            reading: Some(reading),
            others,
            outcome: Some(verdict.into()),
            ..ticked(&step.id, reason, note)
        })
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
        number: &str,
        reason: &str,
        counter: Option<u64>,
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
        let replaced = PartReplaced {
            part,
            number,
            reason,
            counter: counter.or(self.received.body.counter),
        };
        Ok(vec![replaced.into()])
    }
}

fn ticked(step: &str, reason: &str, note: &str) -> StepDone {
    StepDone {
        step: step.to_owned(),
        reading: None,
        others: Vec::new(),
        outcome: None,
        reason: reason.to_owned(),
        note: note.trim().to_owned(),
    }
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

/// A joint is tightened with a wrench that is calibrated in its direction.
fn right_way(
    step: &Step,
    readings: &[Reading],
    measured: &Measured,
    desk: &Desk,
) -> Result<(), Refusals> {
    let Some(hand) = step.hand() else {
        return Ok(());
    };
    let needs = match hand {
        Hand::Right => Direction::Clockwise,
        Hand::Left => Direction::CounterClockwise,
    };
    let wrong = readings.iter().filter_map(|r| desk.gauge_of(r)).find(|g| {
        g.unit.convert(1.0, Unit::NewtonMetre).is_some() && !g.directions.contains(&needs)
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
