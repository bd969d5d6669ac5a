//! A joint as found: set with the tool as it came, before anything was cleaned or changed.

use calc::Message;

use super::fault::method_of;
use super::joint_read::JointIn;
use super::refusal::{Refusals, refuse, refuse_all};
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

    /// Refuses what can be seen as found no more, or not without harm.
    pub(super) fn may_run_as_found(&self, desk: &Desk) -> Result<(), Refusals> {
        if self.is_changed() {
            return refuse_all(Message::new("refuse-as-found-late"));
        }
        if self.energy_forbidden(desk) {
            return refuse_all(Message::new("refuse-no-energy"));
        }
        Ok(())
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
