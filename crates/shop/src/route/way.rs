//! The way to some parts and back, step by step.

use std::collections::BTreeSet;

use super::order::{all_off, in_order};
use super::{Act, FIRST_STEP, PowerUp, Step};
use crate::sheet::{AfterOpening, Joint, Part, ToolModel};

/// A route.
#[derive(Clone, Debug, PartialEq)]
pub struct Route<'a> {
    /// The parts that come off, in the order in which they do.
    pub off: Vec<&'a Part>,
    /// Every step, strip and rebuild.
    pub steps: Vec<Step<'a>>,
    pub(super) model: &'a ToolModel,
}

/// Why there is no route.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoRoute {
    /// No part was asked for.
    Nothing,
    /// The model has no part with this id.
    NoPart(String),
    /// These parts wait for one another, by id. A sheet that was read has none such.
    Circle(Vec<String>),
}

/// The shortest route to all of `parts` (ids) and back: what each of them waits for, once.
///
/// # Errors
/// No part, one that the model lacks, parts that wait for one another.
pub fn to<'a>(model: &'a ToolModel, parts: &[&str]) -> Result<Route<'a>, NoRoute> {
    let place = |id: &&str| {
        let at = model.parts.iter().position(|part| part.id == **id);
        at.ok_or_else(|| NoRoute::NoPart((*id).to_owned()))
    };
    let wanted: Vec<usize> = parts.iter().map(place).collect::<Result<_, _>>()?;
    if wanted.is_empty() {
        return Err(NoRoute::Nothing);
    }
    let set = all_off(&model.parts, &wanted);
    let order = in_order(&model.parts, &set).map_err(|circle| {
        let ids = circle.into_iter().map(|i| model.parts[i].id.clone());
        NoRoute::Circle(ids.collect())
    })?;
    let off: Vec<&Part> = order.into_iter().map(|i| &model.parts[i]).collect();
    let steps = steps(model, &off);
    Ok(Route { off, steps, model })
}

/// The step with this id, on whatever route; `None` if the model has no such step.
pub fn step<'a>(model: &'a ToolModel, id: &str) -> Option<Step<'a>> {
    // Their order does not matter here.
    let all: Vec<&Part> = model.parts.iter().collect();
    steps(model, &all).into_iter().find(|step| step.id == id)
}

/// The steps by which `off` come off in this order and go back in reverse.
fn steps<'a>(model: &'a ToolModel, off: &[&'a Part]) -> Vec<Step<'a>> {
    let mut steps = vec![Step {
        id: FIRST_STEP.to_owned(),
        act: Act::MakeSafe(model.drive),
        caution: None,
    }];
    steps.extend(off.iter().flat_map(|part| strip(model, part)));
    steps.push(Step {
        id: "clean".to_owned(),
        act: Act::Clean,
        caution: None,
    });
    steps.extend(off.iter().rev().flat_map(|part| fit(model, part)));
    steps.extend(closing(model, off).map(|closing| Step {
        id: format!("close-{}", closing.id),
        act: Act::Close(closing),
        caution: closing.caution.as_ref(),
    }));
    steps.extend(PowerUp::ALL.map(|part| Step {
        id: part.id().to_owned(),
        act: Act::PowerUp(part, model.drive),
        caution: None,
    }));
    steps
}

/// A part comes off.
fn strip<'a>(model: &'a ToolModel, part: &'a Part) -> Vec<Step<'a>> {
    let undo = joints_of(model, part).map(|joint| Step {
        id: format!("undo-{}", joint.id),
        act: Act::Undo(joint, joint.thread.hand.tightens().reversed()),
        // What the part does to hands it does when it is loosened, not when it lies there.
        caution: joint.caution.as_ref().or(part.caution.as_ref()),
    });
    let off = Step {
        id: format!("off-{}", part.id),
        act: Act::TakeOff(part),
        caution: part.caution.as_ref(),
    };
    let gauge = part.wear.iter().map(|wear| Step {
        id: format!("gauge-{}-{}", part.id, wear.id),
        act: Act::Gauge(part, wear),
        caution: None,
    });
    undo.chain([off]).chain(gauge).collect()
}

/// A part goes back.
fn fit<'a>(model: &'a ToolModel, part: &'a Part) -> Vec<Step<'a>> {
    let fit = Step {
        id: format!("fit-{}", part.id),
        act: Act::Fit(part),
        caution: part.caution.as_ref(),
    };
    // What was undone last holds the part first.
    let mut tighten: Vec<Step> = joints_of(model, part)
        .map(|joint| Step {
            id: format!("tighten-{}", joint.id),
            act: Act::Tighten(joint, joint.thread.hand.tightens()),
            caution: joint.caution.as_ref(),
        })
        .collect();
    tighten.reverse();
    let check = part.fitted.iter().map(|check| Step {
        id: format!("check-{}-{}", part.id, check.id),
        act: Act::Check(part, check),
        caution: None,
    });
    std::iter::once(fit).chain(tighten).chain(check).collect()
}

/// What is done before the first power-up because of what was off, in the sheet's order.
pub(super) fn closing<'a>(
    model: &'a ToolModel,
    off: &[&Part],
) -> impl Iterator<Item = &'a AfterOpening> {
    let ids: BTreeSet<String> = off.iter().map(|part| part.id.clone()).collect();
    let all = model.after_opening.iter();
    all.filter(move |closing| closing.parts.iter().any(|id| ids.contains(id)))
}

pub(super) fn joints_of<'a>(
    model: &'a ToolModel,
    part: &Part,
) -> impl Iterator<Item = &'a Joint> + use<'a> {
    let id = part.id.clone();
    model.joints.iter().filter(move |joint| joint.holds == id)
}
