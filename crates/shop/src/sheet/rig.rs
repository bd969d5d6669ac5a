//! A bench rig: how its logger's files are read, and with which gauges it measures.

use calc::decision::{Limits, Rule};
use calc::pull::reading::Filter;
use calc::pull::recording;

use super::Feature;

/// A rig sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Rig {
    /// Id, unique among rigs.
    pub id: String,
    /// Name as marked on it.
    pub name: String,
    /// Gauge that measures the force, by id.
    pub load_cell: String,
    /// Gauge that measures the stroke, by id.
    pub stroke_sensor: String,
    /// Columns, units, scaling and zero.
    pub recording: recording::Rig,
    /// What is done against noise.
    pub filter: Filter,
}

/// Limits of what a pull of a fastener measures on a tool model.
#[derive(Clone, Debug, PartialEq)]
pub struct PullLimit {
    /// Fastener id.
    pub fastener: String,
    /// What is measured.
    pub feature: Feature,
    /// Limits, in the feature's unit.
    pub limits: Limits,
    /// Decision rule.
    pub rule: Rule,
}
