//! What a decision stands on besides the job: the sheets, the day, who decides.

use std::f64::consts::SQRT_2;

use calc::Message;
use calc::gauge_correction::{self, Corrected};
use calc::repeated::{self, Estimate, GaugeDoubt};
use calc::uncertainty_budget::Budget;
use calc::units::Unit;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use super::refusal::{Refusal, refuse};
use crate::entry::{CalibrationUsed, GaugeCalibrated, PinRecord, Reading, WrenchWay};
use crate::gauge::curve;
use crate::sheet::{FaultModel, Gauge, GaugeKind, Kind, Shelf};

/// Sheets, time and day.
#[derive(Clone, Copy, Debug)]
pub struct Desk<'a> {
    /// Every sheet revision.
    pub shelf: &'a Shelf,
    /// Now.
    pub now: Timestamp,
    /// Today where the shop is.
    pub today: Date,
    /// Time zone of the shop: on which day something was written.
    pub zone: &'a TimeZone,
    /// Fault model of the job in hand with the shop's own counts in it; `None` where nothing was learned.
    pub learned: Option<&'a FaultModel>,
    /// How likely parts of the tool in hand are beyond their limits, by id of the cause that this would be.
    pub worn: &'a [(String, f64)],
}

/// A number as typed into a field.
#[derive(Clone, Debug, PartialEq)]
pub struct TypedValue {
    /// Name of the form field.
    pub field: String,
    /// What was typed or sent by the gauge.
    pub raw: String,
    /// What it reads as, in the unit that the field asks for.
    pub value: f64,
}

/// Values typed from one gauge.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// Gauge sheet id.
    pub gauge: String,
    /// Name of the gauge field.
    pub gauge_field: String,
    /// The values.
    pub values: Vec<TypedValue>,
}

impl Desk<'_> {
    /// The day of `at` where the shop is.
    pub fn day_of(&self, at: Timestamp) -> Date {
        at.to_zoned_datetime(self.zone.clone()).date()
    }

    /// Readings of `measured` in `unit`, taken with a gauge of one of `kinds` (any, if empty).
    ///
    /// # Errors
    /// A gauge that is not on the shelf, of the wrong kind or dimension, or whose range the value
    /// exceeds. A gauge out of calibration is no error: the reading is kept and is not evidence. So is one
    /// outside the points of a calibration on the record; among them it is corrected.
    pub fn readings(
        &self,
        measured: &Measured,
        unit: Unit,
        kinds: &[GaugeKind],
    ) -> Result<Vec<Reading>, Vec<Refusal>> {
        self.readings_turned(measured, unit, kinds, None)
    }

    /// As [`Desk::readings`], of a torque wrench turned in `way`: each direction has its own calibration.
    ///
    /// # Errors
    /// As [`Desk::readings`].
    pub fn readings_turned(
        &self,
        measured: &Measured,
        unit: Unit,
        kinds: &[GaugeKind],
        way: Option<WrenchWay>,
    ) -> Result<Vec<Reading>, Vec<Refusal>> {
        let at_gauge = |message| vec![refuse(&measured.gauge_field, message)];
        if measured.gauge.is_empty() {
            return Err(at_gauge(Message::new("gauge-pick")));
        }
        let Some(pin) = self.shelf.newest(Kind::Gauge, &measured.gauge) else {
            let message = Message::new("gauge-unknown").with("gauge", measured.gauge.as_str());
            return Err(at_gauge(message));
        };
        let Some(gauge) = self.shelf.gauge(&pin) else {
            let message = Message::new("gauge-unknown").with("gauge", measured.gauge.as_str());
            return Err(at_gauge(message));
        };
        let reach = |value| gauge.unit.convert(value, unit);
        let (true, Some(min), Some(max)) = (
            kinds.is_empty() || kinds.contains(&gauge.kind),
            reach(gauge.range.0),
            reach(gauge.range.1),
        ) else {
            let message = Message::new("gauge-wrong-kind")
                .with("gauge", gauge.name.as_str())
                .with("unit", unit.symbol());
            return Err(at_gauge(message));
        };
        let decimals = gauge.decimals();
        let beyond: Vec<Refusal> = measured
            .values
            .iter()
            .filter(|typed| !(min..=max).contains(&typed.value))
            .map(|typed| {
                let message = Message::new("gauge-out-of-range")
                    .with("gauge", gauge.name.as_str())
                    .with("unit", unit.symbol())
                    .number("value", typed.value, decimals)
                    .number("min", min, decimals)
                    .number("max", max, decimals);
                refuse(&typed.field, message)
            })
            .collect();
        if !beyond.is_empty() {
            return Err(beyond);
        }
        let standing = self.shelf.standing(gauge, self.today, way);
        let taken = measured.values.iter().map(|typed| {
            let used = standing
                .calibration
                .map(|c| c.used(gauge, unit, typed.value));
            let (value, calibration) = used.map_or((typed.value, None), |(v, c)| (v, Some(c)));
            let mut reading = Reading {
                value,
                unit: unit.symbol().to_owned(),
                raw: typed.raw.clone(),
                gauge: PinRecord::from(&pin),
                expanded: None,
                in_date: standing.is_in_date(),
                calibration,
                way,
                difference: false,
                from_rest: false,
                beyond: false,
            };
            let alone = self.mean_of(std::slice::from_ref(&reading));
            reading.expanded = alone.map(|mean| mean.expanded);
            reading
        });
        Ok(taken.collect())
    }

    /// `readings` that are differences of two: of what was indicated nothing is taken off.
    pub(super) fn as_differences(&self, readings: Vec<Reading>) -> Vec<Reading> {
        let difference = |reading: Reading| {
            let calibration = reading.calibration.map(|used| CalibrationUsed {
                deviation: None,
                ..used
            });
            let mut difference = Reading {
                value: reading.indicated(),
                expanded: None,
                calibration,
                difference: true,
                ..reading
            };
            let alone = self.mean_of(std::slice::from_ref(&difference));
            difference.expanded = alone.map(|mean| mean.expanded);
            difference
        };
        readings.into_iter().map(difference).collect()
    }

    /// The gauge of a reading, in the revision that took it.
    pub fn gauge_of(&self, reading: &Reading) -> Option<&Gauge> {
        self.shelf.gauge(&(&reading.gauge).into())
    }

    /// The calibration that corrected a reading.
    pub fn calibration_of(&self, reading: &Reading) -> Option<&GaugeCalibrated> {
        let used = reading
            .calibration
            .filter(|used| used.deviation.is_some())?;
        let history = self.shelf.gauge_history(&reading.gauge.id)?;
        history.calibration(used.number)
    }

    /// Readings of one value as their gauge's calibration corrects them, with the budget of their mean; `None` where
    /// none of them was corrected, or not all by the same calibration.
    pub fn corrected(&self, readings: &[Reading]) -> Option<Corrected> {
        let first = readings.first()?;
        let calibration = self.calibration_of(first)?;
        let same = |r: &Reading| {
            let used = r.calibration.filter(|used| used.deviation.is_some());
            r.gauge == first.gauge && used.is_some_and(|used| used.number == calibration.number)
        };
        let indicated: Vec<f64> = readings.iter().map(Reading::indicated).collect();
        let unit = Unit::parse(&first.unit)?;
        let corrected = readings.iter().all(same);
        corrected.then(|| calibration.correct(self.gauge_of(first)?, unit, &indicated))?
    }

    /// What the gauge of `reading` adds to its doubt, in the reading's unit.
    pub fn doubt_of(&self, reading: &Reading) -> Option<GaugeDoubt> {
        let gauge = self.gauge_of(reading)?;
        let unit = Unit::parse(&reading.unit)?;
        if let Some(corrected) = self.corrected(std::slice::from_ref(reading)) {
            let resolution = gauge.unit.convert(gauge.resolution, unit)?;
            return Some(curve::doubt(&corrected, resolution));
        }
        let doubt = gauge.doubt();
        if reading.difference {
            // Once known it stands with the reading: of a recorded pull it is that of the recording.
            if let Some(expanded) = reading.expanded {
                return Some(GaugeDoubt {
                    expanded,
                    resolution: 0.0,
                });
            }
            // The part of it that both readings share cancels; how much that is nobody says, so all of it counts.
            let history = self.shelf.gauge_history(&reading.gauge.id);
            let used = reading
                .calibration
                .and_then(|used| history?.calibration(used.number));
            let of_one = used.map_or(doubt.expanded, GaugeCalibrated::widest);
            return Some(GaugeDoubt {
                expanded: SQRT_2 * gauge.unit.convert(of_one, unit)?,
                resolution: SQRT_2 * gauge.unit.convert(doubt.resolution, unit)?,
            });
        }
        Some(GaugeDoubt {
            expanded: gauge.unit.convert(doubt.expanded, unit)?,
            resolution: gauge.unit.convert(doubt.resolution, unit)?,
        })
    }

    /// The uncertainty budget of the mean of readings by one gauge: by the calibration that corrected them, else by the gauge's sheet.
    pub fn budget_of(&self, readings: &[Reading]) -> Option<Budget> {
        let first = readings.first()?;
        let unit = Unit::parse(&first.unit)?;
        if let Some(corrected) = self.corrected(readings) {
            return Some(gauge_correction::budget(&corrected, unit));
        }
        let values: Vec<f64> = readings.iter().map(|r| r.value).collect();
        repeated::budget(&values, self.doubt_of(first)?, unit).ok()
    }

    /// The mean of readings by one gauge, with its uncertainty; `None` without readings or gauge. Where a calibration
    /// corrected them, the mean of what was indicated is corrected, and its budget gives the uncertainty.
    pub fn mean_of(&self, readings: &[Reading]) -> Option<Estimate> {
        if let Some(corrected) = self.corrected(readings) {
            return Some(Estimate {
                value: corrected.value,
                standard: corrected.budget.standard,
                dof: corrected.budget.dof,
                expanded: corrected.budget.expanded,
                // The budget begins with the readings: s / √n.
                spread: corrected
                    .budget
                    .contributions
                    .first()
                    .copied()
                    .unwrap_or(0.0)
                    * (corrected.count as f64).sqrt(),
            });
        }
        let doubt = self.doubt_of(readings.first()?)?;
        let values: Vec<f64> = readings.iter().map(|r| r.value).collect();
        repeated::mean(&values, doubt).ok()
    }
}

/// Whether all of `readings` are evidence: from gauges in date, and among the points of their calibration.
pub fn all_in_date(readings: &[Reading]) -> bool {
    readings.iter().all(Reading::is_evidence)
}
