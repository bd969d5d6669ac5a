//! Bench tests, as found and as left: one form, one way to show a result.

use calc::Message;
use calc::decision::Limits;
use maud::{Markup, html};
use shop::entry::{BenchTestRead, Phase};
use shop::job::{BenchTestIn, Command, Stage};
use shop::sheet::{BenchTest, BenchTestKind};

use super::judged::Judged;
use super::view::{View, measured};
use crate::forms::{FieldErrors, Typed};
use crate::shell::{Choice, Field};
use crate::show;

fn phase_key(phase: Phase) -> &'static str {
    match phase {
        Phase::AsFound => "as-found",
        Phase::AsLeft => "as-left",
    }
}

fn form_id(phase: Phase, test: &BenchTest) -> String {
    format!("bench-test-{}-{}", phase_key(phase), test.id)
}

/// The newest result of `test` in `phase`, with the way to strike it; nothing if there is none.
pub fn result(v: &View, phase: Phase, test: &BenchTest) -> Markup {
    html! {
        (shown(v, phase, test))
        @if let Some(read) = v.job.test(phase, &test.id) { (super::correct::strike(v, read.version)) }
    }
}

/// The newest result of `test` in `phase`, to look at; nothing if there is none.
pub fn shown(v: &View, phase: Phase, test: &BenchTest) -> Markup {
    let Some(read) = v.job.test(phase, &test.id) else {
        return html! {};
    };
    let body = &read.body;
    html! {
        div.result {
            p.what { (test.name) " " small { (v.stamp(read.at, &read.by)) } }
            @match Judged::of_test(v, test, body) {
                Some(judged) => {
                    (judged.show(v, &test.name))
                    (judged.explained(v))
                }
                None => { p { (show::chip(v.p, body.outcome.into())) } }
            }
            @if !v.desk.shelf.doubted(&read.body.clone().into(), v.day_of(read.at)).is_empty() {
                p { span.v.und { (v.t("result-in-doubt")) } }
            }
            @if let Some(spread) = spread_text(v, test, body) { p { (spread) } }
            @if !body.note.is_empty() { p { (body.note) } }
        }
    }
}

/// How far the readings lie apart, where the sheet sets a limit to it.
fn spread_text(v: &View, test: &BenchTest, read: &BenchTestRead) -> Option<String> {
    let BenchTestKind::Measured { spread_percent, .. } = &test.kind else {
        return None;
    };
    let text = Message::new("test-spread")
        .number("is", read.spread_percent?, 1)
        .number("most", (*spread_percent)?, 1);
    Some(v.say(&text))
}

/// Where the form for a test stands on the page.
pub fn place(phase: Phase, test: &BenchTest) -> String {
    format!("test-{}-{}", phase_key(phase), test.id)
}

/// Where the next test as left stands, if one is still to be made.
pub fn next(v: &View) -> Option<String> {
    let mut tests = v.model.bench_tests.iter();
    let next = tests.find(|t| v.job.test(Phase::AsLeft, &t.id).is_none())?;
    Some(place(Phase::AsLeft, next))
}

/// The form for `test` in `phase`, open if it was refused.
pub fn entry(v: &View, phase: Phase, test: &BenchTest) -> Markup {
    let id = form_id(phase, test);
    let form = v.form(&id);
    let done = v.job.test(phase, &test.id).is_some();
    html! {
        details.test id=(place(phase, test)) open[v.is_refused(&id)] {
            summary {
                @if done { (v.say(&Message::new("test-again").with("test", test.name.as_str()))) }
                @else { (v.say(&Message::new("test-enter").with("test", test.name.as_str()))) }
            }
            p.hint { (test.method) }
            (v.running_caution())
            @if let Some(caution) = &test.caution { (v.caution(caution)) }
            @let set_up_left_out = v.job.skipped.contains_key(&Stage::SetUp);
            @if set_up_left_out && test.opens_adjuster && phase == Phase::AsLeft { (v.warn("adjuster-note", "source-common")) }
            (v.wrap(&form, "bench-test", html! {
                input type="hidden" name="test" value=(test.id);
                input type="hidden" name="phase" value=(phase_key(phase));
                @match &test.kind {
                    BenchTestKind::Measured { unit, limits, .. } => {
                        p.hint { (limits_text(v, limits, unit.symbol())) }
                        (v.test_fields(&form, test))
                    }
                    BenchTestKind::Looked { pass } => {
                        (form.radios(&Field::new("passed", v.t("field-passed")).hint(pass.clone()), &yes_no(v)))
                    }
                }
                (form.text(&Field::new("note", v.t("field-note"))))
            }, "button-test"))
        }
    }
}

/// Tests as left that open the adjuster, while it is free: after the first joint they would move what was set.
pub fn before_set_up(v: &View) -> Markup {
    let free = v.job.stage() == Some(Stage::SetUp) && v.job.adjuster_stands_at().is_none();
    let tests = || v.model.bench_tests.iter().filter(|t| t.opens_adjuster);
    html! {
        @if free && tests().next().is_some() {
            h3 { (v.t("tests-before-set-up")) }
            p.hint { (v.t("tests-before-set-up-hint")) }
            @for test in tests() {
                (result(v, Phase::AsLeft, test))
                (entry(v, Phase::AsLeft, test))
            }
        }
    }
}

/// Why `test` cannot be made as left now; `None` if it can.
pub fn waits(v: &View, test: &BenchTest) -> Option<Message> {
    let turns = v.job.adjuster_stands_at().filter(|_| test.opens_adjuster)?;
    Some(
        Message::new("refuse-adjuster-stands")
            .with("test", test.name.as_str())
            .number("turns", turns, 2),
    )
}

/// Passed or not, as choices.
pub fn yes_no(v: &View) -> [Choice; 2] {
    [
        Choice::new("yes", v.t("passed-yes")),
        Choice::new("no", v.t("passed-no")),
    ]
}

/// Limits in words.
pub fn limits_text(v: &View, limits: &Limits, unit: &str) -> String {
    show::limits(v.p, limits, unit)
}

/// The command of the form.
pub fn parse(typed: &Typed, v: &View, errors: &mut FieldErrors) -> Option<Command> {
    let test = typed.get("test");
    let known = v.model.bench_tests.iter().find(|t| t.id == test);
    let measured = match known.map(|t| &t.kind) {
        Some(BenchTestKind::Measured { unit, .. }) => Some(measured(
            typed,
            "reading",
            "gauge",
            &v.t("field-readings"),
            *unit,
            errors,
        )),
        _ => None,
    };
    Some(Command::ReadBenchTest(BenchTestIn {
        phase: match typed.get("phase") {
            "as-left" => Phase::AsLeft,
            _ => Phase::AsFound,
        },
        test: test.to_owned(),
        measured,
        passed: passed(typed),
        note: typed.get("note").to_owned(),
    }))
}

/// The picked yes or no under `passed`.
pub fn passed(typed: &Typed) -> Option<bool> {
    match typed.get("passed") {
        "yes" => Some(true),
        "no" => Some(false),
        _ => None,
    }
}
