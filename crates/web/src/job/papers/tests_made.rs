//! Readings on the report: bench tests, torques, trial joints, and the gauges that took them.

use std::collections::{BTreeMap, BTreeSet};

use calc::Message;
use calc::decision::Verdict;
use calc::working::{fixed, places};
use paper::model::{
    FoundJoint, Instrument, Joint, JointReading, Looked, Reading, Test, TestResult, Torque,
    TrialJoint, Wear,
};
use shop::entry::{self, BenchTestRead, InDoubt, Phase, StepDone, TrialJointRead};
use shop::job::{SetUp, SetUpSheets};
use shop::route::{Act, Step};
use shop::sheet::{BenchTest, BenchTestKind, FastenerFamily, Shows};

use super::instruments::{Listing, listed};
use crate::job::judged::Judged;
use crate::job::rebuilt::step;
use crate::job::view::View;
use crate::job::{found_joint, names};
use crate::show;

/// A reading with its bar.
pub(super) fn reading(v: &View, what: &str, judged: &Judged) -> Reading {
    let gauge = v.desk.gauge_of(judged.reading);
    Reading {
        bar: judged.labelled(v, what),
        gauge: gauge.map(|g| g.name.clone()).unwrap_or_default(),
        in_date: judged.reading.in_date,
        beyond: judged.reading.is_beyond(),
        doubted: false,
    }
}

/// The entries that `doubts` throw doubt on, by version.
pub fn doubted(doubts: &[InDoubt]) -> BTreeSet<u32> {
    doubts.iter().map(|doubt| doubt.entry).collect()
}

/// Every bench test of the model sheet that was made, as found beside as left; marked those of the entries `doubted`.
pub fn tests(v: &View, doubted: &BTreeSet<u32>) -> Vec<Test> {
    let made = |phase, test: &BenchTest| {
        let made = v.job.test(phase, &test.id)?;
        Some(result(v, test, &made.body, doubted.contains(&made.version)))
    };
    v.model
        .bench_tests
        .iter()
        .map(|test| Test {
            name: test.name.clone(),
            method: format!("{} {}", test.method, more(v, test))
                .trim_end()
                .to_owned(),
            as_found: made(Phase::AsFound, test),
            as_left: made(Phase::AsLeft, test),
        })
        .filter(|t| t.as_found.is_some() || t.as_left.is_some())
        .collect()
}

/// What else was written of a test: remarks, and results that a later one has superseded. They are
/// not to vanish from the paper.
fn more(v: &View, test: &BenchTest) -> String {
    let mut more = Vec::new();
    for phase in [Phase::AsFound, Phase::AsLeft] {
        let made = v.job.tests.iter().map(|t| &t.body);
        let made: Vec<&BenchTestRead> = made
            .filter(|t| t.phase == phase && t.test == test.id)
            .collect();
        if let Some((_, earlier)) = made.split_last()
            && !earlier.is_empty()
        {
            let told: Vec<String> = earlier.iter().map(|t| told(v, t)).collect();
            let earlier = Message::new("report-earlier-test").with("outcomes", told.join("; "));
            more.push(v.say(&earlier.with("phase", v.t(names::phase(phase)))));
        }
        more.extend(
            made.last()
                .map(|t| t.note.clone())
                .filter(|n| !n.is_empty()),
        );
        let apart = made.last().and_then(|t| t.spread_percent);
        more.extend(apart.map(|apart| {
            let spread = Message::new("report-spread").number("is", apart, 1);
            v.say(&spread.with("phase", v.t(names::phase(phase))))
        }));
    }
    more.join(" ")
}

/// A superseded result in short: value, verdict, remark.
fn told(v: &View, read: &BenchTestRead) -> String {
    let verdict = v.p.words.term(Verdict::from(read.outcome));
    let value = read
        .value
        .map(|value| format!("{} ", fixed(value, 2)))
        .unwrap_or_default();
    let note = if read.note.is_empty() {
        String::new()
    } else {
        format!(" ({})", read.note)
    };
    format!("{value}{verdict}{note}")
}

fn result(v: &View, test: &BenchTest, read: &BenchTestRead, doubted: bool) -> TestResult {
    match Judged::of_test(v, test, read) {
        Some(judged) => TestResult::Read(Reading {
            doubted,
            ..reading(v, &test.name, &judged)
        }),
        None => TestResult::Looked(Looked {
            verdict: read.outcome.into(),
            pass: match &test.kind {
                BenchTestKind::Looked { pass } => pass.clone(),
                BenchTestKind::Measured { .. } => String::new(),
            },
            note: read.note.clone(),
        }),
    }
}

/// Every step of the route that was done, with its newest record.
fn steps<'a>(v: &'a View) -> impl Iterator<Item = (Step<'a>, &'a StepDone)> {
    let steps = v.job.route_steps(v.model).unwrap_or_default();
    steps
        .into_iter()
        .filter_map(move |step| v.job.step(&step.id).map(|done| (step, &done.body)))
}

/// Every part of the route that was measured, what was checked once it was fitted, and what was done
/// before the first power-up.
pub fn wear(v: &View) -> Vec<Wear> {
    let lives = crate::job::wear::gauged(v);
    let gauged = steps(v).filter_map(|(step, done)| {
        let of = |part: &str, what: &str, usual: &str| Wear {
            part: part.to_owned(),
            what: what.to_owned(),
            note: step_note(v, usual, done),
            life: String::new(),
            reading: Judged::of_step(v, &step, done)
                .map(|j| reading(v, if what.is_empty() { part } else { what }, &j)),
        };
        match &step.act {
            Act::Gauge(part, wear) => {
                let new = Message::new("wear-new")
                    .number("new", wear.new, places(wear.new, 0))
                    .with("unit", wear.unit.symbol());
                let worn = lives
                    .iter()
                    .find(|worn| worn.part.id == part.id && worn.wear.id == wear.id);
                Some(Wear {
                    life: worn.map_or(String::new(), |worn| crate::job::wear::in_a_line(v, worn)),
                    ..of(&part.name, &wear.what, &v.say(&new))
                })
            }
            Act::Check(part, check) => Some(of(&part.name, &check.what, "")),
            Act::Close(closing) => {
                let verdict = done.outcome.map(|o| v.p.words.term(Verdict::from(o)));
                let pass = match &closing.shows {
                    Shows::Look(pass) => Some(pass.clone()),
                    Shows::Nothing | Shows::Reading { .. } => None,
                };
                let usual: Vec<String> = verdict.into_iter().chain(pass).collect();
                Some(of(&closing.what, "", &usual.join(": ")))
            }
            _ => None,
        }
    });
    gauged.collect()
}

/// Every tightening of the route: one that was rejected stands beside the one that followed it.
pub fn torques(v: &View) -> Vec<Torque> {
    let mut torques = Vec::new();
    for step in v.job.route_steps(v.model).unwrap_or_default() {
        let Act::Tighten(joint, _) = &step.act else {
            continue;
        };
        for done in v.job.records(&step.id) {
            torques.push(Torque {
                joint: joint.name.clone(),
                thread: joint.thread.size.clone(),
                hand: joint.thread.hand,
                note: torque_note(v, joint, &done.body),
                reading: Judged::of_step(v, &step, &done.body).map(|j| reading(v, &joint.name, &j)),
            });
        }
    }
    torques
}

/// What is said of a tightening: how the joint is locked, or why it was passed; the adapter; what was
/// done before it was tightened again; who lets a wrong one stand.
fn torque_note(v: &View, joint: &shop::sheet::Joint, done: &StepDone) -> String {
    let why = match (&done.overridden, done.reason.is_empty()) {
        (Some(by), _) => {
            let stands = Message::new("step-overridden").with("name", v.person(by));
            format!("{} {}", v.say(&stands), done.reason)
        }
        (None, true) => joint.locking.clone(),
        (None, false) => done.reason.clone(),
    };
    let redone = (!done.redone.is_empty())
        .then(|| v.say(&Message::new("step-redone").with("what", done.redone.as_str())));
    let adapter = done.adapter.map(|used| {
        let shown = done.reading.as_ref().map_or("", |r| r.raw.trim());
        v.say(
            &Message::new("report-adapter")
                .with("shown", shown)
                .number("arm", used.arm_mm, 0)
                .number("offset", used.offset_mm, 0)
                .number("angle", used.angle_deg, 0),
        )
    });
    let others = (!done.others.is_empty()).then(|| step::others(v, done));
    let said = [Some(why), redone, adapter, others];
    let said: Vec<String> = said
        .into_iter()
        .flatten()
        .filter(|s| !s.is_empty())
        .collect();
    said.join(". ")
}

/// What is said of a step beside its reading: `usual`, or why it was passed without a good one;
/// further readings; earlier ones that this one supersedes.
fn step_note(v: &View, usual: &str, done: &StepDone) -> String {
    let why = match (&done.overridden, done.reason.is_empty()) {
        (Some(by), _) => {
            let stands = Message::new("step-overridden").with("name", v.person(by));
            format!("{} {}", v.say(&stands), done.reason)
        }
        (None, true) => usual.to_owned(),
        (None, false) => done.reason.clone(),
    };
    let others = (!done.others.is_empty()).then(|| step::others(v, done));
    let all = v.job.steps.iter().map(|s| &s.body);
    let same: Vec<&StepDone> = all.filter(|s| s.step == done.step).collect();
    let told: Vec<String> = same[..same.len().saturating_sub(1)]
        .iter()
        .filter_map(|s| {
            let raw = s.reading.as_ref()?.raw.trim().to_owned();
            let verdict = Verdict::from(s.outcome?);
            Some(format!("{raw} {}", v.p.words.term(verdict)))
        })
        .collect();
    let earlier = Message::new("report-earlier").with("outcomes", told.join("; "));
    let earlier = (!told.is_empty()).then(|| v.say(&earlier));
    let said = [Some(why), others, earlier];
    let said = said.into_iter().flatten().filter(|s| !s.is_empty());
    said.collect::<Vec<_>>().join(". ")
}

/// The trial joints of a set-up.
pub fn joints(v: &View, set_up: &SetUp, s: &SetUpSheets) -> Vec<TrialJoint> {
    let numbered = set_up.joints.iter().zip(1u32..);
    numbered
        .map(|(joint, number)| TrialJoint {
            number,
            turns: joint.body.turns,
            joint: Joint {
                readings: criteria(v, s.fastener, &joint.body.readings),
                seen: seen(v, s, &joint.body),
                verdict: joint.body.outcome.into(),
                note: joint.body.note.clone(),
            },
        })
        .collect()
}

/// What the eye says of a trial joint, behind the pressure where the force ends the pull.
fn seen(v: &View, s: &SetUpSheets, joint: &TrialJointRead) -> String {
    let own = names::look(s.fastener.kind, joint.seen);
    let look = v.t(own.unwrap_or_else(|| names::seen(joint.seen)));
    match joint.pressure_bar {
        Some(bar) => format!("{}, {look}", show::bar_text(v.p, bar, 2)),
        None => look,
    }
}

/// The joints as found.
pub fn found_joints(v: &View) -> Vec<FoundJoint> {
    let joints = v.job.found_joints.iter().map(|j| &j.body);
    joints
        .map(|joint| FoundJoint {
            fastener: found_joint::fastener_name(v, joint),
            joint: Joint {
                readings: found_joint::fastener(v, joint)
                    .map(|family| criteria(v, family, &joint.readings))
                    .unwrap_or_default(),
                seen: v.t(found_joint::look(v, joint)),
                verdict: joint.outcome.into(),
                note: joint.note.clone(),
            },
        })
        .collect()
}

/// What was measured of a joint.
pub(super) fn criteria(
    v: &View,
    fastener: &FastenerFamily,
    read: &[entry::JointReading],
) -> Vec<JointReading> {
    let known = read
        .iter()
        .filter_map(|r| Some((r, fastener.criterion(&r.criterion)?)));
    known
        .map(|(r, c)| JointReading {
            what: c.name.clone(),
            reading: reading(v, &c.name, &Judged::of_joint(v, c, r)),
        })
        .collect()
}

/// For each gauge that took readings which stand alone (joints, wear, torques), the first of them.
pub fn single_readings<'a>(v: &'a View) -> BTreeMap<String, Judged<'a>> {
    let of_steps = steps(v).filter_map(|(step, done)| Judged::of_step(v, &step, done));
    let found = v.job.found_joints.iter().map(|j| &j.body);
    let found = found.filter_map(|j| Some((found_joint::fastener(v, j)?, &j.readings)));
    let set_up = v.job.set_up();
    let sheets = set_up.and_then(|u| v.job.set_up_sheets(u, &v.desk));
    let trials = set_up.into_iter().zip(sheets).flat_map(|(u, s)| {
        let joints = u.joints.iter();
        joints.map(move |j| (s.fastener, &j.body.readings))
    });
    let of_joints = found.chain(trials).flat_map(|(fastener, read)| {
        let known = read.iter();
        known.filter_map(|r| Some(Judged::of_joint(v, fastener.criterion(&r.criterion)?, r)))
    });
    let mut first = BTreeMap::new();
    for judged in of_joints.chain(of_steps) {
        if let Some(gauge) = v.desk.gauge_of(judged.reading) {
            first.entry(gauge.name.clone()).or_insert(judged);
        }
    }
    first
}

/// The gauges that took any reading of the job, by name.
pub fn instruments(v: &View) -> Vec<Instrument> {
    let set_ups = v.job.set_ups.iter();
    let in_set_ups = set_ups.flat_map(|s| {
        let stick_outs = s.stick_outs.iter().flat_map(|o| &o.body.readings);
        let joints = s
            .joints
            .iter()
            .flat_map(|j| j.body.readings.iter().map(|r| &r.reading));
        stick_outs.chain(joints).chain(&s.fitted.body.collet_mm)
    });
    let in_tests = v.job.tests.iter().flat_map(|t| &t.body.readings);
    let in_found_joints = v.job.found_joints.iter().flat_map(|j| &j.body.readings);
    let in_tests = in_tests.chain(in_found_joints.map(|r| &r.reading));
    let in_steps = v.job.steps.iter().filter_map(|s| s.body.reading.as_ref());
    listed(
        v,
        in_tests.chain(in_steps).chain(in_set_ups),
        v.job.pulls.iter(),
        Listing::AsUsed,
    )
}
