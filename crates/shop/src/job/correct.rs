//! Corrections: an entry is struck, never changed; the right one is written anew.

use calc::Message;

use super::refusal::{Refusals, needed, refuse_all};
use super::{Job, Stage};
use crate::entry::{Body, Phase, Struck};
use crate::route::LAST_STEP;

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
            && !self.waits_as(version)
        {
            return refuse_all(Message::new("refuse-returned"));
        }
        if !self.may_strike(version) {
            return refuse_all(Message::new("refuse-strike"));
        }
        let with_it = self.tests_made_of(version);
        let all = std::iter::once(version).chain(with_it);
        let strike = |version| {
            let reason = reason.clone();
            Struck { version, reason }.into()
        };
        Ok(all.map(strike).collect())
    }

    /// The bench tests that were made of the recorded pulls of entry `version`, when those were taken: they fall with it.
    fn tests_made_of(&self, version: u32) -> Vec<u32> {
        let Some(pulls) = self.pulls.iter().find(|p| p.version == version) else {
            return Vec::new();
        };
        let tests = self.tests.iter().filter(|test| {
            test.at == pulls.at
                && test.by == pulls.by
                && test.version > version
                && test.body.phase == pulls.body.phase
        });
        tests.map(|test| test.version).collect()
    }

    /// Whether the entry may be struck: what later work stands on stays until that is struck first.
    pub fn may_strike(&self, version: u32) -> bool {
        // Nobody holds it yet.
        if self.waits_as(version) {
            return true;
        }
        if let Some(returned) = &self.returned {
            return returned.version == version;
        }
        // No work stands on a photo; on a recording, the pulls that count.
        if let Some(file) = self.files.iter().find(|f| f.version == version) {
            let hash = &file.body.sha256;
            return !self.pulls.iter().any(|p| p.body.sha256 == *hash);
        }
        match &self.proof {
            // A set-up may follow the proof: it stands on its own.
            Some(proof) if version > proof.version => self.strikes_in_set_up(version),
            Some(proof) => proof.version == version,
            None => {
                self.strikes_test(version)
                    || self.strikes_in_set_up(version)
                    || self.strikes_in_rebuild(version)
                    || self.strikes_before_work(version)
            }
        }
    }

    /// Whether entry `version` is the certificate that waits for a second person.
    fn waits_as(&self, version: u32) -> bool {
        self.prepared.as_ref().is_some_and(|p| p.version == version)
    }

    /// The cause stands on at least one test or joint as found, or on the word that there can be
    /// none.
    fn strikes_test(&self, version: u32) -> bool {
        if self.seen_as_found().any(|seen| seen == version) {
            return self.cause.is_none()
                || self.not_safe.is_some()
                || self.opened()
                || self.seen_as_found().count() > 1 + self.tests_made_of(version).len();
        }
        self.tests.iter().any(|t| t.version == version)
            || self.found_joints.iter().any(|j| j.version == version)
            || self.pulls.iter().any(|p| p.version == version)
    }

    fn strikes_in_set_up(&self, version: u32) -> bool {
        let skipped = self.skipped.get(&Stage::SetUp);
        if skipped.is_some_and(|s| s.version == version) {
            return !self.tested_since(version);
        }
        self.set_up().is_some_and(|s| match &s.signed_off {
            Some(signed) => signed.version == version,
            None => {
                let untouched = s.joints.is_empty() && s.stick_outs.is_empty();
                (untouched && s.fitted.version == version)
                    || s.joints.iter().any(|j| j.version == version)
                    || (s.joints.is_empty() && s.stick_outs.iter().any(|o| o.version == version))
            }
        })
    }

    fn strikes_in_rebuild(&self, version: u32) -> bool {
        let untouched = self.set_up().is_none()
            && !self.skipped.contains_key(&Stage::SetUp)
            && !self.tested_since(version);
        if self.powered_up() {
            // The last look alone: with it the rebuild is open again.
            let last = self.step(LAST_STEP).is_some_and(|s| s.version == version);
            return untouched && last;
        }
        let step = self.steps_now().any(|s| s.version == version);
        let part = self
            .replaced
            .iter()
            .filter(|r| r.version == version && version > self.strip_from)
            .any(|r| self.step(&format!("fit-{}", r.body.part)).is_none());
        let plan = self.route.as_ref().is_some_and(|r| r.version == version)
            && self.steps.iter().all(|s| s.version < version);
        let skipped = self.skipped.get(&Stage::Rebuilt);
        let skipped = skipped.is_some_and(|s| s.version == version) && untouched;
        step || part || plan || skipped
    }

    fn strikes_before_work(&self, version: u32) -> bool {
        let is = |v: Option<u32>| v == Some(version);
        let begun = self.opened() || !self.set_ups.is_empty() || !self.skipped.is_empty();
        if begun {
            return false;
        }
        if self.answer.is_some() {
            return is(self.answer.as_ref().map(|a| a.version));
        }
        if self.estimate.is_some() || self.warranty.is_some() {
            return is(self.estimate.as_ref().map(|e| e.version))
                || is(self.warranty.as_ref().map(|w| w.version));
        }
        match &self.cause {
            Some(cause) => cause.version == version,
            None => {
                is(self.not_safe.as_ref().map(|n| n.version))
                    || is(self.energy_cleared.as_ref().map(|c| c.version))
                    || is(self.closed_again.as_ref().map(|c| c.version))
                    || self.checks.iter().any(|c| c.version == version)
            }
        }
    }

    /// Whether a bench test as left was made after entry `version`.
    fn tested_since(&self, version: u32) -> bool {
        self.tests
            .iter()
            .any(|t| t.body.phase == Phase::AsLeft && t.version > version)
    }
}
