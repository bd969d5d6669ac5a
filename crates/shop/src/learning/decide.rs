//! What a manager says of learned numbers, looked at before it is written.

use calc::Message;

use super::Rulings;
use crate::entry::{Body, CountsReset, LearntNumber, NumberPinned, NumberReleased};
use crate::job::Refusals;
use crate::job::refusal::{needed, refuse, refuse_all};
use crate::sheet::{FaultModel, UNLISTED};

/// Shares at which a number can be pinned: no evidence could speak against never or always.
const PIN: (f64, f64) = (0.001, 0.99);

/// What a manager asks for.
#[derive(Clone, Debug, PartialEq)]
pub enum LearningCommand {
    /// Hold a number at a value, 0 to 1.
    Pin {
        /// Which.
        number: LearntNumber,
        /// At what.
        value: f64,
        /// Why.
        reason: String,
    },
    /// Let it follow the closed jobs again.
    Release {
        /// Which.
        number: LearntNumber,
        /// Why.
        reason: String,
    },
    /// Begin counts anew.
    Reset {
        /// Of which; `None` for all.
        number: Option<LearntNumber>,
        /// Why.
        reason: String,
    },
}

/// The entries that `command` adds for `faults`.
///
/// # Errors
/// A number that the fault model does not have, a value outside 0 to 1, no reason, a number to be released that is
/// not pinned.
pub fn decide(
    rulings: &Rulings,
    command: LearningCommand,
    faults: &FaultModel,
) -> Result<Vec<Body>, Refusals> {
    let id = faults.id.clone();
    let given = |reason: &str| needed("reason", reason, "refuse-reason").map_err(|r| vec![r]);
    Ok(vec![match command {
        LearningCommand::Pin {
            number,
            value,
            reason,
        } => {
            known(faults, &number)?;
            if !(PIN.0..=PIN.1).contains(&value) {
                let message = Message::new("refuse-share").number("value", value * 100.0, 1);
                return Err(vec![refuse("value", message)]);
            }
            let reason = given(&reason)?;
            NumberPinned {
                faults: id,
                number,
                value,
                reason,
            }
            .into()
        }
        LearningCommand::Release { number, reason } => {
            known(faults, &number)?;
            if rulings.of(&number).and_then(|r| r.pinned).is_none() {
                return refuse_all(Message::new("refuse-not-pinned"));
            }
            let reason = given(&reason)?;
            NumberReleased {
                faults: id,
                number,
                reason,
            }
            .into()
        }
        LearningCommand::Reset { number, reason } => {
            if let Some(number) = &number {
                known(faults, number)?;
            }
            let reason = given(&reason)?;
            CountsReset {
                faults: id,
                number,
                reason,
            }
            .into()
        }
    }])
}

fn known(faults: &FaultModel, number: &LearntNumber) -> Result<(), Refusals> {
    let is_known = match number {
        LearntNumber::Rate { cause, on } => {
            let own = |c: &crate::sheet::Cause| c.per_1000_on.contains_key(on);
            let of_drive = crate::sheet::Drive::ALL.iter().any(|d| d.key() == on);
            (cause == UNLISTED || faults.cause(cause).is_some())
                && (of_drive || faults.cause(cause).is_some_and(own))
        }
        LearntNumber::Shows { cause, symptom } => faults
            .cause(cause)
            .is_some_and(|c| c.shows.iter().any(|(id, _)| id == symptom)),
        LearntNumber::Yes { check, cause } => faults
            .check(check)
            .is_some_and(|c| c.links.iter().any(|l| l.cause == *cause)),
        LearntNumber::FalseAlarm { check } => faults.check(check).is_some(),
    };
    if is_known {
        Ok(())
    } else {
        refuse_all(Message::new("refuse-no-number"))
    }
}
