//! Set up: fastener and nose set, stick-out, the setting, sign-off. Trial joints stand beside it.

use calc::Message;
use calc::gauge_correction;
use calc::repeated::{self, Estimate};
use calc::units::Unit;
use calc::working::{Working, fixed, places};
use maud::{Markup, html};
use shop::entry::StickOutRead;
use shop::job::{Command, SetUp, SetUpSheets, Stage, TypedValue, answer};
use shop::nose_match;
use shop::pressure_setting::At;
use shop::setting::{NoSetting, in_band};
use shop::sheet::{FastenerFamily, GaugeKind, NoseSet, SettingBasis};
use shop::trial::own;

use super::view::{self, View};

use super::{bench, explanations, joints, next_joint, stack};
use crate::forms::{FieldErrors, Typed, parse_number};
use crate::nose_match::{path_for, reasons};
use crate::shell::{Choice, Field};
use crate::show;

/// Pins that are measured for one setting.
const PINS: usize = 3;
const LENGTH: [GaugeKind; 3] = [
    GaugeKind::Caliper,
    GaugeKind::DepthGauge,
    GaugeKind::Micrometer,
];

/// The section.
pub fn section(v: &View) -> Markup {
    html! { (bench::before_set_up(v)) (set_up_itself(v)) }
}

fn set_up_itself(v: &View) -> Markup {
    let open = v.job.is_open(Stage::SetUp);
    let Some(set_up) = v.job.set_up() else {
        return html! {
            @if open && !v.job.skipped.contains_key(&Stage::SetUp) {
                (fit_form(v))
                (super::pause::skip_form(v, Stage::SetUp))
            }
        };
    };
    let Some(sheets) = v.job.set_up_sheets(set_up, &v.desk) else {
        return html! { p.warn { (v.t("refuse-no-sheet")) } };
    };
    let working = open && set_up.signed_off.is_none();
    html! {
        (fitted(v, set_up, &sheets))
        (measured_now(v, set_up, &sheets))
        (show::pressure_to_set(v.p, &sheets, At::Bench))
        @if working {
            @if set_up.stick_outs.is_empty() { (measure_form(v, &sheets)) }
            @else {
                details open[v.is_refused("stick-out") || v.is_refused("stroke")] {
                    summary { (v.t("measure-again")) }
                    (measure_form(v, &sheets))
                }
            }
        }
        (joints::section(v, set_up, &sheets, working))
        @if let Some(s) = &set_up.signed_off {
            p.note {
                b { (v.t("signed-off")) }
                @if let Some(t) = s.body.turns { " " (v.say(&Message::new("signed-off-at").with("turns", paper::fraction(t)))) }
                @if let Some(p) = s.body.inside { " " (v.say(&Message::new("signed-off-inside").with("percent", next_joint::percent_text(v, p)))) }
                @if !s.body.reason.is_empty() { " " (s.body.reason) }
                small { (v.stamp(s.at, &s.by)) }
            }
            p { a href=(format!("/jobs/{}/set-up-card.pdf", v.job.received.body.number)) { (v.t("paper-link-card")) } }
            (super::correct::strike(v, s.version))
        }
        @if working {
            details open[v.is_refused("fit")] { summary { (v.t("fit-again")) } (fit_form(v)) }
        }
    }
}

fn fit_form(v: &View) -> Markup {
    let form = v.form("fit");
    let shelf = v.desk.shelf;
    let mut fasteners: Vec<(bool, &FastenerFamily)> = shelf
        .fasteners()
        .map(|(_, f)| (v.model.settings.iter().any(|s| s.fastener == f.id), f))
        .collect();
    fasteners.sort_by_key(|(known, _)| !known);
    let fastener_choices: Vec<Choice> = fasteners
        .iter()
        .map(|(_, f)| Choice::new(&f.id, &f.name))
        .collect();
    let noses: Vec<&NoseSet> = shelf
        .nose_sets()
        .map(|(_, n)| n)
        .filter(|n| n.thread == v.model.front_end)
        .collect();
    // Once a fastener was picked: the set that fits first.
    let picked = v.refused.map_or("", |r| r.typed.get("fastener"));
    let fastener = fasteners
        .iter()
        .map(|(_, f)| *f)
        .find(|f| f.id == picked)
        .or_else(|| {
            v.job
                .set_up()
                .and_then(|s| v.job.set_up_sheets(s, &v.desk))
                .map(|s| s.fastener)
        });
    let noses: Vec<&NoseSet> = match fastener {
        Some(f) => nose_match::rank(v.model, f, noses)
            .into_iter()
            .map(|r| r.nose)
            .collect(),
        None => noses,
    };
    let nose_choices: Vec<Choice> = noses.iter().map(|n| Choice::new(&n.id, &n.name)).collect();
    let codes: Vec<String> = fasteners
        .iter()
        .filter(|(known, f)| *known && !f.codes.is_empty())
        .map(|(_, f)| {
            let codes: Vec<&str> = f.codes.iter().map(|c| c.code.as_str()).collect();
            format!("{}: {}", f.name, codes.join(", "))
        })
        .collect();
    html! {
        (v.wrap(&form, "fit", html! {
            (v.make_safe_ticks(&form))
                (form.select(&Field::new("fastener", v.t("field-fastener")), &fastener_choices))
            (form.text(&Field::new("code", v.t("field-code")).hint(codes.join("; ")).short()))
            p.hint { (v.t("hint-code-by-stack")) }
            (stack::fields(v, &form, "fit"))
            (form.select(&Field::new("nose_set", v.t("field-nose")), &nose_choices))
            (form.readings(&Field::new("collet", v.t("field-collet")).hint(v.t("hint-collet")).unit("mm"), 1))
            (form.select(&Field::new("gauge", v.t("field-gauge")), &v.gauges(Unit::Millimetre, &LENGTH, None)))
        }, "button-fit"))
        p { a href=(path_for(&v.model.id, fastener.map_or("", |f| &f.id), &[])) { (v.t("match-link")) } }
        @if v.is_refused("fit") { (why_not(v)) }
    }
}

/// After a refusal: every reason of the nose set that was picked.
fn why_not(v: &View) -> Markup {
    let typed = v.refused.map(|r| &r.typed);
    let picked = |name| typed.map_or("", |t| t.get(name));
    let fastener = v
        .desk
        .shelf
        .fasteners()
        .map(|(_, f)| f)
        .find(|f| f.id == picked("fastener"));
    let nose = v
        .desk
        .shelf
        .nose_sets()
        .map(|(_, n)| n)
        .find(|n| n.id == picked("nose_set"));
    html! {
        @if let (Some(fastener), Some(nose)) = (fastener, nose) {
            (reasons(v.p, &nose_match::compare(v.model, fastener, nose)))
        }
    }
}

fn fitted(v: &View, set_up: &SetUp, s: &SetUpSheets) -> Markup {
    let body = &set_up.fitted.body;
    html! {
        h3 {
            (v.say(&Message::new("set-up-for").with("fastener", s.fastener.name.as_str())))
            @if !body.code.is_empty() { ", " (v.say(&Message::new("code-of").with("code", body.code.as_str()))) }
        }
        dl.facts {
            dt { (v.t("field-nose")) }
            dd {
                (s.nose.name) ", " (s.nose.collet.number)
                (reasons(v.p, &nose_match::compare(s.model, s.fastener, s.nose)))
                @for twin in &s.nose.look_alikes {
                    p.warn {
                        b { (v.say(&Message::new("look-alike").with("number", twin.number.as_str()))) }
                        " " (v.say(&Message::new("look-alike-tell").with("differs", twin.differs.as_str())
                            .number("this", twin.this_mm, 1).number("that", twin.that_mm, 1)))
                        " " (twin.effect)
                    }
                }
                @if let Some(collet) = &body.collet_mm {
                    p { (v.say(&Message::new("collet-measured").number("mm", collet.value, 1))) " " small { (v.gauge_note(collet)) } }
                }
            }
            @if let Some(code) = s.code {
                dt { (v.t("field-grip")) }
                @let decimals = places(code.min_mm, 1).max(places(code.max_mm, 1));
                dd { (fixed(code.min_mm, decimals)) " – " (fixed(code.max_mm, decimals)) " mm" }
            }
            @if let (Some(under), true) = (&body.stack, set_up.stick_outs.is_empty()) {
                dt { (v.t("stack-term")) }
                dd { (stack::shown(v, under, s.fastener)) }
            }
        }
    }
}

fn measured_now(v: &View, set_up: &SetUp, s: &SetUpSheets) -> Markup {
    let Some(stamped) = set_up.stick_outs.last() else {
        return html! {};
    };
    let read = &stamped.body;
    html! {
        @if let (Some(mean), false) = (measured(v, read), read.readings.is_empty()) { (stick_out(v, s, read, &mean)) }
        @let joint_follows = set_up.joints.last().is_some_and(|j| j.version > stamped.version);
        // Once a joint was set, what comes next stands beside the joints: two large answers would be one too many.
        @if joint_follows && read.in_band {
            details { summary { (v.t("setting-earlier")) } (setting(v, set_up, s, read)) }
        } @else { (setting(v, set_up, s, read)) }
        p.pm { (v.stamp(stamped.at, &stamped.by)) }
        (super::correct::strike(v, stamped.version))
    }
}

fn stick_out(v: &View, s: &SetUpSheets, read: &StickOutRead, mean: &Estimate) -> Markup {
    html! {
        h3 { (v.t("stick-out-heading")) }
        p.mid { (fixed(mean.value, 2)) " mm " span.pm { "± " (fixed(mean.expanded, 2)) } }
        (show::in_band(v.p, s.fastener, mean))
        p.hint {
            (v.say(&Message::new("readings-count").with("count", read.readings.len())))
            @if let Some(first) = read.readings.first() { " " (v.gauge_note(first)) }
        }
        @if let Some(working) = mean_working(v, read) { (show::working(v.p, &working)) }
        @if let Some(budget) = v.desk.budget_of(&read.readings) { (show::budget(v.p, &v.t("budget-show"), &budget, v.is_drift_observed(&read.readings))) }
    }
}

/// What a setting is read from: the mean stick-out with the doubt that was recorded, or the wanted
/// stroke, which has none.
pub fn measured(v: &View, read: &StickOutRead) -> Option<Estimate> {
    let mean = v.desk.mean_of(&read.readings).map(|mean| Estimate {
        expanded: read.expanded_mm.unwrap_or(mean.expanded),
        ..mean
    });
    mean.or_else(|| read.stroke_mm.map(Estimate::exact))
}

/// How the mean stick-out and its doubt come about.
pub fn mean_working(v: &View, read: &StickOutRead) -> Option<Working> {
    if let Some(corrected) = v.desk.corrected(&read.readings) {
        return Some(gauge_correction::working(&corrected));
    }
    let doubt = v.desk.doubt_of(read.readings.first()?)?;
    let values: Vec<f64> = read.readings.iter().map(|r| r.value).collect();
    Some(repeated::working(&values, doubt, Unit::Millimetre, 2))
}

/// The large answer: turns, direction, reference, interval; or the refusal with its reason.
fn setting(v: &View, set_up: &SetUp, s: &SetUpSheets, read: &StickOutRead) -> Markup {
    let Some(mean) = measured(v, read) else {
        return html! {};
    };
    let follows = follows(v, s, read, &mean);
    let contradicted = follows.is_ok() && explanations::against_stack(v, set_up, s, read).is_some();
    let off = matches!(
        follows,
        Err(NoSetting::OutOfBand { .. } | NoSetting::PinsDiffer | NoSetting::Undecided)
    );
    html! {
        @match follows {
            Ok(_) if contradicted => { div.answer.no { p.big { (v.t("setting-none")) } p { b { (v.t("stack-contradicts")) } } } }
            Ok(answer) => { (answer) }
            Err(why) => { (show::no_setting(v.p, &why)) }
        }
        (explanations::beside(v, set_up, s, read, contradicted || off))
    }
}

/// The setting that follows from the stick-out alone, as shown.
fn follows(
    v: &View,
    s: &SetUpSheets,
    read: &StickOutRead,
    mean: &Estimate,
) -> Result<Markup, NoSetting> {
    if let Some(settled) = without_turns(v, s) {
        return in_band(s.fastener, s.code, mean).map(|()| settled);
    }
    let a = answer(s, mean)?;
    Ok(html! {
            @match read.own.as_ref() {
                Some(own) => {
                    @let taught = html! {
                        (show::taught(v.p, s, &a, own))
                        @if own::is_far(s, own, a.turns) { p.warn { (v.t("setting-own-far")) } }
                    };
                    (show::turns_of_its_own(v.p, v.model, &a, (own.set_turns, own.turns, own.expanded_turns), taught))
                }
                None => { (show::turns(v.p, v.model, &a)) }
            }
            (show::left_out(v.p, &read.left_out()))
            (v.setting_caution())
    })
}

/// The answer where no adjuster is turned for the fastener.
fn without_turns(v: &View, s: &SetUpSheets) -> Option<Markup> {
    let settled = match s.rule?.basis {
        SettingBasis::StickOut | SettingBasis::Stroke => return None,
        SettingBasis::FullStroke => show::full_stroke(v.p),
        SettingBasis::Force => show::by_force(v.p),
    };
    Some(html! {
        (settled)
        (v.setting_caution())
    })
}

fn measure_form(v: &View, s: &SetUpSheets) -> Markup {
    if s.rule.is_some_and(|r| r.basis == SettingBasis::Stroke) {
        return stroke_form(v, s);
    }
    if let Some(settled) = without_turns(v, s).filter(|_| s.fastener.stick_out_mm.is_none()) {
        return settled;
    }
    let form = v.form("stick-out");
    html! {
        (super::drawing::stick_out(&v.t("stick-out-drawing")))
        (v.wrap(&form, "stick-out", html! {
            (form.readings(&Field::new("reading", v.t("field-stick-out")).hint(v.t("hint-stick-out")).unit("mm"), PINS))
            (form.select(&Field::new("gauge", v.t("field-gauge")), &v.gauges(Unit::Millimetre, &LENGTH, None)))
            (form.ticks(&Field::new("clamped", v.t("field-clamped-legend")), &[Choice::new("yes", v.t("field-clamped"))]))
            (stack::fields(v, &form, "stick-out"))
        }, "button-stick-out"))
    }
}

fn stroke_form(v: &View, s: &SetUpSheets) -> Markup {
    let form = v.form("stroke");
    let limits = s
        .fastener
        .stroke_mm
        .map(|l| super::bench::limits_text(v, &l, "mm"))
        .unwrap_or_default();
    v.wrap(&form, "stroke", html! {
        (form.number(&Field::new("stroke", v.t("field-stroke")).hint(limits).unit("mm").short()))
    }, "button-stroke")
}

/// Whether the form rests on earlier jobs of the tool.
pub fn asks_for_the_past(kind: &str) -> bool {
    matches!(kind, "stick-out" | "stroke")
}

/// The commands of this section's forms.
pub fn parse(kind: &str, typed: &Typed, v: &View, errors: &mut FieldErrors) -> Option<Command> {
    let text = |name| typed.get(name).to_owned();
    Some(match kind {
        "fit" => {
            let collet = view::measured(
                typed,
                "collet",
                "gauge",
                &v.t("field-collet"),
                Unit::Millimetre,
                errors,
            );
            Command::Fit {
                fastener: text("fastener"),
                code: text("code"),
                nose_set: text("nose_set"),
                collet: Some(collet),
                made_safe: typed.all("made_safe").map(str::to_owned).collect(),
                stack: stack::parse(typed, v, errors),
            }
        }
        "stick-out" => Command::ReadStickOut {
            measured: view::measured(
                typed,
                "reading",
                "gauge",
                &v.t("field-stick-out"),
                Unit::Millimetre,
                errors,
            ),
            past: v.past.clone(),
            stack: stack::parse(typed, v, errors),
            clamped: typed.has("clamped"),
        },
        "stroke" => {
            let raw = typed.raw("stroke");
            let value = errors.keep(
                "stroke",
                v.t("field-stroke"),
                parse_number(raw, Unit::Millimetre),
            )?;
            Command::ChooseStroke {
                stroke: TypedValue {
                    field: "stroke".to_owned(),
                    raw: raw.to_owned(),
                    value,
                },
                past: v.past.clone(),
            }
        }
        "joint" => joints::parse(typed, v, errors)?,
        "set-up-done" => Command::SignOffSetUp {
            locked: typed.has("locked"),
            made_safe: typed.all("made_safe").map(str::to_owned).collect(),
            reason: text("reason"),
        },
        _ => return None,
    })
}
