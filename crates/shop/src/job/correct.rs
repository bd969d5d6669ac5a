//! Corrections: an entry is struck, never changed; the right one is written anew.

use calc::Message;

use super::refusal::{Refusals, needed, refuse_all};
use super::{Job, Stage};
use crate::entry::{Body, Struck};

impl Job {
    pub(super) fn strike(&self, version: u32, reason: &str) -> Result<Vec<Body>, Refusals> {
        let reason = needed("reason", reason, "refuse-reason").map_err(|r| vec![r])?;
        if self
            .struck
            .iter()
            .any(|(entry, _)| entry.version == version)
        {
            return refuse_all(Message::new("refuse-struck-already"));
        }
        if let Some(returned) = &self.returned
            && returned.version != version
        {
            return refuse_all(Message::new("refuse-returned"));
        }
        if !self.may_strike(version) {
            return refuse_all(Message::new("refuse-strike"));
        }
        Ok(vec![Struck { version, reason }.into()])
    }

    /// Whether the entry may be struck: what later work stands on stays until that is struck first.
    pub fn may_strike(&self, version: u32) -> bool {
        let is = |v: Option<u32>| v == Some(version);
        if let Some(returned) = &self.returned {
            return returned.version == version;
        }
        let set_up_open = self.set_up().is_some_and(|s| s.signed_off.is_none());
        let before_rebuild = !self.opened();
        is(self.proof.as_ref().map(|p| p.version))
            || (self.proof.is_none()
                && (is(self
                    .set_up()
                    .and_then(|s| s.signed_off.as_ref())
                    .map(|s| s.version))
                    || self.tests.iter().any(|t| t.version == version)))
            || (set_up_open && self.strikes_in_set_up(version))
            || (self.stage() == Some(Stage::Rebuilt) && self.strikes_in_rebuild(version))
            || (before_rebuild && self.set_ups.is_empty() && self.strikes_before_rebuild(version))
    }

    fn strikes_in_set_up(&self, version: u32) -> bool {
        self.set_up().is_some_and(|s| {
            s.joints.iter().any(|j| j.version == version)
                || (s.joints.is_empty() && s.stick_outs.iter().any(|o| o.version == version))
        })
    }

    fn strikes_in_rebuild(&self, version: u32) -> bool {
        self.steps.iter().any(|s| s.version == version)
            || self.replaced.iter().any(|r| r.version == version)
    }

    fn strikes_before_rebuild(&self, version: u32) -> bool {
        let skipped = self.skipped.values().any(|s| s.version == version);
        let checks = self.checks.iter().any(|c| c.version == version);
        let single = [
            self.not_safe.as_ref().map(|x| x.version),
            self.cause.as_ref().map(|x| x.version),
            self.warranty.as_ref().map(|x| x.version),
            self.estimate.as_ref().map(|x| x.version),
            self.answer.as_ref().map(|x| x.version),
        ];
        skipped || checks || single.contains(&Some(version))
    }
}
