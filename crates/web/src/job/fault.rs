//! Fault: as-found tests, symptoms, ranked causes, the next check, the confirmed cause.

use calc::Message;
use maud::{Markup, html};
use shop::diagnosis::{Diagnosis, Evidence, NextCheck, Seen, diagnose, percent, working};
use shop::entry::{Phase, Said};
use shop::job::Command;
use shop::sheet::{Check, UNLISTED};

use super::view::View;
use super::{bench, found_joint, names};
use crate::forms::{FieldErrors, Typed};
use crate::shell::{Choice, Field};
use crate::show;

/// How many causes and checks are shown before the fold.
const SHOWN: usize = 5;

/// The section.
pub fn section(v: &View) -> Markup {
    let seen = Seen::of(v.job, v.faults, v.model, &v.desk);
    let diagnosis = diagnose(v.faults, v.model.drive, &seen);
    let open = v.job.cause.is_none() && v.job.returned.is_none();
    html! {
        (as_found(v))
        (super::suspect::shown(v))
        h3 { (v.t("fault-causes")) }
        @match &diagnosis {
            Some(d) => {
                (causes(v, d, &seen))
                @if open { (next(v, d)) }
            }
            None => { p.warn { (v.t("calc-impossible")) } }
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
    html! {
        h3 { (v.t("fault-as-found")) }
        @if may { p.hint { (v.t("fault-as-found-hint")) } }
        @if forbidden { (v.warn("fault-no-energy", "source-common")) }
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

fn causes(v: &View, d: &Diagnosis, seen: &Seen) -> Markup {
    let name = |i: usize| match d.ranked[i].cause {
        Some(cause) => cause.text.clone(),
        None => v.t("cause-unlisted"),
    };
    html! {
        ol.bars {
            @for (i, ranked) in d.ranked.iter().take(SHOWN).enumerate() {
                li {
                    details {
                        summary {
                            span.what { (name(i)) }
                            meter min="0" max="1" value=(format!("{:.4}", ranked.probability)) aria-label=(name(i)) {}
                            b.n { (percent(ranked.probability)) }
                        }
                        p.hint { (v.t("cause-why")) }
                        ul {
                            @for (evidence, weight) in ranked.why.iter().take(SHOWN) {
                                li { (why(v, *evidence, *weight, seen)) }
                            }
                        }
                        (show::working(v.p, &working(v.faults, ranked, d.pieces)))
                        @if let Some(cause) = ranked.cause { p { b { (v.t("cause-action")) } " " (cause.action) } }
                    }
                }
            }
        }
    }
}

fn why(v: &View, evidence: Evidence, weight: f64, seen: &Seen) -> String {
    let what = match evidence {
        Evidence::Symptom(id, there) => {
            let text = v.faults.symptom(id).map_or(id, |s| &s.text);
            let id = match there {
                true if seen.handed.contains(id) => "why-on-joint",
                true => "why-there",
                false => "why-not-there",
            };
            v.say(&Message::new(id).with("what", text))
        }
        Evidence::Check(check, yes) => {
            let id = if yes { "why-yes" } else { "why-no" };
            v.say(&Message::new(id).with("what", v.question(check)))
        }
    };
    let id = if weight >= 0.0 {
        "why-for"
    } else {
        "why-against"
    };
    v.say(
        &Message::new(id)
            .with("what", what)
            .number("weight", weight.abs(), 1),
    )
}

fn next(v: &View, d: &Diagnosis) -> Markup {
    html! {
        @if d.no_energy { (v.warn("fault-no-energy", "source-common")) }
        @match d.next.first() {
            None => { p.note { (v.t("check-none")) } }
            Some(first) => {
                div.answer {
                    p.lab { (v.t("check-next")) }
                    p { b { (first.check.text) } }
                    p.pm { (worth(v, first)) }
                    (show::working(v.p, &first.worth.working()))
                    @if first.check.state.energised() { (v.warn("check-energised", "source-maker")) }
                    (answer_form(v, first.check))
                }
                @if d.next.len() > 1 {
                    details {
                        summary { (v.t("check-others")) }
                        ul.checks {
                            @for other in d.next.iter().skip(1).take(SHOWN) {
                                li {
                                    details open[v.is_refused(&check_form(&other.check.id))] {
                                        summary {
                                            (other.check.text)
                                            small { (worth(v, other)) }
                                        }
                                        (show::working(v.p, &other.worth.working()))
                                        (answer_form(v, other.check))
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Minutes, bits and the state of the tool.
fn worth(v: &View, next: &NextCheck) -> String {
    let text = Message::new("check-worth")
        .number("minutes", next.check.minutes, 0)
        .number("bits", next.worth.bits, 2)
        .with("state", v.t(names::tool_state(next.check.state)));
    v.say(&text)
}

fn check_form(check: &str) -> String {
    format!("check-{check}")
}

fn answer_form(v: &View, check: &Check) -> Markup {
    let id = check_form(&check.id);
    let form = v.form(&id);
    let choices = [Said::Yes, Said::No, Said::NotSure]
        .map(|said| Choice::new(key(said), v.t(names::said(said))));
    v.wrap(
        &form,
        "check",
        html! {
            input type="hidden" name="check" value=(check.id);
            @if v.job.asks_made_safe(check) {
                (v.warn("check-no-energy", "source-maker"))
                (v.make_safe_ticks(&form))
            }
            (form.radios(&Field::new("answer", v.say(&Message::new("field-answer").with("yes", check.yes.as_str()))), &choices))
            (form.text(&Field::new("note", v.t("field-seen-note"))))
        },
        "button-answer",
    )
}

fn key(said: Said) -> &'static str {
    match said {
        Said::Yes => "yes",
        Said::No => "no",
        Said::NotSure => "not-sure",
    }
}

fn answered(v: &View, seen: &Seen) -> Markup {
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
                        (super::correct::strike(v, c.version))
                    }
                }
            }
        }
    }
}

fn symptoms(v: &View) -> Markup {
    let form = v.form("symptoms");
    let known: Vec<Choice> = v
        .faults
        .symptoms
        .iter()
        .filter(|s| s.drives.contains(&v.model.drive) && !v.job.symptoms.contains_key(&s.id))
        .map(|s| Choice::new(&s.id, &s.text))
        .collect();
    html! {
        details open[v.is_refused("symptoms")] {
            summary { (v.t("symptoms-summary")) }
            (v.wrap(&form, "symptoms", html! {
                (form.ticks(&Field::new("symptoms", v.t("field-symptoms-there")), &known))
                (form.ticks(&Field::new("absent", v.t("field-symptoms-absent")).hint(v.t("hint-absent")), &known))
            }, "button-symptoms"))
        }
    }
}

fn confirm(v: &View, diagnosis: Option<&Diagnosis>) -> Markup {
    let form = v.form("cause");
    let likely: Vec<Choice> = diagnosis
        .map(|d| d.ranked.iter().filter_map(|r| r.cause).collect::<Vec<_>>())
        .unwrap_or_default()
        .into_iter()
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
            absent: list("absent"),
        },
        "not-safe" => Command::NotSafe {
            reason: text("reason"),
        },
        "check" => {
            let said = [Said::Yes, Said::No, Said::NotSure];
            let Some(answer) = said.into_iter().find(|s| key(*s) == typed.get("answer")) else {
                errors.add("answer", Message::new("refuse-answer"));
                return None;
            };
            Command::AnswerCheck {
                check: text("check"),
                answer,
                note: text("note"),
                made_safe: list("made_safe"),
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
