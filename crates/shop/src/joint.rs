//! Reading a trial joint: verdict, and what to change next.
//!
//! Torn metal is read with care: torn lock grooves or a cut collar mean too much stroke; torn pull
//! grooves mean that the collet slips. The two corrections are opposite, so they are never one word.

use calc::Message;
use calc::decision::{Side, side};
use calc::interpolation::linear;
use calc::screw_stop::Effect;
use calc::units::Unit;
use calc::working::Method;

use crate::entry::{JointReading, Outcome, Seen, TrialJointRead};
use crate::sheet::{FastenerFamily, Setting, SettingBasis, ToolModel};

/// How a joint is read.
pub const METHOD: Method = Method {
    name: "trial-joint-by-criteria",
    version: 1,
    source: "limits of the fastener sheet, JCGM 106:2012 guard bands; corrections: common practice, no source",
};

/// More than so many turns from the table, and something else is wrong.
pub const MOST_TURNS_OFF: f64 = 2.0;

/// What to do after a joint.
#[derive(Clone, Debug, PartialEq)]
pub enum Advice {
    /// Good: keep the setting.
    Keep,
    /// Not decided: read again or set another joint at this setting.
    Again,
    /// Change the stroke by so many turns, with this effect; the new setting.
    Change {
        /// What the change does.
        effect: Effect,
        /// By how many turns.
        by_turns: f64,
        /// New setting, turns from zero.
        to_turns: f64,
    },
    /// Leave the adjuster alone: the cause is elsewhere.
    Stop(Message),
}

/// The verdict on a joint: the worst of its criteria and of what the eye says.
pub fn outcome(readings: &[JointReading], seen: Seen) -> Outcome {
    if seen != Seen::Good || readings.iter().any(|r| r.outcome == Outcome::Reject) {
        Outcome::Reject
    } else if readings.iter().any(|r| r.outcome == Outcome::Undecided) {
        Outcome::Undecided
    } else {
        Outcome::Accept
    }
}

/// What to change after `joint`. `table_turns` is what the sheet's table gave.
pub fn advice(
    model: &ToolModel,
    fastener: &FastenerFamily,
    basis: SettingBasis,
    table_turns: Option<f64>,
    joint: &TrialJointRead,
) -> Advice {
    if let Some(stop) = elsewhere(joint.seen) {
        return Advice::Stop(Message::new(stop));
    }
    match joint.outcome {
        Outcome::Accept => return Advice::Keep,
        Outcome::Undecided => return Advice::Again,
        Outcome::Reject => {}
    }
    let mut wishes: Vec<(Effect, f64)> = Vec::new();
    match joint.seen {
        Seen::Under => wishes.push((Effect::Lengthens, 0.0)),
        Seen::Cut | Seen::LockGroovesTorn => wishes.push((Effect::Shortens, 0.0)),
        _ => {}
    }
    for read in joint
        .readings
        .iter()
        .filter(|r| r.outcome == Outcome::Reject)
    {
        match wish(fastener, read) {
            Ok(wish) => wishes.push(wish),
            Err(stop) => return Advice::Stop(stop),
        }
    }
    let Some((effect, _)) = wishes.first().copied() else {
        return Advice::Again;
    };
    if wishes.iter().any(|w| w.0 != effect) {
        return Advice::Stop(Message::new("joint-contradicts"));
    }
    let (Some(turns), false) = (joint.turns, basis == SettingBasis::FullStroke) else {
        return Advice::Stop(Message::new("joint-full-stroke"));
    };
    let millimetres = wishes.iter().map(|w| w.1).fold(0.0, f64::max);
    let wanted = change(model, table_turns, turns, effect, millimetres);
    match wanted {
        Advice::Change { to_turns, .. } if !in_stroke_limits(model, fastener, to_turns) => {
            Advice::Stop(Message::new("joint-stroke-limit"))
        }
        wanted => wanted,
    }
}

/// Whether a setting keeps to the strokes that the fastener allows; true where it names none.
fn in_stroke_limits(model: &ToolModel, fastener: &FastenerFamily, turns: f64) -> bool {
    let Some(limits) = fastener.stroke_mm else {
        return true;
    };
    let by_stroke = |s: &&Setting| s.fastener == fastener.id && s.basis == SettingBasis::Stroke;
    let Some(rule) = model.settings.iter().find(by_stroke) else {
        return true;
    };
    let mut by_turns: Vec<(f64, f64)> = rule.rows.iter().map(|(mm, t)| (*t, *mm)).collect();
    by_turns.sort_by(|a, b| a.0.total_cmp(&b.0));
    linear(&by_turns, turns).is_ok_and(|at| {
        limits.lower().is_none_or(|l| at.value >= l) && limits.upper().is_none_or(|u| at.value <= u)
    })
}

/// Findings that no turn of the adjuster mends.
fn elsewhere(seen: Seen) -> Option<&'static str> {
    match seen {
        Seen::PullGroovesTorn => Some("joint-collet-slips"),
        Seen::OffAxis => Some("joint-off-axis"),
        Seen::Gap => Some("joint-gap"),
        Seen::Marked => Some("joint-anvil-galled"),
        Seen::BrokeLow => Some("joint-broke-low"),
        Seen::StubProud => Some("joint-stub-proud"),
        Seen::Good | Seen::Under | Seen::Cut | Seen::LockGroovesTorn => None,
    }
}

/// How a rejected criterion wants the stroke changed, and by how many millimetres.
fn wish(fastener: &FastenerFamily, read: &JointReading) -> Result<(Effect, f64), Message> {
    let Some(criterion) = fastener.criterion(&read.criterion) else {
        return Err(Message::new("joint-no-criterion").with("criterion", read.criterion.as_str()));
    };
    let limits = criterion.limits;
    let effect = match side(read.reading.value, limits) {
        Side::Low => criterion.if_low,
        Side::High => criterion.if_high,
    };
    let Some(effect) = effect else {
        let stop = Message::new("joint-not-the-stroke").with("criterion", criterion.name.as_str());
        return Err(stop);
    };
    let middle = match (limits.lower(), limits.upper()) {
        (Some(l), Some(u)) => f64::midpoint(l, u),
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => read.reading.value,
    };
    let off = (read.reading.value - middle).abs();
    let millimetres = Unit::parse(&read.reading.unit)
        .and_then(|unit| unit.convert(off, Unit::Millimetre))
        .unwrap_or(0.0);
    Ok((effect, millimetres))
}

/// Turns that the adjuster has: its whole travel is the stroke.
pub(crate) fn most_turns(model: &ToolModel) -> f64 {
    model.stroke_mm / model.adjuster.stop.pitch_mm
}

fn change(
    model: &ToolModel,
    table_turns: Option<f64>,
    turns: f64,
    effect: Effect,
    millimetres: f64,
) -> Advice {
    let adjuster = &model.adjuster;
    let step = adjuster.step_turns;
    // One millimetre of reach is one millimetre of stroke; at least one step, at most a turn.
    let steps = (millimetres / adjuster.stop.pitch_mm / step).round();
    let by_turns = (steps * step).clamp(step, 1.0_f64.max(step));
    let sign = if effect == adjuster.stop.away_from_zero() {
        1.0
    } else {
        -1.0
    };
    let to_turns = turns + sign * by_turns;
    if !(0.0..=most_turns(model)).contains(&to_turns) {
        return Advice::Stop(Message::new("joint-adjuster-at-end"));
    }
    if table_turns.is_some_and(|t| (to_turns - t).abs() > MOST_TURNS_OFF) {
        return Advice::Stop(Message::new("joint-far-from-table").number(
            "turns",
            MOST_TURNS_OFF,
            0,
        ));
    }
    Advice::Change {
        effect,
        by_turns,
        to_turns,
    }
}
