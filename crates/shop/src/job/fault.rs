//! Finding the fault: symptoms, as-found tests, checks, cause. Bench tests as left pass here too.

use calc::Message;
use calc::decision::{self, Verdict};
use calc::spread;
use calc::units::Unit;

use super::desk::all_in_date;
use super::made_safe::{hands_at_risk, known_ticks};
use super::refusal::{Refusals, needed, refuse, refuse_all};
use super::{Desk, Job, Measured, Stage};
use crate::diagnosis::{Seen, diagnose};
use crate::entry::{
    BenchTestRead, Body, CauseConfirmed, CheckAnswered, NotSafeToRun, Outcome, Phase, Reading,
    Said, SymptomsNoted,
};
use crate::route::LAST_STEP;
use crate::sheet::{BenchTest, BenchTestKind, Check, FaultModel, ToolModel, UNLISTED};

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
    /// The model sheet that the job is worked to.
    pub fn model<'a>(&self, desk: &Desk<'a>) -> Option<&'a ToolModel> {
        desk.shelf.model(&self.model_pin())
    }

    /// The fault model that the job is worked to.
    pub fn faults<'a>(&self, desk: &Desk<'a>) -> Option<&'a FaultModel> {
        desk.shelf.fault_model(&self.faults_pin())
    }

    pub(super) fn model_or_refuse<'a>(&self, desk: &Desk<'a>) -> Result<&'a ToolModel, Refusals> {
        self.model(desk)
            .map_or_else(|| refuse_all(Message::new("refuse-no-sheet")), Ok)
    }

    fn faults_or_refuse<'a>(&self, desk: &Desk<'a>) -> Result<&'a FaultModel, Refusals> {
        self.faults(desk)
            .map_or_else(|| refuse_all(Message::new("refuse-no-sheet")), Ok)
    }

    pub(super) fn note_symptoms(
        &self,
        present: Vec<String>,
        absent: Vec<String>,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let faults = self.faults_or_refuse(desk)?;
        for symptom in present.iter().chain(&absent) {
            if faults.symptom(symptom).is_none() {
                let message = Message::new("refuse-symptom").with("symptom", symptom.as_str());
                return Err(vec![refuse("symptoms", message)]);
            }
        }
        if present.is_empty() && absent.is_empty() {
            return Err(vec![refuse("symptoms", Message::new("refuse-no-symptom"))]);
        }
        if let Some(both) = present.iter().find(|s| absent.contains(s)) {
            let message = Message::new("refuse-symptom-both").with("symptom", both.as_str());
            return Err(vec![refuse("symptoms", message)]);
        }
        Ok(vec![SymptomsNoted { present, absent }.into()])
    }

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
                self.open_or_refuse(Stage::Proved)?;
                if self.proof.is_some() {
                    return refuse_all(Message::new("refuse-proof-stands"));
                }
                if self.energy_forbidden(desk) {
                    return refuse_all(Message::new("refuse-no-energy"));
                }
            }
        }
        let read = match &test.kind {
            BenchTestKind::Measured { .. } => measure(test, input, desk)?,
            BenchTestKind::Looked { .. } => look(test, input)?,
        };
        Ok(vec![read.into()])
    }

    pub(super) fn not_safe(&self, reason: &str) -> Result<Vec<Body>, Refusals> {
        if self.opened() {
            return refuse_all(Message::new("refuse-as-found-late"));
        }
        let reason = needed("reason", reason, "refuse-reason").map_err(|r| vec![r])?;
        Ok(vec![NotSafeToRun { reason }.into()])
    }

    pub(super) fn answer_check(
        &self,
        check: String,
        answer: Said,
        note: String,
        made_safe: &[String],
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let faults = self.faults_or_refuse(desk)?;
        let model = self.model_or_refuse(desk)?;
        let Some(known) = faults.check(&check) else {
            return refuse_all(Message::new("refuse-no-check").with("check", check));
        };
        if known.state.energised() && self.energy_forbidden(desk) {
            return refuse_all(Message::new("refuse-no-energy"));
        }
        let hands = self.asks_made_safe(known);
        if let Some(refusal) = hands_at_risk(model, made_safe).filter(|_| hands) {
            return Err(vec![refusal]);
        }
        let answered = CheckAnswered {
            check,
            answer,
            note,
            made_safe: if hands {
                known_ticks(model, made_safe)
            } else {
                Vec::new()
            },
        };
        Ok(vec![answered.into()])
    }

    /// Whether `check` asks for the make-safe ticks: it puts hands to the tool, and the energy was
    /// not taken away for a strip already.
    pub fn asks_made_safe(&self, check: &Check) -> bool {
        check.state.hands_near() && !self.safe_in_strip()
    }

    pub(super) fn confirm_cause(
        &self,
        causes: Vec<String>,
        note: &str,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let faults = self.faults_or_refuse(desk)?;
        let model = self.model_or_refuse(desk)?;
        if let Some(unknown) = causes.iter().find(|c| !faults.knows_cause(c)) {
            let message = Message::new("refuse-no-cause").with("cause", unknown.as_str());
            return Err(vec![refuse("causes", message)]);
        }
        let unlisted = causes.iter().any(|c| c == UNLISTED);
        let note = match causes.is_empty() {
            true => needed("note", note, "refuse-no-fault-note").map_err(|r| vec![r])?,
            false if unlisted => {
                needed("note", note, "refuse-unlisted-note").map_err(|r| vec![r])?
            }
            false => note.trim().to_owned(),
        };
        if !self.as_found_seen(model) && self.not_safe.is_none() && !self.opened() {
            return refuse_all(Message::new("refuse-as-found-first"));
        }
        let diagnosis = diagnose(faults, model.drive, &Seen::from(self));
        let probability = causes.first().and_then(|first| {
            let ranked = diagnosis?.ranked;
            let of_first = |r: &&crate::diagnosis::Ranked| {
                r.cause.map_or(UNLISTED, |c| c.id.as_str()) == first
            };
            ranked.iter().find(of_first).map(|r| r.probability)
        });
        let confirmed = CauseConfirmed {
            causes,
            probability,
            note,
        };
        Ok(vec![confirmed.into()])
    }

    /// Something was seen as found, or the model has no test for it.
    pub fn as_found_seen(&self, model: &ToolModel) -> bool {
        !model.bench_tests.iter().any(|t| t.as_found) || self.seen_as_found().next().is_some()
    }

    /// Versions of the tests as found, and of the joints as found that tell something.
    pub(super) fn seen_as_found(&self) -> impl Iterator<Item = u32> {
        let tests = self.tests.iter();
        let as_found = tests.filter(|t| t.body.phase == Phase::AsFound);
        let joints = self.found_joints.iter();
        let joints = joints.filter(|j| j.body.outcome != Outcome::Undecided);
        let joints = joints.map(|j| j.version);
        as_found.map(|t| t.version).chain(joints)
    }

    /// Nothing may put energy on the tool: it was found not safe to run, or shows a symptom that
    /// forbids it. The first power-up after the mending lifts it, for what was seen until then.
    pub fn energy_forbidden(&self, desk: &Desk) -> bool {
        let seen = Seen::from(self);
        self.faults(desk)
            .is_some_and(|faults| seen.no_energy(faults))
    }

    /// Whether symptom `id` was seen before the tool passed its first power-up.
    pub fn mended_since(&self, id: &str) -> bool {
        let seen_at = self.seen_at.get(id).copied().unwrap_or(0);
        self.powered_up() && self.step(LAST_STEP).is_some_and(|s| s.version > seen_at)
    }
}

fn measure(test: &BenchTest, input: &BenchTestIn, desk: &Desk) -> Result<BenchTestRead, Refusals> {
    let BenchTestKind::Measured {
        unit,
        limits,
        rule,
        count,
        spread_percent,
        gauges,
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
    let readings = desk.readings(measured, *unit, gauges)?;
    let Some(mean) = desk.mean_of(&readings) else {
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
        phase: input.phase,
        test: test.id.clone(),
        value: Some(mean.value),
        expanded: Some(mean.expanded),
        passed: None,
        outcome: verdict.into(),
        method: method_of(decision::METHOD),
        note: input.note.trim().to_owned(),
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

/// The verdict on readings; one from a gauge out of date is not evidence, so nothing is decided.
pub(super) fn verdict_of(
    readings: &[Reading],
    value: f64,
    expanded: f64,
    limits: decision::Limits,
    rule: decision::Rule,
) -> Verdict {
    if all_in_date(readings) {
        decision::judge(value, expanded, limits, rule).unwrap_or(Verdict::Undecided)
    } else {
        Verdict::Undecided
    }
}

/// `readings` with their verdicts, each judged alone: places on one part, or several screws, do not
/// make up for one another. `None` if one of them says nothing.
pub(super) fn each_alone(
    readings: Vec<Reading>,
    limits: decision::Limits,
    rule: decision::Rule,
    desk: &Desk,
) -> Option<Vec<(Reading, Verdict)>> {
    let judged = readings.into_iter().map(|reading| {
        let alone = std::slice::from_ref(&reading);
        let mean = desk.mean_of(alone)?;
        let verdict = verdict_of(alone, mean.value, mean.expanded, limits, rule);
        Some((reading, verdict))
    });
    judged.collect()
}

/// The worst of `judged`, by its verdict, then by how far it lies beyond a limit; and the others.
pub(super) fn worst_of(
    mut judged: Vec<(Reading, Verdict)>,
    limits: decision::Limits,
) -> Option<(Reading, Verdict, Vec<Reading>)> {
    let beyond = |value: f64| {
        let below = limits.lower().map(|l| l - value);
        let above = limits.upper().map(|u| value - u);
        below.into_iter().chain(above).fold(f64::MIN, f64::max)
    };
    let all = judged.iter().enumerate();
    let worst = all.max_by(|(_, (a, judged_a)), (_, (b, judged_b))| {
        let by_distance = || beyond(a.value).total_cmp(&beyond(b.value));
        judged_a.cmp(judged_b).then_with(by_distance)
    });
    let (reading, verdict) = judged.remove(worst?.0);
    let others = judged.into_iter().map(|(reading, _)| reading);
    Some((reading, verdict, others.collect()))
}

/// A method as recorded.
pub(super) fn method_of(method: calc::working::Method) -> String {
    format!("{} {}", method.name, method.version)
}

/// The unit of a reading.
pub fn unit_of(reading: &Reading) -> Unit {
    Unit::parse(&reading.unit).unwrap_or(Unit::Piece)
}
