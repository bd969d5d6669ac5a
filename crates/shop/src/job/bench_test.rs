//! Bench tests, as found and as left.

use calc::Message;
use calc::decision::{self, Verdict};
use calc::repeated::Estimate;
use calc::spread;

use super::judge::{method_of, verdict_of};
use super::refusal::{Refusals, refuse, refuse_all};
use super::{Desk, Job, Measured, Stage};
use crate::entry::{BenchTestRead, Body, Outcome, Phase, Reading};
use crate::sheet::{BenchTest, BenchTestKind, Feature, ToolModel};

/// A bench test, as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchTestIn {
    /// As found or as left.
    pub phase: Phase,
    /// Test id.
    pub test: String,
    /// Readings, for measured tests.
    pub measured: Option<Measured>,
    /// Passed by looking, for the others.
    pub passed: Option<bool>,
    /// Remark.
    pub note: String,
}

impl Job {
    pub(super) fn read_bench_test(
        &self,
        input: &BenchTestIn,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let model = self.model_or_refuse(desk)?;
        let Some(test) = model.bench_tests.iter().find(|t| t.id == input.test) else {
            return refuse_all(Message::new("refuse-no-test").with("test", input.test.as_str()));
        };
        match input.phase {
            Phase::AsFound => self.may_run_as_found(desk)?,
            Phase::AsLeft => {
                self.turn_has_come(test)?;
                if self.proof.is_some() {
                    return refuse_all(Message::new("refuse-proof-stands"));
                }
                if self.energy_forbidden(desk) {
                    return refuse_all(Message::new("refuse-no-energy"));
                }
            }
        }
        // Without a set-up nobody wrote down where the adjuster stands.
        let moved = test.opens_adjuster && self.skipped.contains_key(&Stage::SetUp);
        if moved && input.phase == Phase::AsLeft && input.note.trim().is_empty() {
            let message = Message::new("refuse-adjuster-note").with("test", test.name.as_str());
            return Err(vec![refuse("note", message)]);
        }
        let read = match &test.kind {
            BenchTestKind::Measured { .. } => measure(model, test, input, desk)?,
            BenchTestKind::Looked { .. } => look(test, input)?,
        };
        Ok(vec![read.into()])
    }

    /// A test as left is part of the proof, but for one that opens the adjuster: it comes before the set-up, and
    /// no more once an adjuster stands where joints were set with it.
    pub(super) fn turn_has_come(&self, test: &BenchTest) -> Result<(), Refusals> {
        if !test.opens_adjuster {
            return self.open_or_refuse(Stage::Proved);
        }
        self.open_or_refuse(Stage::SetUp)?;
        match self.adjuster_stands_at() {
            None => Ok(()),
            Some(turns) => refuse_all(
                Message::new("refuse-adjuster-stands")
                    .with("test", test.name.as_str())
                    .number("turns", turns, 2),
            ),
        }
    }

    /// Turns at which the adjuster stands, as signed off or as the last joint was set; `None` where no joint was
    /// set by turns, so that the adjuster is free.
    pub fn adjuster_stands_at(&self) -> Option<f64> {
        let set_up = self.set_up()?;
        match &set_up.signed_off {
            Some(signed) => signed.body.turns,
            None => set_up.joints.last()?.body.turns,
        }
    }

    /// Refuses what can be seen as found no more, or not without harm.
    pub(super) fn may_run_as_found(&self, desk: &Desk) -> Result<(), Refusals> {
        if self.is_changed() {
            return refuse_all(Message::new("refuse-as-found-late"));
        }
        if self.energy_forbidden(desk) {
            return refuse_all(Message::new("refuse-no-energy"));
        }
        Ok(())
    }
}

fn measure(
    model: &ToolModel,
    test: &BenchTest,
    input: &BenchTestIn,
    desk: &Desk,
) -> Result<BenchTestRead, Refusals> {
    let BenchTestKind::Measured {
        unit,
        count,
        gauges,
        ..
    } = &test.kind
    else {
        return refuse_all(Message::new("refuse-no-reading"));
    };
    let Some(measured) = input.measured.as_ref().filter(|m| !m.values.is_empty()) else {
        return refuse_all(Message::new("refuse-no-reading"));
    };
    if measured.values.len() < *count {
        let message = Message::new("refuse-too-few-readings")
            .with("have", measured.values.len())
            .with("need", *count);
        return Err(vec![refuse("reading", message)]);
    }
    let mut readings = desk.readings(measured, *unit, gauges)?;
    reaches_the_pull(model, test, measured, desk)?;
    // What is lost in a minute is the force then less the force now, both up at the pull.
    if test.feature == Some(Feature::HoldLoss) {
        readings = desk.as_differences(readings);
    }
    let Some(mean) = desk.mean_of(&readings) else {
        return refuse_all(Message::new("refuse-no-reading"));
    };
    conclude(test, input.phase, readings, mean, &input.note)
}

/// Refuses a gauge that does not reach the pull behind what it reads: it would stand under more than it is made for.
fn reaches_the_pull(
    model: &ToolModel,
    test: &BenchTest,
    measured: &Measured,
    desk: &Desk,
) -> Result<(), Refusals> {
    let (BenchTestKind::Measured { unit, .. }, Some(needed), Some(gauge)) = (
        &test.kind,
        model.force_behind(test),
        desk.shelf.gauge_in_force(&measured.gauge),
    ) else {
        return Ok(());
    };
    if gauge.reaches(needed, *unit) {
        return Ok(());
    }
    let (least, most) = gauge.range;
    let (least, most) = (
        gauge.unit.convert(least, *unit).unwrap_or(least),
        gauge.unit.convert(most, *unit).unwrap_or(most),
    );
    let decimals = gauge.decimals();
    let message = Message::new("gauge-short-of-pull")
        .with("gauge", gauge.name.as_str())
        .with("test", test.name.as_str())
        .with("unit", unit.symbol())
        .number("min", least, decimals)
        .number("max", most, decimals)
        .number("needed", needed, decimals);
    Err(vec![refuse(&measured.gauge_field, message)])
}

/// The verdict on `readings` of `test`, whose mean is `mean`.
pub(super) fn conclude(
    test: &BenchTest,
    phase: Phase,
    readings: Vec<Reading>,
    mean: Estimate,
    note: &str,
) -> Result<BenchTestRead, Refusals> {
    let BenchTestKind::Measured {
        limits,
        rule,
        spread_percent,
        ..
    } = &test.kind
    else {
        return refuse_all(Message::new("refuse-no-reading"));
    };
    let verdict = verdict_of(&readings, mean.value, mean.expanded, *limits, *rule);
    let values: Vec<f64> = readings.iter().map(|r| r.value).collect();
    let apart = spread_percent.and_then(|most| Some((spread::percent(&values).ok()?, most)));
    // Readings that lie too far apart have no mean worth judging: the tool or the test is not steady.
    let verdict = match apart {
        Some((is, most)) if is > most => verdict.max(Verdict::Reject),
        _ => verdict,
    };
    Ok(BenchTestRead {
        spread_percent: apart.map(|(is, _)| is),
        phase,
        test: test.id.clone(),
        value: Some(mean.value),
        expanded: Some(mean.expanded),
        passed: None,
        outcome: verdict.into(),
        method: method_of(decision::METHOD),
        note: note.trim().to_owned(),
        readings,
    })
}

fn look(test: &BenchTest, input: &BenchTestIn) -> Result<BenchTestRead, Refusals> {
    let Some(passed) = input.passed else {
        return Err(vec![refuse("passed", Message::new("refuse-no-look"))]);
    };
    Ok(BenchTestRead {
        phase: input.phase,
        test: test.id.clone(),
        readings: Vec::new(),
        spread_percent: None,
        value: None,
        expanded: None,
        passed: Some(passed),
        outcome: if passed {
            Outcome::Accept
        } else {
            Outcome::Reject
        },
        method: String::new(),
        note: input.note.trim().to_owned(),
    })
}
