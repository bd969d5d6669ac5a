//! Checks against a reference: torque wrenches, and what measures force.

use calc::Message;
use calc::working::fixed;
use calc::{force_check, torque_tool};
use maud::{Markup, html};
use shop::entry::{CheckPoint, CheckedAs, GaugeChecked};
use shop::gauge::{
    CheckIn, CheckRowIn, READINGS_EACH, force_points, is_tester_coarse, points_not_asked,
    reckoned_force, torque_points,
};
use shop::sheet::{Gauge, GaugeKind};

use super::calibration::{way_of, ways};
use super::history::way_name;
use super::page::View;
use crate::forms::errors::reading_key;
use crate::forms::{FieldErrors, Typed, parse_date, parse_number, parse_quantity};
use crate::shell::{Field, Page};
use crate::show;

/// The form.
pub(super) const ID: &str = "check";
/// Boxes for readings at each force.
const FORCE_BOXES: usize = 3;

/// Points that the form offers and boxes at each; `None` for a gauge that is not checked here.
fn offered(gauge: &Gauge) -> Option<(Vec<f64>, usize)> {
    match gauge.kind {
        GaugeKind::TorqueWrench => Some((torque_points(gauge).to_vec(), READINGS_EACH)),
        GaugeKind::LoadCell | GaugeKind::SpringTester => {
            Some((force_points(gauge).to_vec(), FORCE_BOXES))
        }
        _ => None,
    }
}

fn readings_name(row: usize) -> String {
    format!("at-{}", row + 1)
}

/// The form, folded; nothing for a gauge that is not checked here.
pub(super) fn form(v: &View) -> Markup {
    let Some((points, boxes)) = offered(v.gauge) else {
        return html! {};
    };
    let form = v.form(ID);
    let is_torque = v.gauge.kind == GaugeKind::TorqueWrench;
    let (summary, hint) = match is_torque {
        true => ("check-torque-summary", "check-torque-hint"),
        false => ("check-force-summary", "check-force-hint"),
    };
    let unit = v.gauge.unit.symbol();
    html! {
        details id="check-gauge" open[v.is_refused(ID)] {
            summary { (v.t(summary)) }
            p.hint { (v.t(hint)) }
            @if is_torque { p.warn { (v.t("check-torque-caution")) small { (v.t("source-maker")) } } }
            @else { p.warn { (v.t("check-force-caution")) small { (v.t("source-maker")) } } }
            (form.wrap(&v.action(ID), None, html! {
                (form.text(&Field::new("date", v.t("field-check-date")).hint(v.t("hint-date")).short()))
                @if is_torque { (form.radios(&Field::new("way", v.t("field-way")), &ways(v))) }
                (form.text(&Field::new("reference", v.t("field-reference")).hint(v.t("hint-reference"))))
                @if is_torque {
                    (form.number(&Field::new("reference_expanded", v.t("field-reference-expanded")).hint(v.t("hint-tester-expanded")).unit("%").short()))
                } @else {
                    (form.number(&Field::new("reference_expanded", v.t("field-reference-expanded")).unit("%").short()))
                    (form.number(&Field::new("limit", v.t("field-check-limit")).unit("%").short().value("1.00")))
                }
                @for (row, at) in points.iter().enumerate() {
                    @let nominal = reading_key("nominal", row);
                    @let readings = readings_name(row);
                    @let label = v.say(&Message::new("field-check-point-at").with("row", row + 1).number("share", at / v.gauge.range.1 * 100.0, 0));
                    @let said = Message::new("field-check-readings").with("row", row + 1);
                    (form.number(&Field::new(&nominal, label).unit(unit).short().value(fixed(*at, v.gauge.decimals()))))
                    (form.readings(&Field::new(&readings, v.say(&said)).unit(unit), boxes))
                }
                (form.text(&Field::new("note", v.t("field-note"))))
                div.buttons { button { (v.t("button-check")) } }
            }))
        }
    }
}

/// What was typed.
pub(super) fn parse(p: &Page, gauge: &Gauge, typed: &Typed) -> Result<CheckIn, FieldErrors> {
    let mut errors = FieldErrors::new();
    let date = parse_date(typed.get("date"));
    let date = errors.keep("date", p.t("field-check-date"), date);
    let is_torque = gauge.kind == GaugeKind::TorqueWrench;
    let (check, limit_pct) = if is_torque {
        let doubt = typed.filled("reference_expanded").and_then(|raw| {
            let label = p.t("field-reference-expanded");
            errors.keep("reference_expanded", label, parse_quantity(raw, "%"))
        });
        let check = way_of(typed.get("way")).map(|way| CheckedAs::Torque {
            way,
            reference_expanded_pct: doubt,
        });
        (check, 0.0)
    } else {
        let doubt = parse_quantity(typed.get("reference_expanded"), "%");
        let label = p.t("field-reference-expanded");
        let doubt = errors.keep("reference_expanded", label, doubt);
        let limit = parse_quantity(typed.get("limit"), "%");
        let limit = errors.keep("limit", p.t("field-check-limit"), limit);
        let check = doubt.map(|reference_expanded_pct| CheckedAs::Force {
            reference_expanded_pct,
        });
        (check, limit.unwrap_or_default())
    };
    let count = offered(gauge).map_or(0, |(points, _)| points.len());
    let rows = (0..count).filter_map(|row| row_of(p, gauge, typed, row, &mut errors));
    let rows: Vec<CheckRowIn> = rows.collect();
    let (true, Some(date)) = (errors.is_empty(), date) else {
        return Err(errors);
    };
    Ok(CheckIn {
        date,
        check,
        limit_pct,
        rows,
        reference: typed.get("reference").to_owned(),
        note: typed.get("note").to_owned(),
    })
}

/// A point with its readings; boxes that were left empty are left out.
fn row_of(
    p: &Page,
    gauge: &Gauge,
    typed: &Typed,
    row: usize,
    errors: &mut FieldErrors,
) -> Option<CheckRowIn> {
    let key = reading_key("nominal", row);
    let raw = typed.filled(&key)?;
    let label = p.say(&Message::new("field-check-point").with("row", row + 1));
    let nominal = errors.keep(&key, label, parse_number(raw, gauge.unit));
    let name = readings_name(row);
    let label = p.say(&Message::new("field-check-readings").with("row", row + 1));
    let filled = typed.all(&name).enumerate();
    let filled = filled.filter(|(_, raw)| !raw.trim().is_empty());
    let readings = filled.filter_map(|(i, raw)| {
        let field = reading_key(&name, i);
        let value = errors.keep(&field, &label, parse_number(raw, gauge.unit))?;
        Some((field, value))
    });
    let readings = readings.collect();
    Some(CheckRowIn {
        row,
        nominal: nominal?,
        readings,
    })
}

/// A check, as it stands in the record.
pub(super) fn shown(v: &View, c: &GaugeChecked) -> Markup {
    let what = match c.check {
        CheckedAs::Torque { way, .. } => Message::new("check-torque-what")
            .with("way", v.t(way_name(way)))
            .with("reference", c.reference.as_str()),
        CheckedAs::Force {
            reference_expanded_pct,
        } => Message::new("check-force-what")
            .with("reference", c.reference.as_str())
            .number("doubt", reference_expanded_pct, 2),
    };
    html! {
        p { (show::chip(v.p, c.outcome.into())) " " (v.say(&what)) }
        table.stack {
            thead { tr {
                th.n { (v.t("check-set")) } th.n { (v.t("check-readings")) } th.n { (v.t("check-deviation")) }
                th.n { (v.t("check-allowed")) } th { (v.t("gauges-state")) }
            } }
            tbody { @for point in &c.points { (point_row(v, c, point)) } }
        }
        @if let Some((points, checked, set)) = reckoned_force(c, v.gauge) {
            @if let Some(class) = force_check::class(&checked) {
                p { (v.say(&Message::new("check-class").number("class", class, 1))) }
            }
            @if let Some(working) = force_check::working(&points, &checked, &set) { (show::working(v.p, &working)) }
        }
        @if let CheckedAs::Torque { reference_expanded_pct, .. } = c.check {
            @match reference_expanded_pct {
                Some(doubt) => { p.hint { (v.say(&Message::new("check-tester").number("doubt", doubt, 2))) } }
                None => { p.hint { (v.t("check-tester-unknown")) } }
            }
            @if is_tester_coarse(c) { p.note { (v.t("check-tester-coarse")) } }
            @for nominal in points_not_asked(c, v.gauge) {
                p.note { (v.say(&Message::new("check-point-other").number("at", nominal, v.gauge.decimals()).with("unit", c.unit.as_str()))) }
            }
            (torque_working(v, c))
        }
        @if !c.note.is_empty() { p { (c.note) } }
    }
}

fn point_row(v: &View, c: &GaugeChecked, point: &CheckPoint) -> Markup {
    let decimals = v.gauge.decimals();
    let readings: Vec<String> = point.readings.iter().map(|r| fixed(*r, decimals)).collect();
    html! {
        tr {
            td.n data-label=(v.t("check-set")) { (fixed(point.nominal, decimals)) " " (c.unit) }
            td.n data-label=(v.t("check-readings")) { (readings.join(", ")) }
            td.n data-label=(v.t("check-deviation")) { (fixed(point.deviation_pct, 2)) " %" }
            td.n data-label=(v.t("check-allowed")) { "± " (fixed(point.limit_pct, 1)) " %" }
            td data-label=(v.t("gauges-state")) { (show::chip(v.p, point.outcome.into())) }
        }
    }
}

/// The working of the point that is furthest off, in N·m as the method has it.
fn torque_working(v: &View, c: &GaugeChecked) -> Markup {
    let to_nm = |value| v.gauge.unit.convert(value, calc::units::Unit::NewtonMetre);
    let furthest =
        |a: &&CheckPoint, b: &&CheckPoint| a.deviation_pct.abs().total_cmp(&b.deviation_pct.abs());
    let working = c.points.iter().max_by(furthest).and_then(|point| {
        let readings: Option<Vec<f64>> = point.readings.iter().map(|r| to_nm(*r)).collect();
        let convention = torque_tool::Convention::Reference;
        torque_tool::working(
            to_nm(point.nominal)?,
            &readings?,
            convention,
            point.limit_pct,
        )
    });
    html! { @if let Some(working) = working { (show::working(v.p, &working)) } }
}
