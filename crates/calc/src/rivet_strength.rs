//! Least shear and tensile loads of blind rivets by diameter and class.
//!
//! # Formula
//! A table; no value lies between its rows.
//!
//! # Validity
//! Open-end blind rivets with break-pull mandrel, body of aluminium alloy, mandrel of steel. An example and
//! a comparison only: the fastener's own sheet comes first. A standard's loads are those of one rivet in a test
//! fixture, not of a joint.
//!
//! # Errors
//! A diameter that is not in the table.
//!
//! # Source
//! ISO 15977:2002, mechanical properties AlA/St, classes L and H. From memory, not confirmed: to be compared
//! with the standard.

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "blind-rivet-strength",
    version: 1,
    source: "ISO 15977:2002, AlA/St, classes L and H (from memory, not confirmed)",
};

/// Strength class of the standard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Class {
    /// Low.
    L,
    /// High.
    H,
}

/// Least loads of one rivet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Loads {
    /// Shear, N.
    pub shear_n: u32,
    /// Tension, N.
    pub tensile_n: u32,
}

/// Diameter in mm; shear and tension of class L, then of class H, N.
const ROWS: &[(f64, [u32; 4])] = &[
    (2.4, [250, 350, 350, 550]),
    (3.0, [400, 550, 550, 850]),
    (3.2, [500, 700, 750, 1100]),
    (4.0, [850, 1200, 1250, 1800]),
    (4.8, [1200, 1700, 1850, 2600]),
    (5.0, [1400, 2000, 2150, 3100]),
    (6.0, [2100, 3000, 3200, 4600]),
    (6.4, [2200, 3150, 3400, 4850]),
];

/// The diameters of the table, mm.
pub fn diameters_mm() -> impl Iterator<Item = f64> {
    ROWS.iter().map(|(diameter, _)| *diameter)
}

/// Least loads of a rivet of `diameter_mm` and `class`; `None` if the table has no such diameter.
///
/// # Errors
/// A diameter that is not a finite number above 0.
pub fn loads(diameter_mm: f64, class: Class) -> Result<Option<Loads>, CalcError> {
    let diameter = within("d", diameter_mm, f64::MIN_POSITIVE, 1e3)?;
    let row = ROWS.iter().find(|(d, _)| (d - diameter).abs() < 1e-9);
    Ok(row.map(|(_, loads)| {
        let [shear_l, tensile_l, shear_h, tensile_h] = *loads;
        let (shear_n, tensile_n) = match class {
            Class::L => (shear_l, tensile_l),
            Class::H => (shear_h, tensile_h),
        };
        Loads { shear_n, tensile_n }
    }))
}

/// What was looked up.
pub fn working(diameter_mm: f64, loads: Loads) -> Working {
    let load = |id: &'static str| Message::new(id);
    Working::new(METHOD)
        .given("d", load("given-rivet-diameter"), diameter_mm, 1, "mm")
        .given("F_s", load("given-shear"), f64::from(loads.shear_n), 0, "N")
        .given(
            "F_t",
            load("given-tension"),
            f64::from(loads.tensile_n),
            0,
            "N",
        )
        .note(load("note-rivet-strength"))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO 15977:2002, recalled and not confirmed.
    #[test]
    fn loads_as_recalled() {
        let of = |d, class| loads(d, class).expect("finite").expect("in the table");
        let l = of(4.8, Class::L);
        assert_eq!((l.shear_n, l.tensile_n), (1200, 1700));
        let h = of(3.2, Class::H);
        assert_eq!((h.shear_n, h.tensile_n), (750, 1100));
    }

    #[test]
    fn a_thicker_rivet_and_a_higher_class_hold_more() {
        let all: Vec<f64> = diameters_mm().collect();
        let of = |d, class| loads(d, class).expect("finite").expect("in the table");
        for pair in all.windows(2) {
            for class in [Class::L, Class::H] {
                let (thin, thick) = (of(pair[0], class), of(pair[1], class));
                assert!(thin.shear_n < thick.shear_n && thin.tensile_n < thick.tensile_n);
            }
        }
        for d in all {
            let (l, h) = (of(d, Class::L), of(d, Class::H));
            assert!(l.shear_n < h.shear_n && l.tensile_n < h.tensile_n);
            assert!(l.shear_n < l.tensile_n && h.shear_n < h.tensile_n);
        }
    }

    #[test]
    fn refusals() {
        assert_eq!(loads(4.5, Class::L), Ok(None));
        for d in [0.0, -3.2, f64::NAN, f64::INFINITY, 1e9] {
            assert!(loads(d, Class::L).is_err(), "{d}");
        }
    }
}
