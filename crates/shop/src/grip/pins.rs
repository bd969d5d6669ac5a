//! Measured pins as the calculation takes them.

use calc::repeated::GaugeDoubt;
use calc::stack::{Grip, Thickness};
use calc::stick_out_causes::Measured;

use super::suits::grips;
use crate::entry::{Reading, StackRead, StickOutRead};
use crate::job::{Desk, SetUpSheets};

/// Pins as they were measured.
#[derive(Clone, Debug, PartialEq)]
pub struct PinsRead {
    /// Stick-out of each, mm.
    pub values_mm: Vec<f64>,
    /// What the gauge adds to their doubt, mm.
    pub gauge: GaugeDoubt,
    /// Whether the sheets were clamped tight.
    pub clamped: bool,
}

impl PinsRead {
    /// Those of a stick-out in the record over `stack`; `None` without readings or gauge.
    pub fn of(read: &StickOutRead, stack: Option<&StackRead>, desk: &Desk) -> Option<Self> {
        Some(Self {
            clamped: read.clamped || stack.is_some_and(|stack| stack.clamped),
            ..Self::by(&read.readings, desk)?
        })
    }

    /// `readings`, of which nobody said whether the sheets were clamped.
    pub(super) fn by(readings: &[Reading], desk: &Desk) -> Option<Self> {
        Some(Self {
            values_mm: readings.iter().map(|r| r.value).collect(),
            gauge: desk.doubt_of(readings.first()?)?,
            clamped: false,
        })
    }
}

/// What [`Measured`] borrows.
pub(super) struct Pins<'a> {
    read: &'a PinsRead,
    grips: Vec<Grip>,
    gauge_mm: f64,
    code: usize,
    band_mm: (f64, f64),
    stack: Option<Thickness>,
}

impl<'a> Pins<'a> {
    /// `None` where stick-out says nothing of this fastener.
    pub(super) fn of(
        sheets: &SetUpSheets,
        read: &'a PinsRead,
        stack: Option<&StackRead>,
    ) -> Option<Self> {
        let (fastener, gauge) = (sheets.fastener, read.gauge);
        let band = fastener.stick_out_mm?;
        Some(Self {
            read,
            grips: grips(fastener),
            // Half of the certificate's, and a half step as everywhere (JCGM 100, F.2.2.1).
            gauge_mm: (gauge.expanded / 2.0).hypot(gauge.resolution / 12.0_f64.sqrt()),
            code: fastener.codes.iter().position(|c| Some(c) == sheets.code)?,
            band_mm: band.lower().zip(band.upper())?,
            stack: stack.and_then(super::thickness),
        })
    }

    /// What was measured.
    pub(super) fn measured(&self) -> Measured<'_> {
        Measured {
            readings_mm: &self.read.values_mm,
            gauge_mm: self.gauge_mm,
            grips: &self.grips,
            code: self.code,
            band_mm: self.band_mm,
            stack: self.stack,
            clamped: self.read.clamped,
        }
    }
}

/// The pin, from 1, that lies furthest from the mean of the others, and how far it lies off; `None`
/// for fewer than three, which cannot say which of them is right.
pub fn odd_pin(readings: &[f64]) -> Option<(usize, f64)> {
    let n = readings.len();
    if n < 3 {
        return None;
    }
    let sum: f64 = readings.iter().sum();
    let off = |x: f64| x - (sum - x) / (n as f64 - 1.0);
    let all = readings.iter().map(|x| off(*x)).enumerate();
    let odd = all.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
    odd.map(|(i, off)| (i + 1, off))
}
