//! What decides an open criterion, typed as measured: a field for each size that the answer asks for.

use calc::Message;
use maud::{Markup, html};
use shop::nose_match::{MEASURABLE, Match, Missing, Sizes};
use shop::sheet::NoseSet;

use crate::forms::{FieldErrors, Typed, parse_count, parse_number};
use crate::shell::{Field, Form, Page};

/// The nose set that sizes of a nose were measured on.
const OF_NOSE: &str = "measured_nose";

/// The sizes that were typed, of the fastener and of a nose set.
#[derive(Default)]
pub(super) struct Measured {
    fastener: Sizes,
    nose: Sizes,
    of_nose: String,
}

impl Measured {
    /// The set, with what was measured on it.
    pub fn fill_nose(&self, nose: &NoseSet) -> NoseSet {
        if nose.id == self.of_nose {
            self.nose.fill_nose(nose)
        } else {
            nose.clone()
        }
    }

    /// What was measured on the fastener.
    pub fn fastener(&self) -> &Sizes {
        &self.fastener
    }
}

/// Reads the sizes from the address.
pub(super) fn read(p: &Page, typed: &Typed, errors: &mut FieldErrors) -> Measured {
    let mut measured = Measured {
        of_nose: typed.get(OF_NOSE).to_owned(),
        ..Measured::default()
    };
    for size in &MEASURABLE {
        let Some(raw) = typed.filled(size.name) else {
            continue;
        };
        if let Some(value) = errors.keep(size.name, p.t(size.ask), value(raw, size)) {
            let side = match size.on_nose {
                true => &mut measured.nose,
                false => &mut measured.fastener,
            };
            side.values.push((size.name, value));
        }
    }
    measured
}

fn value(raw: &str, size: &Missing) -> Result<f64, Message> {
    let value = match size.unit {
        Some(unit) => parse_number(raw, unit)?,
        None => parse_count(raw)? as f64,
    };
    let (least, most) = size.range;
    if (least..=most).contains(&value) {
        return Ok(value);
    }
    let unit = size.unit.map_or("", |unit| unit.symbol());
    Err(Message::new("match-size-range")
        .number("value", value, 2)
        .number("least", least, if size.unit.is_some() { 2 } else { 0 })
        .number("most", most, 0)
        .with("unit", unit))
}

/// A field for each size that `found`, the match of `nose`, asks for, and for those that were typed.
pub(super) fn fields(form: &Form, typed: &Typed, asked: Option<(&NoseSet, &Match)>) -> Markup {
    let p = form.page();
    let missing = asked.map(|(_, found)| found.missing()).unwrap_or_default();
    let is_asked = |size: &&Missing| {
        typed.filled(size.name).is_some() || missing.iter().any(|m| m.id == size.ask)
    };
    let sizes: Vec<&Missing> = MEASURABLE.iter().filter(is_asked).collect();
    html! {
        @if !sizes.is_empty() {
            h2 { (p.t("match-measured")) }
            p.hint { (p.t("match-measured-hint")) }
            @if let Some((nose, _)) = asked { input type="hidden" name=(OF_NOSE) value=(nose.id); }
            @for size in sizes {
                @let field = Field::new(size.name, p.t(size.ask)).short();
                @match size.unit {
                    Some(unit) => { (form.number(&field.unit(unit.symbol()))) }
                    None => { (form.count(&field)) }
                }
            }
        }
    }
}
