//! `change-points`, `peaks`, `trapezoid-integral`, `pull-energy`

use calc::pull::{change_points, energy, integral, peaks};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{NotNegative, contract};

contract! {
    /// A series whose level jumps.
    struct ChangesInput {
        /// The series.
        values: Vec<f64>,
        /// What a change costs, in the square of the values' unit.
        penalty: NotNegative,
        /// Least number of values between changes.
        least_length: u64 = 2,
    }
}

contract! {
    /// The levels.
    struct ChangesOutput {
        /// Where each level ends, exclusive; the last is the number of values.
        ends: Vec<u64>,
        /// Mean of each.
        means: Vec<f64>,
        /// Squared deviations from the means, all together; without the penalties.
        total_cost: f64,
    }
}

/// The contract.
pub(crate) struct ChangePoints;

impl Contract for ChangePoints {
    const METHOD: Method = change_points::METHOD;
    const SUMMARY: &'static str = "method-change-points";
    const FORMULA: &'static str = "min Σ Σ (x − x̄_segment)² + β · changes";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("x", "values"), ("β", "penalty"), ("L", "least_length")];
    type In = ChangesInput;
    type Out = ChangesOutput;

    fn compute(input: &ChangesInput) -> Result<(ChangesOutput, Option<Working>), MethodError> {
        let least = usize::try_from(input.least_length).unwrap_or(usize::MAX);
        let found = change_points::change_points(&input.values, input.penalty.0, least)?;
        let out = ChangesOutput {
            ends: found.ends.iter().map(|end| *end as u64).collect(),
            means: found.means,
            total_cost: found.total_cost,
        };
        Ok((out, None))
    }
}

contract! {
    /// A series.
    struct PeaksInput {
        /// The series.
        values: Vec<f64>,
        /// How far a peak must stand out to be told.
        least_prominence: NotNegative = NotNegative(0.0),
    }
}

contract! {
    /// Its peaks, one in each list.
    struct PeaksOutput {
        /// Places, from 0.
        index: Vec<u64>,
        /// Values there.
        height: Vec<f64>,
        /// How far each stands over its higher base.
        prominence: Vec<f64>,
        /// Lowest place on the left.
        left_base: Vec<u64>,
        /// Lowest place on the right.
        right_base: Vec<u64>,
        /// Width at half the prominence, in places.
        width_half: Vec<f64>,
        /// Place of the highest value of all.
        highest_index: u64,
        /// That value.
        highest: f64,
    }
}

/// The contract.
pub(crate) struct Peaks;

impl Contract for Peaks {
    const METHOD: Method = peaks::METHOD;
    const SUMMARY: &'static str = "method-peaks";
    const FORMULA: &'static str =
        "prominence = x_i − max(min left, min right), up to higher ground";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("x", "values"), ("h", "least_prominence")];
    type In = PeaksInput;
    type Out = PeaksOutput;

    fn compute(input: &PeaksInput) -> Result<(PeaksOutput, Option<Working>), MethodError> {
        let found = peaks::peaks(&input.values, input.least_prominence.0)?;
        let (highest_index, highest) = peaks::highest(&input.values)?;
        let out = PeaksOutput {
            index: found.iter().map(|p| p.index as u64).collect(),
            height: found.iter().map(|p| p.height).collect(),
            prominence: found.iter().map(|p| p.prominence).collect(),
            left_base: found.iter().map(|p| p.left_base as u64).collect(),
            right_base: found.iter().map(|p| p.right_base as u64).collect(),
            width_half: found.iter().map(|p| p.width_half).collect(),
            highest_index: highest_index as u64,
            highest,
        };
        Ok((out, None))
    }
}

contract! {
    /// Points, joined by straight lines.
    struct IntegralInput {
        /// Where, any unit; may be uneven, stand still or go back.
        x: Vec<f64>,
        /// How much, any unit.
        y: Vec<f64>,
    }
}

contract! {
    /// The area.
    struct IntegralOutput {
        /// ∫ y dx.
        integral: f64,
    }
}

/// The contract.
pub(crate) struct TrapezoidIntegral;

impl Contract for TrapezoidIntegral {
    const METHOD: Method = integral::METHOD;
    const SUMMARY: &'static str = "method-trapezoid-integral";
    const FORMULA: &'static str = "∫ y dx = Σ (y_i + y_{i+1}) / 2 · (x_{i+1} − x_i)";
    type In = IntegralInput;
    type Out = IntegralOutput;

    fn compute(input: &IntegralInput) -> Result<(IntegralOutput, Option<Working>), MethodError> {
        let integral = integral::trapezoid(&input.x, &input.y)?;
        Ok((IntegralOutput { integral }, None))
    }
}

contract! {
    /// A recorded pull.
    struct EnergyInput {
        /// Stroke.
        stroke_mm: Vec<f64>,
        /// Force at each.
        force_kN: Vec<f64>,
    }
}

contract! {
    /// What it took.
    struct EnergyOutput {
        /// Energy of the whole, by trapezoids.
        energy_J: f64,
        /// Energy up to half of the stroke.
        energy_to_half_stroke_J: f64,
        /// Energy of the whole by Simpson's rule; left out where the stroke stands or goes back.
        simpson_J: Option<f64>,
    }
}

/// The contract.
pub(crate) struct PullEnergy;

impl Contract for PullEnergy {
    const METHOD: Method = energy::METHOD;
    const SUMMARY: &'static str = "method-pull-energy";
    const FORMULA: &'static str = "W = ∫ F ds";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("s", "stroke_mm"),
        ("x", "stroke_mm"),
        ("F", "force_kN"),
        ("y", "force_kN"),
    ];
    type In = EnergyInput;
    type Out = EnergyOutput;

    fn compute(input: &EnergyInput) -> Result<(EnergyOutput, Option<Working>), MethodError> {
        let found = energy::energy(&input.stroke_mm, &input.force_kN)?;
        let out = EnergyOutput {
            energy_J: found.energy_j,
            energy_to_half_stroke_J: found.to_half_stroke_j,
            simpson_J: found.simpson_j,
        };
        Ok((out, energy::working(&input.stroke_mm, &input.force_kN)))
    }
}
