//! A calibration as typed, and when it is refused.

use calc::Message;
use calc::decision::{self, Limits, Rule, Verdict};
use jiff::ToSpan;
use jiff::civil::Date;

use super::History;
use crate::entry::{
    Body, CalibrationPoint, CurveShape, FileAttached, GaugeCalibrated, PersonKey, PinRecord,
    WrenchWay,
};
use crate::job::refusal::{needed, nth};
use crate::job::{Desk, Refusals, method_of, refuse};
use crate::sheet::{Gauge, GaugeKind};

/// Longest interval, months (common practice, no source).
const MOST_MONTHS: u32 = 120;
/// Coverage factors as certificates have them.
const K: (f64, f64) = (1.0, 4.5);

/// One row of the form; what was left empty is `None`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RowIn {
    /// Its place in the form, from 0.
    pub row: usize,
    /// True value, by the reference.
    pub nominal: f64,
    /// Deviation as found.
    pub found: Option<f64>,
    /// Deviation as left; as found, if `None`.
    pub left: Option<f64>,
    /// Expanded uncertainty.
    pub expanded: f64,
    /// Coverage factor.
    pub k: f64,
}

/// A calibration, as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct CalibrationIn {
    /// Day.
    pub date: Date,
    /// Rows that something was typed into.
    pub rows: Vec<RowIn>,
    /// Curve.
    pub shape: CurveShape,
    /// How far it may move until the next, to either side.
    pub drift: f64,
    /// Largest deviation allowed.
    pub limit: f64,
    /// Directions of a torque wrench.
    pub ways: Vec<WrenchWay>,
    /// Who calibrated; `None` if nobody was named.
    pub by: Option<PersonKey>,
    /// Number of the certificate.
    pub certificate: String,
    /// Its file.
    pub file: Option<FileAttached>,
    /// Months until the next.
    pub months: u32,
    /// Remark.
    pub note: String,
}

pub(super) fn calibrate(
    gauge: &Gauge,
    pin: PinRecord,
    history: &History,
    input: &CalibrationIn,
    desk: &Desk,
) -> Result<Vec<Body>, Refusals> {
    let mut wrong = Refusals::new();
    let certificate = needed(
        "certificate",
        &input.certificate,
        "refuse-calibration-certificate",
    );
    let certificate = certificate.map_err(|refusal| wrong.push(refusal));
    if input.by.is_none() {
        wrong.push(refuse("by", Message::new("refuse-calibration-by")));
    }
    wrong.extend(dates(input, desk));
    wrong.extend(plain(gauge, input));
    wrong.extend(rows(gauge, input));
    let least = input.shape.least_points();
    if input.rows.len() < least {
        let message = Message::new("refuse-calibration-few")
            .with("have", input.rows.len())
            .with("need", least);
        wrong.push(refuse(nth("nominal", input.rows.len()), message));
    }
    let due = input.date.checked_add(i64::from(input.months).months());
    let (true, Ok(certificate), Some(by), Ok(due)) =
        (wrong.is_empty(), certificate, input.by.clone(), due)
    else {
        return Err(wrong);
    };
    let mut points: Vec<CalibrationPoint> = input.rows.iter().map(point).collect();
    points.sort_by(|a, b| a.nominal.total_cmp(&b.nominal));
    let limits = Limits::new(Some(-input.limit), Some(input.limit));
    let Ok(limits) = limits else {
        return Err(vec![limit_refused(gauge, input.limit)]);
    };
    let judge = |deviation: f64, point: &CalibrationPoint| {
        let expanded = point.expanded * 2.0 / point.k;
        decision::judge(deviation, expanded, limits, Rule::Guarded).unwrap_or(Verdict::Undecided)
    };
    let found = points.iter().filter_map(|p| Some(judge(p.found?, p)));
    let left = points.iter().map(|p| judge(p.left, p));
    let left = left.max().unwrap_or(Verdict::Undecided);
    let calibrated = GaugeCalibrated {
        gauge: pin,
        number: history.next_number(),
        date: input.date,
        unit: gauge.unit.symbol().to_owned(),
        found: found.max().map(Into::into),
        left: left.into(),
        points,
        shape: input.shape,
        drift: input.drift,
        limit: input.limit,
        method: method_of(decision::METHOD),
        ways: input.ways.clone(),
        by,
        certificate,
        file: input
            .file
            .as_ref()
            .map(|f| f.sha256.clone())
            .unwrap_or_default(),
        months: input.months,
        due,
        note: input.note.trim().to_owned(),
    };
    let file = input.file.clone().map(Body::from);
    Ok(file.into_iter().chain([calibrated.into()]).collect())
}

fn point(row: &RowIn) -> CalibrationPoint {
    CalibrationPoint {
        nominal: row.nominal,
        found: row.found,
        left: row.left.or(row.found).unwrap_or_default(),
        expanded: row.expanded,
        k: row.k,
    }
}

fn dates(input: &CalibrationIn, desk: &Desk) -> Refusals {
    let mut wrong = Refusals::new();
    if input.date > desk.today {
        wrong.push(refuse("date", Message::new("refuse-calibration-future")));
    }
    if !(1..=MOST_MONTHS).contains(&input.months) {
        let message = Message::new("refuse-calibration-months")
            .with("value", input.months)
            .with("max", MOST_MONTHS);
        wrong.push(refuse("months", message));
    }
    wrong
}

fn limit_refused(gauge: &Gauge, value: f64) -> crate::job::Refusal {
    let message = Message::new("refuse-calibration-limit")
        .number("value", value, gauge.decimals() + 1)
        .number("max", span(gauge), gauge.decimals())
        .with("unit", gauge.unit.symbol());
    refuse("limit", message)
}

/// How far the range of a gauge reaches: no deviation is larger.
fn span(gauge: &Gauge) -> f64 {
    gauge.range.1 - gauge.range.0
}

fn plain(gauge: &Gauge, input: &CalibrationIn) -> Refusals {
    let mut wrong = Refusals::new();
    if !(input.limit > 0.0 && input.limit <= span(gauge)) {
        wrong.push(limit_refused(gauge, input.limit));
    }
    if !(0.0..=span(gauge)).contains(&input.drift) {
        let message = Message::new("refuse-calibration-drift")
            .number("value", input.drift, gauge.decimals() + 1)
            .number("max", span(gauge), gauge.decimals())
            .with("unit", gauge.unit.symbol());
        wrong.push(refuse("drift", message));
    }
    let is_wrench = gauge.kind == GaugeKind::TorqueWrench;
    if is_wrench && input.ways.is_empty() {
        wrong.push(refuse("ways", Message::new("refuse-calibration-ways")));
    }
    wrong
}

fn rows(gauge: &Gauge, input: &CalibrationIn) -> Refusals {
    let mut wrong = Refusals::new();
    let decimals = gauge.decimals() + 1;
    let unit = gauge.unit.symbol();
    for (i, row) in input.rows.iter().enumerate() {
        let mut refuse_at = |name: &str, id: &'static str, value: f64, min: f64, max: f64| {
            let message = Message::new(id)
                .with("row", row.row + 1)
                .with("unit", unit)
                .number("value", value, decimals)
                .number("min", min, decimals)
                .number("max", max, decimals);
            wrong.push(refuse(nth(name, row.row), message));
        };
        let (low, high) = gauge.range;
        if !(low..=high).contains(&row.nominal) {
            refuse_at("nominal", "refuse-row-nominal", row.nominal, low, high);
        }
        if input.rows[..i].iter().any(|o| o.nominal == row.nominal) {
            refuse_at("nominal", "refuse-row-twice", row.nominal, low, high);
        }
        let most = span(gauge);
        for (name, value) in [("found", row.found), ("left", row.left)] {
            if let Some(value) = value.filter(|v| v.abs() > most) {
                refuse_at(name, "refuse-row-deviation", value, -most, most);
            }
        }
        if row.found.is_none() && row.left.is_none() {
            refuse_at("found", "refuse-row-empty", 0.0, -most, most);
        }
        if !(row.expanded > 0.0 && row.expanded <= most) {
            refuse_at("expanded", "refuse-row-expanded", row.expanded, 0.0, most);
        }
        if !(K.0..=K.1).contains(&row.k) {
            refuse_at("k", "refuse-row-k", row.k, K.0, K.1);
        }
    }
    wrong
}
