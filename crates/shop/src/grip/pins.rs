//! Measured pins as the calculation takes them.

use calc::stack::{Grip, Thickness};
use calc::stick_out_causes::Measured;

use super::suits::grips;
use crate::entry::{Reading, StackRead};
use crate::job::{Desk, SetUpSheets};

/// What [`Measured`] borrows.
pub(super) struct Pins {
    values: Vec<f64>,
    grips: Vec<Grip>,
    gauge_mm: f64,
    code: usize,
    band_mm: (f64, f64),
    stack: Option<Thickness>,
    clamped: bool,
}

impl Pins {
    /// `None` where stick-out says nothing of this fastener.
    pub(super) fn of(
        sheets: &SetUpSheets,
        readings: &[Reading],
        stack: Option<&StackRead>,
        desk: &Desk,
    ) -> Option<Self> {
        let fastener = sheets.fastener;
        let doubt = desk.doubt_of(readings.first()?)?;
        let band = fastener.stick_out_mm?;
        Some(Self {
            values: readings.iter().map(|r| r.value).collect(),
            grips: grips(fastener),
            // Half of the certificate's, and a half step as everywhere (JCGM 100, F.2.2.1).
            gauge_mm: (doubt.expanded / 2.0).hypot(doubt.resolution / 12.0_f64.sqrt()),
            code: fastener.codes.iter().position(|c| Some(c) == sheets.code)?,
            band_mm: band.lower().zip(band.upper())?,
            stack: stack.and_then(super::thickness),
            clamped: stack.is_some_and(|s| s.clamped),
        })
    }

    /// What was measured.
    pub(super) fn measured(&self) -> Measured<'_> {
        Measured {
            readings_mm: &self.values,
            gauge_mm: self.gauge_mm,
            grips: &self.grips,
            code: self.code,
            band_mm: self.band_mm,
            stack: self.stack,
            clamped: self.clamped,
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
