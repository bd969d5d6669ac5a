//! Causes, and the questions that tell them apart.
//!
//! # Formula
//! Causes are present independently of each other, each with its prior p. A question is a sign or a
//! check, answered yes or no: P(yes | causes present) = 1 − (1 − leak) · Π (1 − q). A check's leak is
//! its false alarm.
//!
//! # Validity
//! "Something not in the list" is a cause like the others, with a prior and no links; the caller adds
//! it. No look is beyond doubt: each chance is held between 10⁻⁶ and 1 − 10⁻⁶.
//!
//! # Errors
//! No cause, a prior not between 0 and 1 (both excluded), a chance outside 0 to 1, a place that is not
//! there, a cause that is linked twice to a question.
//!
//! # Source
//! Noisy-OR with leak: Pearl, *Probabilistic Reasoning in Intelligent Systems* (1988), 4.3.2 (from
//! memory).

use super::task::place;
use crate::error::{CalcError, within};

/// The least chance that any answer is taken to have.
pub const LEAST_CHANCE: f64 = 1e-6;

/// Holds a chance where no answer is beyond doubt.
pub fn in_doubt(chance: f64) -> f64 {
    chance.clamp(LEAST_CHANCE, 1.0 - LEAST_CHANCE)
}

/// How a cause brings about a yes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Link {
    /// The cause's place.
    pub cause: usize,
    /// q: chance that this cause by itself makes the answer yes, the leak left aside; 0 to 1.
    pub chance: f64,
}

/// A sign or a check.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// Chance of a yes when none of the linked causes is present; 0 to 1.
    pub leak: f64,
    /// The causes that bring about a yes, each once.
    pub links: Vec<Link>,
}

/// q of a check, from its chance of a false alarm and its stated chance of a yes when one cause alone
/// is there: with that cause alone, P(yes) is again what was stated. A stated chance below the false
/// alarm cannot be had from a noisy-OR: q is 0 then, and that cause gets the false alarm's chance.
pub fn link_of(false_alarm: f64, if_true: f64) -> f64 {
    if if_true <= false_alarm || false_alarm >= 1.0 {
        0.0
    } else {
        1.0 - (1.0 - if_true) / (1.0 - false_alarm)
    }
}

/// Likelihoods that another part of the program hands over, causes alone (virtual evidence).
///
/// For several causes at once: what speaks for them counts once (the strongest), what speaks against
/// each counts for each. Common practice, no source.
#[derive(Clone, Debug, PartialEq)]
pub struct Handed {
    /// For each cause, how likely what was found is if that cause alone is there; above 0, any scale.
    pub alone: Vec<f64>,
    /// The same for a cause that has nothing to do with it; above 0, on the same scale.
    pub otherwise: f64,
}

/// Something seen.
#[derive(Clone, Debug, PartialEq)]
pub enum Observation {
    /// A question's answer.
    Answer {
        /// The question's place.
        question: usize,
        /// What was answered.
        yes: bool,
    },
    /// Numbers handed over.
    Handed(Handed),
}

/// A fault model.
#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    priors: Vec<f64>,
    questions: Vec<Question>,
}

impl Model {
    /// A model from the probability of each cause to be present in a complaint job (rate per 1000
    /// over 1000) and its questions.
    ///
    /// # Errors
    /// See the head of this file.
    pub fn new(priors: Vec<f64>, questions: Vec<Question>) -> Result<Self, CalcError> {
        if priors.is_empty() {
            let (have, need) = (0, 1);
            return Err(CalcError::TooFew {
                input: "priors",
                have,
                need,
            });
        }
        for p in &priors {
            within("p", *p, f64::MIN_POSITIVE, 1.0 - f64::EPSILON)?;
        }
        for question in &questions {
            within("leak", question.leak, 0.0, 1.0)?;
            let mut linked = vec![false; priors.len()];
            for link in &question.links {
                within("q", link.chance, 0.0, 1.0)?;
                place("cause", link.cause, priors.len())?;
                if std::mem::replace(&mut linked[link.cause], true) {
                    return Err(CalcError::Uneven {
                        input: "links",
                        have: 2,
                        need: 1,
                    });
                }
            }
        }
        Ok(Self { priors, questions })
    }

    /// The probability of each cause to be present before anything was seen.
    pub fn priors(&self) -> &[f64] {
        &self.priors
    }

    /// The questions.
    pub fn questions(&self) -> &[Question] {
        &self.questions
    }

    /// Refuses an observation that does not fit the model.
    pub(super) fn check(&self, observation: &Observation) -> Result<(), CalcError> {
        match observation {
            Observation::Answer { question, .. } => {
                place("question", *question, self.questions.len())
            }
            Observation::Handed(handed) => {
                if handed.alone.len() != self.priors.len() {
                    return Err(CalcError::Uneven {
                        input: "alone",
                        have: handed.alone.len(),
                        need: self.priors.len(),
                    });
                }
                within("otherwise", handed.otherwise, f64::MIN_POSITIVE, f64::MAX)?;
                for value in &handed.alone {
                    within("alone", *value, f64::MIN_POSITIVE, f64::MAX)?;
                }
                Ok(())
            }
        }
    }
}

impl Question {
    /// Chance of a yes where `cause` alone is there.
    pub fn yes_alone(&self, cause: usize) -> f64 {
        let link = self.links.iter().find(|link| link.cause == cause);
        in_doubt(1.0 - (1.0 - self.leak) * (1.0 - link.map_or(0.0, |link| link.chance)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn question(leak: f64, cause: usize, chance: f64) -> Question {
        let links = vec![Link { cause, chance }];
        Question { leak, links }
    }

    #[test]
    fn refusals() {
        let refused = |priors: &[f64], q: Question| Model::new(priors.to_vec(), vec![q]).is_err();
        assert!(refused(&[], question(0.1, 0, 0.1)));
        for p in [0.0, 1.0, -0.1, f64::NAN] {
            assert!(refused(&[p], question(0.1, 0, 0.1)), "{p}");
        }
        assert!(refused(&[0.1], question(1.1, 0, 0.1)));
        assert!(refused(&[0.1], question(0.1, 0, f64::INFINITY)));
        assert!(refused(&[0.1], question(0.1, 1, 0.1)));
        let mut twice = question(0.1, 0, 0.1);
        twice.links.push(twice.links[0]);
        assert!(refused(&[0.1], twice));
        let model = Model::new(vec![0.1], vec![question(0.1, 0, 0.1)]).expect("fine");
        let (question, yes) = (1, true);
        assert!(model.check(&Observation::Answer { question, yes }).is_err());
        let handed = |alone: &[f64], otherwise: f64| {
            let alone = alone.to_vec();
            model.check(&Observation::Handed(Handed { alone, otherwise }))
        };
        assert!(handed(&[0.5], 0.1).is_ok());
        for (alone, otherwise) in [(&[][..], 0.1), (&[0.0], 0.1), (&[0.1], f64::NAN)] {
            assert!(handed(alone, otherwise).is_err());
        }
    }

    #[test]
    fn a_chance_below_the_false_alarm_is_no_link() {
        assert_eq!(link_of(0.2, 0.1), 0.0);
        assert_eq!(link_of(1.0, 1.0), 0.0);
        assert_eq!(link_of(0.0, 1.0), 1.0);
    }

    proptest! {
        #[test]
        fn a_check_says_yes_as_often_as_was_stated(alarm in 0.0..0.9f64, over in 0.0..1.0f64) {
            let stated = alarm + (1.0 - alarm) * over;
            let yes = question(alarm, 0, link_of(alarm, stated)).yes_alone(0);
            prop_assert!((yes - in_doubt(stated)).abs() < 1e-12);
        }
    }
}
