//! By what the gauges behind pulls are known: what they are wrong by is the same in two recordings only where that is.

use super::gauges_of;
use crate::entry::{PinRecord, PullsRead};
use crate::job::Desk;
use crate::sheet::Rig;

/// By what a gauge is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KnownBy {
    /// The calibration on the record with this number.
    Calibration(u32),
    /// This revision of its sheet.
    Sheet(u32),
}

impl KnownBy {
    fn new(pin: &PinRecord, calibration: Option<u32>) -> Self {
        calibration.map_or(Self::Sheet(pin.revision), Self::Calibration)
    }
}

/// By what the gauges of `read` were known, load cell first.
pub fn known_by(read: &PullsRead) -> Vec<KnownBy> {
    let one = |pin: &PinRecord| KnownBy::new(pin, read.corrected_by(&pin.id));
    read.gauges.iter().map(one).collect()
}

/// By what those of `rig` are known on the day of `desk`, load cell first.
pub fn known_now(rig: &Rig, desk: &Desk) -> Vec<KnownBy> {
    let gauges = gauges_of(rig, desk).into_iter();
    let one = |(pin, gauge): (PinRecord, _)| {
        let calibration = desk.shelf.standing(gauge, desk.today, None).calibration;
        KnownBy::new(&pin, calibration.map(|c| c.number))
    };
    gauges.map(one).collect()
}
