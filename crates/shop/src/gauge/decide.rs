//! The one door through which something is written of a gauge.

use calc::Message;

use super::{CalibrationIn, CheckIn, History, StudyIn, calibrate, check, study};
use crate::entry::{Body, GaugeStruck, PinRecord};
use crate::job::refusal::{needed, refuse_all};
use crate::job::{Desk, Refusals};
use crate::sheet::Kind;

/// What is to be written of a gauge.
#[derive(Clone, Debug, PartialEq)]
pub enum GaugeCommand {
    /// A calibration.
    Calibrate(Box<CalibrationIn>),
    /// A check against a reference.
    Check(CheckIn),
    /// A study of repeatability and reproducibility.
    Study(StudyIn),
    /// What stands under a number counts no more.
    Strike {
        /// The number.
        number: u32,
        /// Why.
        reason: String,
    },
}

/// The entries that `command` adds to gauge `id`.
///
/// # Errors
/// Refusals, each at its field; a gauge that is not in force.
pub fn decide(id: &str, command: &GaugeCommand, desk: &Desk) -> Result<Vec<Body>, Refusals> {
    let unknown = || Message::new("gauge-unknown").with("gauge", id);
    let Some(pin) = desk.shelf.newest(Kind::Gauge, id) else {
        return refuse_all(unknown());
    };
    let Some(gauge) = desk.shelf.gauge(&pin) else {
        return refuse_all(unknown());
    };
    let none = History::default();
    let history = desk.shelf.gauge_history(id).unwrap_or(&none);
    let pin = PinRecord::from(&pin);
    match command {
        GaugeCommand::Calibrate(input) => calibrate::calibrate(gauge, pin, history, input, desk),
        GaugeCommand::Check(input) => check::check(gauge, pin, history, input, desk),
        GaugeCommand::Study(input) => study::study(gauge, pin, history, input, desk),
        GaugeCommand::Strike { number, reason } => strike(id, history, *number, reason),
    }
}

fn strike(id: &str, history: &History, number: u32, reason: &str) -> Result<Vec<Body>, Refusals> {
    match history.line(number) {
        None => return refuse_all(Message::new("refuse-gauge-strike-none")),
        Some(line) if line.struck.is_some() => {
            return refuse_all(Message::new("refuse-gauge-strike-again"));
        }
        Some(_) => {}
    }
    let reason = needed("reason", reason, "refuse-gauge-strike-reason").map_err(|r| vec![r])?;
    let struck = GaugeStruck {
        gauge: id.to_owned(),
        number,
        reason,
    };
    Ok(vec![struck.into()])
}
