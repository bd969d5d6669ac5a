//! A number with what its uncertainty is made of.

use super::Value;
use crate::uncertainty_budget::{Budget, Component, Coverage, Part};

/// A number of a pull, by which its budget is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Number {
    /// Largest force behind the filter.
    Peak,
    /// Force at which pin or mandrel parted.
    Break,
    /// Force of the take-up.
    TakeUp,
    /// Force of the form.
    Plateau,
    /// Slope of the pull-up.
    Stiffness,
    /// Stroke from home.
    Stroke,
    /// Energy to the end of the stroke.
    Energy,
    /// Largest reverse load.
    Release,
    /// Leaving home to being home again.
    Cycle,
    /// The force gone to being home again.
    Return,
    /// Force lost in 60 s of hold.
    HoldLoss,
    /// Energy that did not come back.
    Hysteresis,
    /// Mean size of the teeth of stick-slip.
    StickSlip,
    /// Mean size of the slips.
    Slip,
}

impl Number {
    fn unit(self) -> &'static str {
        match self {
            Self::Stiffness => "kN/mm",
            Self::Stroke => "mm",
            Self::Energy | Self::Hysteresis => "J",
            Self::Cycle | Self::Return => "s",
            _ => "kN",
        }
    }

    /// The budget of `parts`, k = 2 as all numbers of a pull have; `None` where nothing makes it unsure.
    pub(super) fn budget(self, parts: &[Part]) -> Option<Budget> {
        Budget::of(self.unit(), parts.to_vec(), Coverage::Factor(2.0)).ok()
    }
}

/// A number and the components of its uncertainty.
#[derive(Clone, Debug)]
pub(super) struct Known {
    pub(super) value: f64,
    pub(super) parts: Vec<Part>,
}

impl Known {
    pub(super) fn new(value: f64) -> Self {
        Self {
            value,
            parts: Vec::new(),
        }
    }

    /// The same with one more component, known for sure: `standard` in `unit`, of which one moves the number by `sensitivity`. One that
    /// brings nothing is left out.
    #[must_use]
    pub(super) fn by(
        self,
        name: &'static str,
        (standard, unit): (f64, &'static str),
        sensitivity: f64,
    ) -> Self {
        self.estimated(name, (standard, unit), sensitivity, f64::INFINITY)
    }

    /// The same with one that was estimated with `dof` degrees of freedom.
    #[must_use]
    pub(super) fn estimated(
        mut self,
        name: &'static str,
        (standard, unit): (f64, &'static str),
        sensitivity: f64,
        dof: f64,
    ) -> Self {
        if standard * sensitivity != 0.0 {
            self.parts.push(Part {
                name,
                unit,
                component: Component {
                    standard: standard.abs(),
                    sensitivity,
                    dof: dof.max(1.0),
                },
            });
        }
        self
    }

    /// With the components of another one of the same.
    #[must_use]
    pub(super) fn and(mut self, parts: &[Part]) -> Self {
        self.parts.extend_from_slice(parts);
        self
    }

    /// Combined standard uncertainty.
    pub(super) fn u(&self) -> f64 {
        let each = self.parts.iter().map(|part| part.component);
        each.fold(0.0, |u, of| u.hypot(of.sensitivity * of.standard))
    }

    pub(super) fn plain(&self) -> Value {
        Value {
            value: self.value,
            u: self.u(),
        }
    }
}
