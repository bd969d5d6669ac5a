//! What a setting is asked with, pins or a wanted stroke, and what is refused before it is read. Bench and
//! work place ask alike.

use calc::Message;

use crate::inches::{self, EXACT, STICK_OUT};
use crate::job::{Refusal, Refusals, TypedValue, refuse};
use crate::sheet::{FastenerFamily, ToolModel};

/// Fewest pins that a setting rests on: one says nothing of how far pins differ, and that is most of the
/// doubt.
pub const FEWEST_PINS: usize = 2;

/// What stands in the way of a setting by the stick-outs `pins`, mm, of `fastener`: none or one alone,
/// inches, sheets that were not clamped. The gauge is another matter.
pub fn pins_refused(fastener: &FastenerFamily, pins: &[TypedValue], clamped: bool) -> Refusals {
    let too_few = match pins.len() {
        0 => Some("refuse-no-stick-out"),
        n if n < FEWEST_PINS => Some("refuse-one-pin"),
        _ => None,
    };
    let band = fastener.stick_out_mm;
    let in_inches = band.map(|band| {
        pins.iter()
            .filter_map(move |pin| inches::refused(pin, &band, STICK_OUT))
    });
    let loose = || refuse("clamped", Message::new("refuse-not-clamped"));
    let few = too_few.map(|id| refuse("reading", Message::new(id)));
    let each = in_inches.into_iter().flatten().chain(few);
    each.chain((!clamped).then(loose)).collect()
}

/// What stands in the way of the wanted `stroke`, mm: inches, or more or less than `fastener` allows.
pub fn stroke_refused(
    model: &ToolModel,
    fastener: &FastenerFamily,
    stroke: &TypedValue,
) -> Option<Refusal> {
    let limits = fastener.stroke_mm?;
    let lower = limits.lower().unwrap_or(0.0);
    let upper = limits.upper().unwrap_or(model.stroke_mm);
    if (lower..=upper).contains(&stroke.value) {
        return None;
    }
    let range = Message::new("refuse-stroke-range")
        .number("value", stroke.value, 2)
        .number("min", lower, 2)
        .number("max", upper, 2);
    let in_inches = inches::refused(stroke, &limits, EXACT);
    Some(in_inches.unwrap_or_else(|| refuse(&stroke.field, range)))
}
