//! What a decision stands on besides the job: the sheets, the day, who decides.

use calc::Message;
use calc::repeated::{self, Estimate, GaugeDoubt};
use calc::units::Unit;
use jiff::Timestamp;
use jiff::civil::Date;

use super::refusal::{Refusal, refuse};
use crate::entry::{PinRecord, Reading};
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
    /// Readings of `measured` in `unit`, taken with a gauge of one of `kinds` (any, if empty).
    ///
    /// # Errors
    /// A gauge that is not on the shelf, of the wrong kind or dimension, or whose range the value
    /// exceeds. A gauge out of calibration is no error: the reading is kept and is not evidence.
    pub fn readings(
        &self,
        measured: &Measured,
        unit: Unit,
        kinds: &[GaugeKind],
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
        let taken = measured.values.iter().map(|typed| {
            let mut reading = Reading {
                value: typed.value,
                unit: unit.symbol().to_owned(),
                raw: typed.raw.clone(),
                gauge: PinRecord::from(&pin),
                expanded: None,
                in_date: gauge.in_date(self.today),
            };
            let alone = self.mean_of(std::slice::from_ref(&reading));
            reading.expanded = alone.map(|mean| mean.expanded);
            reading
        });
        Ok(taken.collect())
    }

    /// The gauge of a reading, in the revision that took it.
    pub fn gauge_of(&self, reading: &Reading) -> Option<&Gauge> {
        self.shelf.gauge(&(&reading.gauge).into())
    }

    /// What the gauge of `reading` adds to its doubt, in the reading's unit.
    pub fn doubt_of(&self, reading: &Reading) -> Option<GaugeDoubt> {
        let gauge = self.gauge_of(reading)?;
        let unit = Unit::parse(&reading.unit)?;
        let doubt = gauge.doubt();
        Some(GaugeDoubt {
            expanded: gauge.unit.convert(doubt.expanded, unit)?,
            resolution: gauge.unit.convert(doubt.resolution, unit)?,
        })
    }

    /// The mean of readings by one gauge, with its uncertainty; `None` without readings or gauge.
    pub fn mean_of(&self, readings: &[Reading]) -> Option<Estimate> {
        let doubt = self.doubt_of(readings.first()?)?;
        let values: Vec<f64> = readings.iter().map(|r| r.value).collect();
        repeated::mean(&values, doubt).ok()
    }
}

/// Whether all of `readings` come from gauges in date.
pub fn all_in_date(readings: &[Reading]) -> bool {
    readings.iter().all(|r| r.in_date)
}
