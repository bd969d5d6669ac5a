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
use crate::setting::{TINY, allows_stroke};
use crate::sheet::{FastenerFamily, Setting, SettingBasis, ToolModel};

/// How a joint is read.
pub const METHOD: Method = Method {
    name: "trial-joint-by-criteria",
    version: 2,
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

/// What a joint shows, by the eye and by its readings beyond a limit; nothing where it is good.
pub fn shows(fastener: &FastenerFamily, readings: &[JointReading], seen: Seen) -> Vec<Seen> {
    let by_eye = Some(seen).filter(|seen| *seen != Seen::Good);
    let rejected = readings.iter().filter(|r| r.outcome == Outcome::Reject);
    let measured = rejected.filter_map(|read| {
        let criterion = fastener.criterion(&read.criterion)?;
        let (said, change) = match side(read.reading.value, criterion.limits) {
            Side::Low => (criterion.shows_low, criterion.if_low),
            Side::High => (criterion.shows_high, criterion.if_high),
        };
        // Where the sheet names no sign, the stroke that it asks for does: more of it, too little formed.
        said.or(change.map(|change| match change {
            Effect::Lengthens => Seen::Under,
            Effect::Shortens => Seen::Cut,
        }))
    });
    let shown: Vec<Seen> = by_eye.into_iter().chain(measured).collect();
    // Too little and too much at once: one of the two was read wrongly, and nobody knows which.
    let contradicts = shown.contains(&Seen::Under) && shown.contains(&Seen::Cut);
    let stroke = |seen: &Seen| matches!(seen, Seen::Under | Seen::Cut);
    shown
        .into_iter()
        .filter(|seen| !(contradicts && stroke(seen)))
        .collect()
}

/// What to change after `joint`. `rule` is what the model sheet says of the nose set with the fastener,
/// `table_turns` what its table gave.
pub fn advice(
    model: &ToolModel,
    fastener: &FastenerFamily,
    rule: Option<&Setting>,
    table_turns: Option<f64>,
    joint: &TrialJointRead,
) -> Advice {
    if rule.is_some_and(|rule| rule.basis == SettingBasis::Force)
        && let Some(stop) = by_force(fastener, joint)
    {
        return Advice::Stop(stop);
    }
    let wishes = match wishes(model, fastener, joint, None) {
        Ok(wishes) => wishes,
        Err(stop) => return Advice::Stop(stop),
    };
    match joint.outcome {
        Outcome::Accept => return Advice::Keep,
        Outcome::Undecided => return Advice::Again,
        Outcome::Reject => {}
    }
    let Some((effect, _)) = wishes.first().copied() else {
        return Advice::Again;
    };
    let Some(turns) = joint.turns else {
        return Advice::Stop(Message::new("joint-full-stroke"));
    };
    let millimetres = wishes.iter().map(|w| w.1).fold(0.0, f64::max);
    let by_turns = by_turns(model, millimetres);
    let sign = if effect == model.adjuster.stop.away_from_zero() {
        1.0
    } else {
        -1.0
    };
    let to_turns = turns + sign * by_turns;
    match may_turn_to(model, fastener, rule, table_turns, to_turns) {
        Err(stop) => Advice::Stop(stop),
        Ok(()) => Advice::Change {
            effect,
            by_turns,
            to_turns: to_turns.max(0.0),
        },
    }
}

/// What to do about a joint whose pull the force ends, where more or less of it is the matter.
fn by_force(fastener: &FastenerFamily, joint: &TrialJointRead) -> Option<Message> {
    let shown = shows(fastener, &joint.readings, joint.seen);
    shown.iter().find_map(|sign| match sign {
        Seen::Under => Some(Message::new("joint-more-pressure")),
        Seen::Cut => Some(Message::new("joint-less-pressure")),
        _ => None,
    })
}

/// How a joint wants the stroke changed, and by how many millimetres; nothing where it is good. The
/// criterion `but` is left out.
///
/// # Errors
/// Why no turn of the adjuster mends it.
pub(crate) fn wishes(
    model: &ToolModel,
    fastener: &FastenerFamily,
    joint: &TrialJointRead,
    but: Option<&str>,
) -> Result<Vec<(Effect, f64)>, Message> {
    if let Some(stop) = elsewhere(joint.seen) {
        return Err(Message::new(stop));
    }
    let mut wishes: Vec<(Effect, f64)> = Vec::new();
    match joint.seen {
        Seen::Under => wishes.push((Effect::Lengthens, 0.0)),
        Seen::Cut | Seen::LockGroovesTorn => wishes.push((Effect::Shortens, 0.0)),
        _ => {}
    }
    let readings = joint.readings.iter();
    let readings = readings.filter(|r| Some(r.criterion.as_str()) != but);
    for read in readings.filter(|r| r.outcome == Outcome::Reject) {
        wishes.push(wish(model, fastener, read)?);
    }
    let one_way = wishes.iter().all(|w| w.0 == wishes[0].0);
    if one_way {
        Ok(wishes)
    } else {
        Err(Message::new("joint-contradicts"))
    }
}

/// Whether the adjuster may stand at `turns`: within its travel, the fastener's stroke limits, and near
/// what the table gave.
///
/// # Errors
/// Why not.
pub(crate) fn may_turn_to(
    model: &ToolModel,
    fastener: &FastenerFamily,
    rule: Option<&Setting>,
    table_turns: Option<f64>,
    turns: f64,
) -> Result<(), Message> {
    let by_turns = |r: &&Setting| r.basis.is_by_turns();
    let Some(rule) = rule.filter(by_turns) else {
        return Err(Message::new("joint-full-stroke"));
    };
    if !(-TINY..=model.most_turns() + TINY).contains(&turns) {
        return Err(Message::new("joint-adjuster-at-end"));
    }
    if far_from_table(turns, table_turns) {
        let stop = Message::new("joint-far-from-table");
        return Err(stop.number("turns", MOST_TURNS_OFF, 0));
    }
    if in_stroke_limits(rule, fastener, turns) {
        Ok(())
    } else {
        Err(Message::new("joint-stroke-limit"))
    }
}

/// Whether a setting keeps to the strokes that the fastener allows; true where the table is not one
/// of strokes.
fn in_stroke_limits(rule: &Setting, fastener: &FastenerFamily, turns: f64) -> bool {
    if rule.basis != SettingBasis::Stroke {
        return true;
    }
    let mut by_turns: Vec<(f64, f64)> = rule.rows.iter().map(|(mm, t)| (*t, *mm)).collect();
    by_turns.sort_by(|a, b| a.0.total_cmp(&b.0));
    linear(&by_turns, turns).is_ok_and(|at| allows_stroke(fastener, at.value))
}

/// Findings that no turn of the adjuster mends.
pub(crate) fn elsewhere(seen: Seen) -> Option<&'static str> {
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
fn wish(
    model: &ToolModel,
    fastener: &FastenerFamily,
    read: &JointReading,
) -> Result<(Effect, f64), Message> {
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
    let adjuster = &model.adjuster;
    // The middle of two limits; of one limit alone the nearest that hands can set beyond it.
    let (aim, further) = match (limits.lower(), limits.upper()) {
        (Some(l), Some(u)) => (f64::midpoint(l, u), 0.0),
        (Some(one), None) | (None, Some(one)) => {
            (one, adjuster.step_turns * adjuster.stop.pitch_mm)
        }
        (None, None) => (read.reading.value, 0.0),
    };
    let off = (read.reading.value - aim).abs();
    let millimetres = Unit::parse(&read.reading.unit)
        .and_then(|unit| unit.convert(off, Unit::Millimetre))
        .unwrap_or(0.0);
    Ok((effect, millimetres + further))
}

/// Whether `turns` lie so far from what the sheet's table gave that something else may be wrong.
pub(crate) fn far_from_table(turns: f64, table_turns: Option<f64>) -> bool {
    table_turns.is_some_and(|table| (turns - table).abs() > MOST_TURNS_OFF)
}

/// One millimetre of reach is one millimetre of stroke; at least one step, at most a turn.
fn by_turns(model: &ToolModel, millimetres: f64) -> f64 {
    let adjuster = &model.adjuster;
    let step = adjuster.step_turns;
    let steps = (millimetres / adjuster.stop.pitch_mm / step).round();
    let most = (1.0 / step + TINY).floor().max(1.0);
    steps.clamp(1.0, most) * step
}
