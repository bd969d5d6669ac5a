//! What was measured: stick-out of some pins, or the wanted stroke, and with which gauge.

use calc::Message;
use calc::repeated::{self, Estimate, GaugeDoubt};
use calc::units::Unit;
use calc::working::Working;
use shop::asked;
use shop::crew::{CALIPER_RANGE_MM, HAND_CALIPER, MOST_PINS};
use shop::grip::PinsRead;
use shop::job::{Desk, Measured, SetUpSheets, TypedValue};
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

/// What is asked, as fields of the form.
pub const FIELDS: [&str; 4] = ["reading", "clamped", "gauge", "stroke"];

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
    /// The pins behind it; `None` where it is a wish.
    pub pins: Option<PinsRead>,
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
        let read = match By::of(&sheets) {
            By::StickOut if typed.has("reading") => stick_out(p, typed, &sheets, desk),
            By::Stroke if typed.has("stroke") => stroke(p, typed, &sheets),
            _ => return Self::default(),
        };
        read.unwrap_or_else(|errors| Self {
            errors,
            ..Self::default()
        })
    }
}

fn stick_out(
    p: &Page,
    typed: &Typed,
    sheets: &SetUpSheets,
    desk: &Desk,
) -> Result<Asked, FieldErrors> {
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
    if typed.all("reading").count() > MOST_PINS {
        let message = Message::new("crew-most-pins").with("most", MOST_PINS);
        errors.add("reading", message);
    }
    let clamped = typed.has("clamped");
    // A box that cannot be read is no pin that is missing.
    if errors.is_empty() {
        for refusal in asked::pins_refused(sheets.fastener, &measured.values, clamped) {
            errors.add(refusal.field, refusal.message);
        }
    }
    let gauge = if measured.gauge.is_empty() {
        by_hand(&measured, &mut errors);
        let values = measured.values.iter().map(|v| v.value).collect();
        Some((HAND_CALIPER, values))
    } else {
        by_gauge(&measured, desk, &mut errors)
    };
    let pins = gauge.map(|(gauge, values_mm)| PinsRead {
        values_mm,
        gauge,
        clamped,
    });
    let mean = pins
        .as_ref()
        .and_then(|pins| repeated::mean(&pins.values_mm, pins.gauge).ok());
    match pins.zip(mean) {
        Some((pins, mean)) if errors.is_empty() => Ok(Asked {
            measured: Some(mean),
            working: Some(repeated::working(
                &pins.values_mm,
                pins.gauge,
                Unit::Millimetre,
                2,
            )),
            pins: Some(pins),
            errors,
        }),
        _ => Err(errors),
    }
}

/// Readings that no hand caliper takes.
fn by_hand(measured: &Measured, errors: &mut FieldErrors) {
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

/// The doubt of the gauge that was picked and its readings, corrected where it has a calibration; a setting rests on
/// one that is in date only.
fn by_gauge(
    measured: &Measured,
    desk: &Desk,
    errors: &mut FieldErrors,
) -> Option<(GaugeDoubt, Vec<f64>)> {
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
    if let Some(stale) = readings.iter().find(|r| !r.is_evidence()) {
        let gauge = desk.gauge_of(stale)?;
        let message = Message::new("refuse-gauge-stale").with("gauge", gauge.name.as_str());
        errors.add("gauge", message);
    }
    let values = readings.iter().map(|r| r.value).collect();
    Some((desk.doubt_of(first)?, values))
}

fn stroke(p: &Page, typed: &Typed, sheets: &SetUpSheets) -> Result<Asked, FieldErrors> {
    let raw = typed.raw("stroke").to_owned();
    let mut errors = FieldErrors::new();
    let read = parse_number(&raw, Unit::Millimetre);
    let Some(value) = errors.keep("stroke", p.t("field-stroke"), read) else {
        return Err(errors);
    };
    let wish = TypedValue {
        field: "stroke".to_owned(),
        raw,
        value,
    };
    if let Some(refusal) = asked::stroke_refused(sheets.model, sheets.fastener, &wish) {
        return Err(FieldErrors::one(refusal.field, refusal.message));
    }
    // A wish, not a reading: it has no doubt of its own.
    Ok(Asked {
        measured: Some(Estimate::exact(value)),
        ..Asked::default()
    })
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
