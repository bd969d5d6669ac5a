//! Force, volume and work of a hydraulic cylinder.
//!
//! # Formula
//! F = p · A, with A = π D² / 4 pushing and π (D² − d²) / 4 pulling. Volume A · s, work F · s.
//!
//! # Validity
//! No friction, no pressure on the return side.
//!
//! # Source
//! Definition of pressure.

use std::f64::consts::PI;

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "hydraulic-cylinder",
    version: 1,
    source: "definition of pressure",
};

/// A cylinder under pressure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cylinder {
    /// Gauge pressure, bar.
    pub pressure_bar: f64,
    /// Bore, mm.
    pub bore_mm: f64,
    /// Rod, mm.
    pub rod_mm: f64,
    /// Stroke, mm.
    pub stroke_mm: f64,
}

/// What it gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Output {
    /// Force on the full bore, N.
    pub push_n: f64,
    /// Force on the rod side, N.
    pub pull_n: f64,
    /// Volume of the rod side for one stroke, cm³.
    pub pull_volume_cm3: f64,
    /// Work of a pull at full pressure, J.
    pub pull_work_j: f64,
}

/// Force, volume and work.
///
/// # Errors
/// A pressure or bore that is not above 0, a rod as thick as the bore, a negative stroke.
pub fn output(cylinder: &Cylinder) -> Result<Output, CalcError> {
    let pressure = within("p", cylinder.pressure_bar, f64::MIN_POSITIVE, 1e6)? * 1e5;
    let bore = within("D", cylinder.bore_mm, 1e-3, 1e6)? / 1000.0;
    let thickest = cylinder.bore_mm * (1.0 - 1e-9);
    let rod = within("d", cylinder.rod_mm, 0.0, thickest)? / 1000.0;
    let stroke = within("s", cylinder.stroke_mm, 0.0, 1e9)? / 1000.0;
    let full = PI * bore * bore / 4.0;
    let ring = PI * (bore * bore - rod * rod) / 4.0;
    Ok(Output {
        push_n: pressure * full,
        pull_n: pressure * ring,
        pull_volume_cm3: ring * stroke * 1e6,
        pull_work_j: pressure * ring * stroke,
    })
}

/// The working of [`output`].
///
/// # Errors
/// As [`output`].
pub fn working(c: &Cylinder) -> Result<Working, CalcError> {
    let out = output(c)?;
    let area = |force_n: f64| force_n / (c.pressure_bar / 10.0);
    Ok(Working::new(METHOD)
        .given(
            "p",
            Message::new("given-pressure"),
            c.pressure_bar,
            1,
            "bar",
        )
        .given("D", Message::new("given-bore"), c.bore_mm, 2, "mm")
        .given("d", Message::new("given-rod"), c.rod_mm, 2, "mm")
        .given(
            "s",
            Message::new("given-stroke-length"),
            c.stroke_mm,
            2,
            "mm",
        )
        .step("A₁", "π · D² / 4", area(out.push_n), 1, "mm²")
        .step("A₂", "π · (D² − d²) / 4", area(out.pull_n), 1, "mm²")
        .step("F₁", "p · A₁", out.push_n / 1000.0, 2, "kN")
        .step("F₂", "p · A₂", out.pull_n / 1000.0, 2, "kN")
        .step("V", "A₂ · s", out.pull_volume_cm3, 2, "cm³")
        .step("W", "F₂ · s", out.pull_work_j, 1, "J"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const HEAD: Cylinder = Cylinder {
        pressure_bar: 393.0,
        bore_mm: 40.0,
        rod_mm: 16.0,
        stroke_mm: 25.0,
    };

    #[test]
    fn head_at_393_bar() {
        // numpy 2.4.6 on F = p A.
        let out = output(&HEAD).expect("good");
        assert!((out.push_n - 49_385.836_514_431_554).abs() < 1e-6);
        assert!((out.pull_n - 41_484.102_672_122_506).abs() < 1e-6);
        assert!((out.pull_volume_cm3 - 26.389_378_290_154_27).abs() < 1e-9);
        assert!((out.pull_work_j - 1_037.102_566_803_062_7).abs() < 1e-8);
    }

    #[test]
    fn refusals() {
        for bad in [
            Cylinder {
                pressure_bar: 0.0,
                ..HEAD
            },
            Cylinder {
                bore_mm: f64::NAN,
                ..HEAD
            },
            Cylinder {
                rod_mm: 40.0,
                ..HEAD
            },
            Cylinder {
                rod_mm: -1.0,
                ..HEAD
            },
            Cylinder {
                stroke_mm: f64::INFINITY,
                ..HEAD
            },
        ] {
            assert!(output(&bad).is_err(), "{bad:?}");
            assert!(working(&bad).is_err());
        }
    }

    proptest! {
        #[test]
        fn push_is_pull_and_rod(p in 1.0..700.0f64, d in 10.0..100.0f64, share in 0.0..0.9f64) {
            let c = Cylinder { pressure_bar: p, bore_mm: d, rod_mm: d * share, stroke_mm: 10.0 };
            let out = output(&c).expect("good");
            let rod = p * 0.1 * PI * (d * share).powi(2) / 4.0;
            prop_assert!((out.push_n - out.pull_n - rod).abs() < 1e-6 * out.push_n);
        }
    }
}
