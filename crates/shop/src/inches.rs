//! Inches typed where millimetres are asked for: the one rule, for stacks, stick-outs, strokes and joints.

use calc::Message;
use calc::decision::Limits;
use calc::units::Unit;

use crate::job::{Refusal, TypedValue, refuse};

/// How near its limits a value must lie to be taken for what was meant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Further than this from its limits no value in millimetres lies, mm.
    pub as_typed_mm: f64,
    /// So near its limits lies what was read in inches, mm.
    pub as_inches_mm: f64,
}

/// A stack or a wanted stroke: inside its limits, or it is none.
pub(crate) const EXACT: Room = Room {
    as_typed_mm: 0.0,
    as_inches_mm: 0.0,
};
/// A stick-out: a wrong code or an open gap moves it so far. Common practice, no source.
pub(crate) const STICK_OUT: Room = Room {
    as_typed_mm: 4.0,
    as_inches_mm: 4.0,
};
/// A joint: a bad one lies off by less. Common practice, no source.
pub(crate) const JOINT: Room = Room {
    as_typed_mm: 5.0,
    as_inches_mm: 0.0,
};

/// What `value`, typed as millimetres, is in millimetres if it was read in inches: as typed it lies too
/// far from both of its limits, as inches it suits them. `None` where one limit is missing: it could be
/// anything.
pub fn meant_mm(value: f64, limits: &Limits, room: Room) -> Option<f64> {
    let (lower, upper) = limits.lower().zip(limits.upper())?;
    let near = |mm: f64, by: f64| (lower - by..=upper + by).contains(&mm);
    let mm = Unit::Inch.convert(value, Unit::Millimetre)?;
    (!near(value, room.as_typed_mm) && near(mm, room.as_inches_mm)).then_some(mm)
}

/// The refusal of a value that was read in inches, at its field.
pub(crate) fn refused(typed: &TypedValue, limits: &Limits, room: Room) -> Option<Refusal> {
    let mm = meant_mm(typed.value, limits, room)?;
    let message = Message::new("refuse-inches")
        .number("typed", typed.value, 3)
        .number("mm", mm, 2);
    Some(refuse(&typed.field, message))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn limits(lower: f64, upper: f64) -> Limits {
        Limits::new(Some(lower), Some(upper)).expect("in order")
    }

    #[test]
    fn inches_are_told_from_millimetres_by_the_band() {
        // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
        let band = limits(25.2, 26.8);
        let meant = |value: f64| meant_mm(value, &band, STICK_OUT);
        assert!(meant(1.02).is_some_and(|mm| (mm - 25.908).abs() < 1e-9));
        // 1.15 in = 29.21 mm: a pin of a wrong code, read in inches.
        assert!(meant(1.15).is_some_and(|mm| (mm - 29.21).abs() < 1e-9));
        assert_eq!(meant_mm(1.15, &band, EXACT), None);
        // 0.8 in = 20.32 mm and 1.3 in = 33.02 mm: near no stick-out of this fastener.
        for other in [26.0, 24.0, 29.2, 0.8, 1.3, f64::NAN] {
            assert_eq!(meant(other), None, "{other}");
        }
    }

    #[test]
    fn a_short_reach_is_no_inch() {
        // 0.05 in = 1.27 mm lies in 0.7 to 1.5 mm, and a reach of 0.05 mm is a bad joint.
        let reach = limits(0.7, 1.5);
        assert_eq!(meant_mm(0.05, &reach, JOINT), None);
        assert!(meant_mm(0.05, &reach, EXACT).is_some());
        // 0.512 in = 13.0048 mm.
        let collar = limits(12.90, 13.12);
        assert!(meant_mm(0.512, &collar, JOINT).is_some());
    }

    #[test]
    fn one_limit_alone_tells_nothing() {
        let upper = Limits::new(None, Some(26.8)).expect("in order");
        let lower = Limits::new(Some(25.2), None).expect("in order");
        for value in [0.9, 1.02, 30.0] {
            assert_eq!(meant_mm(value, &upper, EXACT), None, "{value}");
            assert_eq!(meant_mm(value, &lower, EXACT), None, "{value}");
        }
    }
}
