//! A tool that lies open after a look into it: nothing runs it until somebody says that it is closed again.

use calc::Message;

use super::refusal::{Refusals, refuse_all};
use super::{Command, Desk, EndIn, Job};
use crate::entry::{Body, ClosedAgain, Outcome};
use crate::route::LAST_STEP;
use crate::sheet::{Check, FaultModel, ToolState};

impl Job {
    /// Checks made on the stripped tool since it was closed last: by a word of its own, or by a rebuild that ended with
    /// its first power-up.
    pub fn lying_open<'a>(&self, faults: &'a FaultModel) -> impl Iterator<Item = &'a Check> {
        let said = self.closed_again.as_ref().map(|closed| closed.version);
        let ran = self.step(LAST_STEP);
        let ran = ran.filter(|step| step.body.outcome == Some(Outcome::Accept));
        let closed = said.max(ran.map(|step| step.version)).unwrap_or(0);
        let since = self.checks.iter().filter(move |c| c.version > closed);
        let known = since.filter_map(|c| faults.check(&c.body.check));
        known.filter(|check| check.state == ToolState::StrippedNoEnergy)
    }

    pub(super) fn close_again(&self, note: &str, desk: &Desk) -> Result<Vec<Body>, Refusals> {
        let faults = self.faults_or_refuse(desk)?;
        if self.lying_open(faults).next().is_none() {
            return refuse_all(Message::new("refuse-not-lying-open"));
        }
        let note = note.trim().to_owned();
        Ok(vec![ClosedAgain { note }.into()])
    }

    /// Refuses what runs the tool, or gives it out of the hand, while it lies open.
    pub(super) fn closed_for(&self, command: &Command, desk: &Desk) -> Result<(), Refusals> {
        let runs = match command {
            Command::AnswerCheck { check, .. } => {
                let known = self.faults(desk).and_then(|faults| faults.check(check));
                known.is_some_and(|check| check.state.energised())
            }
            Command::ReadBenchTest(_)
            | Command::ReadFoundJoint { .. }
            | Command::ReadJoint(_)
            | Command::SignOffProof { .. } => true,
            // The maker, and the bin, get it as it lies.
            Command::Return(back) => matches!(back.end, EndIn::Back),
            _ => false,
        };
        let faults = self.faults(desk).filter(|_| runs);
        let open = faults.and_then(|faults| self.lying_open(faults).last());
        match open {
            Some(check) => {
                refuse_all(Message::new("refuse-lies-open").with("check", check.text.as_str()))
            }
            None => Ok(()),
        }
    }
}
