//! The strip and rebuild route of a tool: what must be off to reach some parts, and all of it back.
//!
//! The model sheet says of each part what must be off before it. Strip takes off just that, in an
//! order that keeps hands on one side of the tool where it can; rebuild is the same in reverse, then
//! what the sheet asks for after such an opening, then the first power-up. Hold steps cannot be passed
//! without their reading or look, or a written reason.

mod needs;
mod order;
mod tasks;
mod title;
mod way;

pub use needs::Consumable;
pub use order::{DeadEnd, blockers, dead_ends};
pub use tasks::Task;
pub use way::{NoRoute, Route, step, to};

use calc::decision::Limits;
use calc::screw_stop::{Hand, Rotation};
use calc::units::Unit;

use crate::sheet::{
    AfterOpening, Caution, Drive, FitCheck, GaugeKind, Joint, Part, Shows, ToolModel, Wear,
};

/// The first step of each route: the energy is taken away.
pub const FIRST_STEP: &str = "make-safe";

/// The last step of each route: when it passed, the rebuild is done.
pub const LAST_STEP: &str = "power-look";

/// A step.
#[derive(Clone, Debug, PartialEq)]
pub struct Step<'a> {
    /// Id, stable for a revision of the model sheet.
    pub id: String,
    /// What is done.
    pub act: Act<'a>,
    /// Danger here.
    pub caution: Option<&'a Caution>,
}

/// What a step does.
#[derive(Clone, Debug, PartialEq)]
pub enum Act<'a> {
    /// Take the energy away.
    MakeSafe(Drive),
    /// Undo a joint, turning this way.
    Undo(&'a Joint, Rotation),
    /// Take a part off.
    TakeOff(&'a Part),
    /// Measure wear.
    Gauge(&'a Part, &'a Wear),
    /// Wash, wipe and look at what came off.
    Clean,
    /// Fit a part.
    Fit(&'a Part),
    /// Tighten a joint to torque, turning this way.
    Tighten(&'a Joint, Rotation),
    /// Measure a gap, a play or a fit once a part is in its place.
    Check(&'a Part, &'a FitCheck),
    /// What the sheet asks for before the first power-up, because of what was off.
    Close(&'a AfterOpening),
    /// First power-up.
    PowerUp(PowerUp, Drive),
}

/// A part of the first power-up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PowerUp {
    /// Behind a shield, nobody in line.
    Shield,
    /// Dry cycles.
    DryCycles,
    /// Trigger let go in mid-stroke: it stops.
    Release,
    /// Look for leaks, heat, noise.
    Look,
}

impl PowerUp {
    const ALL: [PowerUp; 4] = [Self::Shield, Self::DryCycles, Self::Release, Self::Look];

    /// Step id.
    pub fn id(self) -> &'static str {
        match self {
            Self::Shield => "power-shield",
            Self::DryCycles => "power-dry-cycles",
            Self::Release => "power-release",
            Self::Look => LAST_STEP,
        }
    }
}

/// What a hold step asks for.
#[derive(Clone, Debug, PartialEq)]
pub enum Hold {
    /// A reading inside limits.
    Reading {
        /// Unit.
        unit: Unit,
        /// Limits.
        limits: Limits,
        /// Gauges that can take it; empty for any that fits the unit.
        gauges: Vec<GaugeKind>,
    },
    /// A look that passes.
    Look,
}

impl Step<'_> {
    /// What must be shown before the next step; `None` if a tick is enough.
    pub fn hold(&self) -> Option<Hold> {
        match &self.act {
            Act::MakeSafe(_) | Act::PowerUp(..) => Some(Hold::Look),
            Act::Gauge(_, wear) => Some(Hold::Reading {
                unit: wear.unit,
                limits: wear.limits,
                gauges: Vec::new(),
            }),
            Act::Tighten(joint, _) => joint.limits().map(|limits| Hold::Reading {
                unit: Unit::NewtonMetre,
                limits,
                gauges: vec![GaugeKind::TorqueWrench],
            }),
            Act::Check(_, check) => Some(Hold::Reading {
                unit: check.unit,
                limits: check.limits,
                gauges: check.gauges.clone(),
            }),
            Act::Close(closing) => match &closing.shows {
                Shows::Nothing => None,
                Shows::Look(_) => Some(Hold::Look),
                Shows::Reading {
                    unit,
                    limits,
                    gauges,
                } => Some(Hold::Reading {
                    unit: *unit,
                    limits: *limits,
                    gauges: gauges.clone(),
                }),
            },
            Act::Undo(..) | Act::TakeOff(_) | Act::Clean | Act::Fit(_) => None,
        }
    }

    /// The hand of the thread turned here.
    pub fn hand(&self) -> Option<Hand> {
        match &self.act {
            Act::Undo(joint, _) | Act::Tighten(joint, _) => Some(joint.thread.hand),
            _ => None,
        }
    }
}

/// The steps of the route to the part `wanted` and back; `None` if the model has no such part.
pub fn route<'a>(model: &'a ToolModel, wanted: &str) -> Option<Vec<Step<'a>>> {
    to(model, &[wanted]).ok().map(|route| route.steps)
}

/// Hands-on minutes of the route to the part `wanted` and back.
pub fn minutes(model: &ToolModel, wanted: &str) -> Option<f64> {
    to(model, &[wanted]).ok().map(|route| route.minutes())
}

/// Whether the step with this id puts the tool together again or runs it.
pub(crate) fn closes(step: &str) -> bool {
    ["fit-", "tighten-", "check-", "close-", "power-"]
        .iter()
        .any(|begin| step.starts_with(begin))
}

/// Whether the step with this id puts energy on the tool.
pub(crate) fn runs(step: &str) -> bool {
    step.starts_with("power-")
}
