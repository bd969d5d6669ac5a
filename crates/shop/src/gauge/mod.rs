//! Gauges in the shop: what was written down of each, what that makes of its readings, and which readings fall with
//! it when it fails.
//!
//! A gauge is described by its sheet. Where a calibration is on the record it speaks for the gauge instead: its points
//! correct readings ([`curve`]), its date and interval say until when. Without one the sheet's values stand.

mod calibrate;
mod check;
pub mod curve;
mod decide;
mod drift;
mod failures;
mod history;
mod standing;
mod study;
mod touched;
mod would_stand;

use uuid::Uuid;

pub use calibrate::{CalibrationIn, Given, RowIn};
pub use check::{
    CheckIn, CheckRowIn, READINGS_EACH, force_points, is_tester_coarse, points_not_asked,
    reckoned_force, torque_points,
};
pub use decide::{GaugeCommand, decide};
pub use failures::Failure;
pub use history::{History, Noted, Written};
pub use standing::{Standing, State};
pub use study::{Reckoned, StudyIn, reckon, verdict_on_share};
pub use touched::{Doubt, Taken, Use, What};
pub use would_stand::Stands;

use crate::entry::WrenchWay;
use crate::sheet::Direction;

impl From<Direction> for WrenchWay {
    fn from(way: Direction) -> Self {
        match way {
            Direction::Clockwise => Self::Clockwise,
            Direction::CounterClockwise => Self::CounterClockwise,
        }
    }
}

/// Begins the subjects of gauges.
const GAUGE: u128 = 0x5e7_0000_0000_4000_8000_0000_0000_0003;

/// The subject of the gauge with this id: the same wherever a record is read (FNV-1a of the id, 128 bits).
pub fn subject_of(id: &str) -> Uuid {
    const START: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
    const PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013b;
    let hash = id.bytes().fold(START, |hash, byte| {
        (hash ^ u128::from(byte)).wrapping_mul(PRIME)
    });
    Uuid::from_u128(hash ^ GAUGE)
}
