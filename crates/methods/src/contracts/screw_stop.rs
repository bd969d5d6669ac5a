//! `screw-stop-setting`

use calc::screw_stop::{Effect, Hand, Rotation, ScrewStop, View, Zero, natural_step, to_step};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{NotNegative, Positive, choices, contract};

choices! {
    /// Hand of the thread.
    enum HandIn of Hand { "right" => Hand::Right, "left" => Hand::Left, }
}

choices! {
    /// What a turn does to the stroke.
    enum EffectWord of Effect {
        "shortens" => Effect::Shortens,
        "lengthens" => Effect::Lengthens,
    }
}

choices! {
    /// The end of the stop's travel from which turns are counted.
    enum ZeroIn of Zero { "open" => Zero::Open, "closed" => Zero::Closed, }
}

choices! {
    /// The end from which the stop is looked at.
    enum ViewIn of View {
        "adjuster-end" => View::AdjusterEnd,
        "nose-end" => View::NoseEnd,
    }
}

choices! {
    /// A sense of turning.
    enum RotationOut of Rotation {
        "clockwise" => Rotation::Clockwise,
        "counter-clockwise" => Rotation::CounterClockwise,
    }
}

contract! {
    /// A stop on a screw and, if they are known, the turns from zero.
    struct Input {
        /// Travel per turn.
        pitch_mm: Positive,
        /// Hand of the thread.
        hand: HandIn,
        /// What screwing the stop in does to the stroke.
        screwing_in: EffectWord,
        /// Turns are counted from fully out (open) or fully in (closed).
        zero: ZeroIn,
        /// From where it is looked at.
        view: ViewIn,
        /// Turns from zero to be set.
        turns: Option<NotNegative>,
        /// Step that hands can set; by default the natural one.
        step_turns: Option<Positive>,
    }
}

contract! {
    /// Which way it turns, and what that does.
    struct Output {
        /// What a clockwise turn does, as seen.
        clockwise: EffectWord,
        /// What turning away from zero does.
        away_from_zero: EffectWord,
        /// The turn away from zero, as seen.
        away_rotation: RotationOut,
        /// Change of the turns per millimetre of stroke.
        turns_per_mm: f64,
        /// Largest step that moves the stroke by at most 0.25 mm: a quarter or an eighth.
        natural_step_turns: f64,
        /// The turns on a step; a tie goes to the shorter stroke.
        set_turns: Option<f64>,
    }
}

/// The contract.
pub(crate) struct ScrewStopSetting;

impl Contract for ScrewStopSetting {
    const METHOD: Method = Method {
        name: "screw-stop-setting",
        version: 1,
        source: "definition of thread hand (ISO 5408) and geometry",
    };
    const SUMMARY: &'static str = "method-screw-stop-setting";
    const FORMULA: &'static str = "turns = travel / pitch; set = step · round(turns / step)";
    const NAMES: &'static [(&'static str, &'static str)] = &[("step", "step_turns")];
    const ANSWERS: &'static [&'static str] = &["set_turns", "clockwise"];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let stop = ScrewStop {
            pitch_mm: input.pitch_mm.0,
            hand: input.hand.0,
            screwing_in: input.screwing_in.0,
            zero: input.zero.0,
            view: input.view.0,
        };
        let away = stop.away_from_zero();
        let natural = natural_step(stop.pitch_mm);
        let step = input.step_turns.map_or(natural, |s| s.0);
        let set = |turns: NotNegative| to_step(turns.0, step, away);
        let out = Output {
            clockwise: EffectWord(stop.clockwise()),
            away_from_zero: EffectWord(away),
            away_rotation: RotationOut(stop.rotation_for(away)),
            turns_per_mm: stop.turns_per_mm(),
            natural_step_turns: natural,
            set_turns: input.turns.map(set).transpose()?,
        };
        Ok((out, None))
    }
}
