//! From measured stick-out (or wanted stroke) to turns of the adjuster.

use calc::decision::{self, Rule, Verdict};
use calc::interpolation::{self, METHOD, linear};
use calc::repeated::Estimate;
use calc::screw_stop::{Effect, Rotation, View, Zero, to_step};
use calc::stroke_relation::{self, Length};
use calc::working::{Working, places};
use calc::{CalcError, Message};

use crate::sheet::{FastenerFamily, GripCode, NoseSet, Setting, SettingBasis, ToolModel};

/// A setting: never a number alone, always with the way to turn and what that does.
#[derive(Clone, Debug, PartialEq)]
pub struct SettingAnswer {
    /// Exact turns from zero.
    pub turns: f64,
    /// Turns to set by hand.
    pub set_turns: f64,
    /// Expanded uncertainty of the turns.
    pub expanded_turns: f64,
    /// Which way to turn away from zero.
    pub turn: Turn,
    /// How it was reckoned.
    pub working: Working,
}

/// Which way an adjuster is turned, from where, seen from where, with what effect.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Turn {
    /// Sense of turning.
    pub rotation: Rotation,
    /// What it does.
    pub effect: Effect,
    /// From which end turns are counted.
    pub zero: Zero,
    /// From which end it is looked at.
    pub view: View,
}

/// Why there is no setting.
#[derive(Clone, Debug, PartialEq)]
pub enum NoSetting {
    /// The model sheet says nothing of this nose set with this fastener.
    NotInSheet,
    /// No step that hands can set lies within the fastener's stroke limits and the adjuster's travel.
    BetweenSteps,
    /// The stick-out lies outside the code's band; the code that it would suit, if there is one.
    OutOfBand {
        /// Longer than the band allows (stack thinner than the code is for).
        long: bool,
        /// Stack that the stick-out speaks for, mm.
        stack_mm: Option<f64>,
        /// Code made for that stack.
        suits: Option<String>,
    },
    /// The pins differ among themselves by more than seating and gauge explain.
    PinsDiffer,
    /// So near an end of the code's band that the doubt reaches over it.
    Undecided,
    /// Outside the table.
    OutOfTable {
        /// First row, mm.
        min_mm: f64,
        /// Last row, mm.
        max_mm: f64,
    },
    /// This tool's past lies so far from the table that something else may be wrong.
    PastIsFar,
}

/// How turns away from zero go on this tool.
pub fn away(model: &ToolModel) -> Turn {
    let stop = &model.adjuster.stop;
    let effect = stop.away_from_zero();
    turn_for(model, effect)
}

/// The turn of this tool's adjuster that has `effect`.
pub fn turn_for(model: &ToolModel, effect: Effect) -> Turn {
    let stop = &model.adjuster.stop;
    Turn {
        rotation: stop.rotation_for(effect),
        effect,
        zero: stop.zero,
        view: stop.view,
    }
}

/// Slack for sums of steps and turns that are exact on paper and not in a double.
pub(crate) const TINY: f64 = 1e-9;

/// Whether the fastener may be set with a stroke of so many millimetres; true where it names no limits.
pub(crate) fn allows_stroke(fastener: &FastenerFamily, mm: f64) -> bool {
    fastener.stroke_mm.is_none_or(|limits| {
        limits.lower().is_none_or(|l| mm >= l - TINY)
            && limits.upper().is_none_or(|u| mm <= u + TINY)
    })
}

/// What the model sheet says of this nose set with this fastener.
pub fn rule<'a>(
    model: &'a ToolModel,
    nose: &NoseSet,
    fastener: &FastenerFamily,
) -> Option<&'a Setting> {
    model
        .settings
        .iter()
        .find(|s| s.nose_set == nose.id && s.fastener == fastener.id)
}

/// Whether a mean stick-out lies in the family's band; undecided when the band's end lies inside
/// the doubt. `None` where stick-out says nothing of this family.
pub fn band_verdict(fastener: &FastenerFamily, stick_out: &Estimate) -> Option<Verdict> {
    let band = fastener.stick_out_mm?;
    decision::judge(stick_out.value, stick_out.expanded, band, Rule::Guarded).ok()
}

/// Turns for `measured` millimetres (mean stick-out, or wanted stroke), with the working.
///
/// # Errors
/// No rule in the sheet, or a value outside the code's band or the table.
pub fn turns(
    model: &ToolModel,
    rule: &Setting,
    fastener: &FastenerFamily,
    code: Option<&GripCode>,
    measured: &Estimate,
) -> Result<SettingAnswer, NoSetting> {
    if rule.basis == SettingBasis::StickOut {
        in_band(fastener, code, measured)?;
    }
    let between = linear(&rule.rows, measured.value).map_err(|error| match error {
        CalcError::OutOfRange { min, max, .. } => NoSetting::OutOfTable {
            min_mm: min,
            max_mm: max,
        },
        _ => NoSetting::NotInSheet,
    })?;
    let step = model.adjuster.step_turns;
    let effect = model.adjuster.stop.away_from_zero();
    let nearest = to_step(between.value, step, effect).map_err(|_| NoSetting::NotInSheet)?;
    // Rounding must leave neither the adjuster's travel nor the fastener's own limits.
    let stroke = |turns: f64| measured.value + (turns - between.value) / between.slope;
    let by_stroke = rule.basis == SettingBasis::Stroke && allows_stroke(fastener, measured.value);
    let may_be_set = |turns: &f64| {
        (-TINY..=model.most_turns() + TINY).contains(turns)
            && (!by_stroke || allows_stroke(fastener, stroke(*turns)))
    };
    let set_turns = [nearest, nearest - step, nearest + step]
        .into_iter()
        .find(may_be_set)
        .ok_or(NoSetting::BetweenSteps)?;
    let expanded = (between.slope * measured.expanded).hypot(rule.expanded_turns);
    Ok(SettingAnswer {
        turns: between.value,
        set_turns,
        expanded_turns: expanded,
        turn: away(model),
        working: by_relation(model, rule, measured, step, (nearest, set_turns)).unwrap_or_else(
            || {
                working(
                    rule,
                    measured,
                    &between,
                    expanded,
                    step,
                    (nearest, set_turns),
                )
            },
        ),
    })
}

/// Whether the stick-out suits the code at all.
///
/// # Errors
/// [`NoSetting::Undecided`] where the doubt reaches over an end of the band;
/// [`NoSetting::OutOfBand`] with what the stick-out speaks for.
pub fn in_band(
    fastener: &FastenerFamily,
    code: Option<&GripCode>,
    measured: &Estimate,
) -> Result<(), NoSetting> {
    let Some(band) = fastener.stick_out_mm else {
        return Ok(());
    };
    // A quarter of the band between pins is more than any caliper: one of them is not seated, or is
    // another pin.
    if let Some((lower, upper)) = band.lower().zip(band.upper())
        && measured.spread > (upper - lower) / 4.0
    {
        return Err(NoSetting::PinsDiffer);
    }
    match band_verdict(fastener, measured) {
        Some(Verdict::Accept) => return Ok(()),
        Some(Verdict::Undecided) => return Err(NoSetting::Undecided),
        Some(Verdict::Reject) | None => {}
    }
    let middle = band
        .lower()
        .zip(band.upper())
        .map(|(l, u)| f64::midpoint(l, u));
    // The pin's length is fixed by its code, so what is missing outside is inside the stack.
    let stack_mm = code
        .zip(middle)
        .map(|(c, middle)| f64::midpoint(c.min_mm, c.max_mm) + middle - measured.value);
    let suits = stack_mm.and_then(|stack| {
        fastener
            .codes
            .iter()
            .filter(|c| Some(*c) != code)
            .find(|c| (c.min_mm..=c.max_mm).contains(&stack))
    });
    Err(NoSetting::OutOfBand {
        long: band.upper().is_some_and(|u| measured.value > u),
        stack_mm,
        suits: suits.map(|c| c.code.clone()),
    })
}

fn working(
    rule: &Setting,
    measured: &Estimate,
    between: &interpolation::Between,
    expanded: f64,
    step: f64,
    (nearest, set_turns): (f64, f64),
) -> Working {
    let what = Message::new(match rule.basis {
        SettingBasis::StickOut => "given-stick-out",
        _ => "given-stroke",
    });
    let row = |i: usize| Message::new("given-row").with("row", i);
    let table = Message::new("given-table-doubt");
    let reckoned = Working::new(METHOD)
        .given("L", what, measured.value, 3, "mm")
        .given(
            "w_L",
            Message::new("given-expanded"),
            measured.expanded,
            3,
            "mm",
        )
        .given(
            "L₁",
            row(1),
            between.below.0,
            places(between.below.0, 2),
            "mm",
        )
        .given(
            "t₁",
            row(1),
            between.below.1,
            places(between.below.1, 2),
            "turns",
        )
        .given(
            "L₂",
            row(2),
            between.above.0,
            places(between.above.0, 2),
            "mm",
        )
        .given(
            "t₂",
            row(2),
            between.above.1,
            places(between.above.1, 2),
            "turns",
        )
        .given(
            "w_t",
            table,
            rule.expanded_turns,
            places(rule.expanded_turns, 2),
            "turns",
        )
        .given(
            "q",
            Message::new("given-step"),
            step,
            places(step, 2),
            "turns",
        )
        .step("k", "(t₂ − t₁) / (L₂ − L₁)", between.slope, 4, "turns/mm")
        .step("t", "t₁ + (L − L₁) · k", between.value, 2, "turns")
        .step("w", "√((k · w_L)² + w_t²)", expanded, 2, "turns")
        .note(Message::new("note-setting-table"));
    to_hands(reckoned, (nearest, set_turns))
}

/// The working where the sheet states the relation and no table.
fn by_relation(
    model: &ToolModel,
    rule: &Setting,
    measured: &Estimate,
    step: f64,
    rounded: (f64, f64),
) -> Option<Working> {
    let relation = rule.relation.as_ref().filter(|_| rule.by_relation)?;
    let stick_out = Length {
        value_mm: measured.value,
        expanded_mm: measured.expanded,
    };
    // Sheets are clamped when the stick-out is read: no gap is left to close.
    let (gap, stop) = (Length::exact(0.0), &model.adjuster.stop);
    let reckoned =
        stroke_relation::working(relation, stick_out, gap, stop, model.stroke_mm).ok()?;
    let q = Message::new("given-step");
    Some(to_hands(
        reckoned.given("q", q, step, places(step, 2), "turns"),
        rounded,
    ))
}

/// The last lines: to a step that hands can set.
fn to_hands(reckoned: Working, (nearest, set_turns): (f64, f64)) -> Working {
    if set_turns == nearest {
        return reckoned.step("t_set", "q · round(t / q)", set_turns, 3, "turns");
    }
    let moved = if set_turns < nearest {
        "t_q − q"
    } else {
        "t_q + q"
    };
    reckoned
        .step("t_q", "q · round(t / q)", nearest, 3, "turns")
        .step("t_set", moved, set_turns, 3, "turns")
        .note(Message::new("note-setting-moved"))
}
