//! Reads a fault model sheet.

use std::collections::BTreeSet;

use calc::Message;
use calc::decision::Side;

use super::table::Table;
use super::value::{self, Span, Word};
use crate::entry::Seen;
use crate::sheet::{
    Asked, AskedBy, Cause, Check, CheckLink, Drive, FastenerKind, FaultModel, SettingBasis,
    Symptom, ToolState, UNLISTED,
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

/// What a second fault keeps of its rate where the sheet says nothing. Common practice, no source.
const AT_ONCE: f64 = 0.2;

pub(super) fn read(t: &Table) -> Option<FaultModel> {
    let (symptoms, causes) = (t.ids("symptom"), t.ids("cause"));
    Some(FaultModel {
        id: t.id("id"),
        basis: t.string("basis"),
        leak: t.number("leak", Span(1e-6, 0.5)),
        unlisted_per_1000: t.number("unlisted_per_1000", Span(0.0, 1000.0)),
        at_once: t
            .given("at_once", |v| value::number(v, Span(0.001, 1.0)))
            .unwrap_or(AT_ONCE),
        symptoms: t.tables("symptom", "id", 1, |s| Some(symptom(s))),
        causes: t.tables("cause", "id", 1, |c| Some(cause(c, &symptoms))),
        checks: t.tables("check", "id", 0, |c| Some(check(c, &causes))),
    })
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
        per_1000: t.number("per_1000", Span(0.001, 1000.0)),
        action: t.string("action"),
        parts: t.list_given("parts", value::id),
        shows: t.by_id("shows", symptoms, |v| value::number(v, Span::CHANCE)),
    }
}

fn check(t: &Table, causes: &BTreeSet<String>) -> Check {
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
        minutes: t.number("minutes", Span(0.1, 600.0)),
        state: t.word("state"),
        false_alarm,
        links: links
            .into_iter()
            .map(|(cause, if_true)| CheckLink { cause, if_true })
            .collect(),
        asked_by: asked_by(t),
        hands_first: t.flag("hands_first"),
        setting: t.flag("setting"),
    }
}

fn asked_by(t: &Table) -> Option<AskedBy> {
    let fails = t.given("test_fails", value::word);
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
