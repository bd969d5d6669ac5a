//! Handbook rules for the pressure that an air line loses.
//!
//! # Formula
//! Metric rule: Δp = 7.57 · q^1.85 · L · 10⁴ / (d⁵ · p), with q free air in m³/min, L in m, d in mm and
//! pressures in kgf/cm², p absolute.
//! Harris: Δp = 0.1025 · L · Q² / (3600 · r · d^5.31), with L in ft, Q free air in ft³/min, d in in, Δp in
//! psi, r the ratio of compression.
//!
//! # Validity
//! Rules of thumb for losses up to about 1 bar. For anything that counts, reckon with Darcy–Weisbach.
//!
//! # Source
//! Metric rule: public engineering references. Harris: Compressed Air and Gas Handbook (from memory; some
//! texts print the formula with Q per second and without the 3600).

use crate::error::{CalcError, within};
use crate::units::Unit;
use crate::working::Method;

/// The metric rule.
pub const METRIC: Method = Method {
    name: "air-line-metric-rule",
    version: 1,
    source: "empirical rule of public engineering references",
};

/// Harris's formula.
pub const HARRIS: Method = Method {
    name: "air-line-harris-rule",
    version: 1,
    source: "Compressed Air and Gas Handbook (from memory)",
};

/// A technical atmosphere, bar.
const KGF_PER_CM2_BAR: f64 = 0.980_665;
/// A cubic foot, m³.
const CUBIC_FOOT_M3: f64 = 0.028_316_846_592;

/// A line and the free air that flows in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Free air, m³/min.
    pub free_air_m3_per_min: f64,
    /// Length, m.
    pub length_m: f64,
    /// Bore, mm.
    pub bore_mm: f64,
}

impl Line {
    fn checked(&self) -> Result<Self, CalcError> {
        within("q", self.free_air_m3_per_min, 1e-9, 1e6)?;
        within("L", self.length_m, 1e-9, 1e6)?;
        within("d", self.bore_mm, 1e-3, 1e6)?;
        Ok(*self)
    }
}

/// The loss by the metric rule, bar, at an absolute pressure of `pressure_bar`.
///
/// # Errors
/// A flow, length, bore or pressure that is not above 0.
pub fn metric_bar(line: &Line, pressure_bar: f64) -> Result<f64, CalcError> {
    let line = line.checked()?;
    let p = within("p", pressure_bar, 1e-3, 1e6)? / KGF_PER_CM2_BAR;
    let q = line.free_air_m3_per_min.powf(1.85);
    let loss = 7.57 * q * line.length_m * 1e4 / (line.bore_mm.powi(5) * p);
    Ok(loss * KGF_PER_CM2_BAR)
}

/// The loss by Harris's formula, bar, at a ratio of compression (absolute line pressure over
/// atmospheric).
///
/// # Errors
/// A flow, length or bore that is not above 0, a ratio below 1.
pub fn harris_bar(line: &Line, ratio: f64) -> Result<f64, CalcError> {
    let line = line.checked()?;
    let ratio = within("r", ratio, 1.0, 1e6)?;
    let feet = line.length_m / 0.3048;
    let cfm = line.free_air_m3_per_min / CUBIC_FOOT_M3;
    let inches = line.bore_mm / 25.4;
    let psi = 0.1025 * feet * cfm * cfm / (3600.0 * ratio * inches.powf(5.31));
    Ok(Unit::Psi.convert(psi, Unit::Bar).unwrap_or(psi))
}

#[cfg(test)]
mod tests {
    use super::*;

    const LINE: Line = Line {
        free_air_m3_per_min: 0.35,
        length_m: 8.0,
        bore_mm: 6.3,
    };

    #[test]
    fn metric_rule() {
        // The same formula in numpy 2.4.6, p = 7.5 kgf/cm².
        let loss = metric_bar(&LINE, 7.5 * KGF_PER_CM2_BAR).expect("good");
        assert!((loss - 1.144_111_664_746_94).abs() < 1e-11, "{loss}");
    }

    #[test]
    fn harris() {
        // Formula from memory, recomputed: 500 ft, 100 cfm, 1.61 in, r = 7.8027: 1.4551 psi.
        let line = Line {
            free_air_m3_per_min: 100.0 * CUBIC_FOOT_M3,
            length_m: 500.0 * 0.3048,
            bore_mm: 1.61 * 25.4,
        };
        let loss = harris_bar(&line, 7.802_721_088_435_375).expect("good");
        assert!((loss / 0.068_947_572_931_683_6 - 1.455_123_598_923_183).abs() < 1e-9);
    }

    #[test]
    fn refusals() {
        for bad in [
            Line {
                free_air_m3_per_min: 0.0,
                ..LINE
            },
            Line {
                length_m: f64::NAN,
                ..LINE
            },
            Line {
                bore_mm: f64::INFINITY,
                ..LINE
            },
        ] {
            assert!(metric_bar(&bad, 8.0).is_err());
            assert!(harris_bar(&bad, 8.0).is_err());
        }
        assert!(metric_bar(&LINE, 0.0).is_err());
        assert!(harris_bar(&LINE, 0.9).is_err());
    }
}
