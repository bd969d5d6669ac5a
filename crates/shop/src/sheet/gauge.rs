//! A gauge: what it can read, how well, and until when that is known.

use calc::repeated::GaugeDoubt;
use calc::units::Unit;
use jiff::civil::Date;

/// Kind of gauge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GaugeKind {
    /// Caliper.
    Caliper,
    /// Micrometer.
    Micrometer,
    /// Depth gauge.
    DepthGauge,
    /// Plug gauge.
    PlugGauge,
    /// Feeler.
    Feeler,
    /// Load cell.
    LoadCell,
    /// Pressure gauge.
    PressureGauge,
    /// Torque wrench.
    TorqueWrench,
    /// Stop watch.
    Timer,
    /// Spring tester.
    SpringTester,
    /// Ammeter.
    Ammeter,
    /// Flow meter.
    FlowMeter,
    /// Displacement sensor of a rig.
    DisplacementSensor,
    /// Scale: oil that goes in and comes out, what a tool weighs.
    Scale,
}

/// Turning direction in which a torque wrench is calibrated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// For right-hand joints: clockwise.
    Clockwise,
    /// For left-hand joints: counter-clockwise.
    CounterClockwise,
}

/// A gauge sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Gauge {
    /// Id, unique among gauges.
    pub id: String,
    /// Name as marked on it.
    pub name: String,
    /// Kind.
    pub kind: GaugeKind,
    /// Unit that it shows.
    pub unit: Unit,
    /// Smallest and largest value that it reads.
    pub range: (f64, f64),
    /// Smallest step.
    pub resolution: f64,
    /// Expanded uncertainty from its certificate (k = 2), in its unit.
    pub expanded: f64,
    /// Day of the last calibration.
    pub calibrated: Date,
    /// First day on which it is no longer in date.
    pub due: Date,
    /// Certificate number.
    pub certificate: String,
    /// Directions in which a torque wrench is calibrated; empty for other gauges.
    pub directions: Vec<Direction>,
    /// Torque wrench: middle of its drive to middle of its grip, mm.
    pub length_mm: Option<f64>,
}

impl Gauge {
    /// What it adds to the doubt of a reading.
    pub fn doubt(&self) -> GaugeDoubt {
        GaugeDoubt {
            expanded: self.expanded,
            resolution: self.resolution,
        }
    }

    /// Decimals that its readings are written with.
    pub fn decimals(&self) -> usize {
        (0..4)
            .find(|d| {
                let scaled = self.resolution * 10f64.powi(*d);
                (scaled - scaled.round()).abs() < 1e-9
            })
            .unwrap_or(3) as usize
    }
}
