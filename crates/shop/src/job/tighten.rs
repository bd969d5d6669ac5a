//! Tightening a joint: the adapter between wrench and joint, what follows a rejected torque.

use calc::Message;
use calc::torque_adapter::{self, Adapter};

use super::refusal::{Refusals, refuse};
use super::{Job, StepIn};
use crate::entry::{AdapterUsed, Outcome, Reading};
use crate::route::{Act, Step};
use crate::sheet::{Gauge, Joint, JointAdapter};

/// Where the hand may sit from the middle of the grip, mm, k = 2 (common practice, no source).
pub const GRIP_EXPANDED_MM: f64 = 10.0;

/// Shortest and longest wrench, middle of the drive to middle of the grip, mm.
const ARM_MM: (f64, f64) = (30.0, 3000.0);

impl AdapterUsed {
    /// As the reckoning takes it.
    pub fn lever(&self) -> Adapter {
        Adapter {
            arm_mm: self.arm_mm,
            offset_mm: self.offset_mm,
            angle_deg: self.angle_deg,
        }
    }
}

impl JointAdapter {
    /// With a wrench of this length.
    pub fn on(&self, arm_mm: f64) -> AdapterUsed {
        AdapterUsed {
            arm_mm,
            offset_mm: self.offset_mm,
            angle_deg: self.angle_deg,
        }
    }
}

/// The adapter that a step needs, with the length of the wrench as typed, else as its sheet has it.
pub(super) fn adapter_used(
    step: &Step,
    input: &StepIn,
    gauge: Option<&Gauge>,
) -> Result<Option<AdapterUsed>, Refusals> {
    let Act::Tighten(joint, _) = &step.act else {
        return Ok(None);
    };
    let Some(adapter) = &joint.adapter else {
        return Ok(None);
    };
    let at_arm = |message| vec![refuse("arm", message)];
    if let Some(typed) = &input.arm {
        if !(ARM_MM.0..=ARM_MM.1).contains(&typed.value) {
            let message = Message::new("refuse-arm-range")
                .number("value", typed.value, 0)
                .number("min", ARM_MM.0, 0)
                .number("max", ARM_MM.1, 0);
            return Err(at_arm(message));
        }
        return Ok(Some(adapter.on(typed.value)));
    }
    let Some(length) = gauge.and_then(|g| g.length_mm) else {
        return Err(at_arm(Message::new("refuse-arm")));
    };
    Ok(Some(adapter.on(length)))
}

/// What to set on the wrench for `joint`, N·m.
pub fn to_set(joint: &Joint, used: &AdapterUsed) -> Option<f64> {
    torque_adapter::setting(joint.torque_nm, used.lever()).ok()
}

/// The reading of the joint behind a reading of the wrench.
pub(super) fn of_joint(reading: Reading, used: &AdapterUsed) -> Option<Reading> {
    let doubt = reading.expanded?;
    let reached =
        torque_adapter::reached(reading.value, doubt, used.lever(), GRIP_EXPANDED_MM).ok()?;
    Some(Reading {
        value: reached.torque_nm,
        expanded: Some(reached.expanded_nm),
        ..reading
    })
}

impl Job {
    /// Whether the joint of `step` was last tightened outside its limits, and nobody let it stand.
    pub fn tightened_wrong(&self, step: &Step) -> bool {
        matches!(step.act, Act::Tighten(..)) && self.waits_for_a_name(step)
    }

    /// Whether the torque or the fit check of `step` was last read outside its limits, and nobody let it stand.
    pub fn waits_for_a_name(&self, step: &Step) -> bool {
        let newest = self.step(&step.id).map(|s| &s.body);
        matches!(step.act, Act::Tighten(..) | Act::Check(..))
            && newest.is_some_and(|s| s.outcome == Some(Outcome::Reject) && s.overridden.is_none())
    }

    /// A tightening after a rejected one says what was done in between: a thread that was turned too
    /// far, or slipped, is not put right by turning it on.
    pub(super) fn redone_or_refuse(&self, step: &Step, input: &StepIn) -> Result<(), Refusals> {
        if self.tightened_wrong(step) && input.redone.trim().is_empty() {
            return Err(vec![refuse("redone", Message::new("refuse-redone"))]);
        }
        Ok(())
    }

    /// Whether a named person lets a rejected tightening or fit check stand.
    pub(super) fn override_or_refuse(&self, step: &Step, input: &StepIn) -> Result<bool, Refusals> {
        if input.overridden.is_none() {
            return Ok(false);
        }
        let has_reading = input
            .measured
            .as_ref()
            .is_some_and(|m| !m.values.is_empty());
        let (field, id) = if has_reading {
            ("override", "refuse-override-reading")
        } else if !self.waits_for_a_name(step) {
            ("override", "refuse-override-nothing")
        } else if input.reason.trim().is_empty() {
            match step.act {
                Act::Check(..) => ("reason", "refuse-override-fit-reason"),
                _ => ("reason", "refuse-override-reason"),
            }
        } else {
            return Ok(true);
        };
        Err(vec![refuse(field, Message::new(id))])
    }
}
