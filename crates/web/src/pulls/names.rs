//! Names of what is read from a pull.

use calc::pull::reading::{Ending, Filter, Phase};
use shop::sheet::Feature;

/// The name of a feature in a sentence.
pub fn plain(feature: Feature) -> &'static str {
    match feature {
        Feature::Peak => "feature-peak",
        Feature::Break => "feature-break",
        Feature::TakeUp => "feature-take-up",
        Feature::Plateau => "feature-plateau",
        Feature::Stiffness => "feature-stiffness",
        Feature::Stroke => "feature-stroke",
        Feature::Energy => "feature-energy",
        Feature::Release => "feature-release",
        Feature::Cycle => "feature-cycle",
        Feature::Return => "feature-return",
        Feature::HoldLoss => "feature-hold-loss",
        Feature::Slips => "feature-slips",
        Feature::SlipSize => "feature-slip-size",
        Feature::StickSlip => "feature-stick-slip",
        Feature::StickSlipSize => "feature-stick-slip-size",
        Feature::Hysteresis => "feature-hysteresis",
    }
}

/// What a feature that is out of its limits speaks for, where one thing does.
pub(super) fn meaning(feature: Feature) -> Option<&'static str> {
    match feature {
        Feature::Break => Some("meaning-break"),
        Feature::Stiffness => Some("meaning-stiffness"),
        Feature::Release => Some("meaning-release"),
        Feature::HoldLoss => Some("meaning-hold-loss"),
        Feature::Slips | Feature::SlipSize => Some("meaning-slips"),
        Feature::TakeUp | Feature::StickSlip | Feature::StickSlipSize => Some("meaning-friction"),
        _ => None,
    }
}

/// The name of a phase.
pub fn phase(phase: Phase) -> &'static str {
    match phase {
        Phase::TakeUp => "pull-phase-take-up",
        Phase::PullUp => "pull-phase-pull-up",
        Phase::Form => "pull-phase-form",
        Phase::Clamp => "pull-phase-clamp",
        Phase::Eject => "pull-phase-eject",
    }
}

/// How a pull ended.
pub fn ending(ending: Ending) -> &'static str {
    match ending {
        Ending::Break => "pull-end-break",
        Ending::Stop => "pull-end-stop",
        Ending::Unknown => "pull-end-unknown",
    }
}

/// Whether the force was filtered.
pub(super) fn is_filtered(filter: Filter) -> bool {
    matches!(
        filter,
        Filter::Butterworth { .. } | Filter::SavitzkyGolay { .. }
    )
}
