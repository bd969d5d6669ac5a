//! Signing the bench proof off.

use calc::Message;

use super::refusal::{Refusals, needed, refuse, refuse_all};
use super::{Desk, Job, Stage};
use crate::entry::{Body, Outcome, Phase, ProofSignedOff};
use crate::sheet::ToolModel;

impl Job {
    /// Whether a bench test or recorded pulls as left stayed undecided.
    pub fn undecided_as_left(&self, model: &ToolModel) -> bool {
        let tests = model.bench_tests.iter();
        let mut tests = tests.filter_map(|test| self.test(Phase::AsLeft, &test.id));
        let mut pulls = self.pulls_in(Phase::AsLeft);
        tests.any(|t| t.body.outcome == Outcome::Undecided)
            || pulls.any(|p| p.body.outcome == Some(Outcome::Undecided))
    }

    pub(super) fn sign_off_proof(
        &self,
        reason: &str,
        adjuster_stands: bool,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        self.open_or_refuse(Stage::Proved)?;
        if self.proof.is_some() {
            return refuse_all(Message::new("refuse-proof-stands"));
        }
        if self.energy_forbidden(desk) {
            return refuse_all(Message::new("refuse-no-energy"));
        }
        let model = self.model_or_refuse(desk)?;
        for test in &model.bench_tests {
            match self.test(Phase::AsLeft, &test.id).map(|t| t.body.outcome) {
                None => {
                    return refuse_all(
                        Message::new("refuse-test-missing").with("test", test.name.as_str()),
                    );
                }
                Some(Outcome::Reject) => {
                    return refuse_all(
                        Message::new("refuse-test-rejected").with("test", test.name.as_str()),
                    );
                }
                Some(Outcome::Undecided | Outcome::Accept) => {}
            }
        }
        for read in self.pulls_in(Phase::AsLeft) {
            if read.body.outcome == Some(Outcome::Reject) {
                let message = Message::new("refuse-pulls-rejected");
                return refuse_all(message.with("name", read.body.name.as_str()));
            }
        }
        let set = self.set_up().and_then(|s| s.signed_off.as_ref());
        if !adjuster_stands
            && set.is_some_and(|s| s.body.turns.is_some() || s.body.pressure_bar.is_some())
        {
            let by_force = set.is_some_and(|s| s.body.pressure_bar.is_some());
            let message = Message::new(if by_force {
                "refuse-pressure-moved"
            } else {
                "refuse-adjuster-moved"
            });
            return Err(vec![refuse("adjuster", message)]);
        }
        let reason = if self.undecided_as_left(model) {
            needed("reason", reason, "refuse-undecided-reason").map_err(|r| vec![r])?
        } else {
            reason.trim().to_owned()
        };
        let signed = ProofSignedOff {
            adjuster_stands,
            reason,
        };
        Ok(vec![signed.into()])
    }
}
