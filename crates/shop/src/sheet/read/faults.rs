//! Reads a fault model sheet.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

use calc::Message;
use calc::decision::Side;

use super::table::Table;
use super::value::{self, Span, Word};
use crate::entry::Seen;
use crate::sheet::{
    Asked, AskedBy, Cause, Check, CheckLink, Drive, FastenerKind, FaultModel, Feature, Learning,
    SettingBasis, Symptom, ToolState, UNLISTED,
};

impl Word for Side {
    const WORDS: &'static [(&'static str, Self)] = &[("low", Side::Low), ("high", Side::High)];
}

impl Word for ToolState {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("record-only", ToolState::RecordOnly),
        ("no-energy", ToolState::NoEnergy),
        ("stripped-no-energy", ToolState::StrippedNoEnergy),
        ("energised", ToolState::Energised),
        ("energised-loaded", ToolState::EnergisedLoaded),
    ];
}

/// Jobs of a thousand.
const PER_1000: Span = Span(0.001, 1000.0);
/// Hands-on minutes of a check or a mending.
const MINUTES: Span = Span(0.1, 600.0);
/// As how many jobs a rate of the sheet counts where it says nothing. Common practice, no source.
const PRIOR_JOBS: f64 = 100.0;
/// As how many answers a chance of the sheet counts where it says nothing. Common practice, no source.
const PRIOR_ANSWERS: f64 = 20.0;
/// Within how many days and pulls a tool that comes back speaks against the confirmed cause, where the sheet
/// says nothing. Common practice, no source.
const COME_BACK: (u32, u32) = (90, 5_000);

/// What a second fault keeps of its rate where the sheet says nothing. Common practice, no source.
const AT_ONCE: f64 = 0.2;

pub(super) fn read(t: &Table) -> Option<FaultModel> {
    let (symptoms, causes) = (t.ids("symptom"), t.ids("cause"));
    let visits = Visits::default();
    Some(FaultModel {
        id: t.id("id"),
        basis: t.string("basis"),
        leak: t.number("leak", Span(1e-6, 0.5)),
        unlisted_per_1000: t.number("unlisted_per_1000", Span(0.0, 1000.0)),
        at_once: t
            .given("at_once", |v| value::number(v, Span(0.001, 1.0)))
            .unwrap_or(AT_ONCE),
        learning: learning(t),
        own: None,
        symptoms: t.tables("symptom", "id", 1, |s| Some(symptom(s))),
        causes: t.tables("cause", "id", 1, |c| Some(cause(c, &symptoms))),
        checks: t.tables("check", "id", 0, |c| Some(check(c, &causes, &visits))),
    })
}

fn learning(t: &Table) -> Learning {
    let weight = |key| t.given(key, |v| value::number(v, Span(1.0, 1e6)));
    let count = |key, most| t.given(key, |v| value::whole(v, 1, most));
    let (days, pulls) = COME_BACK;
    Learning {
        prior_jobs: weight("prior_jobs").unwrap_or(PRIOR_JOBS),
        prior_answers: weight("prior_answers").unwrap_or(PRIOR_ANSWERS),
        come_back_days: count("come_back_days", 3_650).unwrap_or(days),
        come_back_pulls: count("come_back_pulls", 10_000_000).unwrap_or(pulls).into(),
    }
}

/// A list of words; left out, it is all of them.
fn words_or_all<W: Word>(t: &Table, key: &'static str) -> Vec<W> {
    if t.has(key) {
        let named = t.list_given(key, value::word);
        if t.good(&[key]) && named.is_empty() {
            t.mistake(key, Message::new("sheet-too-few").with("least", 1_u32));
        }
        return named;
    }
    W::WORDS.iter().map(|(_, meaning)| *meaning).collect()
}

fn drives(t: &Table) -> Vec<Drive> {
    words_or_all(t, "drives")
}

fn symptom(t: &Table) -> Symptom {
    Symptom {
        id: t.id("id"),
        text: t.string("text"),
        drives: drives(t),
        forbids_energy: t.flag("forbids_energy"),
        joints: t.list_given("joints", value::word::<Seen>),
        fasteners: words_or_all::<FastenerKind>(t, "fasteners"),
        set_by: words_or_all::<SettingBasis>(t, "set_by"),
    }
}

fn cause(t: &Table, symptoms: &BTreeSet<String>) -> Cause {
    let id = t.id("id");
    if id == UNLISTED {
        t.mistake("id", Message::new("sheet-reserved").with("id", UNLISTED));
    }
    Cause {
        id,
        text: t.string("text"),
        drives: drives(t),
        fasteners: words_or_all::<FastenerKind>(t, "fasteners"),
        per_1000: t.number("per_1000", PER_1000),
        per_1000_on: t
            .by_far_id("per_1000_on", |v| value::number(v, PER_1000))
            .into_iter()
            .collect(),
        action: t.string("action"),
        minutes: t.given("minutes", |v| value::number(v, MINUTES)),
        parts: t.list_given("parts", value::id),
        worn: t.given("worn", value::id),
        shows: t.by_id("shows", symptoms, |v| value::number(v, Span::CHANCE)),
    }
}

/// The first check of each visit, and what it asks of the tool.
type Visits = RefCell<BTreeMap<String, (String, ToolState, Option<String>)>>;

fn check(t: &Table, causes: &BTreeSet<String>, visits: &Visits) -> Check {
    let false_alarm = t.number("false_alarm", Span::CHANCE);
    let links = t.by_id("tells", causes, |v| value::number(v, Span::CHANCE));
    if t.good(&["tells"]) && links.is_empty() || !t.has("tells") {
        t.mistake("tells", Message::new("sheet-too-few").with("least", 1_u32));
    }
    Check {
        id: t.id("id"),
        text: t.string("text"),
        yes: t.string("yes"),
        fasteners: words_or_all::<FastenerKind>(t, "fasteners"),
        minutes: t.number("minutes", MINUTES),
        stripped_to: stripped_to(t),
        parts: t.list_given("parts", value::id),
        state: t.word("state"),
        false_alarm,
        links: links
            .into_iter()
            .map(|(cause, if_true)| CheckLink { cause, if_true })
            .collect(),
        asked_by: asked_by(t),
        hands_first: t.flag("hands_first"),
        visit: visit(t, visits),
        setting: t.flag("setting"),
    }
}

/// The part that must be reached, for a check on a stripped tool.
fn stripped_to(t: &Table) -> Option<String> {
    let part = t.given("stripped_to", value::id);
    if part.is_some() && t.word::<ToolState>("state") != ToolState::StrippedNoEnergy {
        t.mistake("stripped_to", Message::new("sheet-stripped-to"));
    }
    part
}

/// What a check has in common with others. They ask for the tool in one state: it stays as it is in between.
fn visit(t: &Table, visits: &Visits) -> Option<String> {
    let visit = t.given("visit", value::id)?;
    if t.flag("hands_first") {
        t.mistake("visit", Message::new("sheet-visit-hands"));
    }
    let state: ToolState = t.word("state");
    let part = t.given("stripped_to", value::id);
    let mut visits = visits.borrow_mut();
    match visits.get(&visit) {
        Some((_, of, to)) if *of == state && *to == part => {}
        Some((first, ..)) => {
            let message = Message::new("sheet-visit-state").with("first", first.as_str());
            t.mistake("visit", message);
        }
        None => {
            visits.insert(visit.clone(), (t.id("id"), state, part));
        }
    }
    Some(visit)
}

fn asked_by(t: &Table) -> Option<AskedBy> {
    let fails = t.given("test_fails", value::word);
    let feature = t.given("feature", value::word::<Feature>);
    if let Some(feature) = feature {
        let others = ["test", "criterion", "test_fails"].map(|key| t.has(key).then_some(key));
        if let Some(key) = others.into_iter().flatten().next() {
            t.mistake(key, Message::new("sheet-feature-and-test"));
        }
        let fails = t.given("feature_fails", value::word);
        return Some(AskedBy {
            what: Asked::Feature(feature),
            fails,
        });
    }
    if t.has("feature_fails") {
        t.mistake("feature_fails", Message::new("sheet-side-without-feature"));
    }
    let test = t.given("test", value::id).map(Asked::Test);
    let criterion = t.given("criterion", value::id).map(Asked::Criterion);
    if test.is_some() && criterion.is_some() {
        t.mistake("criterion", Message::new("sheet-test-and-criterion"));
    }
    if fails.is_some() && !t.has("test") && !t.has("criterion") {
        t.mistake("test_fails", Message::new("sheet-side-without-test"));
    }
    let what = test.or(criterion)?;
    Some(AskedBy { what, fails })
}
