//! Which x made these readings, by a line fitted before: the answer with its interval.
//!
//! # Formula
//! x̂ = x̄ + D with D = (ȳ₀ − ȳ) / b. Inversion (Fieller): x̄ + (D ± t · s / b · √((1/m + 1/n)·(1 − g) + D² /
//! S_xx)) / (1 − g), g = t² · s² / (b² · S_xx). Linear (Wald): x̂ ± t · u, u = s / |b| · √(1/m + 1/n + D² /
//! S_xx). With m readings, s is pooled from the line and their spread: ν = n + m − 3. Where y₀ is no reading but a
//! mean response known beforehand, 1/m is 0 and s and ν = n − 2 are the line's.
//!
//! # Validity
//! As the line, fitted without weights; g below 1. Otherwise the slope is not told from none, and no finite interval is given.
//!
//! # Source
//! Greenwell and Schubert Kabban, The R Journal 6(1), 2014; Graybill and Iyer, Regression Analysis (1994).

use crate::Message;
use crate::error::{CalcError, within};
use crate::straight_line::Line;
use crate::student::coverage_factor;
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "inverse-prediction",
    version: 1,
    source: "Greenwell and Schubert Kabban, The R Journal 6(1), 2014: inversion and Wald intervals",
};

/// The x that made the readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Predicted {
    /// Its estimate.
    pub x: f64,
    /// Standard uncertainty, linearised.
    pub wald_se: f64,
    /// Linearised interval.
    pub wald: (f64, f64),
    /// Interval by inversion; `None` if the slope is not told from none.
    pub fieller: Option<(f64, f64)>,
    /// How unsure the slope is: t² · u(b)² / b². Below 1 there is a finite interval.
    pub g: f64,
    /// Pooled standard deviation.
    pub pooled_sd: f64,
    /// Its degrees of freedom.
    pub dof: f64,
    /// Factor of the intervals.
    pub t: f64,
}

/// The x behind `readings` of one unknown, with intervals that hold with probability `level`. With
/// `is_mean_response` the reading is a mean known beforehand: only the line is unsure.
///
/// # Errors
/// No reading, more than one mean, one that is not finite, a level outside 0 to 1, a line without slope.
pub fn predict(
    line: &Line,
    readings: &[f64],
    level: f64,
    is_mean_response: bool,
) -> Result<Predicted, CalcError> {
    let m = readings.len() as f64;
    if readings.is_empty() {
        return Err(CalcError::TooFew {
            input: "y₀",
            have: 0,
            need: 1,
        });
    }
    for reading in readings {
        within("y₀", *reading, -1e15, 1e15)?;
    }
    if line.slope == 0.0 {
        return Err(CalcError::Flat { input: "y" });
    }
    if is_mean_response && readings.len() > 1 {
        return Err(CalcError::Uneven {
            input: "y₀",
            have: readings.len(),
            need: 1,
        });
    }
    let mean = readings.iter().sum::<f64>() / m;
    let spread: f64 = readings.iter().map(|y| (y - mean).powi(2)).sum();
    let dof = line.dof + m - 1.0;
    let s = ((line.ss_residual + spread) / dof).sqrt();
    let t = coverage_factor(level, dof)?;
    let d = (mean - line.at(line.center)) / line.slope;
    let x = line.center + d;
    let of_readings = if is_mean_response { 0.0 } else { 1.0 / m };
    let both = of_readings + 1.0 / line.weight;
    let wald_se = s / line.slope.abs() * (both + d * d / line.sxx).sqrt();
    let g = (t * s / line.slope).powi(2) / line.sxx;
    let fieller = (g < 1.0).then(|| {
        let half = t * s / line.slope.abs() * (both * (1.0 - g) + d * d / line.sxx).sqrt();
        let end = |side: f64| line.center + (d + side * half) / (1.0 - g);
        (end(-1.0), end(1.0))
    });
    Ok(Predicted {
        x,
        wald_se,
        wald: (x - t * wald_se, x + t * wald_se),
        fieller,
        g,
        pooled_sd: s,
        dof,
        t,
    })
}

/// From the line to the x and its intervals; `readings` is `None` for a mean known beforehand.
pub fn working(line: &Line, found: &Predicted, readings: Option<usize>) -> Working {
    let few = |value: f64| figures(value, 6);
    let given = |what: &'static str| Message::new(what);
    let working = Working::new(METHOD)
        .given(
            "x̄",
            given("given-center"),
            line.center,
            few(line.center),
            "",
        )
        .given(
            "D",
            given("given-off-center"),
            found.x - line.center,
            few(found.x - line.center),
            "",
        )
        .given("S_xx", given("given-sxx"), line.sxx, few(line.sxx), "")
        .given(
            "B",
            given("given-slope-size"),
            line.slope.abs(),
            few(line.slope),
            "",
        )
        .given(
            "s",
            given("given-pooled"),
            found.pooled_sd,
            few(found.pooled_sd),
            "",
        )
        .given("n", given("given-points"), line.points as f64, 0, "")
        .given(
            "m",
            given("given-readings-count"),
            readings.map_or(f64::INFINITY, |m| m as f64),
            0,
            "",
        )
        .given("t", given("given-factor"), found.t, 4, "")
        .step("x", "x̄ + D", found.x, few(found.x), "")
        .step(
            "u",
            "s / B · √(1 / m + 1 / n + D² / S_xx)",
            found.wald_se,
            few(found.wald_se),
            "",
        )
        .step("g", "t² · s² / (B² · S_xx)", found.g, few(found.g), "");
    let Some((lower, upper)) = found.fieller else {
        return working.note(given("note-no-finite-interval"));
    };
    working
        .step(
            "x₁",
            "x̄ + (D − t · s / B · √((1 / m + 1 / n) · (1 − g) + D² / S_xx)) / (1 − g)",
            lower,
            few(lower),
            "",
        )
        .step(
            "x₂",
            "x̄ + (D + t · s / B · √((1 / m + 1 / n) · (1 − g) + D² / S_xx)) / (1 − g)",
            upper,
            few(upper),
            "",
        )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::straight_line::{Points, fit};
    use proptest::prelude::*;

    fn line(y: &[f64]) -> Line {
        let x: Vec<f64> = (0..y.len()).map(|i| i as f64).collect();
        fit(&Points {
            x: &x,
            y,
            weights: None,
            origin: 0.0,
            through_origin: false,
        })
        .expect("a line")
    }

    #[test]
    fn refusals() {
        let sloping = line(&[0.0, 1.1, 1.9, 3.0]);
        assert!(matches!(
            predict(&sloping, &[], 0.95, false),
            Err(CalcError::TooFew { .. })
        ));
        assert!(predict(&sloping, &[f64::NAN], 0.95, false).is_err());
        assert!(predict(&sloping, &[1.0], 1.0, false).is_err());
        assert!(predict(&sloping, &[1.0, 1.1], 0.95, true).is_err());
        assert_eq!(
            predict(&line(&[1.0; 4]), &[1.0], 0.95, false),
            Err(CalcError::Flat { input: "y" })
        );
    }

    #[test]
    fn a_slope_that_may_be_none_gives_no_interval() {
        let flat = line(&[0.0, 2.0, -1.5, 1.0, 0.2]);
        let found = predict(&flat, &[0.4], 0.95, false).expect("reckoned");
        assert!(found.g >= 1.0 && found.fieller.is_none());
    }

    #[test]
    fn a_mean_known_beforehand_leaves_only_the_line_unsure() {
        let line = line(&[0.0, 1.1, 1.9, 3.0]);
        let of = |is_mean| predict(&line, &[1.5], 0.95, is_mean).expect("reckoned");
        let (mean, reading) = (of(true), of(false));
        assert_eq!((mean.x, mean.dof), (reading.x, reading.dof));
        // s / b · √(1/n) at the middle of the line.
        let by_hand = line.residual_sd / line.slope * 0.5;
        assert!((mean.wald_se - by_hand).abs() < 1e-12);
        assert!(mean.wald_se < reading.wald_se);
    }

    proptest! {
        #[test]
        fn what_the_line_gives_leads_back(a in -9.0..9.0f64, b in 0.5..5.0f64, x in -3.0..8.0f64) {
            let straight = line(&[a, a + b, a + 2.0 * b, a + 3.0 * b]);
            let found = predict(&straight, &[a + b * x], 0.95, false).expect("reckoned");
            prop_assert!((found.x - x).abs() < 1e-8);
        }

        #[test]
        fn the_interval_holds_the_estimate_and_widens_with_the_level(
            y in prop::collection::vec(-0.3..0.3, 6), at in 0.0..5.0,
        ) {
            let y: Vec<f64> = y.iter().enumerate().map(|(i, e)| 2.0 * i as f64 + e).collect();
            let line = line(&y);
            let of = |level| predict(&line, &[2.0 * at], level, false).expect("reckoned");
            let (narrow, wide) = (of(0.8), of(0.99));
            let (n, w) = (narrow.fieller.expect("finite"), wide.fieller.expect("finite"));
            prop_assert!(n.0 <= narrow.x && narrow.x <= n.1);
            prop_assert!(w.0 <= n.0 && n.1 <= w.1);
        }
    }
}
