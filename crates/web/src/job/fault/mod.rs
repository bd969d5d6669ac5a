//! Fault: as-found tests, symptoms, ranked causes, the next check, the confirmed cause.

mod answer;
mod causes;
mod next;
mod symptoms;

use calc::Message;
use maud::{Markup, html};
use shop::diagnosis::{Diagnosis, Seen, diagnose};
use shop::entry::Phase;
use shop::job::Command;
use shop::sheet::{Cause, UNLISTED};

use super::view::View;
use super::{bench, found_joint};
use crate::forms::{FieldErrors, Typed};
use crate::shell::{Choice, Field};
use answer::answered;
use causes::{causes, nothing_left};
use next::next;
use symptoms::symptoms;

/// The section.
pub fn section(v: &View) -> Markup {
    if let Some(said) = super::set_up_only::said(v) {
        return html! { (as_found(v)) (super::suspect::shown(v)) (said) (symptoms(v)) };
    }
    let seen = Seen::of(v.job, v.faults, v.model, &v.desk);
    let diagnosis = diagnose(v.faults, v.model.drive, &seen);
    let open = v.job.cause.is_none() && v.job.returned.is_none();
    html! {
        (lies_open(v))
        (as_found(v))
        @if open { (super::set_up_only::form(v)) }
        (super::suspect::shown(v))
        h3 { (v.t("fault-causes")) }
        @match &diagnosis {
            Some(d) => {
                (causes(v, d, &seen))
                @if open { (next(v, d, &seen)) }
            }
            None => { p.warn { (nothing_left(v, &seen)) } }
        }
        (answered(v, &seen))
        @if open { (symptoms(v)) (confirm(v, diagnosis.as_ref())) }
        @else { (confirmed(v)) }
    }
}

fn as_found(v: &View) -> Markup {
    let tests = || v.model.bench_tests.iter().filter(|t| t.as_found);
    let may = !v.job.is_changed() && v.job.returned.is_none() && v.job.cause.is_none();
    let forbidden = v.job.energy_forbidden(&v.desk);
    let clearable = v.job.energised_looks_forbidden(&v.desk);
    html! {
        h3 { (v.t("fault-as-found")) }
        @if may { p.hint { (v.t("fault-as-found-hint")) } }
        @if forbidden { (v.warn("fault-no-energy", "source-common")) }
        @if clearable && v.job.cause.is_none() && v.job.returned.is_none() { (clear_energy(v)) }
        @if let Some(cleared) = &v.job.energy_cleared {
            p.note {
                b { (v.t("fault-cleared")) } " " (cleared.body.reason)
                small { (v.stamp(cleared.at, &cleared.by)) }
            }
            (super::correct::strike(v, cleared.version))
        }
        @for test in tests() { (bench::result(v, Phase::AsFound, test)) }
        (found_joint::shown(v))
        @if let Some(reason) = &v.job.not_safe {
            p.note {
                b { (v.t("fault-not-safe")) } " " (reason.body.reason)
                small { (v.stamp(reason.at, &reason.by)) }
            }
            (super::correct::strike(v, reason.version))
        }
        @if may && !forbidden {
            // The joint first: a test of the stroke opens the adjuster that the tool came with.
            (found_joint::entry(v))
            @for test in tests() { (bench::entry(v, Phase::AsFound, test)) }
        }
        @if may && v.job.not_safe.is_none() { (not_safe(v)) }
    }
}

/// Says that the tool lies open, with the form that closes it.
fn lies_open(v: &View) -> Markup {
    let Some(check) = v.job.lying_open(v.faults).last() else {
        return html! {};
    };
    let form = v.form("closed-again");
    html! {
        p.warn { (v.say(&Message::new("fault-lies-open").with("check", check.text.as_str()))) small { (v.t("source-maker")) } }
        @if v.job.returned.is_none() {
            (v.wrap(&form, "closed-again", html! {
                (form.text(&Field::new("note", v.t("field-note"))))
            }, "button-closed-again"))
        }
    }
}

fn not_safe(v: &View) -> Markup {
    let form = v.form("not-safe");
    html! {
        details open[v.is_refused("not-safe")] {
            summary { (v.t("not-safe-summary")) }
            (v.wrap(&form, "not-safe", html! {
                (form.text(&Field::new("reason", v.t("field-not-safe"))))
            }, "button-not-safe"))
        }
    }
}

fn clear_energy(v: &View) -> Markup {
    let form = v.form("clear-energy");
    let signs: Vec<Choice> = v
        .job
        .signs_open(&v.desk)
        .map(|s| Choice::new(&s.id, &s.text))
        .collect();
    html! {
        details open[v.is_refused("clear-energy")] {
            summary { (v.t("clear-energy-summary")) }
            (v.warn("clear-energy-caution", "source-maker"))
            (v.wrap(&form, "clear-energy", html! {
                @if !signs.is_empty() { (form.ticks(&Field::new("signs", v.t("field-clear-signs")), &signs)) }
                (form.text(&Field::new("reason", v.t("field-clear-energy"))))
            }, "button-clear-energy"))
        }
    }
}

fn confirm(v: &View, diagnosis: Option<&Diagnosis>) -> Markup {
    let form = v.form("cause");
    let ranked: Vec<&Cause> = diagnosis
        .map(|d| d.ranked.iter().filter_map(|r| r.cause).collect())
        .unwrap_or_default();
    // Those of other fasteners are not weighed, but they may be found all the same.
    let others = v
        .faults
        .causes
        .iter()
        .filter(|c| c.drives.contains(&v.model.drive) && ranked.iter().all(|r| r.id != c.id));
    let likely: Vec<Choice> = ranked
        .iter()
        .copied()
        .chain(others)
        .map(|c| Choice::new(&c.id, &c.text))
        .chain([Choice::new(UNLISTED, v.t("cause-unlisted"))])
        .collect();
    html! {
        h3 { (v.t("cause-heading")) }
        (v.wrap(&form, "cause", html! {
            (form.select(&Field::new("causes", v.t("field-cause")).hint(v.t("hint-cause")), &likely))
            (form.select(&Field::new("second", v.t("field-cause-second")), &likely))
            (form.text(&Field::new("note", v.t("field-cause-note"))))
        }, "button-cause"))
    }
}

fn confirmed(v: &View) -> Markup {
    let Some(cause) = &v.job.cause else {
        return html! {};
    };
    html! {
        div.answer {
            p.lab { (v.t("cause-confirmed")) }
            @if cause.body.causes.is_empty() { p.mid { (v.t("cause-none")) } }
            @for id in &cause.body.causes {
                p.mid { (v.cause_name(id)) }
            }
            @if !cause.body.note.is_empty() { p { (cause.body.note) } }
            p.pm { (v.stamp(cause.at, &cause.by)) }
            (super::correct::strike(v, cause.version))
        }
    }
}

/// The commands of this section's forms.
pub fn parse(kind: &str, typed: &Typed, v: &View, errors: &mut FieldErrors) -> Option<Command> {
    let text = |name| typed.get(name).to_owned();
    let list = |name: &str| {
        typed
            .all(name)
            .filter(|s| !s.is_empty())
            .map(str::to_owned)
            .collect::<Vec<_>>()
    };
    Some(match kind {
        "symptoms" => Command::NoteSymptoms {
            present: list("symptoms"),
            absent: match typed.has("rest") {
                true => {
                    let mut absent = list("absent");
                    let rest = symptoms::not_said(v, &list("symptoms")).into_iter();
                    absent.extend(rest.filter(|id| !list("absent").contains(id)));
                    absent
                }
                false => list("absent"),
            },
        },
        "not-safe" => Command::NotSafe {
            reason: text("reason"),
        },
        "clear-energy" => Command::ClearEnergy {
            reason: text("reason"),
            signs: list("signs"),
        },
        "closed-again" => Command::CloseAgain { note: text("note") },
        "check" => {
            let asked = answer::said(typed, "answer").map(|answer| (text("check"), answer));
            let checks = v.faults.checks.iter();
            let beside = checks.filter_map(|check| {
                let said = answer::said(typed, &answer::beside_field(&check.id))?;
                Some((check.id.clone(), said))
            });
            // The one that was asked for may stay open where another is answered.
            let mut answers = asked.into_iter().chain(beside);
            let Some((check, answer)) = answers.next() else {
                errors.add("answer", Message::new("refuse-answer"));
                return None;
            };
            Command::AnswerCheck {
                check,
                answer,
                note: text("note"),
                made_safe: list("made_safe"),
                beside: answers.collect(),
            }
        }
        "cause" => {
            let mut causes = list("causes");
            causes.extend(list("second"));
            causes.dedup();
            Command::ConfirmCause {
                causes,
                note: text("note"),
            }
        }
        "bench-test" => bench::parse(typed, v, errors)?,
        "found-joint" => found_joint::parse(typed, v, errors)?,
        _ => return None,
    })
}
