//! What a stick-out may be explained by, and how common that is.
//!
//! # Source
//! Common practice, no source.

use crate::Message;

/// What a stick-out may be explained by. Sizes are how far the reading moves, mm.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// Nothing is wrong.
    AsItShould,
    /// Sheets apart: short by 0.5 to 3.
    NotClamped,
    /// A burr, paint or spatter under the head: short by 0.2 to 1, on every pin or on one.
    HeadNotSeated,
    /// The gauge's rod stood on the pin's cone or burr: 0.2 to 0.8 short or long, on every pin or one.
    RodAside,
    /// A washer (1.0 to 2.5) or a collar (4 to 20) under the gauge's foot or under the head: the
    /// reading starts from its face, so it is short by the whole thickness.
    LeftOn,
    /// A washer that belongs in the stack is not there: long by 1.0 to 2.5.
    LayerMissing,
    /// The pin is not of the code written down but so many codes longer (shorter where negative).
    WrongPin(i32),
    /// The pin is of the code written down, and that is so many codes too long for the stack (too
    /// short where negative). Without a stack it stands for the wrong pin, too: the reading alone
    /// cannot tell them apart.
    WrongCode(i32),
    /// Pins one code step apart in one carton.
    MixedCarton,
    /// The stack is not the one stated but up to 4 thicker or thinner: the code suits what was stated
    /// and not the stack that is there, or the other way round.
    StackDiffers,
    /// Something else: anywhere.
    Other,
}

impl Cause {
    /// How common it is before anything was measured (common practice, no source).
    pub(super) fn prior(self, has_stack: bool) -> f64 {
        // Codes one, two, three away; the shares of both sides add up to 1.
        let step = |k: i32| match k.abs() {
            1 => 0.34,
            2 => 0.12,
            3 => 0.03,
            _ => 0.01,
        };
        match self {
            Self::AsItShould => 0.60,
            Self::NotClamped => 0.12,
            Self::HeadNotSeated => 0.05,
            Self::RodAside => 0.04,
            Self::LeftOn => 0.03,
            Self::LayerMissing => 0.015,
            Self::WrongPin(k) => 0.04 * step(k),
            Self::WrongCode(k) if has_stack => 0.04 * step(k),
            Self::WrongCode(k) => 0.08 * step(k),
            Self::MixedCarton => 0.02,
            Self::StackDiffers => 0.04,
            Self::Other => 0.02,
        }
    }
}

impl Cause {
    /// The name of a cause.
    pub fn said(self) -> Message {
        Message::new(match self {
            Cause::AsItShould => "grip-cause-as-it-should",
            Cause::NotClamped => "grip-cause-not-clamped",
            Cause::HeadNotSeated => "grip-cause-head-not-seated",
            Cause::RodAside => "grip-cause-rod-aside",
            Cause::LeftOn => "grip-cause-left-on",
            Cause::LayerMissing => "grip-cause-layer-missing",
            Cause::WrongPin(k) => {
                let id = if k > 0 {
                    "grip-cause-pin-longer"
                } else {
                    "grip-cause-pin-shorter"
                };
                return Message::new(id).with("codes", k.unsigned_abs());
            }
            Cause::WrongCode(k) => {
                let id = if k > 0 {
                    "grip-cause-code-long"
                } else {
                    "grip-cause-code-short"
                };
                return Message::new(id).with("codes", k.unsigned_abs());
            }
            Cause::MixedCarton => "grip-cause-mixed-carton",
            Cause::StackDiffers => "grip-cause-stack-differs",
            Cause::Other => "grip-cause-other",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_of_the_codes_beside_add_up() {
        // The table above: 2 (0.34 + 0.12 + 0.03 + 0.01) = 1, for codes up to four away.
        let steps = (-4..=4).filter(|k| *k != 0);
        let (mut pins, mut codes, mut alone) = (0.0, 0.0, 0.0);
        for k in steps {
            pins += Cause::WrongPin(k).prior(true);
            codes += Cause::WrongCode(k).prior(true);
            alone += Cause::WrongCode(k).prior(false);
        }
        assert!((pins - 0.04).abs() < 1e-12 && (codes - 0.04).abs() < 1e-12);
        assert!((alone - 0.08).abs() < 1e-12);
        assert_ne!(Cause::WrongPin(1).said(), Cause::WrongPin(-1).said());
    }
}
