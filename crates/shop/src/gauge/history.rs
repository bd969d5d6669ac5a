//! Everything written down of one gauge, in order.

use jiff::civil::Date;

use crate::entry::{Body, GaugeCalibrated, GaugeChecked, GaugeStudied, WrenchWay};
use crate::sheet::Gauge;

/// What was written of a gauge under a number.
#[derive(Clone, Debug, PartialEq)]
pub enum Written {
    /// A calibration.
    Calibrated(GaugeCalibrated),
    /// A check against a reference.
    Checked(GaugeChecked),
    /// A study of repeatability and reproducibility.
    Studied(GaugeStudied),
}

/// One line of a gauge's history.
#[derive(Clone, Debug, PartialEq)]
pub struct Noted {
    /// What.
    pub what: Written,
    /// Why it counts no more; `None` while it does.
    pub struck: Option<String>,
}

impl Noted {
    /// Number at the gauge.
    pub fn number(&self) -> u32 {
        match &self.what {
            Written::Calibrated(c) => c.number,
            Written::Checked(c) => c.number,
            Written::Studied(s) => s.number,
        }
    }

    /// Its day.
    pub fn date(&self) -> Date {
        match &self.what {
            Written::Calibrated(c) => c.date,
            Written::Checked(c) => c.date,
            Written::Studied(s) => s.date,
        }
    }
}

/// The history of one gauge.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    lines: Vec<Noted>,
}

impl History {
    /// Adds what `body` says of the gauge; `false` if its number is not the next, or strikes nothing.
    pub fn put(&mut self, body: &Body) -> bool {
        let what = match body {
            Body::GaugeCalibrated(c) => Written::Calibrated(c.clone()),
            Body::GaugeChecked(c) => Written::Checked(c.clone()),
            Body::GaugeStudied(s) => Written::Studied(s.clone()),
            Body::GaugeStruck(struck) => {
                let line = self.lines.iter_mut().find(|l| l.number() == struck.number);
                let Some(line) = line else { return false };
                line.struck = Some(struck.reason.clone());
                return true;
            }
            _ => return true,
        };
        let line = Noted { what, struck: None };
        if line.number() != self.next_number() {
            return false;
        }
        self.lines.push(line);
        true
    }

    /// The number of what is written next.
    pub fn next_number(&self) -> u32 {
        self.lines.len() as u32 + 1
    }

    /// Every line, oldest entry first.
    pub fn lines(&self) -> &[Noted] {
        &self.lines
    }

    /// What stands under `number`, struck or not.
    pub fn line(&self, number: u32) -> Option<&Noted> {
        self.lines.iter().find(|line| line.number() == number)
    }

    /// The calibration with this number, struck or not: readings keep the one that they were taken with.
    pub fn calibration(&self, number: u32) -> Option<&GaugeCalibrated> {
        match &self.line(number)?.what {
            Written::Calibrated(c) => Some(c),
            _ => None,
        }
    }

    /// The lines that count, by day, then as they were written.
    pub fn counting(&self) -> Vec<&Noted> {
        let counts = self.lines.iter().filter(|line| line.struck.is_none());
        let mut counting: Vec<&Noted> = counts.collect();
        counting.sort_by_key(|line| (line.date(), line.number()));
        counting
    }

    /// The calibration that stands for `sheet` on `day`: the newest until then that holds for `way` (any, if `None`),
    /// unless the sheet itself is newer.
    pub fn in_force(
        &self,
        sheet: &Gauge,
        day: Date,
        way: Option<WrenchWay>,
    ) -> Option<&GaugeCalibrated> {
        let calibrations = self
            .counting()
            .into_iter()
            .filter_map(|line| match &line.what {
                Written::Calibrated(c) => Some(c),
                _ => None,
            });
        calibrations
            .filter(|c| c.date <= day && c.date >= sheet.calibrated)
            .rfind(|c| way.is_none_or(|way| c.ways.is_empty() || c.ways.contains(&way)))
    }
}

impl GaugeChecked {
    /// The direction that was checked, of a torque wrench.
    pub fn way(&self) -> Option<WrenchWay> {
        match self.check {
            crate::entry::CheckedAs::Torque { way, .. } => Some(way),
            crate::entry::CheckedAs::Force { .. } => None,
        }
    }
}
