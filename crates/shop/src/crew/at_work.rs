//! A setting away from the bench: no job, no record, a caliper of which nobody knows the certificate.

use calc::repeated::{Estimate, GaugeDoubt};

use crate::entry::{GivenTurns, OwnAdjuster, PastSetUp};
use crate::job::{SetUpSheets, answer};
use crate::setting::{NoSetting, SettingAnswer, in_band};
use crate::sheet::{FastenerFamily, NoseSet, SettingBasis, Shelf, ToolModel};
use crate::trial::own;

/// What a hand caliper adds to the doubt when nobody names its certificate, mm (common practice, no
/// source).
pub const HAND_CALIPER: GaugeDoubt = GaugeDoubt {
    expanded: 0.05,
    resolution: 0.01,
};

/// What a hand caliper reads, mm (common practice, no source).
pub const CALIPER_RANGE_MM: (f64, f64) = (0.0, 150.0);

/// Most pins that are measured for one setting at the work place.
pub const MOST_PINS: usize = 5;

/// What a crew is told to set.
#[derive(Clone, Debug, PartialEq)]
pub enum CrewSetting {
    /// Turns of the adjuster.
    Turns {
        /// By the sheet's table.
        table: Box<SettingAnswer>,
        /// What the tool's own past makes of them; `None` where none is known.
        own: Option<OwnAdjuster>,
    },
    /// The whole stroke: the fastener parts its own tail.
    FullStroke,
    /// No turns: the pressure that is held ends the pull.
    Force,
}

impl CrewSetting {
    /// Turns to set by hand: the tool's own, else the table's; `None` where no adjuster is turned.
    pub fn set_turns(&self) -> Option<f64> {
        match self {
            Self::Turns { table, own } => {
                Some(own.as_ref().map_or(table.set_turns, |own| own.set_turns))
            }
            Self::FullStroke | Self::Force => None,
        }
    }

    /// The same with its doubt.
    pub fn given(&self) -> Option<GivenTurns> {
        let turns = self.set_turns()?;
        match self {
            Self::Turns { table, own } => {
                let own = own.as_ref().map(|own| own.expanded_turns);
                let expanded = own.unwrap_or(table.expanded_turns);
                Some(GivenTurns { turns, expanded })
            }
            Self::FullStroke | Self::Force => None,
        }
    }
}

/// The setting that follows from `measured` (mean stick-out, or wanted stroke) for a tool with this
/// `past`, empty where the tool is not known; `None` while nothing was measured. The same rules as on the
/// job page.
///
/// # Errors
/// As [`crate::setting::turns`]; at full stroke, a stick-out outside the band;
/// [`NoSetting::PastIsFar`], which the bench is only warned of.
pub fn setting(
    sheets: &SetUpSheets,
    measured: Option<&Estimate>,
    past: &[PastSetUp],
) -> Option<Result<CrewSetting, NoSetting>> {
    let Some(rule) = sheets.rule else {
        return Some(Err(NoSetting::NotInSheet));
    };
    let without_turns = match rule.basis {
        SettingBasis::StickOut | SettingBasis::Stroke => None,
        SettingBasis::FullStroke => Some(CrewSetting::FullStroke),
        SettingBasis::Force => Some(CrewSetting::Force),
    };
    if without_turns.is_some() && sheets.fastener.stick_out_mm.is_none() {
        return without_turns.map(Ok);
    }
    let measured = measured?;
    Some(match without_turns {
        Some(setting) => in_band(sheets.fastener, sheets.code, measured).map(|()| setting),
        None => answer(sheets, measured).and_then(|table| by_turns(sheets, past, table)),
    })
}

/// By the table and the tool's own past. Nobody at the work place can look why a tool is unlike others.
fn by_turns(
    sheets: &SetUpSheets,
    past: &[PastSetUp],
    table: SettingAnswer,
) -> Result<CrewSetting, NoSetting> {
    let own = own::adjuster(sheets, past, &table);
    let cannot_be = |own: &OwnAdjuster| {
        own::is_far(sheets, own, table.turns)
            || own::is_fall_back(sheets.model, own.set_turns, own.turns)
    };
    if own.as_ref().is_some_and(cannot_be) {
        return Err(NoSetting::PastIsFar);
    }
    let table = Box::new(table);
    Ok(CrewSetting::Turns { table, own })
}

/// The nose sets in force with which `model` sets `fastener`, as its sheet says.
pub fn noses_for<'a>(
    shelf: &'a Shelf,
    model: &ToolModel,
    fastener: &FastenerFamily,
) -> Vec<&'a NoseSet> {
    let named = |nose: &NoseSet| {
        let mut rules = model.settings.iter();
        rules.any(|s| s.nose_set == nose.id && s.fastener == fastener.id)
    };
    let noses = shelf.nose_sets().map(|(_, nose)| nose);
    noses.filter(|nose| named(nose)).collect()
}
