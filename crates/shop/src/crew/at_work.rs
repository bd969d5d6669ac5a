//! A setting away from the bench: no job, no record, a caliper of which nobody knows the certificate.

use calc::decision::Limits;
use calc::repeated::{Estimate, GaugeDoubt};
use calc::units::Unit;

use crate::job::{SetUpSheets, answer};
use crate::setting::{NoSetting, SettingAnswer, in_band};
use crate::sheet::{FastenerFamily, NoseSet, SettingBasis, Shelf, ToolModel};

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
    Turns(SettingAnswer),
    /// The whole stroke: the fastener parts its own tail.
    FullStroke,
    /// No turns: the pressure that is held ends the pull.
    Force,
}

/// The setting that follows from `measured` (mean stick-out, or wanted stroke); `None` while nothing
/// was measured. The same rules as on the job page.
///
/// # Errors
/// As [`crate::setting::turns`]; at full stroke, a stick-out outside the band.
pub fn setting(
    sheets: &SetUpSheets,
    measured: Option<&Estimate>,
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
        None => answer(sheets, measured).map(CrewSetting::Turns),
    })
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

/// The unit in which a value typed as millimetres would lie within `limits`: it was read in that one.
pub fn unit_slip(value: f64, limits: &Limits) -> Option<Unit> {
    let within =
        |mm: f64| limits.lower().is_none_or(|l| mm >= l) && limits.upper().is_none_or(|u| mm <= u);
    if within(value) {
        return None;
    }
    let mm = Unit::Inch.convert(value, Unit::Millimetre)?;
    within(mm).then_some(Unit::Inch)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn band() -> Limits {
        Limits::new(Some(25.2), Some(26.8)).expect("in order")
    }

    #[test]
    fn inches_are_told_from_millimetres_by_the_band() {
        // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
        assert_eq!(unit_slip(1.02, &band()), Some(Unit::Inch));
        assert_eq!(unit_slip(26.0, &band()), None, "in the band");
        for other in [0.9, 1.1, 24.0, 29.2, f64::NAN] {
            assert_eq!(unit_slip(other, &band()), None, "{other}");
        }
    }

    #[test]
    fn limits_on_one_side_only_are_kept_to() {
        let upper = Limits::new(None, Some(26.8)).expect("in order");
        assert_eq!(
            unit_slip(30.0, &upper),
            None,
            "inches would be longer still"
        );
    }
}
