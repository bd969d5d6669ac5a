//! What is typed of a joint, as found or on trial: what the eye says, the criteria of the fastener
//! sheet, a remark.

use maud::{Markup, html};
use shop::job::JointIn;
use shop::sheet::{FastenerFamily, FastenerKind};

use super::view::{View, measured};
use super::{bench, names};
use crate::forms::{FieldErrors, Typed};
use crate::shell::{Choice, Field, Form};

/// The fields.
pub fn fields(v: &View, form: &Form, fastener: &FastenerFamily) -> Markup {
    let looks = names::looks(fastener.kind);
    let choices: Vec<Choice> = looks
        .map(|(key, _, text)| Choice::new(key, v.t(text)))
        .collect();
    let hint = match fastener.kind {
        FastenerKind::Lockbolt | FastenerKind::BlindBolt => "hint-seen",
        FastenerKind::BlindRivet | FastenerKind::RivetNut => "hint-seen-plain",
    };
    html! {
        (form.radios(&Field::new("seen", v.t("field-seen")).hint(v.t(hint)), &choices))
        @for c in &fastener.criteria {
            @let (value, gauge) = (value_name(&c.id), gauge_name(&c.id));
            div.criterion {
                (form.readings(&Field::new(&value, &c.name).unit(c.unit.symbol()).signed()
                    .hint(bench::limits_text(v, &c.limits, c.unit.symbol())), 1))
                (form.select(&Field::new(&gauge, v.t("field-gauge")), &v.gauges(c.unit, &c.gauges, Some(&c.limits))))
            }
        }
        (form.text(&Field::new("note", v.t("field-note"))))
    }
}

fn value_name(criterion: &str) -> String {
    format!("value-{criterion}")
}

fn gauge_name(criterion: &str) -> String {
    format!("gauge-{criterion}")
}

/// What was typed.
pub fn parse(typed: &Typed, fastener: &FastenerFamily, errors: &mut FieldErrors) -> JointIn {
    let criteria = fastener.criteria.iter();
    let read = criteria.map(|c| {
        let (value, gauge) = (value_name(&c.id), gauge_name(&c.id));
        let read = measured(typed, &value, &gauge, &c.name, c.unit, errors);
        (c.id.clone(), read)
    });
    let readings = read.filter(|(_, read)| !read.values.is_empty()).collect();
    let mut known = names::SEEN.into_iter();
    let seen = known.find(|(key, _)| *key == typed.get("seen"));
    JointIn {
        readings,
        seen: seen.map(|(_, seen)| seen),
        note: typed.get("note").to_owned(),
    }
}
