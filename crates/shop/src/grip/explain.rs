//! What explains a stick-out, with what speaks for it and the check that tells rivals apart.

use calc::stick_out_causes::{self, Cause, Difference, Measured, difference, weigh};
use calc::working::Working;
use calc::{Message, stack};

use super::checks::{Check, telling};
use super::pins::{Pins, PinsRead};
use crate::entry::StackRead;
use crate::job::SetUpSheets;
use crate::sheet::{FastenerFamily, GripCode};

/// An explanation below this probability is not worth a line.
const WORTH_A_LINE: f64 = 0.01;
/// Lines shown at most.
const MOST_LINES: usize = 4;

/// An explanation.
#[derive(Clone, Debug, PartialEq)]
pub struct Explanation {
    /// The cause.
    pub cause: Cause,
    /// Its probability.
    pub probability: f64,
    /// Its name.
    pub name: Message,
    /// What it would do to the reading.
    pub evidence: Message,
}

/// The explanations of a stick-out.
#[derive(Clone, Debug, PartialEq)]
pub struct Explained {
    /// Those worth a line, the most likely first.
    pub ranked: Vec<Explanation>,
    /// Probability of all others together.
    pub others: f64,
    /// The check that tells most.
    pub check: Check,
    /// How the stick-out lies to the stack, where that is known.
    pub difference: Option<Difference>,
    /// How the probabilities come about.
    pub working: Working,
}

/// What explains the pins `read` with the fastener and code of `sheets`, over `stack` where it is known.
/// `None` where stick-out says nothing of this fastener, or the readings cannot be weighed.
pub fn explanations(
    sheets: &SetUpSheets,
    read: &PinsRead,
    stack: Option<&StackRead>,
) -> Option<Explained> {
    let fastener = sheets.fastener;
    let pins = Pins::of(sheets, read, stack)?;
    let measured = pins.measured();
    let weighed = weigh(&measured).ok()?;
    let ranked: Vec<Explanation> = weighed
        .iter()
        .filter(|w| w.probability >= WORTH_A_LINE)
        .take(MOST_LINES)
        .map(|w| Explanation {
            cause: w.cause,
            probability: w.probability,
            name: w.cause.said(),
            evidence: evidence(w.cause, fastener, &measured),
        })
        .collect();
    let shown: f64 = ranked.iter().map(|e| e.probability).sum();
    Some(Explained {
        others: (1.0 - shown).max(0.0),
        check: telling(&weighed, measured.stack.is_some()),
        difference: difference(&measured).ok()?,
        working: stick_out_causes::working(&measured).ok()?,
        ranked,
    })
}

fn evidence(cause: Cause, fastener: &FastenerFamily, m: &Measured) -> Message {
    let beside = |steps: i32| -> Option<&GripCode> {
        let at = i32::try_from(m.code).ok()?.checked_add(steps)?;
        fastener.codes.get(usize::try_from(at).ok()?)
    };
    let named = |id, code: &GripCode| {
        Message::new(id)
            .with("code", code.code.as_str())
            .number("min", code.min_mm, 1)
            .number("max", code.max_mm, 1)
    };
    let behind = stick_out_causes::stack_behind(m);
    let behind = behind.map_or(0.0, |t: stack::Thickness| t.value_mm);
    match cause {
        Cause::AsItShould => Message::new("grip-evidence-as-it-should"),
        Cause::NotClamped => Message::new("grip-evidence-not-clamped"),
        Cause::HeadNotSeated => Message::new("grip-evidence-head"),
        Cause::RodAside => Message::new("grip-evidence-rod"),
        Cause::LeftOn => Message::new("grip-evidence-left-on"),
        Cause::LayerMissing => Message::new("grip-evidence-missing"),
        Cause::WrongPin(steps) => match beside(steps) {
            Some(code) => named("grip-evidence-pin", code),
            None => Message::new("grip-evidence-other"),
        },
        Cause::WrongCode(steps) => match (beside(-steps), m.stack) {
            (Some(code), Some(_)) => named("grip-evidence-code", code),
            (Some(code), None) => named("grip-evidence-code-or-pin", code),
            (None, _) => match beside(steps) {
                Some(code) => named("grip-evidence-pin", code),
                None => Message::new("grip-evidence-other"),
            },
        },
        Cause::MixedCarton => Message::new("grip-evidence-mixed"),
        Cause::StackDiffers => Message::new("grip-evidence-stack").number("mm", behind, 1),
        Cause::Other => Message::new("grip-evidence-other"),
    }
}
