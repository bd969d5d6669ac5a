//! The clock of a step: started and stopped by hand; its minutes go with the step's entry.

use std::collections::BTreeMap;

use calc::Message;
use jiff::Timestamp;

use super::refusal::{Refusals, refuse_all};
use super::{Desk, Job, Stage};
use crate::entry::{Body, StepTimed};

/// The clocks of a strip. One runs at a time.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Clock {
    running: Option<(String, Timestamp)>,
    seconds: BTreeMap<String, f64>,
}

impl Clock {
    /// The step whose clock runs, and since when.
    pub fn running(&self) -> Option<(&str, Timestamp)> {
        let (step, since) = self.running.as_ref()?;
        Some((step, *since))
    }

    /// Minutes of `step` up to `now`, to the tenth; `None` if its clock was never started.
    pub fn minutes(&self, step: &str, now: Timestamp) -> Option<f64> {
        let stopped = self.seconds.get(step).copied();
        let running = self.running().filter(|(running, _)| *running == step);
        let running = running.map(|(_, since)| between(since, now));
        if stopped.is_none() && running.is_none() {
            return None;
        }
        let seconds = stopped.unwrap_or(0.0) + running.unwrap_or(0.0);
        Some((seconds / 6.0).round() / 10.0)
    }

    pub(super) fn turned(&mut self, timed: StepTimed, at: Timestamp) {
        self.stop(at);
        if timed.on {
            self.running = Some((timed.step, at));
        }
    }

    /// Stops what runs: by hand, or because the job waits.
    pub(super) fn stop(&mut self, at: Timestamp) {
        if let Some((step, since)) = self.running.take() {
            *self.seconds.entry(step).or_default() += between(since, at);
        }
    }

    /// The step was done: its minutes stand in its entry.
    pub(super) fn done(&mut self, step: &str) {
        self.running.take_if(|(running, _)| running == step);
        self.seconds.remove(step);
    }
}

/// Seconds from one moment to a later one; none where a clock was set back meanwhile.
fn between(from: Timestamp, to: Timestamp) -> f64 {
    to.duration_since(from).as_secs_f64().max(0.0)
}

impl Job {
    /// Minutes of all `steps` in the present strip together; `None` unless each was done and its clock
    /// ran each time.
    pub(crate) fn minutes_of(&self, steps: &[String]) -> Option<f64> {
        let mut sum = 0.0;
        for step in steps {
            let done = self.steps_now().filter(|done| done.body.step == *step);
            let minutes: Vec<Option<f64>> = done.map(|done| done.body.minutes).collect();
            if minutes.is_empty() {
                return None;
            }
            for minutes in minutes {
                sum += minutes?;
            }
        }
        Some(sum)
    }

    pub(super) fn time_step(
        &self,
        step: String,
        on: bool,
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
        let runs = self.clock.running().is_some_and(|(it, _)| it == step);
        match (on, runs) {
            (true, true) => return refuse_all(Message::new("refuse-clock-runs")),
            (false, false) => return refuse_all(Message::new("refuse-clock-stands")),
            (false, true) => {}
            (true, false) => self.holds_before(&steps[..at])?,
        }
        Ok(vec![StepTimed { step, on }.into()])
    }
}
