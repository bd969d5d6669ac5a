//! The criterion that leads a trial loop: the one that the stroke moves both ways.

use calc::screw_stop::Effect;
use calc::trial_loop::Window;
use calc::units::Unit;

use super::{SPREAD_MM, TOOLS_DIFFER_MM};
use crate::job::SetUpSheets;
use crate::sheet::Criterion;

/// A criterion with both limits in millimetres that one change of the stroke raises and the other lowers.
pub(super) struct Led<'a> {
    pub criterion: &'a Criterion,
    pub window: Window,
    /// More stroke, smaller value.
    pub falls_with_stroke: bool,
    /// What one turn away from zero moves the value, mm.
    pub per_turn_mm: f64,
    /// Standard deviation between joints, mm.
    pub spread_mm: f64,
    /// Standard deviation between tools of the model, mm.
    pub tools_differ_mm: f64,
}

impl<'a> Led<'a> {
    pub fn by(sheets: &SetUpSheets<'a>) -> Option<Self> {
        if !sheets.rule?.basis.is_by_turns() {
            return None;
        }
        let adjuster = &sheets.model.adjuster;
        let criteria = sheets.fastener.criteria.iter();
        let (criterion, window, falls_with_stroke) = criteria
            .filter(|c| c.unit == Unit::Millimetre)
            .find_map(|c| {
                let (lower_mm, upper_mm) = c.limits.lower().zip(c.limits.upper())?;
                let falls = match (c.if_low?, c.if_high?) {
                    (Effect::Shortens, Effect::Lengthens) => true,
                    (Effect::Lengthens, Effect::Shortens) => false,
                    _ => return None,
                };
                Some((c, Window { lower_mm, upper_mm }, falls))
            })?;
        let lengthens = adjuster.stop.away_from_zero() == Effect::Lengthens;
        let raises = lengthens != falls_with_stroke;
        Some(Self {
            criterion,
            window,
            falls_with_stroke,
            per_turn_mm: if raises { 1.0 } else { -1.0 } * adjuster.stop.pitch_mm,
            spread_mm: criterion.spread_mm.unwrap_or(SPREAD_MM),
            tools_differ_mm: adjuster.tools_differ_mm.unwrap_or(TOOLS_DIFFER_MM),
        })
    }

    /// What a joint so many turns from the table is foretold to read.
    pub fn foretold_mm(&self, turns_off: f64) -> f64 {
        self.window.middle_mm() + self.per_turn_mm * turns_off
    }
}
