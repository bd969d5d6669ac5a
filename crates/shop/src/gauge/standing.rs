//! Whether a gauge may be used on a day, and what says so.

use jiff::civil::Date;

use crate::entry::{GaugeCalibrated, WrenchWay};
use crate::sheet::{Gauge, Kind, Shelf};

/// What can be said of a gauge on a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// Calibrated, in date, not failed.
    InDate,
    /// Past its date, or before it.
    OutOfDate,
    /// Left outside its limits by a calibration, or failed at a check, and not known to be good since.
    Failed,
}

/// How a gauge stands on a day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing<'a> {
    /// The calibration on the record; `None` where the sheet alone speaks.
    pub calibration: Option<&'a GaugeCalibrated>,
    /// Day of its calibration.
    pub calibrated: Date,
    /// First day on which it is no longer in date.
    pub due: Date,
    /// May it be used?
    pub state: State,
}

impl Standing<'_> {
    /// Whether readings taken with it that day are evidence.
    pub fn is_in_date(&self) -> bool {
        self.state == State::InDate
    }
}

impl Shelf {
    /// How `gauge` stands on `day`, turned in `way` where it turns.
    pub fn standing<'a>(
        &'a self,
        gauge: &Gauge,
        day: Date,
        way: Option<WrenchWay>,
    ) -> Standing<'a> {
        let history = self.gauge_history(&gauge.id);
        let calibration = history.and_then(|h| h.in_force(gauge, day, way));
        let (calibrated, due) = match calibration {
            Some(c) => (c.date, c.due),
            None => (gauge.calibrated, gauge.due),
        };
        let state = if history.is_some_and(|h| h.is_failed(gauge, day, way)) {
            State::Failed
        } else if calibrated <= day && day < due {
            State::InDate
        } else {
            State::OutOfDate
        };
        Standing {
            calibration,
            calibrated,
            due,
            state,
        }
    }

    /// Whether `gauge` may be used on `day`.
    pub fn is_in_date(&self, gauge: &Gauge, day: Date) -> bool {
        self.standing(gauge, day, None).is_in_date()
    }

    /// Whether a torque wrench is calibrated for `way`: by its sheet, or by a calibration on the record.
    pub fn turns(&self, gauge: &Gauge, day: Date, way: crate::sheet::Direction) -> bool {
        let of_record = self.gauge_history(&gauge.id).and_then(|h| {
            let way = WrenchWay::from(way);
            h.in_force(gauge, day, Some(way))
                .filter(|c| c.ways.contains(&way))
        });
        gauge.directions.contains(&way) || of_record.is_some()
    }

    /// Expanded uncertainty of `gauge` on `day`, k = 2, in its unit: the largest of the calibration that stands for it,
    /// else the sheet's.
    pub fn expanded(&self, gauge: &Gauge, day: Date) -> f64 {
        let calibration = self.standing(gauge, day, None).calibration;
        calibration.map_or(gauge.expanded, GaugeCalibrated::widest)
    }

    /// The sheet in force of the gauge with this id.
    pub fn gauge_in_force(&self, id: &str) -> Option<&Gauge> {
        self.gauge(&self.newest(Kind::Gauge, id)?)
    }
}
