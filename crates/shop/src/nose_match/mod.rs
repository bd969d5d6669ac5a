//! Which nose set fits which fastener on which tool, and what follows from it.
//!
//! [`compare`] holds one set against one fastener and one tool, criterion by criterion. [`rank`] puts
//! all sets in order, [`settable`] turns the question round: what a tool can set. [`twins`] finds sets
//! that look the same, [`sale`] what must be bought.

mod criteria;
mod measured;
mod rank;
mod sale;
mod twins;

use calc::Message;

pub use criteria::compare;
pub use measured::{MEASURABLE, Missing, Sizes};
pub use rank::{Ranked, Settable, rank, settable};
pub use sale::{Line, Offer, PartKind, Sale, at_hand, sale};
pub use twins::{
    Difference, EYE_MM, LookAlikeOf, SMALLEST_TOLD, Size, Tell, Twins, best_caliper, look_alikes,
    smallest_told_mm, tell, twins, working,
};

/// Whether one criterion is met.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fit {
    /// Met.
    Yes,
    /// Not met.
    No,
    /// A size is missing, so nobody can say.
    Unknown,
}

impl Fit {
    /// As written in JSON.
    pub fn key(self) -> &'static str {
        match self {
            Self::Yes => "fits",
            Self::No => "does-not-fit",
            Self::Unknown => "undecided",
        }
    }
}

/// A criterion, whether it is met, and the numbers behind it.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// Name of the criterion.
    pub name: Message,
    /// Whether it is met.
    pub fit: Fit,
    /// The two sides that were compared.
    pub detail: Message,
    /// What must be measured or looked up to decide it; empty where it is decided.
    pub missing: Vec<Message>,
}

/// All criteria of one nose set.
#[derive(Clone, Debug, PartialEq)]
pub struct Match {
    /// Criteria.
    pub reasons: Vec<Reason>,
}

impl Match {
    /// Met criteria and all.
    pub fn count(&self) -> (usize, usize) {
        (self.of(Fit::Yes), self.reasons.len())
    }

    /// How many criteria came out as `fit`.
    pub fn of(&self, fit: Fit) -> usize {
        self.reasons.iter().filter(|r| r.fit == fit).count()
    }

    /// Fits only if every criterion is met; undecided if one is unknown and none fails.
    pub fn fit(&self) -> Fit {
        if self.of(Fit::No) > 0 {
            Fit::No
        } else if self.of(Fit::Unknown) > 0 {
            Fit::Unknown
        } else {
            Fit::Yes
        }
    }

    /// Whether something is missing that is measured on the nose, so that hands go near it.
    pub fn hands_near(&self) -> bool {
        let missing = self.missing();
        missing
            .iter()
            .any(|m| criteria::ON_THE_NOSE.contains(&m.id))
    }

    /// What must be measured or looked up, each once, in the order of the criteria.
    pub fn missing(&self) -> Vec<&Message> {
        let mut all: Vec<&Message> = Vec::new();
        for message in self.reasons.iter().flat_map(|r| &r.missing) {
            if !all.contains(&message) {
                all.push(message);
            }
        }
        all
    }
}
