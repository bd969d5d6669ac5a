//! The steps at the work place, in the order of the hand: measure, make safe, turn, set a joint, read
//! it.

use calc::Message;
use maud::{Markup, PreEscaped, html};
use shop::crew::{self, HAND_CALIPER};
use shop::job::{SetUpSheets, make_safe_ticks};
use shop::nose_match::{self, Fit};
use shop::pressure_setting::At;

use super::link::FIELDS;
use super::measure::{By, LENGTH, boxes};
use super::page::View;
use super::{PATH, answer, send, serial};
use crate::job::{drawing, names, papers};
use crate::shell::{Choice, Field, Form};
use crate::show;

/// The form for what was measured.
pub const MEASURE: &str = "measure";

/// Where the answer stands: a form that asks leads there.
const ANSWER: &str = "setting";

/// Room for the drawing of joints on a phone, mm.
const DRAWING_MM: f64 = 70.0;

/// All of them.
pub fn steps(v: &View, s: &SetUpSheets) -> Markup {
    if let Some(why) = misfit(v, s) {
        return why;
    }
    if let Some(stop) = stop(v) {
        return html! {
            (stop)
            (send::section(v, s, None))
            (v.say_structure())
        };
    }
    let asked = v.asked;
    let setting = crew::setting(s, asked.measured.as_ref(), &v.known.past.points);
    html! {
        (measure(v, s))
        @match setting.filter(|_| asked.errors.is_empty()) {
            None => { (send::section(v, s, None)) }
            Some(Err(why)) => {
                div #(ANSWER) {}
                (answer::refusal(v, s, &why))
                (send::section(v, s, None))
                (v.say_structure())
            }
            Some(Ok(setting)) => {
                div #(ANSWER) {}
                (measured(v, s))
                (make_safe(v, s))
                (look_alikes(v, s))
                (answer::setting(v, s, &setting))
                (show::pressure_to_set(v.p, s, At::WorkPlace))
                (joints(v, s))
                (send::section(v, s, Some(&setting)))
                (v.say_structure())
            }
        }
    }
}

/// In place of any answer, on every phone: a bad joint was reported, and nobody has cleared it.
fn stop(v: &View) -> Option<Markup> {
    let at = v.known.stopped?;
    // The crew that reported it has just been told so.
    if v.was_bad() {
        return Some(html! {});
    }
    let text = Message::new("crew-stopped").with("at", show::moment(at, v.zone));
    Some(html! {
        div #(ANSWER) {}
        div.answer.no {
            p.big { (v.t("crew-stop")) }
            p { b { (v.say(&text)) } }
            p.hint { (v.t("crew-stopped-card")) }
        }
    })
}

/// A nose set that does not fit: nothing is set with it.
fn misfit(v: &View, s: &SetUpSheets) -> Option<Markup> {
    let found = nose_match::compare(s.model, s.fastener, s.nose);
    if found.fit() != Fit::No {
        return None;
    }
    let text = Message::new("refuse-nose")
        .with("nose", s.nose.name.as_str())
        .with("fastener", s.fastener.name.as_str());
    Some(html! {
        div.answer.no {
            p.big { (v.t("setting-none")) }
            p { (v.say(&text)) }
            ul {
                @for reason in found.reasons.iter().filter(|r| r.fit == Fit::No) {
                    li { (v.say(&reason.name)) ": " (v.say(&reason.detail)) }
                }
            }
        }
    })
}

fn look_alikes(v: &View, s: &SetUpSheets) -> Markup {
    html! {
        @for twin in &s.nose.look_alikes {
            p.warn {
                b { (v.say(&Message::new("look-alike").with("number", twin.number.as_str()))) }
                " " (v.say(&Message::new("look-alike-tell").with("differs", twin.differs.as_str())
                    .number("this", twin.this_mm, 1).number("that", twin.that_mm, 1)))
                " " (twin.effect)
            }
        }
    }
}

fn measure(v: &View, s: &SetUpSheets) -> Markup {
    let form = Form::new(v.p, MEASURE, v.typed, &v.asked.errors);
    match By::of(s) {
        By::Nothing => html! {},
        By::StickOut => frame(
            v,
            html! {
                (drawing::stick_out(&v.t("stick-out-drawing")))
                (form.readings(&Field::new("reading", v.t("crew-stick-out")).hint(v.t("crew-clamp")).unit("mm"), boxes(v.typed)))
                (form.ticks(&Field::new("clamped", v.t("field-clamped-legend")), &[Choice::new("yes", v.t("field-clamped"))]))
                (gauge(v, &form))
            },
        ),
        By::Stroke => {
            let limits = s.fastener.stroke_mm.map(|l| show::limits(v.p, &l, "mm"));
            frame(
                v,
                html! {
                    (form.number(&Field::new("stroke", v.t("field-stroke")).hint(limits.unwrap_or_default()).unit("mm").short()))
                },
            )
        }
    }
}

/// The form around what is measured: it asks again with all that was picked.
fn frame(v: &View, fields: Markup) -> Markup {
    html! {
        form #(MEASURE) method="get" action={ (PATH) "#" (ANSWER) } autocomplete="off" {
            @for (name, value) in v.choice.fields() { input type="hidden" name=(name) value=(value); }
            @if let Some(serial) = serial(v.typed) { input type="hidden" name="tool" value=(serial); }
            @if v.typed.has("sig") {
                @for name in FIELDS { input type="hidden" name=(name) value=(v.typed.get(name)); }
            }
            (fields)
            div.buttons { button { (v.t("button-stick-out")) } }
        }
    }
}

/// A plain hand caliper, or one of the shop's.
fn gauge(v: &View, form: &Form) -> Markup {
    let hand = Message::new("crew-hand-caliper").number("doubt", HAND_CALIPER.expanded, 2);
    let gauges = v.desk.shelf.gauges().map(|(_, gauge)| gauge);
    let own: Vec<Choice> = gauges
        .filter(|g| LENGTH.contains(&g.kind) && v.desk.shelf.is_in_date(g, v.desk.today))
        .map(|g| Choice::new(&g.id, &g.name))
        .collect();
    html! {
        p.hint { (v.say(&hand)) }
        @if !own.is_empty() {
            details open[v.typed.filled("gauge").is_some()] {
                summary { (v.t("crew-other-gauge")) }
                (form.select(&Field::new("gauge", v.t("field-gauge")), &own))
            }
        }
    }
}

/// The mean beside its band.
fn measured(v: &View, s: &SetUpSheets) -> Markup {
    let Some(mean) = v.asked.measured.filter(|_| v.asked.pins.is_some()) else {
        return html! {};
    };
    html! {
        h2 { (v.t("stick-out-heading")) }
        p.mid { (calc::working::fixed(mean.value, 2)) " mm " span.pm { "± " (calc::working::fixed(mean.expanded, 2)) } }
        (show::in_band(v.p, s.fastener, &mean))
        @if let Some(working) = &v.asked.working { (show::working(v.p, working)) }
    }
}

/// Before the key: what this drive asks for.
fn make_safe(v: &View, s: &SetUpSheets) -> Markup {
    html! {
        h2 { (v.t("crew-safe-heading")) }
        div.warn {
            p { b { (v.t("field-before-nose")) } }
            ul { @for tick in make_safe_ticks(s.model.drive) { li { (v.t(names::make_safe(tick))) } } }
            small { (v.t("source-energy")) }
        }
    }
}

/// Setting a joint, and what a good one measures.
fn joints(v: &View, s: &SetUpSheets) -> Markup {
    html! {
        h2 { (v.t("crew-joints")) }
        p.warn { (v.t("crew-joint-caution")) small { (v.t("source-maker")) } }
        @if !s.model.cautions.is_empty() {
            details {
                summary { (v.t("crew-cautions")) }
                @for caution in &s.model.cautions { p.warn { (caution.text) small { (caution.source) } } }
            }
        }
        dl.facts {
            @for c in &s.fastener.criteria {
                dt { (c.name) }
                dd {
                    b { (show::limits(v.p, &c.limits, c.unit.symbol())) }
                    small { (c.gauges.iter().map(|g| v.t(names::gauge_kind(*g))).collect::<Vec<_>>().join(", ")) }
                }
            }
        }
        (drawn(v, s))
    }
}

/// The joint to scale, good and beyond its limits.
fn drawn(v: &View, s: &SetUpSheets) -> Markup {
    let Some(sketch) = papers::card::sketch(s.fastener) else {
        return html! {};
    };
    let drawing = paper::joint(&sketch, v.p.words, DRAWING_MM);
    let scale = Message::new("paper-joint-scale").with("scale", drawing.scale_text());
    html! {
        details {
            summary { (v.t("crew-picture")) }
            figure.axis { (PreEscaped(drawing.svg)) }
            p.hint { (v.say(&scale)) }
        }
    }
}

impl View<'_> {
    /// What no page of ours says.
    fn say_structure(&self) -> Markup {
        html! {
            p.hint { (self.t("paper-joint-stop")) }
            p.hint { (self.t("crew-structure")) }
        }
    }
}
