//! A stop on a screw: which way it turns, what that does, how far it goes.
//!
//! Four facts fix the effect of a clockwise turn: the hand of the thread, whether screwing the stop
//! in shortens or lengthens the stroke, which end of its travel counts as zero, and from which end
//! of the tool it is looked at.
//!
//! # Formula
//! A right-hand screw seen from its own head goes in clockwise; a left-hand one, or a right-hand one
//! seen from the far end, goes out. Away from zero it can only go in (zero at fully out) or out (zero
//! at fully in). Turns = travel / pitch.
//!
//! # Source
//! Definition of thread hand (ISO 5408); the rest is geometry.

use crate::error::{CalcError, within};

/// Hand of a thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hand {
    /// Right-hand: tightens clockwise.
    Right,
    /// Left-hand: tightens counter-clockwise.
    Left,
}

impl Hand {
    /// The turn that tightens, seen from the head.
    pub fn tightens(self) -> Rotation {
        match self {
            Self::Right => Rotation::Clockwise,
            Self::Left => Rotation::CounterClockwise,
        }
    }
}

/// A sense of turning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rotation {
    /// With the clock.
    Clockwise,
    /// Against the clock.
    CounterClockwise,
}

impl Rotation {
    /// The other sense.
    #[must_use]
    pub fn reversed(self) -> Self {
        match self {
            Self::Clockwise => Self::CounterClockwise,
            Self::CounterClockwise => Self::Clockwise,
        }
    }
}

/// What a turn does to the stroke.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Less stroke.
    Shortens,
    /// More stroke.
    Lengthens,
}

impl Effect {
    /// The other effect.
    #[must_use]
    pub fn reversed(self) -> Self {
        match self {
            Self::Shortens => Self::Lengthens,
            Self::Lengthens => Self::Shortens,
        }
    }
}

/// The end of the stop's travel from which turns are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Zero {
    /// Screwed fully out.
    Open,
    /// Screwed fully in.
    Closed,
}

/// The end from which the stop is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum View {
    /// From the stop's own head.
    AdjusterEnd,
    /// From the other end, through the nose.
    NoseEnd,
}

/// A stop and its four facts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScrewStop {
    /// Travel per turn, mm.
    pub pitch_mm: f64,
    /// Hand of the thread.
    pub hand: Hand,
    /// What screwing in does.
    pub screwing_in: Effect,
    /// Where turns start.
    pub zero: Zero,
    /// From where it is looked at.
    pub view: View,
}

impl ScrewStop {
    /// What a clockwise turn does, as seen from `view`.
    pub fn clockwise(&self) -> Effect {
        if self.clockwise_goes_in() {
            self.screwing_in
        } else {
            self.screwing_in.reversed()
        }
    }

    /// The turn that has the wanted effect, as seen from `view`.
    pub fn rotation_for(&self, effect: Effect) -> Rotation {
        if self.clockwise() == effect {
            Rotation::Clockwise
        } else {
            Rotation::CounterClockwise
        }
    }

    /// The effect of turning away from zero.
    pub fn away_from_zero(&self) -> Effect {
        match self.zero {
            Zero::Open => self.screwing_in,
            Zero::Closed => self.screwing_in.reversed(),
        }
    }

    /// How turns from zero change per millimetre of stroke: negative where turning away from zero
    /// shortens it.
    pub fn turns_per_mm(&self) -> f64 {
        match self.away_from_zero() {
            Effect::Shortens => -1.0 / self.pitch_mm,
            Effect::Lengthens => 1.0 / self.pitch_mm,
        }
    }

    fn clockwise_goes_in(&self) -> bool {
        (self.hand == Hand::Right) == (self.view == View::AdjusterEnd)
    }
}

/// The nearest setting that hands can make, in steps of `step` turns; a tie goes to the shorter
/// stroke, because an under-set joint can be seen and an over-set one is scrap.
///
/// # Errors
/// A step that is not above 0, turns that are negative or not finite.
pub fn to_step(turns: f64, step: f64, away_from_zero: Effect) -> Result<f64, CalcError> {
    let step = within("step", step, 1e-3, 10.0)?;
    let turns = within("turns", turns, 0.0, 1e4)?;
    let steps = turns / step;
    let tie = (steps - steps.floor() - 0.5).abs() < 1e-9;
    let whole = match (tie, away_from_zero) {
        (true, Effect::Shortens) => steps.ceil(),
        (true, Effect::Lengthens) => steps.floor(),
        (false, _) => steps.round(),
    };
    Ok(whole * step)
}

/// The largest step that hands can set and that moves the stroke by no more than 0.25 mm: a quarter
/// or an eighth of a turn.
pub fn natural_step(pitch_mm: f64) -> f64 {
    if pitch_mm / 4.0 <= 0.25 { 0.25 } else { 0.125 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn stop(hand: Hand, screwing_in: Effect, zero: Zero, view: View) -> ScrewStop {
        ScrewStop {
            pitch_mm: 1.25,
            hand,
            screwing_in,
            zero,
            view,
        }
    }

    #[test]
    fn the_clockwise_effect_of_known_adjusters() {
        // Worked by hand from the definition of thread hand; common practice, no source.
        let right_open = stop(Hand::Right, Effect::Shortens, Zero::Open, View::AdjusterEnd);
        assert_eq!(right_open.clockwise(), Effect::Shortens);
        assert_eq!(right_open.away_from_zero(), Effect::Shortens);
        let left_closed = stop(
            Hand::Left,
            Effect::Shortens,
            Zero::Closed,
            View::AdjusterEnd,
        );
        assert_eq!(left_closed.clockwise(), Effect::Lengthens);
        assert_eq!(left_closed.away_from_zero(), Effect::Lengthens);
        assert_eq!(
            left_closed.rotation_for(Effect::Lengthens),
            Rotation::Clockwise
        );
        // The same right-hand stop looked at through the nose turns the other way.
        let through_nose = stop(Hand::Right, Effect::Shortens, Zero::Open, View::NoseEnd);
        assert_eq!(through_nose.clockwise(), Effect::Lengthens);
    }

    #[test]
    fn settings_fall_on_steps_and_ties_go_short() {
        assert_eq!(to_step(7.33, 0.25, Effect::Shortens), Ok(7.25));
        assert_eq!(to_step(6.67, 0.25, Effect::Shortens), Ok(6.75));
        assert_eq!(to_step(6.375, 0.25, Effect::Shortens), Ok(6.5));
        assert_eq!(to_step(6.375, 0.25, Effect::Lengthens), Ok(6.25));
        assert!(to_step(-1.0, 0.25, Effect::Shortens).is_err());
        assert!(to_step(1.0, 0.0, Effect::Shortens).is_err());
        assert!(to_step(f64::NAN, 0.25, Effect::Shortens).is_err());
    }

    #[test]
    fn the_natural_step_moves_at_most_a_quarter_millimetre() {
        assert_eq!(natural_step(1.0), 0.25);
        assert_eq!(natural_step(1.1), 0.125);
        assert_eq!(natural_step(1.5), 0.125);
        assert_eq!(natural_step(2.0), 0.125);
    }

    fn any_stop() -> impl Strategy<Value = ScrewStop> {
        (
            prop_oneof![Just(Hand::Right), Just(Hand::Left)],
            prop_oneof![Just(Effect::Shortens), Just(Effect::Lengthens)],
            prop_oneof![Just(Zero::Open), Just(Zero::Closed)],
            prop_oneof![Just(View::AdjusterEnd), Just(View::NoseEnd)],
        )
            .prop_map(|(hand, effect, zero, view)| stop(hand, effect, zero, view))
    }

    proptest! {
        #[test]
        fn each_single_reversal_reverses_a_clockwise_turn(s in any_stop()) {
            let other_hand = ScrewStop { hand: if s.hand == Hand::Left { Hand::Right } else { Hand::Left }, ..s };
            let other_view = ScrewStop { view: if s.view == View::NoseEnd { View::AdjusterEnd } else { View::NoseEnd }, ..s };
            let other_effect = ScrewStop { screwing_in: s.screwing_in.reversed(), ..s };
            for reversed in [other_hand, other_view, other_effect] {
                prop_assert_eq!(reversed.clockwise(), s.clockwise().reversed());
            }
            // The zero end moves where turns start, never what a clockwise turn does.
            let other_zero = ScrewStop { zero: if s.zero == Zero::Open { Zero::Closed } else { Zero::Open }, ..s };
            prop_assert_eq!(other_zero.clockwise(), s.clockwise());
            prop_assert_eq!(other_zero.away_from_zero(), s.away_from_zero().reversed());
        }

        #[test]
        fn a_turn_and_its_reverse_have_opposite_effects(s in any_stop()) {
            prop_assert_eq!(s.rotation_for(Effect::Shortens), s.rotation_for(Effect::Lengthens).reversed());
            prop_assert_eq!(s.turns_per_mm() < 0.0, s.away_from_zero() == Effect::Shortens);
        }

        #[test]
        fn a_step_is_never_more_than_half_a_step_away(t in 0.0..40.0f64) {
            for e in [Effect::Shortens, Effect::Lengthens] {
                let set = to_step(t, 0.25, e).expect("in range");
                prop_assert!((set - t).abs() <= 0.125 + 1e-9);
                prop_assert!(((set / 0.25) - (set / 0.25).round()).abs() < 1e-9);
            }
        }
    }
}
