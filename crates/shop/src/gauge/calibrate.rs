//! A calibration as typed, and when it is refused.

use calc::Message;
use calc::decision::{self, Limits, Rule, Verdict};
use jiff::ToSpan;
use jiff::civil::Date;

use super::History;
use super::drift::{moved, stated};
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

/// What stands in the boxes “as found” and “as left”.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Given {
    /// Deviation: indicated less true.
    #[default]
    Deviation,
    /// What the gauge indicated.
    Indication,
}

/// Largest deviation, as a share of the nominal and of the range: what is more is an indication in the wrong box, or a
/// gauge that no correction helps. Common practice, no source.
const MOST_DEVIATION: f64 = 0.25;
/// Least that a gauge shows of the nominal: less is a deviation in the wrong box. Common practice, no source.
const LEAST_SHOWN: f64 = 0.5;

/// One row of the form; what was left empty is `None`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RowIn {
    /// Its place in the form, from 0.
    pub row: usize,
    /// True value, by the reference.
    pub nominal: f64,
    /// As found, by [`CalibrationIn::given`].
    pub found: Option<f64>,
    /// As left, likewise; as found, if `None`.
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
    /// What the rows give.
    pub given: Given,
    /// Rows that something was typed into.
    pub rows: Vec<RowIn>,
    /// Curve.
    pub shape: CurveShape,
    /// How far it may move until the next, to either side; if `None`, as far as it moved since the calibration before, or
    /// what stood there.
    pub drift: Option<f64>,
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
    let of_rows = rows(gauge, input);
    if of_rows.is_empty() {
        wrong.extend(not_rising(gauge, input));
    }
    wrong.extend(of_rows);
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
    let mut points: Vec<CalibrationPoint> = input
        .rows
        .iter()
        .map(|row| point(row, input.given))
        .collect();
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
    let before = history.in_force(gauge, input.date, input.ways.first().copied());
    // A revision of the sheet may have changed the unit since.
    let observed = before.and_then(|before| moved(before, &points, gauge.unit));
    let inherited = || before.and_then(|before| stated(before, gauge.unit));
    let drift = input.drift.or(observed).or_else(inherited);
    let calibrated = GaugeCalibrated {
        gauge: pin,
        number: history.next_number(),
        date: input.date,
        unit: gauge.unit.symbol().to_owned(),
        found: found.max().map(Into::into),
        left: left.into(),
        points,
        shape: input.shape,
        drift: drift.unwrap_or_default(),
        drift_observed: input.drift.is_none() && observed.is_some(),
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

impl RowIn {
    /// `value`, as it stands in a box, as a deviation. Of the decimals that were typed no more come out.
    fn deviation(&self, value: f64, given: Given) -> f64 {
        match given {
            Given::Deviation => value,
            Given::Indication => round_off(value - self.nominal),
        }
    }
}

/// Without the last digits of a difference, which come of reckoning in twos: 20.45 − 20 is 0.45.
fn round_off(difference: f64) -> f64 {
    (difference * 1e9).round() / 1e9
}

fn point(row: &RowIn, given: Given) -> CalibrationPoint {
    let found = row.found.map(|value| row.deviation(value, given));
    let left = row.left.map(|value| row.deviation(value, given));
    CalibrationPoint {
        nominal: row.nominal,
        found,
        left: left.or(found).unwrap_or_default(),
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
    if let Some(drift) = input.drift.filter(|d| !(0.0..=span(gauge)).contains(d)) {
        let message = Message::new("refuse-calibration-drift")
            .number("value", drift, gauge.decimals() + 1)
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

/// How a value in a box is refused, and the least and the largest that are not. An indication in place of a deviation is
/// caught by the nominal; a deviation in place of an indication lies far below it.
fn allowed(gauge: &Gauge, given: Given, row: &RowIn) -> (&'static str, f64, f64) {
    let of_range = MOST_DEVIATION * span(gauge);
    match given {
        Given::Indication => {
            let least = (row.nominal - of_range).max(LEAST_SHOWN * row.nominal);
            ("refuse-row-indication", least, row.nominal + of_range)
        }
        Given::Deviation => {
            let of_nominal = (row.nominal > 0.0).then_some(MOST_DEVIATION * row.nominal);
            let most = of_nominal.map_or(of_range, |of| of.min(of_range));
            ("refuse-row-deviation", -most, most)
        }
    }
}

fn rows(gauge: &Gauge, input: &CalibrationIn) -> Refusals {
    let mut wrong = Refusals::new();
    let decimals = gauge.decimals() + 1;
    let unit = gauge.unit.symbol();
    for (i, row) in input.rows.iter().enumerate() {
        let mut refuse_at = |name: &str, id: &'static str, value: f64, min: f64, max: f64| {
            let message = Message::new(id)
                .with("row", row.row + 1)
                .with("column", name)
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
        let (id, least, largest) = allowed(gauge, input.given, row);
        for (name, value) in [("found", row.found), ("left", row.left)] {
            if let Some(value) = value.filter(|v| !(least..=largest).contains(v)) {
                refuse_at(name, id, value, least, largest);
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

/// Rows at which the gauge would indicate no more than at a lower nominal, as left: no curve goes through both.
fn not_rising(gauge: &Gauge, input: &CalibrationIn) -> Refusals {
    let mut rows: Vec<&RowIn> = input.rows.iter().collect();
    rows.sort_by(|a, b| a.nominal.total_cmp(&b.nominal));
    let indicated = |row: &RowIn| round_off(row.nominal + point(row, input.given).left);
    let pairs = rows.windows(2).map(|pair| (pair[0], pair[1]));
    let wrong = pairs.filter_map(|(lower, row)| {
        let (before, value) = (indicated(lower), indicated(row));
        if value > before {
            return None;
        }
        let decimals = gauge.decimals() + 1;
        let message = Message::new("refuse-row-not-rising")
            .with("row", row.row + 1)
            .with("before", lower.row + 1)
            .with("unit", gauge.unit.symbol())
            .number("nominal", row.nominal, decimals)
            .number("value", value, decimals)
            .number("min", before, decimals);
        let name = row.left.map_or("found", |_| "left");
        Some(refuse(nth(name, row.row), message))
    });
    wrong.collect()
}
