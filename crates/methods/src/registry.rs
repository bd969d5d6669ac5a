//! The registry: every method by its name.

use crate::contracts::{
    air_lines, battery, bayes_network, calibration, conformity, expected_information,
    fault_posterior, grip_code, hydraulics, inspection, labour_time, line_posterior, polynomial,
    pulls, relative_range, repair_or_replace, repeated_readings, rivet_strength, screw_stop,
    screws, several_faults, stack, stick_out_causes, stroke_relation, student_factor,
    table_straight_line, torque_adapter, torque_tool_deviation, trial_loop, trials,
    troubleshooting, uncertainty_budget, unit_conversion, wear_life,
};
use crate::{MethodCard, nearest};

/// Every method, one a line, in the order of a job.
static ALL: &[MethodCard] = &[
    MethodCard::of::<unit_conversion::UnitConversion>(),
    MethodCard::of::<repeated_readings::RepeatedReadings>(),
    MethodCard::of::<relative_range::RelativeRange>(),
    MethodCard::of::<uncertainty_budget::UncertaintyBudget>(),
    MethodCard::of::<student_factor::StudentFactor>(),
    MethodCard::of::<conformity::GuardBand>(),
    MethodCard::of::<conformity::Probability>(),
    MethodCard::of::<conformity::AcceptanceLimits>(),
    MethodCard::of::<conformity::GlobalRisk>(),
    MethodCard::of::<fault_posterior::SingleFault>(),
    MethodCard::of::<fault_posterior::NoisyOr>(),
    MethodCard::of::<several_faults::SeveralFaults>(),
    MethodCard::of::<bayes_network::BayesNetwork>(),
    MethodCard::of::<expected_information::ExpectedInformation>(),
    MethodCard::of::<inspection::InspectionOrder>(),
    MethodCard::of::<inspection::InspectOrRepair>(),
    MethodCard::of::<troubleshooting::TroubleshootingPolicy>(),
    MethodCard::of::<troubleshooting::NextCheck>(),
    MethodCard::of::<wear_life::WearLife>(),
    MethodCard::of::<labour_time::LabourTime>(),
    MethodCard::of::<repair_or_replace::RepairOrReplace>(),
    MethodCard::of::<torque_adapter::TorqueAdapter>(),
    MethodCard::of::<torque_tool_deviation::TorqueToolDeviation>(),
    MethodCard::of::<screws::PowerScrew>(),
    MethodCard::of::<screws::BallScrewDrive>(),
    MethodCard::of::<screws::BoltPreload>(),
    MethodCard::of::<hydraulics::HydraulicCylinder>(),
    MethodCard::of::<hydraulics::AirHydraulicIntensifier>(),
    MethodCard::of::<pulls::PullPressure>(),
    MethodCard::of::<air_lines::Darcy>(),
    MethodCard::of::<air_lines::MetricRule>(),
    MethodCard::of::<air_lines::HarrisRule>(),
    MethodCard::of::<battery::BatteryEnergy>(),
    MethodCard::of::<pulls::PullWork>(),
    MethodCard::of::<battery::BatteryPulls>(),
    MethodCard::of::<table_straight_line::TableStraightLine>(),
    MethodCard::of::<calibration::StraightLine>(),
    MethodCard::of::<calibration::InversePrediction>(),
    MethodCard::of::<polynomial::PolynomialCalibration>(),
    MethodCard::of::<line_posterior::LinePosterior>(),
    MethodCard::of::<screw_stop::ScrewStopSetting>(),
    MethodCard::of::<trial_loop::Loop>(),
    MethodCard::of::<grip_code::GripSelect>(),
    MethodCard::of::<grip_code::GripRange>(),
    MethodCard::of::<rivet_strength::BlindRivetStrength>(),
    MethodCard::of::<stack::StackThickness>(),
    MethodCard::of::<stick_out_causes::StickOutExplanations>(),
    MethodCard::of::<stroke_relation::StrokeFromStickOut>(),
    MethodCard::of::<trials::ZeroFailureShare>(),
    MethodCard::of::<trials::ZeroFailureSize>(),
    MethodCard::of::<trials::DemonstrationSize>(),
];

/// Every method, in the order of a job.
pub fn all() -> &'static [MethodCard] {
    ALL
}

/// The method called `name`.
pub fn find(name: &str) -> Option<&'static MethodCard> {
    ALL.iter().find(|card| card.name == name)
}

/// The method that was probably meant by `name`.
pub fn nearest_name(name: &str) -> Option<&'static str> {
    nearest(name, ALL.iter().map(|card| card.name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_kebab_case_and_not_used_twice() {
        let mut names: Vec<&str> = ALL.iter().map(|card| card.name).collect();
        for name in &names {
            let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
            assert!(name.chars().all(fits), "{name}");
        }
        let all = names.len();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), all);
    }

    #[test]
    fn found_by_name_or_guessed() {
        assert!(find("torque-adapter").is_some());
        assert!(find("torque-adaptor").is_none());
        assert_eq!(nearest_name("torque-adaptor"), Some("torque-adapter"));
    }
}
