//! The check that tells explanations of a stick-out apart.

use calc::Message;
use calc::information;
use calc::stick_out_causes::{Cause, Weighed};

/// From this probability on there is one thing to do and nothing to tell apart.
const SETTLED: f64 = 0.90;

/// A check that tells explanations apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Check {
    /// Clamp the sheets and measure again.
    Clamp,
    /// Read the code on the heads.
    ReadCode,
    /// Feel under the head.
    FeelHead,
    /// Set the rod on the pin's flat end and measure again.
    MoveRod,
    /// Take the washer or collar off and measure again.
    TakeOff,
    /// Measure the stack beside the hole.
    MeasureStack,
}

impl Check {
    const ALL: [Check; 6] = [
        Self::Clamp,
        Self::ReadCode,
        Self::FeelHead,
        Self::MoveRod,
        Self::TakeOff,
        Self::MeasureStack,
    ];

    /// Its text.
    pub fn text(self) -> Message {
        Message::new(match self {
            Self::Clamp => "grip-check-clamp",
            Self::ReadCode => "grip-check-code",
            Self::FeelHead => "grip-check-head",
            Self::MoveRod => "grip-check-rod",
            Self::TakeOff => "grip-check-take-off",
            Self::MeasureStack => "grip-check-stack",
        })
    }

    /// Chance that it finds something under `cause`: it nearly always finds its own, and now and then
    /// something where there is nothing (common practice, no source).
    fn finds(self, cause: Cause, has_stack: bool) -> f64 {
        let own = match (self, cause) {
            (Self::Clamp, Cause::NotClamped)
            | (Self::ReadCode, Cause::WrongPin(_) | Cause::MixedCarton)
            | (Self::FeelHead, Cause::HeadNotSeated)
            | (Self::MoveRod, Cause::RodAside)
            | (Self::TakeOff, Cause::LeftOn)
            | (Self::MeasureStack, Cause::LayerMissing | Cause::StackDiffers) => true,
            // Without a stack it is the pin or the stack, and either look finds it half the time.
            (Self::ReadCode | Self::MeasureStack, Cause::WrongCode(_)) if !has_stack => {
                return 0.5;
            }
            (Self::MeasureStack, Cause::WrongCode(_)) => true,
            _ => false,
        };
        if own { 0.95 } else { 0.05 }
    }

    /// The check that looks for `cause` itself.
    fn of(cause: Cause) -> Self {
        match cause {
            Cause::AsItShould | Cause::NotClamped | Cause::Other => Self::Clamp,
            Cause::HeadNotSeated => Self::FeelHead,
            Cause::RodAside => Self::MoveRod,
            Cause::LeftOn => Self::TakeOff,
            Cause::LayerMissing | Cause::StackDiffers => Self::MeasureStack,
            Cause::WrongPin(_) | Cause::MixedCarton | Cause::WrongCode(_) => Self::ReadCode,
        }
    }
}

/// The check that is expected to tell most; where one cause is as good as sure, its own.
pub(super) fn telling(weighed: &[Weighed], has_stack: bool) -> Check {
    let first = weighed.first();
    if let Some(first) = first.filter(|w| w.probability >= SETTLED) {
        return Check::of(first.cause);
    }
    let p: Vec<f64> = weighed.iter().map(|w| w.probability).collect();
    let bits = |check: &Check| {
        let finds = weighed.iter().map(|w| check.finds(w.cause, has_stack));
        information::expected(&p, &finds.collect::<Vec<_>>()).bits
    };
    let most = Check::ALL
        .into_iter()
        .max_by(|a, b| bits(a).total_cmp(&bits(b)));
    most.unwrap_or(Check::Clamp)
}
