//! `repeated-readings-mean`

use calc::repeated::{GaugeDoubt, LEVEL, METHOD, mean, working};
use calc::student::coverage_factor;
use calc::units::Unit;
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Extended, NotNegative, Positive, UnitSymbol, contract};

contract! {
    /// Readings with one gauge, all in one unit.
    struct Input {
        /// The readings.
        readings: Vec<f64>,
        /// Expanded uncertainty from the gauge's certificate.
        gauge_expanded: NotNegative = NotNegative(0.0),
        /// Coverage factor on the certificate.
        gauge_factor: Positive = Positive(2.0),
        /// Smallest step that the gauge shows.
        resolution: NotNegative = NotNegative(0.0),
        /// Their unit, for the working.
        unit: UnitSymbol = UnitSymbol(Unit::Millimetre),
    }
}

contract! {
    /// The mean and its uncertainty, in the unit of the readings.
    struct Output {
        /// Mean of the readings.
        mean: f64,
        /// Standard deviation of the readings; 0 for one reading.
        standard_deviation: f64,
        /// Standard uncertainty of the mean.
        standard: f64,
        /// Effective degrees of freedom, not truncated.
        dof_effective: Extended,
        /// Coverage factor for 95.45 %.
        coverage_factor: f64,
        /// Expanded uncertainty, 95.45 %.
        expanded: f64,
    }
}

/// The contract.
pub(crate) struct RepeatedReadings;

impl Contract for RepeatedReadings {
    const METHOD: Method = METHOD;
    const SUMMARY: &'static str = "method-repeated-readings-mean";
    const FORMULA: &'static str = "u² = s² / n + (w_g / k)² + (r / 2)² / 3; ν = (n − 1) · u⁴ / (s² / n)²; \
        w = t(95.45 %, ν) · u";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("x", "readings"),
        ("w_g", "gauge_expanded"),
        ("k", "gauge_factor"),
        ("r", "resolution"),
        // Readings too far apart for a number to hold.
        ("u", "readings"),
    ];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let gauge = GaugeDoubt {
            // The calculation takes certificates with k = 2.
            expanded: input.gauge_expanded.0 / input.gauge_factor.0 * 2.0,
            resolution: input.resolution.0,
        };
        let e = mean(&input.readings, gauge)?;
        let out = Output {
            mean: e.value,
            standard_deviation: e.spread,
            standard: e.standard,
            dof_effective: Extended(e.dof),
            coverage_factor: coverage_factor(LEVEL, e.dof)?,
            expanded: e.expanded,
        };
        let working = working(&input.readings, gauge, input.unit.0, 3);
        Ok((out, Some(working)))
    }
}
