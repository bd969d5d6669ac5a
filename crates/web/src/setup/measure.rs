//! What was measured: stick-out of some pins, or the wanted stroke, and with which gauge.

use calc::Message;
use calc::repeated::{self, Estimate, GaugeDoubt};
use calc::units::Unit;
use calc::working::Working;
use shop::crew::{CALIPER_RANGE_MM, HAND_CALIPER, MOST_PINS, unit_slip};
use shop::job::{Desk, SetUpSheets};
use shop::sheet::{GaugeKind, SettingBasis};

use super::choice::Choice;
use crate::forms::{FieldErrors, Typed, parse_number};
use crate::job::view;
use crate::shell::Page;

/// Gauges that measure a length from a face.
pub const LENGTH: [GaugeKind; 3] = [
    GaugeKind::Caliper,
    GaugeKind::DepthGauge,
    GaugeKind::Micrometer,
];

/// Pins that are asked for.
pub const PINS: usize = 3;

/// How a fastener's setting is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    /// Stick-out of pins.
    StickOut,
    /// A wanted stroke.
    Stroke,
    /// Nothing to measure.
    Nothing,
}

impl By {
    /// As the sheets ask for it.
    pub fn of(sheets: &SetUpSheets) -> Self {
        match sheets.rule.map(|rule| rule.basis) {
            Some(SettingBasis::Stroke) => Self::Stroke,
            _ if sheets.fastener.stick_out_mm.is_none() => Self::Nothing,
            _ => Self::StickOut,
        }
    }
}

/// What was asked, read.
#[derive(Default)]
pub struct Asked {
    /// What the setting is read from.
    pub measured: Option<Estimate>,
    /// Pins behind it.
    pub pins: usize,
    /// How mean and doubt come about.
    pub working: Option<Working>,
    /// What could not be read.
    pub errors: FieldErrors,
}

impl Asked {
    /// As `typed` says; nothing before all is picked, or where nothing was typed.
    pub fn of(p: &Page, typed: &Typed, choice: &Choice, desk: &Desk) -> Self {
        let Some(sheets) = choice.sheets() else {
            return Self::default();
        };
        match By::of(&sheets) {
            By::StickOut if typed.has("reading") => stick_out(p, typed, &sheets, desk),
            By::Stroke if typed.has("stroke") => stroke(p, typed, &sheets),
            _ => Self::default(),
        }
    }
}

fn stick_out(p: &Page, typed: &Typed, sheets: &SetUpSheets, desk: &Desk) -> Asked {
    let mut errors = FieldErrors::new();
    let label = p.t("crew-stick-out");
    let measured = view::measured(
        typed,
        "reading",
        "gauge",
        &label,
        Unit::Millimetre,
        &mut errors,
    );
    if measured.values.is_empty() && errors.is_empty() {
        errors.add("reading", Message::new("refuse-no-stick-out"));
    }
    if typed.all("reading").count() > MOST_PINS {
        errors.add(
            "reading",
            Message::new("crew-most-pins").with("most", MOST_PINS),
        );
    }
    for typed in &measured.values {
        let slip = sheets
            .fastener
            .stick_out_mm
            .and_then(|band| unit_slip(typed.value, &band));
        if let Some(unit) = slip {
            errors.add_for(&typed.field, label.as_str(), slipped(typed.value, unit));
        }
    }
    let doubt = if measured.gauge.is_empty() {
        by_hand(&measured, &mut errors);
        Some(HAND_CALIPER)
    } else {
        by_gauge(&measured, desk, &mut errors)
    };
    let values: Vec<f64> = measured.values.iter().map(|v| v.value).collect();
    let mean = doubt.and_then(|doubt| Some((doubt, repeated::mean(&values, doubt).ok()?)));
    match mean {
        Some((doubt, mean)) if errors.is_empty() => Asked {
            measured: Some(mean),
            pins: values.len(),
            working: Some(repeated::working(&values, doubt, Unit::Millimetre, 2)),
            errors,
        },
        _ => Asked {
            errors,
            ..Asked::default()
        },
    }
}

/// Readings that no hand caliper takes.
fn by_hand(measured: &shop::job::Measured, errors: &mut FieldErrors) {
    let (min, max) = CALIPER_RANGE_MM;
    for typed in &measured.values {
        if !(min..=max).contains(&typed.value) {
            let message = Message::new("crew-caliper-range")
                .number("value", typed.value, 2)
                .number("min", min, 0)
                .number("max", max, 0);
            errors.add(&typed.field, message);
        }
    }
}

/// The doubt of the gauge that was picked; a setting rests on one that is in date only.
fn by_gauge(
    measured: &shop::job::Measured,
    desk: &Desk,
    errors: &mut FieldErrors,
) -> Option<GaugeDoubt> {
    let readings = match desk.readings(measured, Unit::Millimetre, &LENGTH) {
        Ok(readings) => readings,
        Err(refusals) => {
            for refusal in refusals {
                errors.add(refusal.field, refusal.message);
            }
            return None;
        }
    };
    let first = readings.first()?;
    if !first.in_date {
        let gauge = desk.gauge_of(first)?;
        let message = Message::new("refuse-gauge-stale").with("gauge", gauge.name.as_str());
        errors.add("gauge", message);
    }
    desk.doubt_of(first)
}

fn stroke(p: &Page, typed: &Typed, sheets: &SetUpSheets) -> Asked {
    let mut errors = FieldErrors::new();
    let label = p.t("field-stroke");
    let read = parse_number(typed.raw("stroke"), Unit::Millimetre);
    let value = errors.keep("stroke", label.as_str(), read);
    let Some(value) = value else {
        return Asked {
            errors,
            ..Asked::default()
        };
    };
    if let Some(limits) = sheets.fastener.stroke_mm {
        let (min, max) = (limits.lower().unwrap_or(0.0), limits.upper());
        if let Some(unit) = unit_slip(value, &limits) {
            errors.add_for("stroke", label, slipped(value, unit));
        } else if value < min || max.is_some_and(|max| value > max) {
            let message = Message::new("refuse-stroke-range")
                .number("value", value, 2)
                .number("min", min, 2)
                .number("max", max.unwrap_or(sheets.model.stroke_mm), 2);
            errors.add("stroke", message);
        }
    }
    // A wish, not a reading: it has no doubt of its own.
    let exact = Estimate::exact(value);
    Asked {
        measured: errors.is_empty().then_some(exact),
        errors,
        ..Asked::default()
    }
}

fn slipped(value: f64, unit: Unit) -> Message {
    let mm = unit.convert(value, Unit::Millimetre).unwrap_or(value);
    Message::new("crew-unit-slip")
        .number("value", value, 3)
        .with("unit", unit.symbol())
        .number("mm", mm, 2)
}

/// Boxes for pins: three, and the others once three are filled.
pub fn boxes(typed: &Typed) -> usize {
    let filled = typed.all("reading").filter(|raw| !raw.trim().is_empty());
    if filled.count() < PINS {
        PINS
    } else {
        MOST_PINS
    }
}
