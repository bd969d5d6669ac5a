//! The strip and rebuild route of a tool, in the order of the model sheet.
//!
//! Strip goes from the nose inwards to the part asked for; rebuild is the same in reverse, then the
//! first power-up. Hold steps cannot be passed without their reading or look, or a written reason.

use calc::decision::Limits;
use calc::screw_stop::{Hand, Rotation};
use calc::units::Unit;

use crate::sheet::{Caution, Drive, GaugeKind, Joint, Part, ToolModel, Wear};

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

/// The route down to the part `down_to` and back; `None` if the model has no such part.
pub fn route<'a>(model: &'a ToolModel, down_to: &str) -> Option<Vec<Step<'a>>> {
    let off = comes_off(model, down_to)?;
    let mut steps = vec![Step {
        id: FIRST_STEP.to_owned(),
        act: Act::MakeSafe(model.drive),
        caution: None,
    }];
    for part in &off {
        for joint in joints_of(model, part) {
            steps.push(Step {
                id: format!("undo-{}", joint.id),
                act: Act::Undo(joint, joint.thread.hand.tightens().reversed()),
                // What the part does to hands it does when it is loosened, not when it lies there.
                caution: joint.caution.as_ref().or(part.caution.as_ref()),
            });
        }
        steps.push(Step {
            id: format!("off-{}", part.id),
            act: Act::TakeOff(part),
            caution: part.caution.as_ref(),
        });
        for wear in &part.wear {
            steps.push(Step {
                id: format!("gauge-{}-{}", part.id, wear.id),
                act: Act::Gauge(part, wear),
                caution: None,
            });
        }
    }
    steps.push(Step {
        id: "clean".to_owned(),
        act: Act::Clean,
        caution: None,
    });
    for part in off.iter().rev() {
        steps.push(Step {
            id: format!("fit-{}", part.id),
            act: Act::Fit(part),
            caution: part.caution.as_ref(),
        });
        // What was undone last holds the part first.
        let joints: Vec<&Joint> = joints_of(model, part).collect();
        for joint in joints.into_iter().rev() {
            steps.push(Step {
                id: format!("tighten-{}", joint.id),
                act: Act::Tighten(joint, joint.thread.hand.tightens()),
                caution: joint.caution.as_ref(),
            });
        }
    }
    steps.extend(PowerUp::ALL.map(|part| Step {
        id: part.id().to_owned(),
        act: Act::PowerUp(part, model.drive),
        caution: None,
    }));
    Some(steps)
}

/// Whether the step with this id puts the tool together again or runs it.
pub(crate) fn closes(step: &str) -> bool {
    ["fit-", "tighten-", "power-"]
        .iter()
        .any(|begin| step.starts_with(begin))
}

/// Whether the step with this id puts energy on the tool.
pub(crate) fn runs(step: &str) -> bool {
    step.starts_with("power-")
}

/// Whether the route down to `down_to` takes the part `part` off, and so fits it again.
pub(crate) fn takes_off(model: &ToolModel, down_to: &str, part: &str) -> bool {
    comes_off(model, down_to).is_some_and(|off| off.iter().any(|p| p.id == part))
}

/// Hands-on minutes for the parts that come off on the way to `down_to`.
pub fn minutes(model: &ToolModel, down_to: &str) -> Option<f64> {
    Some(
        comes_off(model, down_to)?
            .iter()
            .map(|part| part.minutes)
            .sum(),
    )
}

/// The parts that come off to reach `down_to`: everything in front of it on the axis. A part beside
/// the axis (a switch, a hose) comes off alone.
fn comes_off<'a>(model: &'a ToolModel, down_to: &str) -> Option<Vec<&'a Part>> {
    let depth = model.parts.iter().position(|part| part.id == down_to)?;
    let target = &model.parts[depth];
    if target.off_axis {
        return Some(vec![target]);
    }
    let in_front = model.parts[..=depth].iter();
    Some(in_front.filter(|part| !part.off_axis).collect())
}

fn joints_of<'a>(model: &'a ToolModel, part: &'a Part) -> impl Iterator<Item = &'a Joint> {
    model.joints.iter().filter(move |j| j.holds == part.id)
}
