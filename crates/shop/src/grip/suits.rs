//! The grip code that a stack asks for.

use calc::Message;
use calc::stack::{Choice, Grip, Grips, Outside, SURE, Thickness, choose};

use crate::entry::StackRead;
use crate::grip::StackIn;
use crate::job::{Desk, Refusals, refuse};
use crate::sheet::{FastenerFamily, GripCode};

/// What the stack says of the family's codes.
#[derive(Clone, Debug, PartialEq)]
pub enum Suits<'a> {
    /// This code, with its probability.
    Code(&'a GripCode, f64),
    /// So near an end that it may be another, or none: the likeliest, and the next.
    Undecided((&'a GripCode, f64), Option<(&'a GripCode, f64)>),
    /// None; the nearest.
    NoCode(Outside, &'a GripCode),
}

/// The grips of a family as the calculation takes them.
pub(super) fn grips(fastener: &FastenerFamily) -> Vec<Grip> {
    let grip = |c: &GripCode| Grip {
        min_mm: c.min_mm,
        max_mm: c.max_mm,
    };
    fastener.codes.iter().map(grip).collect()
}

/// Holds a stack against the codes of `fastener`.
pub fn code_for_stack(fastener: &FastenerFamily, stack: Thickness) -> Option<Suits<'_>> {
    let Grips { inside, choice } = choose(stack, &grips(fastener), SURE).ok()?;
    let with_chance = |i: usize| Some((fastener.codes.get(i)?, *inside.get(i)?));
    Some(match choice {
        Choice::Use(i) => {
            let (code, p) = with_chance(i)?;
            Suits::Code(code, p)
        }
        Choice::Undecided(first, next) => {
            Suits::Undecided(with_chance(first)?, next.and_then(with_chance))
        }
        Choice::None { side, nearest } => Suits::NoCode(side, fastener.codes.get(nearest)?),
    })
}

/// The code to fit, with the stack under it: the one written down where the stack does not speak
/// against it; where none was written, the one that the stack asks for.
///
/// # Errors
/// Layers that cannot be; a code that the family has not; a stack that asks for another code, or
/// cannot name one.
pub(crate) fn code_to_fit(
    fastener: &FastenerFamily,
    written: &str,
    stack: &StackIn,
    desk: &Desk,
) -> Result<(String, Option<StackRead>), Refusals> {
    let stack = stack.read(fastener, desk)?;
    let at_code = |message| vec![refuse("code", message)];
    let thickness = stack.as_ref().and_then(super::thickness);
    let code = match (fastener.code(written), thickness) {
        (Some(code), Some(t)) => match says_otherwise(fastener, code, t) {
            Some(message) => return Err(at_code(message)),
            None => code,
        },
        (Some(code), None) => code,
        (None, Some(t)) if written.is_empty() && !fastener.codes.is_empty() => {
            match code_for_stack(fastener, t) {
                Some(Suits::Code(code, _)) => code,
                suits => return Err(at_code(no_answer(suits.as_ref(), t))),
            }
        }
        (None, _) if fastener.codes.is_empty() => return Ok((written.to_owned(), stack)),
        (None, _) => {
            let codes: Vec<&str> = fastener.codes.iter().map(|c| c.code.as_str()).collect();
            let id = if written.is_empty() {
                "refuse-code-pick"
            } else {
                "refuse-code"
            };
            let message = Message::new(id)
                .with("code", written)
                .with("fastener", fastener.name.as_str())
                .with("codes", codes.join(", "));
            return Err(at_code(message));
        }
    };
    Ok((code.code.clone(), stack))
}

/// What the stack says against `written`: `None` where it may well be right.
fn says_otherwise(
    fastener: &FastenerFamily,
    written: &GripCode,
    stack: Thickness,
) -> Option<Message> {
    match code_for_stack(fastener, stack)? {
        Suits::Code(code, _) if code == written => None,
        Suits::Code(code, p) => {
            // Ranges may overlap: the written code may hold the stack as well.
            let own = Grip {
                min_mm: written.min_mm,
                max_mm: written.max_mm,
            };
            let fits = choose(stack, &[own], SURE).ok()?.inside.first().copied()?;
            (fits < 1.0 - SURE).then(|| {
                of_stack("stack-asks-for", stack)
                    .with("code", code.code.as_str())
                    .number("percent", 100.0 * p, 0)
                    .with("written", written.code.as_str())
                    .number("min", written.min_mm, 1)
                    .number("max", written.max_mm, 1)
            })
        }
        Suits::Undecided(..) => None,
        Suits::NoCode(side, nearest) => Some(no_code(side, nearest, stack)),
    }
}

/// Why the stack does not name a code.
pub(super) fn no_answer(suits: Option<&Suits>, stack: Thickness) -> Message {
    match suits {
        None | Some(Suits::Code(..)) => Message::new("stack-says-nothing"),
        Some(Suits::Undecided((first, p), next)) => {
            let message = match next {
                Some((next, q)) => of_stack("stack-undecided", stack)
                    .with("next", next.code.as_str())
                    .number("next_percent", 100.0 * q, 0),
                None => of_stack("stack-at-end", stack),
            };
            message
                .with("code", first.code.as_str())
                .number("percent", 100.0 * p, 0)
        }
        Some(Suits::NoCode(side, nearest)) => no_code(*side, nearest, stack),
    }
}

fn no_code(side: Outside, nearest: &GripCode, stack: Thickness) -> Message {
    let id = match side {
        Outside::Thinner => "stack-thinner",
        Outside::Thicker => "stack-thicker",
        Outside::Between => "stack-between",
    };
    of_stack(id, stack)
        .with("code", nearest.code.as_str())
        .number("min", nearest.min_mm, 1)
        .number("max", nearest.max_mm, 1)
}

fn of_stack(id: &'static str, stack: Thickness) -> Message {
    Message {
        id,
        args: Vec::new(),
    }
    .number("mm", stack.value_mm, 2)
    .number("doubt", stack.expanded_mm(), 2)
}
