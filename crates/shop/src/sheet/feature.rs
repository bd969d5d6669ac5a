//! What can be read from a recorded pull, as sheets name it.

use calc::units::{Dimension, Unit};

/// A number of a recorded pull.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Feature {
    /// Largest force, kN.
    Peak,
    /// Force at which pin or mandrel parted, kN.
    Break,
    /// Force of the take-up, kN.
    TakeUp,
    /// Force in the middle of the form, kN.
    Plateau,
    /// Slope of the pull-up, kN/mm.
    Stiffness,
    /// Stroke from home, mm.
    Stroke,
    /// Energy up to the end of the stroke, J.
    Energy,
    /// Reverse load on the way back, kN.
    Release,
    /// Leaving home to being home again, s.
    Cycle,
    /// The force gone to being home again, s.
    Return,
    /// Force lost in 60 s of hold, kN.
    HoldLoss,
    /// How often the jaws slipped.
    Slips,
    /// Mean size of the slips, kN.
    SlipSize,
    /// Rises and falls of a dry or worn drive, for each mm of stroke.
    StickSlip,
    /// Their mean size, kN.
    StickSlipSize,
    /// Energy that did not come back when the tool let go, J.
    Hysteresis,
}

impl Feature {
    /// Every one, in the order in which they are shown.
    pub const ALL: [Self; 16] = [
        Self::Peak,
        Self::Break,
        Self::Stroke,
        Self::Slips,
        Self::SlipSize,
        Self::TakeUp,
        Self::Plateau,
        Self::Stiffness,
        Self::Energy,
        Self::Release,
        Self::Cycle,
        Self::Return,
        Self::HoldLoss,
        Self::Hysteresis,
        Self::StickSlip,
        Self::StickSlipSize,
    ];

    /// As written in sheets and entries.
    pub fn key(self) -> &'static str {
        match self {
            Self::Peak => "peak",
            Self::Break => "break",
            Self::TakeUp => "take-up",
            Self::Plateau => "plateau",
            Self::Stiffness => "stiffness",
            Self::Stroke => "stroke",
            Self::Energy => "energy",
            Self::Release => "release",
            Self::Cycle => "cycle",
            Self::Return => "return",
            Self::HoldLoss => "hold-loss",
            Self::Slips => "slips",
            Self::SlipSize => "slip-size",
            Self::StickSlip => "stick-slip",
            Self::StickSlipSize => "stick-slip-size",
            Self::Hysteresis => "hysteresis",
        }
    }

    /// The one written `key`.
    pub fn parse(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|feature| feature.key() == key)
    }

    /// Symbol of its unit; empty for a count.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Peak
            | Self::Break
            | Self::TakeUp
            | Self::Plateau
            | Self::Release
            | Self::HoldLoss
            | Self::SlipSize
            | Self::StickSlipSize => "kN",
            Self::Stiffness => "kN/mm",
            Self::Stroke => "mm",
            Self::Energy | Self::Hysteresis => "J",
            Self::Cycle | Self::Return => "s",
            Self::Slips => "",
            Self::StickSlip => "1/mm",
        }
    }

    /// Decimals that it is written with.
    pub fn decimals(self) -> usize {
        match self {
            Self::Slips => 0,
            Self::Energy | Self::Hysteresis => 1,
            _ => 2,
        }
    }

    /// Its unit, where a bench test can ask for it in that.
    pub fn unit(self) -> Option<Unit> {
        Unit::parse(self.symbol()).filter(|unit| {
            matches!(
                unit.dimension(),
                Dimension::Force | Dimension::Length | Dimension::Time
            )
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_is_found_by_its_key() {
        for feature in Feature::ALL {
            assert_eq!(Feature::parse(feature.key()), Some(feature));
        }
        assert_eq!(Feature::parse("force"), None);
    }

    #[test]
    fn counts_and_slopes_are_asked_for_by_no_bench_test() {
        assert_eq!(Feature::Peak.unit(), Some(Unit::Kilonewton));
        assert_eq!(Feature::Stroke.unit(), Some(Unit::Millimetre));
        assert_eq!(Feature::Stiffness.unit(), None);
        assert_eq!(Feature::Slips.unit(), None);
    }
}
