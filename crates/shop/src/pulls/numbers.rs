//! The numbers of a pull by the names that sheets use.

use calc::pull::reading::{Number, Reading, Value};
use calc::uncertainty_budget::Budget;

use crate::sheet::Feature;

/// Each number that `reading` has, in the order in which they are shown. Phases and what follows from them mean
/// nothing `to_stall`.
pub fn numbers(reading: &Reading, to_stall: bool) -> Vec<(Feature, Value)> {
    let of = |feature| Some((feature, one(reading, feature)?));
    let shown = |feature: &Feature| {
        let of_fastener = matches!(
            feature,
            Feature::Break
                | Feature::TakeUp
                | Feature::Plateau
                | Feature::Stiffness
                | Feature::Release
        );
        !(to_stall && of_fastener)
    };
    let features = Feature::ALL.into_iter().filter(shown);
    features.filter_map(of).collect()
}

fn one(reading: &Reading, feature: Feature) -> Option<Value> {
    let found = &reading.features;
    let exact = |value: f64| Value { value, u: 0.0 };
    match feature {
        Feature::Peak => Some(found.peak_kn),
        Feature::Break => found.break_kn,
        Feature::TakeUp => found.take_up_kn,
        Feature::Plateau => found.plateau_kn,
        Feature::Stiffness => found.stiffness_kn_mm,
        Feature::Stroke => Some(found.stroke_mm),
        Feature::Energy => Some(found.energy_j),
        Feature::Release => found.release_kn,
        Feature::Cycle => found.cycle_s,
        Feature::Return => found.return_s,
        Feature::HoldLoss => found.hold?.loss_60_s_kn,
        Feature::Slips => Some(exact(reading.slips.len() as f64)),
        Feature::SlipSize => found.slip_kn,
        Feature::StickSlip => Some(exact(found.stick_slip_per_mm)),
        Feature::StickSlipSize => found.stick_slip_kn,
        Feature::Hysteresis => found.hysteresis_j,
    }
}

/// The uncertainty budget of a number of `reading`; `None` where it does not have it, or it is a count.
pub fn budget(reading: &Reading, feature: Feature) -> Option<Budget> {
    reading.features.budget(match feature {
        Feature::Peak => Number::Peak,
        Feature::Break => Number::Break,
        Feature::TakeUp => Number::TakeUp,
        Feature::Plateau => Number::Plateau,
        Feature::Stiffness => Number::Stiffness,
        Feature::Stroke => Number::Stroke,
        Feature::Energy => Number::Energy,
        Feature::Release => Number::Release,
        Feature::Cycle => Number::Cycle,
        Feature::Return => Number::Return,
        Feature::HoldLoss => Number::HoldLoss,
        Feature::SlipSize => Number::Slip,
        Feature::StickSlipSize => Number::StickSlip,
        Feature::Hysteresis => Number::Hysteresis,
        Feature::Slips | Feature::StickSlip => return None,
    })
}
