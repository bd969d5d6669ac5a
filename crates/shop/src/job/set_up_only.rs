//! A tool that came for a set-up alone: nothing is complained of, so no fault is looked for and none made up.
//!
//! It is priced, set up and proved like any other. What it shows at that is found then: a symptom noted, or a
//! test that fails, leads back to the fault.

use calc::Message;

use super::refusal::{Refusals, refuse_all};
use super::{Desk, Job, Stage};
use crate::entry::{Body, CauseConfirmed, HandedOver, Outcome, Phase, Said};

impl Job {
    pub(super) fn say_set_up_only(&self, note: &str, desk: &Desk) -> Result<Vec<Body>, Refusals> {
        if let Some(against) = self.against_set_up_only(desk) {
            return refuse_all(against);
        }
        let said = CauseConfirmed {
            causes: Vec::new(),
            set_up_only: true,
            probability: None,
            handed: HandedOver::default(),
            note: note.trim().to_owned(),
        };
        Ok(vec![said.into()])
    }

    /// Whether nothing is complained of.
    pub fn is_set_up_only(&self) -> bool {
        self.cause.as_ref().is_some_and(|c| c.body.set_up_only)
    }

    /// Whether the tool stays closed because nothing is complained of. A strip that is planned all the same
    /// is worked like any other.
    pub(super) fn stays_closed(&self) -> bool {
        self.is_set_up_only() && self.route.is_none()
    }

    /// What speaks against a set-up alone; `None` where nothing does.
    pub fn against_set_up_only(&self, desk: &Desk) -> Option<Message> {
        if self.is_done(Stage::Fault) {
            return Some(Message::new("refuse-cause-known"));
        }
        if self.opened() {
            return Some(Message::new("refuse-set-up-only-opened"));
        }
        if self.not_safe.is_some() {
            return Some(Message::new("refuse-set-up-only-not-safe"));
        }
        let seen = self.symptoms.iter().find(|(_, there)| **there);
        if let Some((id, _)) = seen {
            let symptom = self.faults(desk).and_then(|faults| faults.symptom(id));
            let text = symptom.map_or(id.as_str(), |symptom| &symptom.text);
            return Some(Message::new("refuse-set-up-only-symptom").with("symptom", text));
        }
        let tests = self.tests.iter().map(|t| &t.body);
        let failed = tests
            .filter(|t| t.phase == Phase::AsFound)
            .any(|t| t.outcome == Outcome::Reject);
        let joints = self.found_joints.iter();
        let bad = joints.map(|j| j.body.outcome).any(|o| o == Outcome::Reject);
        let yes = self.checks.iter().any(|c| c.body.answer == Said::Yes);
        (failed || bad || yes).then(|| Message::new("refuse-set-up-only-found"))
    }
}
