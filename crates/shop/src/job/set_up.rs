//! Set up: nose set, stick-out, setting, trial joints, sign-off.

use calc::Message;
use calc::interpolation;
use calc::repeated::Estimate;
use calc::trial_loop;
use calc::units::Unit;

use super::joint_read::{JointIn, unread};
use super::judge::method_of;
use super::made_safe::{hands_at_risk, known_ticks};
use super::refusal::{Refusal, Refusals, refuse, refuse_all};
use super::{Desk, Job, Measured, SetUp, Stage, TypedValue};
use crate::asked;
use crate::entry::{
    Body, Fitted, Outcome, PinRecord, Reading, SetUpSignedOff, StackRead, StickOutRead,
    TrialJointRead,
};
use crate::grip::{self, StackIn};
use crate::joint::{self, MOST_TURNS_OFF};
use crate::nose_match::{self, Fit};
use crate::pressure_setting::{At, Goal, pressure};
use crate::setting::{self, NoSetting, SettingAnswer, TINY};
use crate::sheet::{
    FastenerFamily, GaugeKind, GripCode, Kind, NoseSet, Setting, SettingBasis, ToolModel,
};
use crate::trial::own::{self, Past};
use crate::trial::{self, Trial};

/// Gauges that measure a length from a face.
const LENGTH_GAUGES: [GaugeKind; 3] = [
    GaugeKind::Caliper,
    GaugeKind::DepthGauge,
    GaugeKind::Micrometer,
];

/// A trial joint, as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct TrialJointIn {
    /// Turns that the adjuster stood at; `None` where it is not turned.
    pub turns: Option<TypedValue>,
    /// Pressure held at stall, bar; asked for where the force ends the pull.
    pub pressure: Measured,
    /// Make-safe ticks, asked for where the adjuster was turned.
    pub made_safe: Vec<String>,
    /// What was read of it.
    pub joint: JointIn,
}

/// The sheets of a set-up, in the revisions that it was worked to.
#[derive(Clone, Copy, Debug)]
pub struct SetUpSheets<'a> {
    /// Tool model.
    pub model: &'a ToolModel,
    /// Fastener family.
    pub fastener: &'a FastenerFamily,
    /// Grip code, where the family has one.
    pub code: Option<&'a GripCode>,
    /// Nose set.
    pub nose: &'a NoseSet,
    /// What the model sheet says of the two together.
    pub rule: Option<&'a Setting>,
}

impl SetUpSheets<'_> {
    /// Whether the adjuster is not turned for it: full stroke, or the force ends the pull.
    fn without_turns(&self) -> bool {
        self.rule.is_some_and(|r| !r.basis.is_by_turns())
    }

    /// Whether the pressure that is held ends the pull.
    pub fn is_by_force(&self) -> bool {
        self.rule.is_some_and(|r| r.basis == SettingBasis::Force)
    }
}

impl Job {
    /// The sheets of the set-up in hand.
    pub fn set_up_sheets<'a>(&self, set_up: &SetUp, desk: &Desk<'a>) -> Option<SetUpSheets<'a>> {
        let fitted = &set_up.fitted.body;
        let model = self.model(desk)?;
        let fastener = desk.shelf.fastener(&(&fitted.fastener).into())?;
        let nose = desk.shelf.nose_set(&(&fitted.nose_set).into())?;
        Some(SetUpSheets {
            model,
            fastener,
            code: fastener.code(&fitted.code),
            nose,
            rule: setting::rule(model, nose, fastener),
        })
    }

    fn in_hand<'a>(&self, desk: &Desk<'a>) -> Result<(&SetUp, SetUpSheets<'a>), Refusals> {
        self.open_or_refuse(Stage::SetUp)?;
        let Some(set_up) = self.set_up() else {
            return refuse_all(Message::new("refuse-fit-first"));
        };
        if set_up.signed_off.is_some() {
            return refuse_all(Message::new("refuse-set-up-stands"));
        }
        match self.set_up_sheets(set_up, desk) {
            Some(sheets) => Ok((set_up, sheets)),
            None => refuse_all(Message::new("refuse-no-sheet")),
        }
    }

    pub(super) fn fit(
        &self,
        fastener_id: &str,
        (code, stack): (&str, &StackIn),
        nose_id: &str,
        collet: Option<&Measured>,
        made_safe: &[String],
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        self.open_or_refuse(Stage::SetUp)?;
        let model = self.model_or_refuse(desk)?;
        let fastener_pin = desk.shelf.newest(Kind::Fastener, fastener_id);
        let nose_pin = desk.shelf.newest(Kind::NoseSet, nose_id);
        let fastener = fastener_pin.as_ref().and_then(|p| desk.shelf.fastener(p));
        let nose = nose_pin.as_ref().and_then(|p| desk.shelf.nose_set(p));
        let mut refusals = Refusals::new();
        refusals.extend(hands_at_risk(model, made_safe));
        if fastener.is_none() {
            refusals.push(refuse("fastener", Message::new("refuse-pick-fastener")));
        }
        if nose.is_none() {
            refusals.push(refuse("nose_set", Message::new("refuse-pick-nose")));
        }
        let (Some(fastener_pin), Some(nose_pin), Some(fastener), Some(nose)) =
            (fastener_pin, nose_pin, fastener, nose)
        else {
            return Err(refusals);
        };
        let over = grip::code_to_fit(fastener, code, stack, desk);
        let (code, stack) = over
            .map_err(|more| refusals.extend(more))
            .unwrap_or_default();
        let unsuited = if nose_match::compare(model, fastener, nose).fit() == Fit::No {
            Some("refuse-nose")
        } else if setting::rule(model, nose, fastener).is_none() {
            // It may fit, but nobody has said how far to pull: full stroke could crush the joint.
            Some("refuse-no-setting")
        } else {
            None
        };
        if let Some(why) = unsuited {
            let message = Message::new(why)
                .with("nose", nose.name.as_str())
                .with("fastener", fastener.name.as_str());
            refusals.push(refuse("nose_set", message));
        }
        let readings = match collet.filter(|m| !m.values.is_empty()) {
            None => Vec::new(),
            Some(measured) => desk
                .readings(measured, Unit::Millimetre, &LENGTH_GAUGES)
                .map_err(|more| refusals.extend(more))
                .unwrap_or_default(),
        };
        // The nose is chosen by it, so here a gauge out of date is refused outright.
        if let Some(measured) = collet {
            refusals.extend(stale(&readings, measured, desk));
        }
        if let Some(refusal) = readings.iter().find_map(|r| look_alike(nose, r)) {
            refusals.push(refuse("collet", refusal));
        }
        if !refusals.is_empty() {
            return Err(refusals);
        }
        let fitted = Fitted {
            fastener: PinRecord::from(&fastener_pin),
            code,
            nose_set: PinRecord::from(&nose_pin),
            collet_mm: readings.into_iter().next(),
            made_safe: known_ticks(model, made_safe),
            stack,
        };
        Ok(vec![fitted.into()])
    }

    pub(super) fn read_stick_out(
        &self,
        measured: &Measured,
        past: &Past,
        (stack, clamped): (&StackIn, bool),
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let (set_up, sheets) = self.in_hand(desk)?;
        if sheets.fastener.stick_out_mm.is_none() {
            return refuse_all(Message::new("refuse-stick-out-says-nothing"));
        }
        let refused = asked::pins_refused(sheets.fastener, &measured.values, clamped);
        if !refused.is_empty() {
            return Err(refused);
        }
        let readings = desk.readings(measured, Unit::Millimetre, &LENGTH_GAUGES)?;
        // A setting is built on it, so here a gauge out of date is refused outright.
        if let Some(refusal) = stale(&readings, measured, desk) {
            return Err(vec![refusal]);
        }
        let Some(mean) = desk.mean_of(&readings) else {
            return refuse_all(Message::new("refuse-no-reading"));
        };
        let stack = stack.read(sheets.fastener, desk)?;
        let stack = stack.map(|stack| StackRead { clamped, ..stack });
        let under = stack.as_ref().or(set_up.fitted.body.stack.as_ref());
        let mut read = recorded(&sheets, readings, None, &mean, past);
        if grip::contradiction(&sheets, &read.readings, under, desk).is_some() {
            read = grip::without_setting(read);
        }
        let read = StickOutRead {
            stack,
            clamped,
            ..read
        };
        Ok(vec![read.into()])
    }

    pub(super) fn choose_stroke(
        &self,
        stroke: &TypedValue,
        past: &Past,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let (_, sheets) = self.in_hand(desk)?;
        if sheets.fastener.stroke_mm.is_none() {
            return refuse_all(Message::new("refuse-not-by-stroke"));
        }
        if let Some(refusal) = asked::stroke_refused(sheets.model, sheets.fastener, stroke) {
            return Err(vec![refusal]);
        }
        // A wish, not a reading: it has no doubt of its own.
        let exact = Estimate::exact(stroke.value);
        let beyond = match answer(&sheets, &exact) {
            Err(NoSetting::OutOfTable { min_mm, max_mm }) => Some(
                Message::new("refuse-out-of-table")
                    .number("min", min_mm, 1)
                    .number("max", max_mm, 1),
            ),
            Err(NoSetting::BetweenSteps) => Some(Message::new("refuse-between-steps")),
            _ => None,
        };
        if let Some(message) = beyond {
            return Err(vec![refuse(&stroke.field, message)]);
        }
        Ok(vec![
            recorded(&sheets, Vec::new(), Some(stroke.value), &exact, past).into(),
        ])
    }

    pub(super) fn read_joint(
        &self,
        input: &TrialJointIn,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let (set_up, sheets) = self.in_hand(desk)?;
        if self.energy_forbidden(desk) {
            return refuse_all(Message::new("refuse-no-energy"));
        }
        if !settled(set_up, &sheets) {
            return refuse_all(Message::new("refuse-setting-first"));
        }
        let without_turns = sheets.without_turns();
        let mut refusals = Refusals::new();
        match &input.turns {
            _ if without_turns => {}
            None => refusals.push(refuse("turns", Message::new("refuse-turns"))),
            Some(typed) => refusals.extend(beyond_travel(sheets.model, typed)),
        }
        let turns = input
            .turns
            .as_ref()
            .filter(|_| !without_turns)
            .map(|t| t.value);
        let pressure = held(&sheets, &input.pressure, desk);
        let pressure = pressure
            .map_err(|more| refusals.extend(more))
            .unwrap_or_default();
        // What stopped the last joint is written down before the next one is set: else it is forgotten.
        let last = set_up.joints.last();
        let stopped = last.is_some_and(|last| joint::elsewhere(last.body.seen).is_some());
        if stopped && input.joint.note.trim().is_empty() {
            refusals.push(refuse("note", Message::new("refuse-stop-unexplained")));
        }
        let turned = set_up.joints.last().is_none_or(|j| j.body.turns != turns);
        if turned {
            refusals.extend(hands_at_risk(sheets.model, &input.made_safe));
        }
        let read = input.joint.read(sheets.fastener, desk);
        let read = read.map_err(|more| refusals.extend(more)).ok();
        let (Some(read), true) = (read, refusals.is_empty()) else {
            return Err(refusals);
        };
        let read = TrialJointRead {
            turns,
            pressure_bar: pressure.as_ref().map(|reading| reading.value),
            pressure,
            made_safe: if turned {
                known_ticks(sheets.model, &input.made_safe)
            } else {
                Vec::new()
            },
            readings: read.readings,
            seen: read.seen,
            outcome: read.outcome,
            method: method_of(joint::METHOD),
            note: input.joint.note.trim().to_owned(),
        };
        Ok(vec![read.into()])
    }

    pub(super) fn sign_off_set_up(
        &self,
        locked: bool,
        made_safe: &[String],
        reason: &str,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let (set_up, sheets) = self.in_hand(desk)?;
        let without_turns = sheets.without_turns();
        if !settled(set_up, &sheets) {
            return refuse_all(Message::new("refuse-setting-first"));
        }
        let wanted = desk
            .shelf
            .shop(&self.shop_pin())
            .map_or(3, |shop| shop.joints_to_sign_off);
        let mut refusals = Refusals::new();
        let last = set_up.joints.last().map(|j| &j.body);
        match last.map(|j| (j.outcome, unread(&j.readings, sheets.fastener))) {
            Some((Outcome::Accept, None)) => {}
            Some((Outcome::Accept | Outcome::Undecided, Some(unread))) => {
                return refuse_all(Message::new("refuse-unread").with("criteria", unread));
            }
            _ => return refuse_all(Message::new("refuse-last-joint")),
        }
        if far_from_table(set_up) && reason.trim().is_empty() {
            let message = Message::new("refuse-far-from-table").number("turns", MOST_TURNS_OFF, 0);
            refusals.push(refuse("reason", message));
        }
        let trial = Trial::of(&sheets, set_up, desk);
        if trial.as_ref().is_some_and(|trial| trial.is_stale) {
            return refuse_all(Message::new("refuse-joint-first"));
        }
        let too_few = match &trial {
            Some(trial) if trial.is_doubted => Some(
                Message::new("refuse-joints-in-a-row")
                    .with("have", set_up.good_in_a_row())
                    .with("need", trial::GOOD_AFTER_BAD),
            ),
            Some(trial) => (!trial.is_enough()).then(|| not_enough(trial)),
            None => (set_up.good_in_a_row() < wanted).then(|| {
                Message::new("refuse-joints-in-a-row")
                    .with("have", set_up.good_in_a_row())
                    .with("need", wanted)
            }),
        };
        if let Some(message) = too_few.filter(|_| reason.trim().is_empty()) {
            refusals.push(refuse("reason", message));
        }
        let by_force = sheets.is_by_force();
        if !locked && (by_force || !without_turns) {
            let asks = if by_force {
                "refuse-not-open"
            } else {
                "refuse-not-locked"
            };
            refusals.push(refuse("locked", Message::new(asks)));
        }
        if !without_turns {
            refusals.extend(hands_at_risk(sheets.model, made_safe));
        }
        if !refusals.is_empty() {
            return Err(refusals);
        }
        let signed = SetUpSignedOff {
            turns: set_up.joints.last().and_then(|j| j.body.turns),
            pressure_bar: set_up.joints.last().and_then(|j| j.body.pressure_bar),
            locked,
            made_safe: if without_turns {
                Vec::new()
            } else {
                known_ticks(sheets.model, made_safe)
            },
            reason: reason.trim().to_owned(),
            inside: trial.as_ref().map(|trial| trial.next.inside),
            method: trial.map_or(String::new(), |_| method_of(trial_loop::METHOD)),
        };
        Ok(vec![signed.into()])
    }
}

/// The pressure that a joint was set with, as read; `None` where nobody asks for it.
fn held(
    sheets: &SetUpSheets,
    measured: &Measured,
    desk: &Desk,
) -> Result<Option<Reading>, Refusals> {
    if !sheets.is_by_force() {
        return Ok(None);
    }
    let Some(typed) = measured.values.first() else {
        return Err(vec![refuse("pressure", Message::new("refuse-pressure"))]);
    };
    let answer = pressure(sheets.model, sheets.fastener, Goal::Stop, At::Bench)
        .map_err(|why| vec![refuse(&typed.field, why.message())])?;
    if !(answer.least_bar - TINY..=answer.most_bar + TINY).contains(&typed.value) {
        let message = Message::new("refuse-pressure-range")
            .number("value", typed.value, 2)
            .number("min", answer.least_bar, 2)
            .number("max", answer.most_bar, 2);
        return Err(vec![refuse(&typed.field, message)]);
    }
    let readings = desk.readings(measured, Unit::Bar, &[GaugeKind::PressureGauge])?;
    // The card prints it, so here a gauge out of date is refused outright.
    match stale(&readings, measured, desk) {
        Some(refusal) => Err(vec![refusal]),
        None => Ok(readings.into_iter().next()),
    }
}

/// Why the trial loop wants another joint.
fn not_enough(trial: &Trial) -> Message {
    Message::new("refuse-probability")
        .number("have", 100.0 * trial.next.inside, 2)
        .number("need", 100.0 * trial::TARGET, 1)
        .number("further", trial.next.further.ceil().max(1.0), 0)
}

/// The setting that follows from `measured`.
///
/// # Errors
/// As [`setting::turns`].
pub fn answer(sheets: &SetUpSheets, measured: &Estimate) -> Result<SettingAnswer, NoSetting> {
    let rule = sheets.rule.ok_or(NoSetting::NotInSheet)?;
    setting::turns(sheets.model, rule, sheets.fastener, sheets.code, measured)
}

/// A refusal of readings that a gauge out of date took.
fn stale(readings: &[Reading], measured: &Measured, desk: &Desk) -> Option<Refusal> {
    let stale = desk.gauge_of(readings.iter().find(|r| !r.is_evidence())?)?;
    let message = Message::new("refuse-gauge-stale").with("gauge", stale.name.as_str());
    Some(refuse(&measured.gauge_field, message))
}

/// Whether the newest measurement gives a setting, or the fastener needs none.
fn settled(set_up: &SetUp, sheets: &SetUpSheets) -> bool {
    let free = sheets.without_turns() && sheets.fastener.stick_out_mm.is_none();
    free || set_up.stick_out().is_some_and(|s| s.in_band)
}

/// Good joints so far from the sheet's table that something else may be wrong.
pub fn far_from_table(set_up: &SetUp) -> bool {
    let stands = set_up.joints.last().and_then(|j| j.body.turns);
    let table = set_up.stick_out().and_then(|s| s.turns);
    stands.is_some_and(|stands| joint::far_from_table(stands, table))
}

/// A refusal of turns that the adjuster does not have: its whole travel is the stroke.
fn beyond_travel(model: &ToolModel, typed: &TypedValue) -> Option<Refusal> {
    let most = model.most_turns();
    let message = Message::new("refuse-turns-range")
        .number("value", typed.value, 2)
        .number("max", most, 1);
    let inside = (0.0..=most + TINY).contains(&typed.value);
    (!inside).then(|| refuse(&typed.field, message))
}

fn recorded(
    sheets: &SetUpSheets,
    readings: Vec<Reading>,
    stroke_mm: Option<f64>,
    mean: &Estimate,
    past: &Past,
) -> StickOutRead {
    let without_turns = sheets.without_turns();
    let answer = answer(sheets, mean);
    let in_band = if without_turns {
        // Without turns there is no table, but the band still tells a wrong code.
        setting::in_band(sheets.fastener, sheets.code, mean).is_ok()
    } else {
        answer.is_ok()
    };
    let answer = answer.ok().filter(|_| !without_turns);
    let turns = answer.as_ref().map(|a| a.turns);
    let used = answer.as_ref().map(|a| a.working.method);
    let method = used.unwrap_or(interpolation::METHOD);
    StickOutRead {
        own: answer
            .as_ref()
            .and_then(|table| own::adjuster(sheets, &past.points, table)),
        past_left_out: past.left_out.total(),
        past_not_in_table: past.left_out.not_in_table,
        past_odd: past.left_out.odd,
        mean_mm: (!readings.is_empty()).then_some(mean.value),
        expanded_mm: (!readings.is_empty()).then_some(mean.expanded),
        readings,
        stroke_mm,
        turns,
        set_turns: answer.as_ref().map(|a| a.set_turns),
        expanded_turns: answer.as_ref().map(|a| a.expanded_turns),
        in_band,
        stack: None,
        clamped: false,
        method: method_of(method),
    }
}

/// A measured collet that is not the one of the sheet: the look-alike it is, or how far it is off.
fn look_alike(nose: &NoseSet, reading: &Reading) -> Option<Message> {
    // A sheet that does not know the length cannot tell one collet from another by it.
    let right = nose.collet.length_mm?;
    let off = |size: f64| (reading.value - size).abs();
    let same_dimension = |l: &&crate::sheet::LookAlike| (l.this_mm - right).abs() < 1e-9;
    if let Some(twin) = nose
        .look_alikes
        .iter()
        .filter(same_dimension)
        // On its side of the middle between the two, and no further beyond it.
        .find(|l| off(l.that_mm) < (l.that_mm - right).abs() / 2.0)
    {
        return Some(
            Message::new("refuse-look-alike")
                .with("wrong", twin.number.as_str())
                .with("right", nose.collet.number.as_str())
                .with("effect", twin.effect.as_str())
                .number("is", reading.value, 1)
                .number("should", right, 1),
        );
    }
    // Half a millimetre is more than wear and caliper together (common practice, no source).
    (off(right) > 0.5).then(|| {
        Message::new("refuse-collet-length")
            .with("right", nose.collet.number.as_str())
            .number("is", reading.value, 1)
            .number("should", right, 1)
    })
}
