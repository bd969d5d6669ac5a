//! A joint as found: set with the tool as it came, before anything was cleaned or changed.

use calc::Message;

use super::joint_read::JointIn;
use super::judge::method_of;
use super::refusal::{Refusals, refuse};
use super::{Desk, Job};
use crate::entry::{Body, FoundJointRead, PinRecord};
use crate::joint;
use crate::sheet::{FastenerFamily, Kind, Pin, ToolModel};

impl Job {
    pub(super) fn read_found_joint(
        &self,
        fastener: &str,
        input: &JointIn,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let model = self.model_or_refuse(desk)?;
        self.may_run_as_found(desk)?;
        let settable = settable(model, desk).find(|(pin, _)| pin.id == fastener);
        let Some((pin, family)) = settable else {
            let message = Message::new("refuse-pick-fastener");
            return Err(vec![refuse("fastener", message)]);
        };
        let read = input.read(family, desk)?;
        let found = FoundJointRead {
            fastener: PinRecord::from(&pin),
            readings: read.readings,
            seen: read.seen,
            outcome: read.outcome,
            method: method_of(joint::METHOD),
            note: input.note.trim().to_owned(),
        };
        Ok(vec![found.into()])
    }
}

/// The fasteners that a tool of `model` sets, by the sheets in force, each once.
pub fn settable<'a>(
    model: &'a ToolModel,
    desk: &Desk<'a>,
) -> impl Iterator<Item = (Pin, &'a FastenerFamily)> {
    let shelf = desk.shelf;
    let settings = model.settings.iter().enumerate();
    settings
        .filter(|(i, s)| {
            let before = &model.settings[..*i];
            before.iter().all(|b| b.fastener != s.fastener)
        })
        .filter_map(|(_, s)| {
            let pin = shelf.newest(Kind::Fastener, &s.fastener)?;
            let family = shelf.fastener(&pin)?;
            Some((pin, family))
        })
}
