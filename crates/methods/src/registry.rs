//! The registry: every method by its name.

use crate::contracts::{
    air_lines, battery, bayes_network, calibration, conformity, expected_information, exposure,
    fault_posterior, filters, gauge_rr, gauges, grip_code, hydraulics, inspection, labour_time,
    learned_share, life_fits, line_posterior, polynomial, pull_curve, pull_reading, pulls, queues,
    relative_range, reliability, reorder, repair_or_replace, repeated_readings, rivet_strength,
    run_chart, samples, sampling, screw_stop, screws, several_faults, shares, stack,
    stick_out_causes, stock, stroke_relation, student_factor, table_straight_line, torque_adapter,
    torque_tool_deviation, trial_loop, trials, troubleshooting, uncertainty_budget,
    unit_conversion, wear_life,
};
use crate::{MethodCard, nearest};

/// Every method, one a line, in the order of a job.
static ALL: &[MethodCard] = &[
    MethodCard::of::<unit_conversion::UnitConversion>(),
    MethodCard::of::<repeated_readings::RepeatedReadings>(),
    MethodCard::of::<relative_range::RelativeRange>(),
    MethodCard::of::<samples::OneWay>(),
    MethodCard::of::<samples::GrubbsOutlier>(),
    MethodCard::of::<samples::NormalityTests>(),
    MethodCard::of::<gauge_rr::GaugeAnova>(),
    MethodCard::of::<gauge_rr::GaugeRange>(),
    MethodCard::of::<gauges::GaugeCorrection>(),
    MethodCard::of::<gauges::ForceGaugeCheck>(),
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
    MethodCard::of::<learned_share::LearnedShare>(),
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
    MethodCard::of::<filters::SavitzkyGolay>(),
    MethodCard::of::<filters::LowPass>(),
    MethodCard::of::<filters::ZeroPhase>(),
    MethodCard::of::<pull_curve::ChangePoints>(),
    MethodCard::of::<pull_curve::Peaks>(),
    MethodCard::of::<pull_curve::TrapezoidIntegral>(),
    MethodCard::of::<pull_curve::PullEnergy>(),
    MethodCard::of::<pull_reading::PullReading>(),
    MethodCard::of::<pull_reading::PullEnvelope>(),
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
    MethodCard::of::<shares::ProportionInterval>(),
    MethodCard::of::<shares::ProcessCapability>(),
    MethodCard::of::<shares::ToleranceFactor>(),
    MethodCard::of::<shares::ToleranceInterval>(),
    MethodCard::of::<sampling::OperatingCharacteristic>(),
    MethodCard::of::<sampling::TwoPointPlan>(),
    MethodCard::of::<sampling::CodeLetter>(),
    MethodCard::of::<sampling::SinglePlan>(),
    MethodCard::of::<run_chart::IndividualsChart>(),
    MethodCard::of::<life_fits::WeibullFit>(),
    MethodCard::of::<life_fits::LognormalFit>(),
    MethodCard::of::<life_fits::ExponentialFit>(),
    MethodCard::of::<reliability::KaplanMeier>(),
    MethodCard::of::<reliability::MtbfInterval>(),
    MethodCard::of::<reliability::AgeReplacement>(),
    MethodCard::of::<stock::CrostonDemand>(),
    MethodCard::of::<stock::BaseStock>(),
    MethodCard::of::<stock::OrderQuantity>(),
    MethodCard::of::<reorder::ReorderQuantity>(),
    MethodCard::of::<reorder::ReorderLevel>(),
    MethodCard::of::<stock::Newsvendor>(),
    MethodCard::of::<queues::ErlangB>(),
    MethodCard::of::<queues::ErlangC>(),
    MethodCard::of::<exposure::VibrationDay>(),
    MethodCard::of::<exposure::VibrationTime>(),
    MethodCard::of::<exposure::NoiseDay>(),
    MethodCard::of::<exposure::NoiseEvents>(),
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
