//! The form that takes pulls of a recording.

use calc::Message;
use shop::job::{Command, PullsIn};

use super::phase_of;
use crate::forms::{FieldErrors, Typed};
use crate::job::view::View;

/// The command of the form; the recording that it is about was read before.
pub(crate) fn parse(
    kind: &str,
    typed: &Typed,
    v: &View,
    errors: &mut FieldErrors,
) -> Option<Command> {
    if kind != super::KIND {
        return None;
    }
    let recording = v.recording?;
    let mut count = Vec::new();
    for number in typed.all("pull") {
        match number.trim().parse() {
            Ok(number) => count.push(number),
            Err(_) => errors.add(
                "pull",
                Message::new("pulls-no-number").with("typed", number),
            ),
        }
    }
    count.sort_unstable();
    count.dedup();
    let named = |id: &str| (!id.is_empty()).then(|| id.to_owned());
    for (field, read) in [("rig", &recording.rig), ("fastener", &recording.fastener)] {
        if read.is_empty() && typed.filled(field).is_some() {
            let unknown = Message::new("pulls-unknown").with("id", typed.get(field));
            errors.add(field, unknown);
        }
    }
    Some(Command::UsePulls(Box::new(PullsIn {
        phase: phase_of(&recording.file.body.stage),
        sha256: recording.file.body.sha256.clone(),
        rig: named(&recording.rig),
        fastener: named(&recording.fastener),
        count,
        read: recording.pulls.clone(),
        known_by: recording.known_by.clone(),
        faults: u32::try_from(recording.told.faults.len()).unwrap_or(u32::MAX),
        band: recording.band.clone(),
        note: typed.get("note").to_owned(),
    })))
}
