//! A joint at its torque: what to set on a wrench behind an adapter, and what follows a wrong one.

use calc::Message;
use calc::screw_stop::Hand;
use calc::torque_adapter;
use calc::units::Unit;
use maud::{Markup, html};
use shop::job::{TypedValue, to_set};
use shop::route::{Act, Step};
use shop::sheet::{Direction, Gauge, GaugeKind, Joint};

use crate::forms::{FieldErrors, Typed, parse_number};
use crate::job::view::View;
use crate::shell::{Field, Form};
use crate::show;

/// What to set on each wrench that turns this way and whose length is known; nothing where the joint
/// needs no adapter.
pub fn behind_adapter(v: &View, step: &Step, joint: &Joint) -> Markup {
    let Some(adapter) = &joint.adapter else {
        return html! {};
    };
    let words = Message::new("step-adapter")
        .number("offset", adapter.offset_mm, 0)
        .number("angle", adapter.angle_deg, 0);
    html! {
        p.note { (v.say(&words)) }
        @for gauge in wrenches(v, step) {
            @if let Some(used) = gauge.length_mm.map(|arm| adapter.on(arm)) {
                @if let Some(set) = to_set(joint, &used).filter(|set| reads(gauge, *set)) {
                    p.mid {
                        (v.say(&Message::new("step-adapter-set")
                            .with("gauge", gauge.name.as_str())
                            .number("arm", used.arm_mm, 0)
                            .number("set", set, gauge.decimals())))
                    }
                    @if let Ok(working) = torque_adapter::working(joint.torque_nm, used.lever()) {
                        (show::working(v.p, &working))
                    }
                }
            }
        }
        p.hint { (v.t("step-adapter-other")) }
    }
}

/// Torque wrenches in date that are calibrated in the direction of the joint.
fn wrenches<'a>(v: &'a View, step: &Step) -> impl Iterator<Item = &'a Gauge> {
    let way = match step.hand() {
        Some(Hand::Left) => Direction::CounterClockwise,
        Some(Hand::Right) | None => Direction::Clockwise,
    };
    let gauges = v.desk.shelf.gauges().map(|(_, gauge)| gauge);
    gauges.filter(move |g| {
        let (shelf, today) = (v.desk.shelf, v.desk.today);
        let stands = || shelf.standing(g, today, Some(way.into())).is_in_date();
        g.kind == GaugeKind::TorqueWrench && shelf.turns(g, today, way) && stands()
    })
}

fn reads(gauge: &Gauge, torque_nm: f64) -> bool {
    let to = |value| gauge.unit.convert(value, Unit::NewtonMetre);
    let (least, most) = (to(gauge.range.0), to(gauge.range.1));
    least.is_some_and(|least| least <= torque_nm) && most.is_some_and(|most| torque_nm <= most)
}

/// The fields that stand beside a reading: the wrench's length, after a wrong torque what was done, and after
/// a wrong torque or fit who lets it stand.
pub fn fields(v: &View, step: &Step, form: &Form) -> Markup {
    let needs_arm = matches!(&step.act, Act::Tighten(joint, _) if joint.adapter.is_some());
    html! {
        @if needs_arm {
            p.hint { (v.t("hint-adapter-reading")) }
            (form.number(&Field::new("arm", v.t("field-arm")).hint(v.t("hint-arm")).unit("mm").short()))
        }
        @if v.job.tightened_wrong(step) {
            (form.text(&Field::new("redone", v.t("field-redone")).hint(v.t("hint-redone"))))
        }
        @if v.job.waits_for_a_name(step) {
            (form.text(&Field::new("override", v.t("field-override")).hint(v.t("hint-override"))))
        }
    }
}

/// The length of the wrench as typed, mm.
pub fn arm(typed: &Typed, v: &View, errors: &mut FieldErrors) -> Option<TypedValue> {
    let raw = typed.filled("arm")?;
    let value = parse_number(raw, Unit::Millimetre);
    Some(TypedValue {
        field: "arm".to_owned(),
        raw: raw.to_owned(),
        value: errors.keep("arm", v.t("field-arm"), value)?,
    })
}
