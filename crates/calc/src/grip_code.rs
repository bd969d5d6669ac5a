//! Grip codes that count sixteenths of an inch.
//!
//! # Formula
//! Code n is made for n/16 in ± 1/32 in: n = ⌊16 t + 1/2⌋ with t the thickness in inches. A thickness
//! on the boundary between two codes suits both.
//!
//! # Validity
//! Fasteners whose code counts sixteenths. A fastener's own sheet comes first: many have other
//! ranges.
//!
//! # Source
//! Lockbolt grip tables of aviation structural-repair handbooks, FAA-H-8083-31 chapter 7 (from memory,
//! not confirmed).

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// Codes for a thickness.
pub const SELECT: Method = Method {
    name: "grip-code-select",
    version: 1,
    source: "sixteenths of an inch ± 1/32 in (FAA-H-8083-31, from memory, not confirmed)",
};

/// Thicknesses of a code.
pub const RANGE: Method = Method {
    name: "grip-code-range",
    version: 1,
    source: SELECT.source,
};

/// A sixteenth of an inch, mm.
const SIXTEENTH_MM: f64 = 25.4 / 16.0;
/// Codes beyond this are no fastener's.
const MOST: f64 = 1000.0;
/// How near to a boundary, in sixteenths, a thickness counts as on it.
const ON_BOUNDARY: f64 = 1e-9;

/// The code, or the two codes, that suit `thickness_mm`.
///
/// # Errors
/// A thickness below code 1 or beyond any code.
pub fn codes(thickness_mm: f64) -> Result<Vec<u32>, CalcError> {
    let (least, most) = (SIXTEENTH_MM / 2.0, SIXTEENTH_MM * MOST);
    let t = within("t", thickness_mm, least, most)? / SIXTEENTH_MM + 0.5;
    let code = (t + ON_BOUNDARY).floor();
    let on_boundary = (t - code).abs() <= ON_BOUNDARY && code > 1.0;
    let code = code as u32;
    Ok(if on_boundary {
        vec![code - 1, code]
    } else {
        vec![code]
    })
}

/// The thicknesses, mm, that `code` is made for.
///
/// # Errors
/// Code 0, or one beyond any fastener's.
pub fn range_mm(code: u32) -> Result<(f64, f64), CalcError> {
    let n = within("n", f64::from(code), 1.0, MOST)?;
    Ok(((n - 0.5) * SIXTEENTH_MM, (n + 0.5) * SIXTEENTH_MM))
}

/// The working of [`codes`].
///
/// # Errors
/// As [`codes`].
pub fn working(thickness_mm: f64) -> Result<Working, CalcError> {
    let codes = codes(thickness_mm)?;
    let code = codes.last().copied().unwrap_or(0);
    let mut w = Working::new(SELECT)
        .given("t", Message::new("given-stack"), thickness_mm, 3, "mm")
        .step("n", "⌊16 · t / 25.4 + 1/2⌋", f64::from(code), 0, "");
    if codes.len() > 1 {
        w = w.note(Message::new("note-grip-boundary"));
    }
    Ok(w)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn thicknesses_of_the_handbook_tables() {
        // Grip 1: 0.031–0.094 in, 2: 0.094–0.156, 4: 0.219–0.281 (from memory).
        for (inches, code) in [
            (0.05, 1),
            (0.1, 2),
            (0.25, 4),
            (0.281, 4),
            (0.3125, 5),
            (0.6, 10),
        ] {
            assert_eq!(codes(inches * 25.4), Ok(vec![code]), "{inches}");
        }
        for (inches, both) in [(0.09375, [1, 2]), (0.15625, [2, 3]), (0.28125, [4, 5])] {
            assert_eq!(codes(inches * 25.4), Ok(both.to_vec()), "{inches}");
        }
    }

    #[test]
    fn refusals() {
        for t in [0.0, 0.7, -1.0, f64::NAN, f64::INFINITY, 1e9] {
            assert!(codes(t).is_err(), "{t}");
            assert!(working(t).is_err());
        }
        assert!(range_mm(0).is_err());
        assert!(range_mm(1001).is_err());
    }

    proptest! {
        #[test]
        fn a_thickness_lies_in_the_range_of_each_of_its_codes(t in 0.8..100.0f64) {
            for code in codes(t).expect("in range") {
                let (low, high) = range_mm(code).expect("a code");
                prop_assert!(low - 1e-6 <= t && t <= high + 1e-6);
            }
        }
    }
}
