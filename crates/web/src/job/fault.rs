//! Fault: as-found tests, symptoms, ranked causes, the next check, the confirmed cause.

use calc::Message;
use maud::{Markup, html};
use shop::diagnosis::plan::EFFORT;
use shop::diagnosis::{
    Costs, Diagnosis, Evidence, OpenCheck, Plan, Ranked, Seen, Step, diagnose, percent, plan,
    ruled_out,
};
use shop::entry::{Phase, Said};
use shop::job::Command;
use shop::sheet::{Asked, Cause, Caution, Check, Symptom, UNLISTED};

use super::view::View;
use super::{bench, check_limit, found_joint, names};
use crate::forms::{FieldErrors, Typed};
use crate::shell::{Choice, Field};
use crate::show;

/// How many causes and checks are shown before the fold.
const SHOWN: usize = 5;

/// Other checks, and other causes, that are listed behind the fold: those beyond tell next to nothing.
const MOST_OTHERS: usize = 15;

/// Weight of evidence below which a piece says nothing of a cause: the bar would be empty.
const LEAST_WEIGHT: f64 = 0.05;

/// Weight of evidence, natural log-odds, that fills a bar.
const MOST_WEIGHT: f64 = 5.0;

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

fn causes(v: &View, d: &Diagnosis, seen: &Seen) -> Markup {
    let more = d.ranked.len().saturating_sub(SHOWN).min(MOST_OTHERS);
    html! {
        @if let Some(odd) = d.odd {
            p.warn { (v.say(&Message::new("evidence-odd").with("what", evidence_text(v, odd, seen)))) }
        }
        ol.bars { @for ranked in d.ranked.iter().take(SHOWN) { (cause(v, ranked, seen)) } }
        @if more > 0 {
            details {
                summary { (v.say(&Message::new("causes-more").with("count", more))) }
                ol.bars start=(SHOWN + 1) { @for ranked in d.ranked.iter().skip(SHOWN).take(more) { (cause(v, ranked, seen)) } }
            }
        }
        @if !d.together.is_empty() {
            @let names: Vec<String> = d.together.iter().map(|cause| name(v, *cause)).collect();
            p.hint { (v.say(&Message::new("causes-together").with("causes", names.join(" + ")))) }
        }
    }
}

/// That everything is ruled out, and by what.
fn nothing_left(v: &View, seen: &Seen) -> String {
    match ruled_out(v.faults, v.model.drive, seen) {
        Some(odd) => {
            let what = evidence_text(v, odd, seen);
            v.say(&Message::new("evidence-impossible").with("what", what))
        }
        None => v.t("calc-impossible"),
    }
}

/// A cause with its probability; behind the fold why, strongest evidence first.
fn cause(v: &View, ranked: &Ranked, seen: &Seen) -> Markup {
    let name = name(v, ranked.cause);
    html! {
        li {
            details {
                summary {
                    span.what { (name) }
                    meter min="0" max="1" value=(format!("{:.4}", ranked.probability)) aria-label=(name) {}
                    b.n { (percent(ranked.probability)) }
                }
                p.hint { (v.t("cause-why")) }
                ul.weights {
                    @for (evidence, weight) in ranked.why.iter().filter(|(_, weight)| weight.abs() >= LEAST_WEIGHT) {
                        @let said = why(v, *evidence, *weight, seen);
                        li {
                            (said)
                            meter min="0" max=(MOST_WEIGHT) value=(format!("{:.2}", weight.abs().min(MOST_WEIGHT))) aria-label=(said) {}
                        }
                    }
                }
                (show::working(v.p, &ranked.working))
                @if let Some(cause) = ranked.cause { p { b { (v.t("cause-action")) } " " (cause.action) } }
            }
        }
    }
}

/// What a cause is called; `None` is something not in the list.
fn name(v: &View, cause: Option<&Cause>) -> String {
    cause.map_or_else(|| v.t("cause-unlisted"), |cause| cause.text.clone())
}

fn evidence_text(v: &View, evidence: Evidence, seen: &Seen) -> String {
    match evidence {
        Evidence::Symptom(id, there) => {
            let text = v.faults.symptom(id).map_or(id, |s| &s.text);
            let id = match there {
                true if seen.handed.contains(id) => "why-on-joint",
                true => "why-there",
                false => "why-not-there",
            };
            v.say(&Message::new(id).with("what", text))
        }
        Evidence::Worn(cause, share) => {
            let part = cause.worn.as_deref().unwrap_or_default();
            let mut parts = v.model.parts.iter();
            let named = parts.find(|p| p.id == part || p.also_called.iter().any(|id| id == part));
            v.say(
                &Message::new("why-worn")
                    .with("part", named.map_or(part, |part| part.name.as_str()))
                    .with("share", percent(share)),
            )
        }
        Evidence::Check(check, yes) => {
            let id = if yes { "why-yes" } else { "why-no" };
            v.say(&Message::new(id).with("what", v.question(check)))
        }
    }
}

/// What a piece of evidence adds, in words.
fn why(v: &View, evidence: Evidence, weight: f64, seen: &Seen) -> String {
    let id = if weight >= 0.0 {
        "why-for"
    } else {
        "why-against"
    };
    let what = evidence_text(v, evidence, seen);
    v.say(
        &Message::new(id)
            .with("what", what)
            .number("weight", weight.abs(), 1),
    )
}

/// What to do next: the check or the mending that costs least until the tool works, and the checks that
/// may be made beside it.
fn next(v: &View, d: &Diagnosis, seen: &Seen) -> Markup {
    let shop = v.desk.shelf.shop(&v.job.shop_pin());
    let costs = shop.map(|shop| Costs::of(shop, v.model));
    let plan = costs
        .as_ref()
        .and_then(|costs| plan(v.faults, v.model.drive, seen, d, costs, EFFORT));
    let first = match plan.as_ref().map(|plan| plan.step) {
        Some(Step::Look(check)) => Some(check),
        _ => None,
    };
    let others: Vec<&OpenCheck> = d
        .open
        .iter()
        .filter(|open| first.is_none_or(|first| first.id != open.check.id))
        .take(MOST_OTHERS)
        .collect();
    html! {
        @if d.no_energy { (v.warn("fault-no-energy", "source-common")) }
        @if d.no_load { (v.warn("fault-no-load", "source-common")) }
        @if let Some((plan, costs)) = plan.as_ref().zip(costs.as_ref()) { (step(v, d, plan, costs)) }
        @if d.open.is_empty() { p.note { (v.t("check-none")) } }
        @if !others.is_empty() {
            details {
                summary { (v.t("check-others")) }
                ul.checks {
                    @for other in others {
                        li {
                            details open[v.is_refused(&check_form(&other.check.id))] {
                                summary {
                                    (other.check.text)
                                    small { (worth(v, other)) }
                                }
                                (answer_form(v, other.check, &[]))
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The first step of the plan, with the sentence that says why.
fn step(v: &View, d: &Diagnosis, plan: &Plan, costs: &Costs) -> Markup {
    html! {
        div.answer {
            @match plan.step {
                Step::Look(check) => {
                    p.lab { (v.t("check-next")) }
                    p { b { (check.text) } }
                    @if let Some(paying) = plan.paying.first() {
                        p.pm {
                            (v.say(&Message::new("check-saves")
                                .number("minutes", check.minutes, 0)
                                .number("saves", paying.saves, 0)
                                .with("currency", costs.currency)
                                .with("cause", name(v, plan.mend_first))
                                .with("state", v.t(names::tool_state(check.state)))))
                        }
                    }
                    (show::working(v.p, &plan.working))
                    (answer_form(v, check, &d.beside(check).collect::<Vec<_>>()))
                }
                Step::Mend(cause) => {
                    p.lab { (v.t("mend-next")) }
                    p { b { (name(v, cause)) } }
                    p.pm {
                        (v.say(&Message::new("mend-why").number("cost", plan.expected, 0).with("currency", costs.currency)))
                    }
                    @if let Some(cause) = cause { p { b { (v.t("cause-action")) } " " (cause.action) } }
                    (show::working(v.p, &plan.working))
                }
            }
        }
    }
}

/// Minutes, bits and the state of the tool.
fn worth(v: &View, open: &OpenCheck) -> String {
    let text = Message::new("check-worth")
        .number("minutes", open.check.minutes, 0)
        .number("bits", open.bits, 2)
        .with("state", v.t(names::tool_state(open.check.state)));
    v.say(&text)
}

fn check_form(check: &str) -> String {
    format!("check-{check}")
}

/// The field of a check that is looked at in one go with another.
fn beside_field(check: &str) -> String {
    format!("beside-{check}")
}

/// Asks for the answer to `check`, and to those `beside` it that may be left open.
fn answer_form(v: &View, check: &Check, beside: &[&Check]) -> Markup {
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
            (check_limit::shown(v, check))
            (form.answers(&Field::new("answer", v.say(&Message::new("field-answer").with("yes", check.yes.as_str()))), &choices))
            @if !beside.is_empty() {
                p.lab { (v.t("check-beside")) }
                @for other in beside {
                    (check_limit::shown(v, other))
                    (form.answers(&Field::new(&beside_field(&other.id), v.question(other)), &may_stay_open))
                }
            }
            (form.text(&Field::new("note", v.t("field-seen-note"))))
        },
        "button-answer",
    )
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

const SAID: [Said; 3] = [Said::Yes, Said::No, Said::NotSure];

/// The answer that a field holds.
fn said(typed: &Typed, field: &str) -> Option<Said> {
    SAID.into_iter().find(|s| key(*s) == typed.get(field))
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

/// Symptoms of the drive of which nobody has said yet whether they are there.
fn open_symptoms<'a>(v: &'a View) -> impl Iterator<Item = &'a Symptom> {
    let of_drive = v.faults.symptoms.iter();
    of_drive.filter(|s| s.drives.contains(&v.model.drive) && !v.job.symptoms.contains_key(&s.id))
}

/// Those of them that are not `there`.
fn not_said(v: &View, there: &[String]) -> Vec<String> {
    // A sign that forbids energy is looked for by name, each by itself.
    let rest = open_symptoms(v).filter(|s| !there.contains(&s.id) && !s.forbids_energy);
    rest.map(|s| s.id.clone()).collect()
}

fn symptoms(v: &View) -> Markup {
    let form = v.form("symptoms");
    // What was said can be put right: the last word counts.
    let that_are_not = |said: bool| -> Vec<Choice> {
        let of_drive = v.faults.symptoms.iter();
        of_drive
            .filter(|s| s.drives.contains(&v.model.drive))
            .filter(|s| v.job.symptoms.get(&s.id) != Some(&said))
            .map(|s| Choice::new(&s.id, &s.text))
            .collect()
    };
    let (there, absent) = (that_are_not(true), that_are_not(false));
    let rest = [Choice::new("rest", v.t("symptoms-rest"))];
    html! {
        details open[v.is_refused("symptoms")] {
            summary { (v.t("symptoms-summary")) }
            (v.wrap(&form, "symptoms", html! {
                (form.ticks(&Field::new("symptoms", v.t("field-symptoms-there")), &there))
                (form.ticks(&Field::new("rest", v.t("field-symptoms-rest")).hint(v.t("hint-symptoms-rest")), &rest))
                (form.ticks(&Field::new("absent", v.t("field-symptoms-absent")).hint(v.t("hint-absent")), &absent))
            }, "button-symptoms"))
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
                    let rest = not_said(v, &list("symptoms")).into_iter();
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
            let asked = said(typed, "answer").map(|answer| (text("check"), answer));
            let checks = v.faults.checks.iter();
            let beside = checks.filter_map(|check| {
                let said = said(typed, &beside_field(&check.id))?;
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
