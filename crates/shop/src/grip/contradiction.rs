//! Stick-out and stack held against each other.

use calc::stick_out_causes::{Difference, difference};

use super::pins::{Pins, PinsRead};
use crate::entry::{Reading, StackRead, StickOutRead};
use crate::job::{Desk, SetUpSheets};

/// How far the stick-out lies off the stack, where that is more than both allow: then one of them is
/// wrong, and no setting follows although the stick-out may lie in the band.
pub fn contradiction(
    sheets: &SetUpSheets,
    readings: &[Reading],
    stack: Option<&StackRead>,
    desk: &Desk,
) -> Option<Difference> {
    let read = PinsRead::by(readings, desk)?;
    let pins = Pins::of(sheets, &read, stack)?;
    let found = difference(&pins.measured()).ok()??;
    found.contradicts().then_some(found)
}

/// A stick-out from which no setting follows.
pub(crate) fn without_setting(read: StickOutRead) -> StickOutRead {
    StickOutRead {
        own: None,
        turns: None,
        set_turns: None,
        expanded_turns: None,
        in_band: false,
        ..read
    }
}
