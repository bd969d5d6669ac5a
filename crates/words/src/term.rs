//! The calculations' own notions as words: a verdict, a sense of turning, a thread hand.

use calc::decision::{Rule, Verdict};
use calc::screw_stop::{Effect, Hand, Rotation, View, Zero};

use crate::Words;

/// A notion that has a word in the catalogue.
pub trait Term {
    /// Its name in the catalogue.
    fn id(self) -> &'static str;
}

impl Words {
    /// The word for `term`.
    pub fn term(&self, term: impl Term) -> String {
        self.text(term.id())
    }
}

macro_rules! terms {
    ($($type:ident { $($variant:ident $id:literal),* $(,)? })*) => {
        $(impl Term for $type {
            fn id(self) -> &'static str {
                match self { $($type::$variant => $id,)* }
            }
        })*

        #[cfg(test)]
        const IDS: &[&str] = &[$($($id,)*)*];
    };
}

terms! {
    Verdict { Accept "verdict-accept", Undecided "verdict-undecided", Reject "verdict-reject" }
    Rule { Guarded "rule-guarded", Simple "rule-simple" }
    Rotation { Clockwise "rotation-clockwise", CounterClockwise "rotation-counter-clockwise" }
    Effect { Shortens "effect-shortens", Lengthens "effect-lengthens" }
    Zero { Open "zero-open", Closed "zero-closed" }
    View { AdjusterEnd "view-adjuster-end", NoseEnd "view-nose-end" }
    Hand { Right "hand-right", Left "hand-left" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_notion_has_a_word() {
        for id in IDS {
            assert!(Words::english().has(id), "{id}");
        }
        assert_eq!(Words::english().term(Verdict::Undecided), "undecided");
    }
}
