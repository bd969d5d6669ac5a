//! A gauge checked in the shop against a reference: torque wrenches, and what measures force.

use calc::Message;
use calc::decision::{self, Limits, Rule, Verdict};
use calc::force_check;
use calc::torque_tool::{self, Convention};
use calc::units::Unit;
use jiff::civil::Date;

use super::History;
use crate::entry::{Body, CheckPoint, CheckedAs, GaugeChecked, PinRecord};
use crate::job::refusal::{needed, nth};
use crate::job::{Desk, Refusals, method_of, refuse};
use crate::sheet::{Gauge, GaugeKind};

/// Readings of a torque wrench at each point.
///
/// ISO 6789-1:2017 (from memory, not confirmed).
pub const READINGS_EACH: usize = 5;
/// Readings of a force gauge at each force: three series (ISO 7500-1:2018, from memory, not confirmed).
const FORCE_EACH: usize = 3;
/// Shares of the largest torque at which a wrench is checked. Source as above.
const TORQUE_AT: [f64; 3] = [0.2, 0.6, 1.0];
/// Shares of the largest force at which a force gauge is checked.
const FORCE_AT: [f64; 5] = [0.2, 0.4, 0.6, 0.8, 1.0];

/// One point, as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckRowIn {
    /// Its place in the form, from 0.
    pub row: usize,
    /// What was set.
    pub nominal: f64,
    /// What was read, with the name of its field.
    pub readings: Vec<(String, f64)>,
}

/// A check, as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckIn {
    /// Day.
    pub date: Date,
    /// As what; `None` if no direction was picked.
    pub check: Option<CheckedAs>,
    /// Largest deviation allowed of a force, percent. A torque wrench has its own.
    pub limit_pct: f64,
    /// Points.
    pub rows: Vec<CheckRowIn>,
    /// What it was held against.
    pub reference: String,
    /// Remark.
    pub note: String,
}

/// Where a torque wrench is checked, in its unit: 20, 60 and 100 % of its largest, but not below its smallest.
pub fn torque_points(gauge: &Gauge) -> [f64; 3] {
    let (low, high) = gauge.range;
    if low >= TORQUE_AT[1] * high {
        // A wrench of so short a range has no three of them: its ends and the middle.
        return [low, (low + high) / 2.0, high];
    }
    TORQUE_AT.map(|share| (share * high).max(low))
}

/// Where a force gauge is checked, in its unit.
pub fn force_points(gauge: &Gauge) -> [f64; 5] {
    FORCE_AT.map(|share| (share * gauge.range.1).max(gauge.range.0))
}

/// Whether a gauge is checked as a torque wrench, `false`, or as what measures force, `true`; `None` for others.
pub(super) fn is_force(gauge: &Gauge) -> Option<bool> {
    match gauge.kind {
        GaugeKind::TorqueWrench => Some(false),
        GaugeKind::LoadCell | GaugeKind::SpringTester => Some(true),
        _ => None,
    }
}

pub(super) fn check(
    gauge: &Gauge,
    pin: PinRecord,
    history: &History,
    input: &CheckIn,
    desk: &Desk,
) -> Result<Vec<Body>, Refusals> {
    let mut wrong = Refusals::new();
    let reference = needed("reference", &input.reference, "refuse-check-reference");
    let reference = reference.map_err(|refusal| wrong.push(refusal));
    if input.date > desk.today {
        wrong.push(refuse("date", Message::new("refuse-calibration-future")));
    }
    if input.check.is_none() {
        wrong.push(refuse("way", Message::new("refuse-check-way")));
    }
    wrong.extend(rows(gauge, input));
    let (true, Some(check), Ok(reference)) = (wrong.is_empty(), input.check, reference) else {
        return Err(wrong);
    };
    let judged = match check {
        CheckedAs::Torque {
            reference_expanded_pct,
            ..
        } => (
            torque(gauge, input, reference_expanded_pct),
            torque_tool::METHOD,
        ),
        CheckedAs::Force {
            reference_expanded_pct,
        } => {
            let set = set_of(gauge, reference_expanded_pct, input.limit_pct);
            (force(input, &set), force_check::METHOD)
        }
    };
    let (points, method) = (judged.0?, method_of(judged.1));
    let worst = points.iter().map(|p| p.outcome).map(Verdict::from).max();
    let checked = GaugeChecked {
        gauge: pin,
        number: history.next_number(),
        date: input.date,
        unit: gauge.unit.symbol().to_owned(),
        check,
        outcome: worst.unwrap_or(Verdict::Undecided).into(),
        points,
        reference,
        method,
        note: input.note.trim().to_owned(),
    };
    Ok(vec![checked.into()])
}

/// What is wrong with the points, each at its field.
fn rows(gauge: &Gauge, input: &CheckIn) -> Refusals {
    let mut wrong = Refusals::new();
    let (need_points, need_each) = match is_force(gauge) {
        Some(true) => (3, FORCE_EACH),
        _ => (TORQUE_AT.len(), READINGS_EACH),
    };
    if input.rows.len() < need_points {
        let message = Message::new("refuse-check-few-points")
            .with("have", input.rows.len())
            .with("need", need_points);
        wrong.push(refuse(nth("nominal", input.rows.len()), message));
    }
    let decimals = gauge.decimals();
    let number = |message: Message, value: f64, min: f64, max: f64| {
        let message = message.with("unit", gauge.unit.symbol());
        let message = message.number("value", value, decimals);
        message
            .number("min", min, decimals)
            .number("max", max, decimals)
    };
    for (i, row) in input.rows.iter().enumerate() {
        if input.rows[..i].iter().any(|o| o.nominal == row.nominal) {
            let message = Message::new("refuse-row-twice").with("row", row.row + 1);
            let message = number(message, row.nominal, 0.0, 0.0);
            wrong.push(refuse(nth("nominal", row.row), message));
        }
        let (low, high) = gauge.range;
        let is_nominal = row.nominal > 0.0 && (low..=high).contains(&row.nominal);
        if !is_nominal {
            let message = Message::new("refuse-row-nominal").with("row", row.row + 1);
            let message = number(message, row.nominal, low, high);
            wrong.push(refuse(nth("nominal", row.row), message));
        }
        if row.readings.len() < need_each {
            let message = Message::new("refuse-check-few-readings")
                .with("row", row.row + 1)
                .with("have", row.readings.len())
                .with("need", need_each);
            wrong.push(refuse(format!("at-{}", row.row + 1), message));
        }
        for (field, value) in row.readings.iter().filter(|_| is_nominal) {
            // Half and twice what was set: a slip of the finger, not a deviation.
            let (least, most) = (row.nominal / 2.0, row.nominal * 2.0);
            if !(least..=most).contains(value) {
                let message = Message::new("refuse-check-reading").with("row", row.row + 1);
                wrong.push(refuse(field, number(message, *value, least, most)));
            }
        }
    }
    wrong
}

/// Where the uncertainty of the tester is known, the limits are drawn in by it; without, they stand as they are.
fn torque(
    gauge: &Gauge,
    input: &CheckIn,
    reference_expanded_pct: Option<f64>,
) -> Result<Vec<CheckPoint>, Refusals> {
    if let Some(expanded) = reference_expanded_pct {
        reference_doubt(expanded)?;
    }
    let largest = gauge.unit.convert(gauge.range.1, Unit::NewtonMetre);
    let limit = torque_tool::limit_pct(largest.unwrap_or(f64::INFINITY));
    let point = |row: &CheckRowIn| {
        let off = row.readings.iter().map(|(_, reading)| {
            torque_tool::deviation_pct(row.nominal, *reading, Convention::Reference)
        });
        let off: Result<Vec<f64>, _> = off.collect();
        let off = off.map_err(|_| row_refused(row))?;
        let furthest = off.into_iter().max_by(|a, b| a.abs().total_cmp(&b.abs()));
        let deviation_pct = furthest.unwrap_or_default();
        Ok(CheckPoint {
            nominal: row.nominal,
            readings: row.readings.iter().map(|(_, value)| *value).collect(),
            limit_pct: limit,
            deviation_pct,
            outcome: guarded(deviation_pct, reference_expanded_pct, limit).into(),
        })
    };
    input.rows.iter().map(point).collect()
}

/// The verdict on the reading that is furthest off.
fn guarded(deviation_pct: f64, expanded_pct: Option<f64>, limit_pct: f64) -> Verdict {
    let rule = match expanded_pct {
        Some(_) => Rule::Guarded,
        None => Rule::Simple,
    };
    let limits = Limits::new(Some(-limit_pct), Some(limit_pct));
    let judged = limits.and_then(|limits| {
        decision::judge(deviation_pct, expanded_pct.unwrap_or(0.0), limits, rule)
    });
    judged.unwrap_or(Verdict::Undecided)
}

fn reference_doubt(value: f64) -> Result<(), Refusals> {
    if (0.0..=10.0).contains(&value) {
        return Ok(());
    }
    let message = Message::new("refuse-check-reference-doubt").number("value", value, 2);
    Err(vec![refuse("reference_expanded", message)])
}

/// Whether the tester of a torque check is too uncertain for it: more than a quarter of the largest deviation allowed.
///
/// ISO 6789-1:2017 (from memory, not confirmed).
pub fn is_tester_coarse(checked: &GaugeChecked) -> bool {
    let CheckedAs::Torque {
        reference_expanded_pct: Some(expanded),
        ..
    } = checked.check
    else {
        return false;
    };
    checked.points.iter().any(|p| expanded > p.limit_pct / 4.0)
}

/// Points of a torque check that are none of those asked for: further from each than a hundredth of it.
pub fn points_not_asked(checked: &GaugeChecked, gauge: &Gauge) -> Vec<f64> {
    let asked = torque_points(gauge);
    let is_asked = |nominal: f64| asked.iter().any(|at| (nominal - at).abs() <= 0.01 * at);
    let torque = matches!(checked.check, CheckedAs::Torque { .. });
    let points = checked.points.iter().map(|p| p.nominal);
    points
        .filter(|nominal| torque && !is_asked(*nominal))
        .collect()
}

fn row_refused(row: &CheckRowIn) -> Refusals {
    let message = Message::new("refuse-check-unreckoned").with("row", row.row + 1);
    vec![refuse(nth("nominal", row.row), message)]
}

fn set_of(gauge: &Gauge, reference_expanded_pct: f64, limit_pct: f64) -> force_check::Set {
    force_check::Set {
        reference_expanded_pct,
        resolution: gauge.resolution,
        limit_pct,
        rule: Rule::Guarded,
    }
}

fn force(input: &CheckIn, set: &force_check::Set) -> Result<Vec<CheckPoint>, Refusals> {
    if !(0.01..=20.0).contains(&set.limit_pct) {
        let message = Message::new("refuse-check-limit").number("value", set.limit_pct, 2);
        return Err(vec![refuse("limit", message)]);
    }
    reference_doubt(set.reference_expanded_pct)?;
    let point = |row: &CheckRowIn| {
        let readings: Vec<f64> = row.readings.iter().map(|(_, value)| *value).collect();
        let at = force_check::Point {
            reference: row.nominal,
            readings,
        };
        let checked = force_check::check(&at, set).map_err(|_| row_refused(row))?;
        Ok(CheckPoint {
            nominal: at.reference,
            readings: at.readings,
            limit_pct: set.limit_pct,
            deviation_pct: checked.deviation_pct,
            outcome: checked.verdict.into(),
        })
    };
    input.rows.iter().map(point).collect()
}

/// A force check as reckoned: its points as the reckoning takes them, what each shows, and what it was held to.
/// `None` for a torque wrench.
pub fn reckoned_force(
    checked: &GaugeChecked,
    gauge: &Gauge,
) -> Option<(
    Vec<force_check::Point>,
    Vec<force_check::Checked>,
    force_check::Set,
)> {
    let CheckedAs::Force {
        reference_expanded_pct,
    } = checked.check
    else {
        return None;
    };
    let limit = checked.points.first()?.limit_pct;
    let set = set_of(gauge, reference_expanded_pct, limit);
    let points = checked.points.iter().map(|p| force_check::Point {
        reference: p.nominal,
        readings: p.readings.clone(),
    });
    let points: Vec<force_check::Point> = points.collect();
    let shown: Result<Vec<_>, _> = points.iter().map(|p| force_check::check(p, &set)).collect();
    Some((points, shown.ok()?, set))
}
