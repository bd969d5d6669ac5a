//! The stroke that a stick-out asks for, and the turns that give it.
//!
//! # Formula
//! S = L − N − A + g + e: L the stick-out, N the depth from the anvil's face to the pin stop at home, A
//! the height of the anvil's face above the work when the swage is complete, g a gap still to close
//! when L was read, e jaw bite and elastic stretch. w² = Σ of the squares of their expanded
//! uncertainties. Turns = (S₀ − S) / p where turning away from zero shortens the stroke, S₀ the full
//! stroke; S / p where it lengthens it.
//!
//! # Validity
//! A pull that ends at a stop on a screw, and a pin stop that does not give. Uncertainties
//! independent of each other.
//!
//! # Source
//! Geometry of the nose; JCGM 100:2008, 5.1.2 (uncorrelated sum).

use crate::Message;
use crate::error::{CalcError, within};
use crate::screw_stop::{Effect, ScrewStop};
use crate::working::{Method, Working, places};

/// This method.
pub const METHOD: Method = Method {
    name: "stroke-from-stick-out",
    version: 1,
    source: "geometry of the nose; JCGM 100:2008, 5.1.2",
};

/// Longest length that plays a part, mm.
const LONGEST_MM: f64 = 5000.0;

/// A length with its expanded uncertainty (k = 2).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Length {
    /// Best value, mm.
    pub value_mm: f64,
    /// Expanded uncertainty, mm.
    pub expanded_mm: f64,
}

impl Length {
    /// A length that counts as exact.
    pub fn exact(value_mm: f64) -> Self {
        Self {
            value_mm,
            expanded_mm: 0.0,
        }
    }

    fn held(self, input: &'static str, least: f64) -> Result<Self, CalcError> {
        within(input, self.value_mm, least, LONGEST_MM)?;
        within("w", self.expanded_mm, 0.0, LONGEST_MM)?;
        Ok(self)
    }
}

/// What the nose takes from the stick-out, and what is added to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Relation {
    /// N: anvil face to pin stop at home.
    pub nose_depth: Length,
    /// A: anvil face above the work when the swage is complete.
    pub anvil_height: Length,
    /// e: jaw bite and elastic stretch.
    pub stretch: Length,
}

/// The stroke for `stick_out`, with `gap` still to close when it was read.
///
/// # Errors
/// A length that is negative or not finite, a negative uncertainty, a stick-out that the nose swallows
/// whole.
pub fn stroke(relation: &Relation, stick_out: Length, gap: Length) -> Result<Length, CalcError> {
    let l = stick_out.held("L", 0.0)?;
    let n = relation.nose_depth.held("N", 0.0)?;
    let a = relation.anvil_height.held("A", 0.0)?;
    let g = gap.held("g", 0.0)?;
    let e = relation.stretch.held("e", 0.0)?;
    let value_mm = l.value_mm - n.value_mm - a.value_mm + g.value_mm + e.value_mm;
    let squares = [l, n, a, g, e].map(|x| x.expanded_mm.powi(2));
    Ok(Length {
        value_mm: within("S", value_mm, 0.0, LONGEST_MM)?,
        expanded_mm: squares.iter().sum::<f64>().sqrt(),
    })
}

/// The stick-out for which the stroke is `stroke_mm`, sheets clamped: the relation read backwards.
pub fn stick_out_mm(relation: &Relation, stroke_mm: f64) -> f64 {
    let Relation {
        nose_depth: n,
        anvil_height: a,
        stretch: e,
    } = relation;
    stroke_mm + n.value_mm + a.value_mm - e.value_mm
}

/// The turns from zero that give the stroke `stroke_mm` on a tool of `full_mm` stroke.
///
/// # Errors
/// A stroke that the stop cannot give, a pitch that is not above 0.
pub fn turns(stop: &ScrewStop, full_mm: f64, stroke_mm: f64) -> Result<f64, CalcError> {
    within("p", stop.pitch_mm, f64::MIN_POSITIVE, LONGEST_MM)?;
    let full = within("S₀", full_mm, f64::MIN_POSITIVE, LONGEST_MM)?;
    let stroke = within("S", stroke_mm, 0.0, full)?;
    Ok(match stop.away_from_zero() {
        Effect::Shortens => (full - stroke) / stop.pitch_mm,
        Effect::Lengthens => stroke / stop.pitch_mm,
    })
}

/// The stroke that `turns` from zero give.
pub fn stroke_at(stop: &ScrewStop, full_mm: f64, turns: f64) -> f64 {
    match stop.away_from_zero() {
        Effect::Shortens => full_mm - turns * stop.pitch_mm,
        Effect::Lengthens => turns * stop.pitch_mm,
    }
}

/// The working of [`stroke`] and [`turns`].
///
/// # Errors
/// As those.
pub fn working(
    relation: &Relation,
    stick_out: Length,
    gap: Length,
    stop: &ScrewStop,
    full_mm: f64,
) -> Result<Working, CalcError> {
    let s = stroke(relation, stick_out, gap)?;
    let t = turns(stop, full_mm, s.value_mm)?;
    let mut w = Working::new(METHOD);
    for (symbol, doubt, what, length) in [
        ("L", "w_L", "given-stick-out", stick_out),
        ("N", "w_N", "given-nose-depth", relation.nose_depth),
        ("A", "w_A", "given-anvil-height", relation.anvil_height),
        ("g", "w_g", "given-gap-open", gap),
        ("e", "w_e", "given-stretch", relation.stretch),
    ] {
        let (value, expanded) = (length.value_mm, length.expanded_mm);
        w = w
            .given(symbol, Message::new(what), value, places(value, 2), "mm")
            .given(
                doubt,
                Message::new("given-expanded"),
                expanded,
                places(expanded, 3),
                "mm",
            );
    }
    let by_zero = stop.away_from_zero() == Effect::Lengthens;
    if !by_zero {
        w = w.given(
            "S₀",
            Message::new("given-full-stroke"),
            full_mm,
            places(full_mm, 1),
            "mm",
        );
    }
    let formula = if by_zero { "S / p" } else { "(S₀ − S) / p" };
    let pitch = stop.pitch_mm;
    Ok(w.given(
        "p",
        Message::new("given-pitch"),
        pitch,
        places(pitch, 2),
        "mm",
    )
    .step("S", "L − N − A + g + e", s.value_mm, 3, "mm")
    .step(
        "w_S",
        "√(w_L² + w_N² + w_A² + w_g² + w_e²)",
        s.expanded_mm,
        4,
        "mm",
    )
    .step("t", formula, t, 3, "turns")
    .step("w", "w_S / p", s.expanded_mm / pitch, 3, "turns"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screw_stop::{Hand, View, Zero};
    use proptest::prelude::*;

    fn length(value_mm: f64, expanded_mm: f64) -> Length {
        Length {
            value_mm,
            expanded_mm,
        }
    }

    fn nose(n: f64, a: f64, e: f64) -> Relation {
        Relation {
            nose_depth: length(n, 0.1),
            anvil_height: length(a, 0.1),
            stretch: length(e, 0.2),
        }
    }

    fn stop(pitch_mm: f64, zero: Zero) -> ScrewStop {
        ScrewStop {
            pitch_mm,
            hand: Hand::Right,
            screwing_in: Effect::Shortens,
            zero,
            view: View::AdjusterEnd,
        }
    }

    #[test]
    fn two_demo_noses_by_hand() {
        // Arithmetic: N 10, A 3, e 1: S = L − 12, turns = (24 − S) / 1.5 = (36 − L) / 1.5.
        // N 16.5, A 5, e 1.5: S = L − 20, turns = (32 − S) / 2 = (52 − L) / 2.
        let open = Length::exact(0.0);
        for (relation, pitch, full, l, s, t) in [
            (nose(10.0, 3.0, 1.0), 1.5, 24.0, 26.0, 14.0, 20.0 / 3.0),
            (nose(10.0, 3.0, 1.0), 1.5, 24.0, 24.0, 12.0, 8.0),
            (nose(16.5, 5.0, 1.5), 2.0, 32.0, 38.0, 18.0, 7.0),
        ] {
            let got = stroke(&relation, Length::exact(l), open).expect("good");
            assert!((got.value_mm - s).abs() < 1e-12);
            // √(0.1² + 0.1² + 0.2²) = √0.06.
            assert!((got.expanded_mm - 0.06_f64.sqrt()).abs() < 1e-12);
            let stop = stop(pitch, Zero::Open);
            assert!((turns(&stop, full, s).expect("good") - t).abs() < 1e-12);
            assert!((stick_out_mm(&relation, s) - l).abs() < 1e-12);
            // From the closed end a stroke of S is S / p turns.
            let closed = ScrewStop {
                zero: Zero::Closed,
                ..stop
            };
            assert!((turns(&closed, full, s).expect("good") - s / pitch).abs() < 1e-12);
        }
        // A gap of a millimetre is a millimetre of stroke.
        let gap = Length::exact(1.0);
        let got = stroke(&nose(10.0, 3.0, 1.0), Length::exact(26.0), gap).expect("good");
        assert!((got.value_mm - 15.0).abs() < 1e-12);
    }

    #[test]
    fn the_working_puts_the_numbers_in() {
        let stop = stop(1.5, Zero::Open);
        let (l, g) = (length(26.0, 0.06), Length::exact(0.0));
        let w = working(&nose(10.0, 3.0, 1.0), l, g, &stop, 24.0).expect("good");
        assert_eq!(w.steps[0].filled, "26.00 − 10.00 − 3.00 + 0.00 + 1.00");
        assert_eq!(w.steps[2].filled, "(24.0 − 14.000) / 1.50");
    }

    #[test]
    fn refusals() {
        let (good, none) = (nose(10.0, 3.0, 1.0), Length::exact(0.0));
        for l in [f64::NAN, -1.0, f64::INFINITY, 11.9] {
            assert!(stroke(&good, Length::exact(l), none).is_err(), "{l}");
        }
        assert!(stroke(&good, length(26.0, -0.1), none).is_err());
        assert!(stroke(&nose(-1.0, 3.0, 1.0), Length::exact(26.0), none).is_err());
        assert!(stroke(&good, Length::exact(26.0), Length::exact(-0.1)).is_err());
        let s = stop(1.5, Zero::Open);
        for (full, wanted) in [(24.0, 24.1), (24.0, -0.1), (24.0, f64::NAN), (0.0, 0.0)] {
            assert!(turns(&s, full, wanted).is_err(), "{full} {wanted}");
        }
        assert!(turns(&stop(0.0, Zero::Open), 24.0, 12.0).is_err());
        assert!(working(&good, Length::exact(40.0), none, &s, 24.0).is_err());
    }

    proptest! {
        #[test]
        fn there_and_back(l in 12.0..36.0f64, open in any::<bool>()) {
            let relation = nose(10.0, 3.0, 1.0);
            let stop = stop(1.5, if open { Zero::Open } else { Zero::Closed });
            let s = stroke(&relation, Length::exact(l), Length::exact(0.0)).expect("good").value_mm;
            let t = turns(&stop, 24.0, s).expect("within the travel");
            prop_assert!((stick_out_mm(&relation, stroke_at(&stop, 24.0, t)) - l).abs() < 1e-9);
        }

        #[test]
        fn a_longer_stick_out_turns_as_the_stop_says(l in 13.0..34.0f64, open in any::<bool>()) {
            let relation = nose(10.0, 3.0, 1.0);
            let stop = stop(1.5, if open { Zero::Open } else { Zero::Closed });
            let at = |l| {
                let s = stroke(&relation, Length::exact(l), Length::exact(0.0)).expect("good");
                turns(&stop, 24.0, s.value_mm).expect("within the travel")
            };
            prop_assert!((at(l + 1.0) - at(l) - stop.turns_per_mm()).abs() < 1e-9);
        }
    }
}
