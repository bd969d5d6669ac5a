//! What was measured in a job: each entry that holds readings, and how it is called.

use calc::Message;
use jiff::Timestamp;

use super::{Desk, Job, Stamped};
use crate::entry::{Body, Phase};
use crate::route;

/// An entry that holds readings: its version, when it was written, what it says.
pub(super) type Measurement = (u32, Timestamp, Body);

/// `stamped` as such an entry.
pub(super) fn body_of<T: Clone + Into<Body>>(stamped: &Stamped<T>) -> Measurement {
    (stamped.version, stamped.at, stamped.body.clone().into())
}

impl Job {
    /// Every entry of the job that holds readings and counts.
    pub(super) fn measured(&self) -> impl Iterator<Item = Measurement> {
        let of_set_ups = self.set_ups.iter().flat_map(|set_up| {
            let fitted = std::iter::once(body_of(&set_up.fitted));
            let stick_outs = set_up.stick_outs.iter().map(body_of);
            fitted
                .chain(stick_outs)
                .chain(set_up.joints.iter().map(body_of))
        });
        let tests = self.tests.iter().map(body_of);
        let joints = self.found_joints.iter().map(body_of);
        let steps = self.steps.iter().map(body_of);
        let pulls = self.pulls.iter().map(body_of);
        tests
            .chain(joints)
            .chain(steps)
            .chain(of_set_ups)
            .chain(pulls)
    }

    /// What the entry of version `version` measured, in words; its number, where nothing else is known of it.
    pub fn measured_in(&self, version: u32, desk: &Desk) -> Message {
        let counts = self.measured().find(|(entry, ..)| *entry == version);
        let struck = || {
            let struck = self.struck.iter().map(|(entry, _)| entry);
            let struck = struck.filter(|entry| entry.version == version);
            struck.map(|entry| entry.body.clone()).next()
        };
        let body = counts.map(|(.., body)| body).or_else(struck);
        let named = body.and_then(|body| self.named(&body, desk));
        named.unwrap_or_else(|| Message::new("measured-entry").with("entry", version))
    }

    fn named(&self, body: &Body, desk: &Desk) -> Option<Message> {
        let in_phase = |phase: Phase| {
            Message::new(match phase {
                Phase::AsFound => "measured-as-found",
                Phase::AsLeft => "measured-as-left",
            })
        };
        Some(match body {
            Body::BenchTestRead(read) => {
                let tests = self.model(desk).map(|model| &model.bench_tests);
                let test = tests.and_then(|tests| tests.iter().find(|t| t.id == read.test));
                let name = test.map_or(&read.test, |test| &test.name);
                in_phase(read.phase).with("what", name.as_str())
            }
            Body::PullsRead(read) => {
                let pulls = Message::new("measured-pulls").with("name", read.name.as_str());
                in_phase(read.phase).with("what", pulls)
            }
            Body::StepDone(done) => route::step(self.model(desk)?, &done.step)?.title(),
            Body::FoundJointRead(_) => Message::new("entry-found-joint-read"),
            Body::TrialJointRead(_) => Message::new("entry-trial-joint-read"),
            Body::StickOutRead(_) => Message::new("entry-stick-out-read"),
            Body::Fitted(_) => Message::new("entry-fitted"),
            _ => return None,
        })
    }
}
