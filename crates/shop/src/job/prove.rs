//! Signing the bench proof off.

use calc::Message;

use super::refusal::{Refusals, refuse, refuse_all};
use super::{Desk, Job, Stage};
use crate::entry::{Body, Outcome, Phase, ProofSignedOff};
use crate::sheet::{BenchTest, ToolModel};

impl Job {
    /// Bench tests, by name, and recorded pulls, by the name of their file, that stayed undecided as left.
    pub fn undecided_as_left<'a>(&'a self, model: &'a ToolModel) -> Vec<&'a str> {
        let is_undecided = |test: &&BenchTest| {
            let made = self.test(Phase::AsLeft, &test.id);
            made.is_some_and(|made| made.body.outcome == Outcome::Undecided)
        };
        let tests = model.bench_tests.iter().filter(is_undecided);
        let pulls = self.pulls_in(Phase::AsLeft);
        let pulls = pulls.filter(|p| p.body.outcome == Some(Outcome::Undecided));
        tests
            .map(|test| test.name.as_str())
            .chain(pulls.map(|p| p.body.name.as_str()))
            .collect()
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
        let (undecided, reason) = (self.undecided_as_left(model), reason.trim());
        if !undecided.is_empty() && reason.is_empty() {
            let ask = Message::new("refuse-undecided-reason").with("tests", undecided.join(", "));
            return Err(vec![refuse("reason", ask)]);
        }
        let signed = ProofSignedOff {
            adjuster_stands,
            reason: reason.to_owned(),
        };
        Ok(vec![signed.into()])
    }
}
