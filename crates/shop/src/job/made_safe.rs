//! The ticks before a key or a finger enters the nose.

use calc::Message;

use super::refusal::{Refusal, refuse};
use crate::sheet::{Drive, ToolModel};

/// Make-safe ticks that each drive asks for.
pub fn make_safe_ticks(drive: Drive) -> &'static [&'static str] {
    match drive {
        Drive::Battery => &["pack-out", "trigger-pressed"],
        Drive::AirHydraulic => &["air-off", "air-bled"],
        Drive::Hydraulic => &["pump-off", "lines-zero", "couplers-parted"],
    }
}

/// Whether every tick that the drive asks for was set.
pub(super) fn all_ticked(model: &ToolModel, made_safe: &[String]) -> bool {
    make_safe_ticks(model.drive)
        .iter()
        .all(|tick| made_safe.iter().any(|t| t == tick))
}

/// A refusal where hands come near and the tool was not made safe.
pub(super) fn hands_at_risk(model: &ToolModel, made_safe: &[String]) -> Option<Refusal> {
    (!all_ticked(model, made_safe))
        .then(|| refuse("made_safe", Message::new("refuse-hands-at-risk")))
}

/// The ticks that mean something on this drive: the others are not written down.
pub(super) fn known_ticks(model: &ToolModel, made_safe: &[String]) -> Vec<String> {
    make_safe_ticks(model.drive)
        .iter()
        .filter(|tick| made_safe.iter().any(|t| t == *tick))
        .map(|tick| (*tick).to_owned())
        .collect()
}
