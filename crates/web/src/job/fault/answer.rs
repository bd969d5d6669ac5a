//! The form that answers a check, and those that were answered.

use calc::Message;
use maud::{Markup, html};
use shop::diagnosis::Seen;
use shop::entry::Said;
use shop::sheet::{Asked, Caution, Check};

use crate::forms::Typed;
use crate::job::view::View;
use crate::job::{check_limit, names};
use crate::shell::{Choice, Field};

const SAID: [Said; 3] = [Said::Yes, Said::No, Said::NotSure];

pub fn check_form(check: &str) -> String {
    format!("check-{check}")
}

/// The field of a check that is looked at in one go with another.
pub fn beside_field(check: &str) -> String {
    format!("beside-{check}")
}

/// Asks for the answer to `check`, and to those `beside` it that may be left open.
pub fn answer_form(v: &View, check: &Check, beside: &[&Check]) -> Markup {
    let id = check_form(&check.id);
    let form = v.form(&id);
    let choice = |said| Choice::new(key(said), v.t(names::said(said)));
    let choices = SAID.map(choice);
    let may_stay_open = [
        choice(Said::Yes),
        choice(Said::No),
        Choice::new("", v.t("check-left-open")).chosen(true),
    ];
    v.wrap(
        &form,
        "check",
        html! {
            input type="hidden" name="check" value=(check.id);
            @if v.job.asks_made_safe(check) {
                @let hands = if check.hands_first { "check-hands-first" } else { "check-no-energy" };
                (v.warn(hands, "source-maker"))
                (v.make_safe_ticks(&form))
            }
            @if check.state.energised() {
                (v.warn("check-energised", "source-maker"))
                (v.came_without())
            }
            @for caution in cautions(v, [check].into_iter().chain(beside.iter().copied())) { (v.caution(caution)) }
            (have_ready(v, check))
            (check_limit::shown(v, check))
            (form.answers(&Field::new("answer", v.say(&Message::new("field-answer").with("yes", check.yes.as_str()))), &choices))
            @if !beside.is_empty() {
                p.lab { (v.t("check-beside")) }
                @for other in beside {
                    (have_ready(v, other))
                    (check_limit::shown(v, other))
                    (form.answers(&Field::new(&beside_field(&other.id), v.question(other)), &may_stay_open))
                }
            }
            (form.text(&Field::new("note", v.t("field-seen-note"))))
        },
        "button-answer",
    )
}

/// The known-good parts that `check` takes, with their numbers.
fn have_ready(v: &View, check: &Check) -> Markup {
    let parts = check.parts.iter().filter_map(|id| v.model.part_called(id));
    let parts: Vec<String> = parts
        .map(|part| format!("{} ({})", part.name, part.number))
        .collect();
    html! {
        @if !parts.is_empty() {
            p.hint { (v.say(&Message::new("check-have-ready").with("parts", parts.join(", ")))) }
        }
    }
}

/// What the model warns of at the bench tests that ask the same as `checks`, each once.
fn cautions<'a>(v: &'a View, checks: impl Iterator<Item = &'a Check>) -> Vec<&'a Caution> {
    let mut all: Vec<&Caution> = Vec::new();
    for check in checks {
        let Some(Asked::Test(id)) = check.asked_by.as_ref().map(|by| &by.what) else {
            continue;
        };
        let test = v.model.bench_tests.iter().find(|test| test.id == *id);
        let caution = test.and_then(|test| test.caution.as_ref());
        all.extend(caution.filter(|caution| !all.contains(caution)));
    }
    all
}

/// The answer that a field holds.
pub fn said(typed: &Typed, field: &str) -> Option<Said> {
    SAID.into_iter().find(|s| key(*s) == typed.get(field))
}

fn key(said: Said) -> &'static str {
    match said {
        Said::Yes => "yes",
        Said::No => "no",
        Said::NotSure => "not-sure",
    }
}

pub fn answered(v: &View, seen: &Seen) -> Markup {
    let by_test = || {
        let checks = v.faults.checks.iter();
        checks.filter(|check| seen.handed.contains(&check.id))
    };
    html! {
        @if !v.job.checks.is_empty() || by_test().next().is_some() {
            h3 { (v.t("check-answered")) }
            ul.done-list {
                @for check in by_test() {
                    li {
                        (v.question(check))
                        @if let Some(said) = seen.checks.get(&check.id) { " " b { (v.t(names::said(*said))) } }
                        small { (v.t("check-by-test")) }
                    }
                }
                @for c in &v.job.checks {
                    li {
                        (v.faults.check(&c.body.check).map_or(c.body.check.clone(), |k| v.question(k)))
                        " " b { (v.t(names::said(c.body.answer))) }
                        @if !c.body.note.is_empty() { ": " (c.body.note) }
                        small { (v.stamp(c.at, &c.by)) }
                        (crate::job::correct::strike(v, c.version))
                    }
                }
            }
        }
    }
}
