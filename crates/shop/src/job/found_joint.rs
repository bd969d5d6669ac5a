//! A joint as found: set with the tool as it came, before anything was cleaned or changed.

use calc::Message;

use super::joint_read::JointIn;
use super::judge::method_of;
use super::refusal::{Refusals, refuse};
use super::{Desk, Job};
use crate::entry::{Body, FoundJointRead, PinRecord};
use crate::joint;

impl Job {
    pub(super) fn read_found_joint(
        &self,
        fastener: &str,
        input: &JointIn,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let model = self.model_or_refuse(desk)?;
        self.may_run_as_found(desk)?;
        let known = desk
            .shelf
            .settable(model)
            .find(|(pin, _)| pin.id == fastener);
        let Some((pin, family)) = known else {
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
