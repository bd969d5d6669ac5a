//! One simulated set-up: the loop against a tool whose offset it does not know.

use super::{Joint, Read, Ruling, TrialLoop};
use crate::normal::between;

/// The world that the loop is tried in, which it is not told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct World {
    /// Standard deviation between tools, mm.
    pub offset_sd_mm: f64,
    /// Standard deviation between joints, mm.
    pub spread_mm: f64,
    /// Standard deviation of a reading, mm.
    pub reading_mm: f64,
    /// Joints are looked at and not measured.
    pub by_eye: bool,
}

/// How a simulated set-up went.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outcome {
    /// Trial joints used.
    pub joints: u32,
    /// Share of rejects that the setting then gives, from the true offset.
    pub rejects: f64,
    /// The same with the tool perfectly known: what the steps alone leave.
    pub floor: f64,
    /// The loop ended with the target reached.
    pub reached: bool,
}

/// Joints after which a simulated set-up is given up and signed off as it stands.
const MOST: u32 = 60;
/// A measured joint is good when it lies inside the limits by twice the reading's doubt.
const GUARD: f64 = 2.0;

/// Sets a tool up by the loop. `normal` gives independent values of the standard normal distribution.
pub fn set_up(by: &TrialLoop, world: &World, mut normal: impl FnMut() -> f64) -> Outcome {
    let task = by.task();
    let window = task.window;
    let offset = world.offset_sd_mm * normal();
    let mut at_mm = window.middle_mm() - task.prior.offset_mm;
    let mut joints: Vec<Joint> = Vec::with_capacity(8);
    let mut reached = false;
    while joints.len() < MOST as usize {
        let value = at_mm + offset + world.spread_mm * normal();
        let (read, passes) = if world.by_eye {
            let seen = if value < window.lower_mm {
                Read::Below
            } else if value > window.upper_mm {
                Read::Above
            } else {
                Read::Inside
            };
            (seen, seen == Read::Inside)
        } else {
            let value_mm = value + world.reading_mm * normal();
            let guard = GUARD * task.reading_mm;
            let good = (window.lower_mm + guard..=window.upper_mm - guard).contains(&value_mm);
            let standard_mm = task.reading_mm;
            let read = Read::Measured {
                value_mm,
                standard_mm,
            };
            (read, good)
        };
        joints.push(Joint { at_mm, read });
        let Some(next) = by.ruling(&joints, passes) else {
            break;
        };
        match next {
            Ruling::Another { steps } => at_mm += f64::from(steps) * task.step_mm,
            ended => {
                reached = ended == Ruling::Reached;
                break;
            }
        }
    }
    let rejects = |at_mm: f64| {
        let low = (window.lower_mm - at_mm - offset) / world.spread_mm;
        let high = (window.upper_mm - at_mm - offset) / world.spread_mm;
        1.0 - between(low, high)
    };
    // From where the joints began, whole steps lead to this place nearest to the middle.
    let first = joints.first().map_or(at_mm, |j| j.at_mm);
    let steps = ((window.middle_mm() - offset - first) / task.step_mm).round();
    Outcome {
        joints: joints.len() as u32,
        rejects: rejects(joints.last().map_or(at_mm, |j| j.at_mm)),
        floor: rejects(first + steps * task.step_mm),
        reached,
    }
}
