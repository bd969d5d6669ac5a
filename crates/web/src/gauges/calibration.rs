//! The form of a calibration: rows for points, and what the certificate says besides.

use calc::Message;
use maud::{Markup, html};
use shop::entry::{CurveShape, GaugeCalibrated, PersonKey, WrenchWay};
use shop::gauge::{CalibrationIn, Given, RowIn, Written};
use shop::sheet::{Gauge, GaugeKind};

use super::history::way_name;
use super::page::View;
use crate::attachments::named_kept;
use crate::forms::errors::reading_key;
use crate::forms::{FieldErrors, Typed, parse_count, parse_date, parse_number, parse_quantity};
use crate::shell::{Choice, Field, Form, Page};

/// The form.
pub(super) const ID: &str = "calibrate";
/// Rows that are offered.
const ROWS: usize = 6;
/// Most rows that a form may have.
const MOST_ROWS: usize = 60;
/// What is picked from the disk.
const TAKEN: &str = ".pdf,.jpg,.jpeg,.png,application/pdf,image/jpeg,image/png";

const SHAPES: [(CurveShape, &str); 3] = [
    (CurveShape::Points, "points"),
    (CurveShape::Line, "line"),
    (CurveShape::Parabola, "parabola"),
];

const WAYS: [(WrenchWay, &str); 2] = [
    (WrenchWay::Clockwise, "clockwise"),
    (WrenchWay::CounterClockwise, "counter-clockwise"),
];

/// What the boxes hold, as choices.
const GIVEN: [(Given, &str); 2] = [
    (Given::Deviation, "deviation"),
    (Given::Indication, "indication"),
];

fn given_name(given: Given) -> &'static str {
    match given {
        Given::Deviation => "given-as-deviation",
        Given::Indication => "given-as-indication",
    }
}

/// How the deviation runs between the points, in words.
pub(super) fn shape_name(shape: CurveShape) -> &'static str {
    match shape {
        CurveShape::Points => "shape-points",
        CurveShape::Line => "shape-line",
        CurveShape::Parabola => "shape-parabola",
    }
}

/// The directions as choices.
pub(super) fn ways(v: &View) -> Vec<Choice> {
    let ways = WAYS.iter();
    ways.map(|(way, key)| Choice::new(*key, v.t(way_name(*way))))
        .collect()
}

/// The direction that was picked.
pub(super) fn way_of(key: &str) -> Option<WrenchWay> {
    let found = WAYS.into_iter().find(|(_, k)| *k == key);
    found.map(|(way, _)| way)
}

/// The form, folded; what the last certificate said stands in it.
pub(super) fn form(v: &View) -> Markup {
    let form = v.form(ID);
    let last = v.history.counting();
    let last = last.into_iter().rev().find_map(|line| match &line.what {
        Written::Calibrated(c) => Some(c),
        _ => None,
    });
    let unit = v.gauge.unit.symbol();
    let decimals = v.gauge.decimals() + 1;
    let typed = v.refused.filter(|_| v.is_refused(ID)).map(|r| r.typed);
    let rows = typed.and_then(|typed| typed.get("rows").parse().ok());
    let rows = rows.unwrap_or(last.map_or(ROWS, |c| c.points.len().max(ROWS)));
    let plain = |value: f64| calc::working::fixed(value, decimals);
    let limit = last.map_or(String::new(), |c| plain(c.limit));
    let given = GIVEN.iter().map(|(given, key)| {
        Choice::new(*key, v.t(given_name(*given))).chosen(*given == Given::default())
    });
    let given: Vec<Choice> = given.collect();
    let months = last.map_or("12".to_owned(), |c| c.months.to_string());
    let shapes: Vec<Choice> = SHAPES
        .iter()
        .map(|(shape, key)| {
            let chosen = last.map_or(CurveShape::Points, |c| c.shape) == *shape;
            Choice::new(*key, v.t(shape_name(*shape))).chosen(chosen)
        })
        .collect();
    html! {
        details id="calibration" open[v.is_refused(ID)] {
            summary { (v.t("calibration-summary")) }
            p.hint { (v.t("calibration-hint")) }
            (form.wrap_files(&v.action(ID), None, html! {
                (form.text(&Field::new("date", v.t("field-calibration-date")).hint(v.t("hint-date")).short()))
                (form.number(&Field::new("limit", v.t("field-calibration-limit")).hint(v.t("hint-calibration-limit")).unit(unit).short().value(limit)))
                (form.radios(&Field::new("given", v.t("field-given")).hint(v.t("hint-given")), &given))
                input type="hidden" name="rows" value=(rows.min(MOST_ROWS));
                @for row in 0..rows.min(MOST_ROWS) { (line(v, &form, row, last)) }
                (form.select(&Field::new("shape", v.t("field-shape")).hint(v.t("hint-shape")), &shapes))
                (form.number(&Field::new("drift", v.t("field-drift")).hint(v.t("hint-drift")).unit(unit).short()))
                @if v.gauge.kind == GaugeKind::TorqueWrench {
                    (form.ticks(&Field::new("ways", v.t("field-calibration-ways")).hint(v.t("hint-calibration-ways")), &ways(v)))
                }
                (form.text(&Field::new("by", v.t("field-calibration-by"))))
                (form.text(&Field::new("certificate", v.t("field-certificate"))))
                @let kept: Vec<_> = typed.into_iter().flat_map(named_kept).collect();
                @if !kept.is_empty() {
                    p.hint { (v.t("file-kept")) }
                    ul { @for (hash, name) in &kept { li { (name) input type="hidden" name="kept" value={ (hash) " " (name) }; } } }
                }
                (form.files(&Field::new("file", v.t("field-certificate-file")), TAKEN))
                (form.count(&Field::new("months", v.t("field-months")).short().value(months)))
                (form.text(&Field::new("note", v.t("field-note"))))
                div.buttons { button { (v.t("button-calibrate")) } }
            }))
        }
    }
}

/// One point. Each box has a name of its own, so that a row that is left empty stays empty.
fn line(v: &View, form: &Form, row: usize, last: Option<&GaugeCalibrated>) -> Markup {
    let key = |name| reading_key(name, row);
    let (nominal, found, left) = (key("nominal"), key("found"), key("left"));
    let (expanded, k) = (key("expanded"), key("k"));
    let unit = v.gauge.unit.symbol();
    let point = last.and_then(|c| c.points.get(row));
    let shown = |value: Option<f64>, decimals| {
        value.map_or(String::new(), |value| calc::working::fixed(value, decimals))
    };
    let decimals = v.gauge.decimals();
    let label = v.say(&Message::new("field-nominal").with("row", row + 1));
    html! {
        div.line {
            (form.number(&Field::new(&nominal, label).short().unit(unit).signed().value(shown(point.map(|p| p.nominal), decimals))))
            (form.number(&Field::new(&found, v.t("field-found")).short().signed()))
            (form.number(&Field::new(&left, v.t("field-left")).short().signed()))
            (form.number(&Field::new(&expanded, v.t("field-expanded")).short().value(shown(point.map(|p| p.expanded), decimals + 1))))
            (form.number(&Field::new(&k, v.t("field-k")).short().value(shown(Some(point.map_or(2.0, |p| p.k)), 2))))
        }
    }
}

/// What was typed.
pub(super) fn parse(
    p: &Page,
    gauge: &Gauge,
    typed: &Typed,
    by: Option<PersonKey>,
) -> Result<CalibrationIn, FieldErrors> {
    let mut errors = FieldErrors::new();
    let date = parse_date(typed.get("date"));
    let date = errors.keep("date", p.t("field-calibration-date"), date);
    let limit = parse_number(typed.get("limit"), gauge.unit);
    let limit = errors.keep("limit", p.t("field-calibration-limit"), limit);
    let drift = match typed.filled("drift") {
        None => Some(None),
        Some(raw) => errors
            .keep("drift", p.t("field-drift"), parse_number(raw, gauge.unit))
            .map(Some),
    };
    let given = GIVEN
        .into_iter()
        .find(|(_, key)| *key == typed.get("given"));
    let months = parse_count(typed.get("months"));
    let months = errors.keep("months", p.t("field-months"), months);
    let rows: usize = typed.get("rows").parse().unwrap_or(ROWS);
    let rows = (0..rows.min(MOST_ROWS)).filter_map(|row| row_of(p, gauge, typed, row, &mut errors));
    let rows: Vec<RowIn> = rows.collect();
    let shape = SHAPES
        .into_iter()
        .find(|(_, key)| *key == typed.get("shape"));
    if shape.is_none() {
        errors.add("shape", Message::new("refuse-calibration-shape"));
    }
    let (true, Some(date), Some(limit), Some(drift), Some(months), Some((shape, _))) =
        (errors.is_empty(), date, limit, drift, months, shape)
    else {
        return Err(errors);
    };
    Ok(CalibrationIn {
        date,
        given: given.map_or(Given::default(), |(given, _)| given),
        rows,
        shape,
        drift,
        limit,
        ways: typed.all("ways").filter_map(way_of).collect(),
        by,
        certificate: typed.get("certificate").to_owned(),
        file: None,
        months: u32::try_from(months).unwrap_or(u32::MAX),
        note: typed.get("note").to_owned(),
    })
}

/// A row that something stands in; a factor alone is none.
fn row_of(
    p: &Page,
    gauge: &Gauge,
    typed: &Typed,
    row: usize,
    errors: &mut FieldErrors,
) -> Option<RowIn> {
    let key = |name: &str| reading_key(name, row);
    let boxes = ["nominal", "found", "left", "expanded"];
    if boxes.iter().all(|name| typed.filled(&key(name)).is_none()) {
        return None;
    }
    let label = |id: &str| {
        let row = Message::new("field-in-row")
            .with("row", row + 1)
            .with("label", p.t(id));
        p.say(&row)
    };
    let unit = gauge.unit;
    let nominal = parse_number(typed.get(&key("nominal")), unit);
    let nominal = errors.keep(&key("nominal"), label("gauge-nominal"), nominal);
    let mut given = |name: &str, id: &str| match typed.filled(&key(name)) {
        None => Some(None),
        Some(raw) => errors
            .keep(&key(name), label(id), parse_number(raw, unit))
            .map(Some),
    };
    let (found, left) = (given("found", "gauge-found"), given("left", "gauge-left"));
    let expanded = parse_number(typed.get(&key("expanded")), unit);
    let expanded = errors.keep(&key("expanded"), label("field-expanded"), expanded);
    let k = parse_quantity(typed.get(&key("k")), "");
    let k = errors.keep(&key("k"), label("field-k"), k);
    Some(RowIn {
        row,
        nominal: nominal?,
        found: found?,
        left: left?,
        expanded: expanded?,
        k: k?,
    })
}
