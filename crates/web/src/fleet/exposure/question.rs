//! What is asked: up to four tools of a day, each with its values and how much it is used.

use calc::Message;
use calc::units::Unit;
use calc::working::fixed;
use maud::{Markup, html};
use shop::sheet::{Shelf, ToolModel};

use super::PATH;
use crate::forms::errors::reading_key;
use crate::forms::{FieldErrors, Typed, parse_count, parse_number, parse_quantity};
use crate::shell::{Choice, Field, Form, Page};

/// Name of the form.
pub const FORM: &str = "exposure";
/// Tools of a day.
const ROWS: usize = 4;

const VIBRATION: (&str, f64, f64) = ("m/s²", 0.01, 500.0);
const SECONDS: (&str, f64, f64) = ("s", 0.05, 600.0);
const NOISE: (&str, f64, f64) = ("dB", 30.0, 150.0);
const MOST_PULLS: u64 = 100_000;

/// One tool in the day.
#[derive(Clone, Debug, PartialEq)]
pub struct Use {
    /// Its name.
    pub name: String,
    /// Vibration, m/s²; `None` where nobody knows it.
    pub vibration: Option<Vibration>,
    /// Noise level, dB(A).
    pub noise_db: Option<f64>,
    /// Time of a pull, s.
    pub seconds: f64,
    /// Pulls a day.
    pub pulls: u64,
}

/// Where a vibration comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Vibration {
    /// Measured at work, m/s².
    Measured(f64),
    /// Declared by the maker, with its uncertainty, m/s².
    Declared(f64, f64),
}

impl Vibration {
    /// What is reckoned with, m/s²: a declared value with its uncertainty, as it may well be that high.
    pub fn value(self) -> f64 {
        match self {
            Self::Measured(value) => value,
            Self::Declared(value, uncertainty) => value + uncertainty,
        }
    }
}

impl Use {
    /// Hours on the trigger.
    pub fn hours(&self) -> f64 {
        self.seconds * self.pulls as f64 / 3600.0
    }
}

/// The tools of the day, as far as they can be read.
pub fn read(p: &Page, shelf: &Shelf, typed: &Typed) -> (Vec<Use>, FieldErrors) {
    let mut errors = FieldErrors::new();
    let rows = (0..ROWS).filter_map(|index| row(p, shelf, typed, index, &mut errors));
    let uses: Vec<Use> = rows.collect();
    let hours: f64 = uses.iter().map(Use::hours).sum();
    if errors.is_empty() && uses.is_empty() && !typed.is_empty() {
        errors.add("tool", Message::new("refuse-exposure-empty"));
    }
    if errors.is_empty() && hours > 24.0 {
        let long = Message::new("exposure-too-long").with("hours", fixed(hours, 1));
        errors.add("pulls", long);
    }
    (uses, errors)
}

fn row(
    p: &Page,
    shelf: &Shelf,
    typed: &Typed,
    index: usize,
    errors: &mut FieldErrors,
) -> Option<Use> {
    let key = |name: &str| reading_key(name, index);
    let given = |name: &str| typed.filled(&key(name));
    let names = ["tool", "vibration", "seconds", "pulls", "noise"];
    if names.iter().all(|name| given(name).is_none()) {
        return None;
    }
    let model: Option<&ToolModel> = given("tool").and_then(|id| {
        let found = shelf.models().map(|(_, m)| m).find(|m| m.id == id);
        if found.is_none() {
            let none = Message::new("refuse-exposure-tool").with("id", id);
            errors.add(key("tool"), none);
        }
        found
    });
    let mut number = |name: &str, label: &str, (unit, min, max): (&'static str, f64, f64)| {
        let raw = given(name)?;
        let read = match unit {
            "s" => parse_number(raw, Unit::Second),
            unit => parse_quantity(raw, unit),
        };
        let inside = read.and_then(|value| {
            let wide = Message::new("refuse-exposure-range")
                .number("value", value, 2)
                .number("min", min, 2)
                .number("max", max, 0)
                .with("unit", unit);
            (min..=max).contains(&value).then_some(value).ok_or(wide)
        });
        errors.keep(&key(name), p.t(label), inside)
    };
    let vibration = number("vibration", "exposure-vibration", VIBRATION);
    let seconds = number("seconds", "exposure-seconds", SECONDS);
    let noise = number("noise", "exposure-noise", NOISE);
    let pulls = parse_count(typed.get(&key("pulls"))).and_then(|pulls| {
        let wide = Message::new("refuse-exposure-range")
            .with("value", pulls)
            .with("min", 1_u64)
            .with("max", MOST_PULLS)
            .with("unit", "");
        (1..=MOST_PULLS)
            .contains(&pulls)
            .then_some(pulls)
            .ok_or(wide)
    });
    let pulls = errors.keep(&key("pulls"), p.t("exposure-pulls"), pulls);
    let typed_any = ["tool", "vibration", "noise"]
        .iter()
        .any(|n| given(n).is_some());
    if !typed_any {
        errors.add(key("tool"), Message::new("refuse-exposure-nothing"));
    }
    if given("seconds").is_none() && given("tool").is_none() {
        errors.add(key("seconds"), Message::new("refuse-exposure-seconds"));
    }
    let declared = model.and_then(|m| {
        let uncertainty = m.vibration_uncertainty.unwrap_or(0.0);
        Some(Vibration::Declared(m.vibration_m_per_s2?, uncertainty))
    });
    Some(Use {
        name: model.map_or_else(
            || p.say(&Message::new("exposure-name").with("n", index + 1)),
            |m| m.name.clone(),
        ),
        vibration: vibration.map(Vibration::Measured).or(declared),
        noise_db: noise.or_else(|| model?.noise_db),
        seconds: seconds.or_else(|| Some(model?.cycle_s))?,
        pulls: pulls?,
    })
}

/// The form. It is sent in the address, so it has neither token nor submission key.
pub fn form(p: &Page, shelf: &Shelf, typed: &Typed, errors: &FieldErrors) -> Markup {
    let form = Form::new(p, FORM, typed, errors);
    let models: Vec<Choice> = shelf
        .models()
        .map(|(_, m)| Choice::new(&m.id, &m.name))
        .collect();
    html! {
        p.hint { (p.t("exposure-intro")) }
        form #(FORM) method="get" action=(PATH) novalidate autocomplete="off" {
            @for index in 0..ROWS {
                @let key = |name: &str| reading_key(name, index);
                @let body = row_fields(p, &form, &models, &key);
                @let heading = p.say(&Message::new("exposure-row").with("n", index + 1));
                @if index == 0 { (body) } @else {
                    @let fields = ["tool", "vibration", "seconds", "pulls", "noise"];
                    details open[fields.iter().any(|name| form.has(&key(name)))] { summary { (heading) } (body) }
                }
            }
            div.buttons { button { (p.t("exposure-go")) } }
        }
    }
}

fn row_fields(p: &Page, form: &Form, models: &[Choice], key: &dyn Fn(&str) -> String) -> Markup {
    let (tool, vibration, seconds) = (key("tool"), key("vibration"), key("seconds"));
    let (pulls, noise) = (key("pulls"), key("noise"));
    html! {
        (form.select(&Field::new(&tool, p.t("exposure-tool")), models))
        (form.count(&Field::new(&pulls, p.t("exposure-pulls")).short()))
        (form.number(&Field::new(&seconds, p.t("exposure-seconds")).hint(p.t("exposure-seconds-hint")).unit(SECONDS.0).short()))
        (form.number(&Field::new(&vibration, p.t("exposure-vibration")).hint(p.t("exposure-vibration-hint")).unit(VIBRATION.0).short()))
        (form.number(&Field::new(&noise, p.t("exposure-noise")).hint(p.t("exposure-noise-hint")).unit(NOISE.0).short()))
    }
}
