//! The seven stages of a job and where it stands.

use super::Job;

/// A stage, in the order of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// Taken in.
    Received,
    /// Fault found.
    Fault,
    /// Price and warranty agreed.
    Agreed,
    /// Stripped and rebuilt.
    Rebuilt,
    /// Set up for a fastener.
    SetUp,
    /// Proved on the bench.
    Proved,
    /// Handed back.
    Returned,
}

impl Stage {
    /// All stages in order.
    pub const ALL: [Stage; 7] = [
        Stage::Received,
        Stage::Fault,
        Stage::Agreed,
        Stage::Rebuilt,
        Stage::SetUp,
        Stage::Proved,
        Stage::Returned,
    ];

    /// As stored, and as the anchor on the job page.
    pub fn key(self) -> &'static str {
        match self {
            Self::Received => "received",
            Self::Fault => "fault",
            Self::Agreed => "agreed",
            Self::Rebuilt => "rebuilt",
            Self::SetUp => "set-up",
            Self::Proved => "proved",
            Self::Returned => "returned",
        }
    }

    /// Whether it is what the customer pays for.
    fn is_work(self) -> bool {
        matches!(self, Self::Rebuilt | Self::SetUp | Self::Proved)
    }

    /// The stage with this key.
    pub fn parse(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|stage| stage.key() == key)
    }
}

/// Where a stage stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Done.
    Done,
    /// Not needed in this job.
    Skipped,
    /// The work that is next.
    Now,
    /// Later.
    Ahead,
}

impl Job {
    /// Where `stage` stands.
    pub fn standing(&self, stage: Stage) -> Standing {
        let now = self.stage();
        if self.is_done(stage) {
            Standing::Done
        } else if self.is_skipped(stage) {
            Standing::Skipped
        } else if now == Some(stage) {
            Standing::Now
        } else {
            Standing::Ahead
        }
    }

    /// The stage that the job is in; `None` when it is over.
    pub fn stage(&self) -> Option<Stage> {
        if self.returned.is_some() {
            return None;
        }
        Stage::ALL
            .into_iter()
            .find(|stage| !self.is_done(*stage) && !self.is_skipped(*stage))
    }

    /// Whether the work of `stage` may be done: everything before it is done or not needed, and
    /// the customer did not say no to it.
    pub fn is_open(&self, stage: Stage) -> bool {
        self.returned.is_none()
            && !(stage.is_work() && self.declined())
            && Stage::ALL
                .into_iter()
                .take_while(|s| *s < stage)
                .all(|s| self.is_done(s) || self.is_skipped(s))
    }

    /// The customer said no: the tool goes back as it came.
    pub fn declined(&self) -> bool {
        self.answer.as_ref().is_some_and(|a| !a.body.yes)
    }

    pub(super) fn is_done(&self, stage: Stage) -> bool {
        match stage {
            Stage::Received => true,
            Stage::Fault => self.cause.is_some(),
            Stage::Agreed => self.answer.is_some(),
            Stage::Rebuilt => self.powered_up(),
            Stage::SetUp => self.set_up().is_some_and(|s| s.signed_off.is_some()),
            Stage::Proved => self.proof.is_some(),
            Stage::Returned => self.returned.is_some(),
        }
    }

    fn is_skipped(&self, stage: Stage) -> bool {
        self.skipped.contains_key(&stage)
            || (stage == Stage::Rebuilt && self.stays_closed())
            || (stage.is_work() && self.declined())
            // What had not been done when the job ended is not done any more.
            || self.returned.is_some()
    }
}
