//! The trial loop as the shop runs it: from the sheets and the joints of a set-up to what comes next.
//!
//! The criterion that the stroke moves both ways leads the loop. A joint at t turns is expected to read
//! middle + k · (t − t₀) + b: t₀ the turns of the sheet's table, k the travel of one turn with its sign, b the
//! offset of this tool. Joints that were only looked at count by what the eye says; those that lean, gap
//! or slipped say nothing of the stroke.

mod led;
pub mod own;
mod past;

use calc::Message;
use calc::trial_loop::{
    self, Joint, Next, Prior, Read, Ruling, Task, TrialLoop, Window as LoopWindow,
};
use calc::working::Working;

use crate::entry::{JointReading, Outcome, Seen, TrialJointRead};
use crate::job::{Desk, SetUp, SetUpSheets, all_in_date};
use crate::joint::{self, Advice};
use crate::setting::away;
use led::Led;

/// Probability of a good joint at which a setting is signed off.
pub const TARGET: f64 = 0.998;
/// Good joints in a row that a setting needs after one that was bad by eye or by another criterion than the
/// leading one. Common practice, no source.
pub const GOOD_AFTER_BAD: usize = 3;
/// Below this a setting is signed off with a written reason only, however little a further joint would
/// help. Common practice, no source.
pub const LEAST: f64 = 0.98;
/// Joints set between two set-ups: a trial joint costs as much as one reject among so many. Common
/// practice, no source; the documentation has the curve.
pub const JOINTS_BETWEEN: f64 = 2000.0;
/// Joints that the sheet's word on the spread between joints is worth. Common practice, no source.
pub const SPREAD_WORTH: f64 = 40.0;
/// Standard deviation between joints, mm, where the sheet says nothing. Common practice, no source.
pub const SPREAD_MM: f64 = 0.10;
/// Standard deviation between tools of a model at the same turns, mm, where the sheet says nothing.
/// Common practice, no source.
pub const TOOLS_DIFFER_MM: f64 = 0.7;

/// Standard uncertainty, mm, that a look at a joint is reckoned with.
pub fn look_mm(window: LoopWindow) -> f64 {
    window.half_mm() / 2.0
}

/// The state of a set-up's trial loop.
#[derive(Clone, Debug)]
pub struct Trial {
    /// Name of the criterion that leads it.
    pub criterion: String,
    /// Its id.
    led_by: String,
    /// What is held, and what comes next.
    pub next: Next,
    /// Numbers (from 1) of the joints that do not belong with the others.
    pub odd: Vec<usize>,
    /// The stick-out was read again after the last joint: no joint tells of the new setting.
    pub is_stale: bool,
    /// How the probability was reckoned.
    pub working: Working,
    last_is_odd: bool,
    /// A joint at this setting was bad for a reason that the loop does not reckon with, and too few good
    /// ones in a row came after it.
    pub is_doubted: bool,
    /// What one turn away from zero moves the value, mm.
    per_turn_mm: f64,
    step_turns: f64,
}

impl Trial {
    /// The loop of `set_up`; `None` where no criterion leads it, the fastener is set at full stroke, or the
    /// last joint says nothing of the stroke.
    pub fn of(sheets: &SetUpSheets, set_up: &SetUp, desk: &Desk) -> Option<Self> {
        let led = Led::by(sheets)?;
        let newest = set_up.stick_outs.last()?;
        let stick_out = &newest.body;
        let joints = set_up.joints.iter().enumerate();
        let said: Vec<(usize, Joint)> = joints
            .filter_map(|(i, joint)| {
                let turns = joint.body.turns?;
                let read = said(&led, &joint.body, desk)?;
                // Each joint belongs to the pins that were measured before it.
                let before = set_up.stick_outs.iter().rev();
                let mut before = before.filter(|s| s.version < joint.version);
                let table = before.find_map(|s| s.body.turns)?;
                let at_mm = led.foretold_mm(turns - table);
                Some((i + 1, Joint { at_mm, read }))
            })
            .collect();
        let (last_number, last) = *said.last()?;
        if last_number != set_up.joints.len() {
            return None;
        }
        let own = stick_out.own.as_ref();
        let table_doubt = stick_out.expanded_turns.unwrap_or(0.0) / 2.0 * led.per_turn_mm.abs();
        let task = Task {
            window: led.window,
            step_mm: sheets.model.adjuster.step_turns * led.per_turn_mm.abs(),
            reading_mm: match last.read {
                Read::Measured { standard_mm, .. } => standard_mm,
                _ => look_mm(led.window),
            },
            prior: Prior {
                offset_mm: own.map_or(0.0, |own| own.offset_mm),
                offset_sd_mm: match own {
                    Some(own) => own.offset_sd_mm.hypot(table_doubt),
                    None => led.tools_differ_mm.hypot(table_doubt),
                },
                spread_mm: led.spread_mm,
                spread_dof: SPREAD_WORTH,
            },
            target: TARGET,
            joints_between: JOINTS_BETWEEN,
        };
        let joints: Vec<Joint> = said.iter().map(|(_, joint)| *joint).collect();
        let last_joint = set_up.joints.last()?;
        let passes = last_joint.body.outcome == Outcome::Accept;
        let next = TrialLoop::new(task).ok()?.next(&joints, passes).ok()?;
        Some(Self {
            criterion: led.criterion.name.clone(),
            led_by: led.criterion.id.clone(),
            odd: next.odd.iter().map(|i| said[*i].0).collect(),
            working: trial_loop::working(&task, last.at_mm, joints.len(), &next),
            is_stale: newest.version > last_joint.version,
            is_doubted: is_doubted(sheets, set_up, led.criterion.id.as_str()),
            last_is_odd: next.odd.last().map(|i| said[*i].0) == Some(last_number),
            next,
            per_turn_mm: led.per_turn_mm,
            step_turns: sheets.model.adjuster.step_turns,
        })
    }

    /// Whether the loop ends here, be it with a good setting or not.
    fn ends(&self) -> bool {
        let is_open = self.last_is_odd || self.is_stale || self.is_doubted;
        !matches!(self.next.ruling, Ruling::Another { .. }) && !is_open
    }

    /// Whether the setting of the last joint may be signed off without a reason.
    pub fn is_enough(&self) -> bool {
        self.ends() && self.next.inside >= LEAST
    }

    /// Turns, away from zero, that the next joint asks for.
    fn turns_on(&self) -> f64 {
        match self.next.ruling {
            Ruling::Another { steps } => {
                f64::from(steps) * self.step_turns * self.per_turn_mm.signum()
            }
            _ => 0.0,
        }
    }
}

/// What a set-up asks for after its joints.
#[derive(Clone, Debug)]
pub struct Told {
    /// What to do; `None` while no joint was set at the setting that the newest stick-out gave.
    pub advice: Option<Advice>,
    /// The loop; `None` where no criterion leads it.
    pub trial: Option<Trial>,
}

impl Told {
    /// What `set_up` asks for.
    pub fn of(sheets: &SetUpSheets, set_up: &SetUp, desk: &Desk) -> Self {
        let trial = Trial::of(sheets, set_up, desk);
        let is_stale = trial.as_ref().is_some_and(|trial| trial.is_stale);
        let last = set_up.joints.last().filter(|_| !is_stale);
        let advice = last.map(|last| advice(sheets, set_up, &last.body, trial.as_ref()));
        Self { advice, trial }
    }
}

/// What to do after the joint `last`.
fn advice(
    sheets: &SetUpSheets,
    set_up: &SetUp,
    last: &TrialJointRead,
    trial: Option<&Trial>,
) -> Advice {
    let table = set_up.stick_out().and_then(|s| s.turns);
    let (model, fastener) = (sheets.model, sheets.fastener);
    let by_last = joint::advice(model, fastener, sheets.rule, table, last);
    let Some(trial) = trial else {
        return by_last;
    };
    // What the eye and the other criteria want; what the leading one says is in the loop.
    let Ok(wishes) = joint::wishes(model, fastener, last, Some(&trial.led_by)) else {
        return by_last;
    };
    let away = away(model).effect;
    let by_turns = trial.turns_on();
    let effect = if by_turns > 0.0 {
        away
    } else {
        away.reversed()
    };
    let is_opposed = wishes.iter().any(|w| by_turns != 0.0 && w.0 != effect);
    match last.turns {
        _ if is_opposed => Advice::Stop(Message::new("joint-contradicts")),
        _ if by_turns == 0.0 && !wishes.is_empty() => by_last,
        // Whether it or the others lie is not known: another joint tells, not a turn.
        _ if trial.last_is_odd && set_up.joints.len() > 1 => Advice::Again,
        _ if trial.is_enough() => Advice::Keep,
        _ if trial.ends() => Advice::Stop(too_few_good(trial)),
        Some(turns) if by_turns != 0.0 => {
            let to_turns = turns + by_turns;
            match joint::may_turn_to(model, fastener, sheets.rule, table, to_turns) {
                Err(stop) => Advice::Stop(stop),
                Ok(()) => Advice::Change {
                    effect,
                    by_turns: by_turns.abs(),
                    to_turns: to_turns.max(0.0),
                },
            }
        }
        _ => Advice::Again,
    }
}

/// Whether a joint at the setting of the last one was bad in a way that the loop does not reckon with, and
/// too few good ones in a row came after it.
fn is_doubted(sheets: &SetUpSheets, set_up: &SetUp, led_by: &str) -> bool {
    let turns = set_up.joints.last().and_then(|last| last.body.turns);
    let here = set_up.joints.iter().filter(|j| j.body.turns == turns);
    let mut bad = here.filter(|joint| is_beyond_the_loop(sheets, &joint.body, led_by));
    bad.next().is_some() && set_up.good_in_a_row() < GOOD_AFTER_BAD
}

/// Whether a joint was bad, and the leading criterion does not say why. What is only looked at is in the loop.
fn is_beyond_the_loop(sheets: &SetUpSheets, joint: &TrialJointRead, led_by: &str) -> bool {
    let Ok(wishes) = joint::wishes(sheets.model, sheets.fastener, joint, None) else {
        return true;
    };
    let (led, others): (Vec<_>, Vec<_>) = joint
        .readings
        .iter()
        .partition(|read| read.criterion == led_by);
    let is_rejected = |reads: &[&JointReading]| reads.iter().any(|r| r.outcome == Outcome::Reject);
    if led.is_empty() {
        return is_rejected(&others);
    }
    !wishes.is_empty() && !is_rejected(&led)
}

/// Why a setting that no joint makes better is not good enough.
fn too_few_good(trial: &Trial) -> Message {
    let next = &trial.next;
    let coarse = next.inside_finer >= LEAST;
    Message::new(if coarse {
        "joint-steps-too-coarse"
    } else {
        "joint-spread-too-wide"
    })
    .number("percent", 100.0 * next.inside, 1)
    .number("finer", 100.0 * next.inside_finer, 1)
    .number("spread", next.belief.spread_mm(), 2)
}

/// What a joint says of the stroke; `None` where it says nothing.
fn said(led: &Led, joint: &TrialJointRead, desk: &Desk) -> Option<Read> {
    if joint::elsewhere(joint.seen).is_some() {
        return None;
    }
    let readings: Vec<_> = joint
        .readings
        .iter()
        .filter(|read| read.criterion == led.criterion.id)
        .map(|read| read.reading.clone())
        .collect();
    // A gauge out of date is no evidence: what the eye says remains.
    let mean = desk.mean_of(&readings).filter(|_| all_in_date(&readings));
    if let Some(mean) = mean {
        return Some(Read::Measured {
            value_mm: mean.value,
            standard_mm: mean.standard,
        });
    }
    let short = matches!(joint.seen, Seen::Under);
    Some(match joint.seen {
        Seen::Good => Read::Inside,
        _ if short == led.falls_with_stroke => Read::Above,
        _ => Read::Below,
    })
}
