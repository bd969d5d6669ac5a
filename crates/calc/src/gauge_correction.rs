//! A reading corrected by the gauge's calibration, with its uncertainty.
//!
//! # Formula
//! x = x̄ − d(x̄), d the deviation (indicated less true) by the calibration: between its points, or a line or a polynomial of
//! least squares through them. u² = s²/n + u_d² + (U_c / k)² + r² / 12 + a² / 3: spread of the readings, curve, certificate,
//! resolution r, and what the gauge may have moved since, ±a. Effective degrees of freedom by Welch–Satterthwaite.
//! Expanded: t(95.45 %, ν) · u.
//!
//! # Validity
//! The certificate's uncertainty is taken to be common to all its points, so no curve makes it smaller. Between the points
//! u_d is 0: what the gauge does there is not known. A curve is reckoned outside its points, too, and says so.
//!
//! # Source
//! JCGM 100:2008, 4.3, F.2.4.5, G.4.1 and H.3 (a correction by a calibration line).

use crate::Message;
use crate::error::{CalcError, within};
use crate::interpolation;
use crate::moments::moments;
use crate::polynomial;
use crate::repeated::LEVEL;
use crate::straight_line;
use crate::uncertainty_budget::{Budget, Combined, Component, Coverage, Part, Spread, combine};
use crate::units::Unit;
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "gauge-correction",
    version: 1,
    source: "JCGM 100:2008, 4.3, G.4.1 and H.3",
};

/// How the deviation runs between the points of the calibration.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Curve {
    /// Straight from point to point; nothing outside.
    Points,
    /// A polynomial of least squares of this degree from 1 on; 1 is a line.
    Fitted(usize),
}

/// What is known of a gauge.
#[derive(Clone, Copy, Debug)]
pub struct Gauge<'a> {
    /// What it indicated at each point of its calibration.
    pub indicated: &'a [f64],
    /// Indicated less true there.
    pub deviations: &'a [f64],
    /// How the deviation runs between them.
    pub curve: Curve,
    /// Largest standard uncertainty of the certificate.
    pub certificate: f64,
    /// Smallest step that it shows.
    pub resolution: f64,
    /// How far it may have moved since, to either side.
    pub drift: f64,
}

/// A corrected reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Corrected {
    /// How many readings.
    pub count: usize,
    /// Their mean as indicated.
    pub indicated: f64,
    /// Indicated less true there.
    pub deviation: f64,
    /// Corrected value.
    pub value: f64,
    /// Whether the reading lies among the points of the calibration.
    pub is_inside: bool,
    /// What the budget is made of: readings, curve, certificate, resolution, drift, in this order.
    pub parts: [Component; 5],
    /// Budget: readings, curve, certificate, resolution, drift, in this order.
    pub budget: Combined,
}

/// The deviation at `x`, its standard uncertainty and degrees of freedom.
fn deviation(gauge: &Gauge, x: f64) -> Result<(f64, f64, f64), CalcError> {
    match gauge.curve {
        Curve::Points => {
            let pairs = gauge.indicated.iter().copied();
            let mut rows: Vec<(f64, f64)> = pairs.zip(gauge.deviations.iter().copied()).collect();
            rows.sort_by(|a, b| a.0.total_cmp(&b.0));
            let between = interpolation::linear(&rows, x)?;
            Ok((between.value, 0.0, f64::INFINITY))
        }
        Curve::Fitted(1) => {
            let line = straight_line::fit(&straight_line::Points {
                x: gauge.indicated,
                y: gauge.deviations,
                weights: None,
                origin: 0.0,
                through_origin: false,
            })?;
            Ok((line.at(x), line.se_at(x), line.dof))
        }
        Curve::Fitted(degree) => {
            let found = polynomial::fit(&polynomial::Points {
                x: gauge.indicated,
                y: gauge.deviations,
                weights: None,
                origin: 0.0,
                degree,
            })?;
            Ok((found.at(x), found.se_at(x), found.dof))
        }
    }
}

/// `readings` of one value, corrected.
///
/// # Errors
/// No reading; too few points for the curve, or columns of different length; points that are not within ±10¹⁵; a reading
/// outside the points where nothing is known outside; an uncertainty, resolution or drift below 0.
pub fn correct(gauge: &Gauge, readings: &[f64]) -> Result<Corrected, CalcError> {
    let found = moments("x̄", readings)?;
    if gauge.deviations.len() != gauge.indicated.len() {
        return Err(CalcError::Uneven {
            input: "y",
            have: gauge.deviations.len(),
            need: gauge.indicated.len(),
        });
    }
    for (x, y) in gauge.indicated.iter().zip(gauge.deviations) {
        within("x", *x, -1e15, 1e15)?;
        within("y", *y, -1e15, 1e15)?;
    }
    let certificate = within("u_c", gauge.certificate, 0.0, 1e15)?;
    let resolution = within("r", gauge.resolution, 0.0, 1e15)?;
    let drift = within("a", gauge.drift, 0.0, 1e15)?;
    let low = gauge
        .indicated
        .iter()
        .copied()
        .fold(f64::INFINITY, f64::min);
    let high = gauge
        .indicated
        .iter()
        .copied()
        .fold(f64::NEG_INFINITY, f64::max);
    let (d, u_d, dof_d) = deviation(gauge, found.mean).map_err(|e| match e {
        // The reading, not the points, lies outside the table.
        CalcError::OutOfRange {
            input: "x",
            value,
            min,
            max,
        } => CalcError::OutOfRange {
            input: "x̄",
            value,
            min,
            max,
        },
        other => other,
    })?;
    let n = found.count as f64;
    let of = |standard: f64, dof: f64| Component {
        standard,
        sensitivity: 1.0,
        dof,
    };
    let rectangular = |half: f64| of(Spread::Rectangular.standard(half), f64::INFINITY);
    let parts = [
        of(found.deviation() / n.sqrt(), (n - 1.0).max(1.0)),
        of(within("y", u_d, 0.0, 1e15)?, dof_d),
        of(certificate, f64::INFINITY),
        rectangular(resolution / 2.0),
        rectangular(drift),
    ];
    Ok(Corrected {
        count: found.count,
        indicated: found.mean,
        deviation: within("y", d, -1e15, 1e15)?,
        value: found.mean - d,
        is_inside: (low..=high).contains(&found.mean),
        parts,
        budget: combine(&parts, Coverage::AsIs(LEVEL))?,
    })
}

/// What the drift is called in a budget.
pub const DRIFT: &str = "given-doubt-drift";

/// Symbols and names of the components.
const PARTS: [(&str, &str); 5] = [
    ("u_x", "given-doubt-readings"),
    ("u_d", "given-doubt-curve"),
    ("u_c", "given-doubt-certificate"),
    ("u_r", "given-doubt-resolution"),
    ("u_a", DRIFT),
];

/// The budget as it is shown, in `unit`.
pub fn budget(found: &Corrected, unit: Unit) -> Budget {
    let unit = unit.symbol();
    let named = PARTS.into_iter().zip(found.parts);
    let parts = named.map(|((_, name), component)| Part {
        name,
        unit,
        component,
    });
    Budget {
        unit,
        parts: parts.collect(),
        combined: found.budget.clone(),
        coverage: Coverage::AsIs(LEVEL),
    }
}

/// From the reading to the corrected value and its uncertainty.
pub fn working(found: &Corrected) -> Working {
    let budget = &found.budget;
    // As many decimals as show two figures of the uncertainty, and one more for reckoning on.
    let decimals = match budget.standard {
        u if u > 0.0 => figures(u, 3),
        _ => figures(found.indicated, 6),
    };
    let mut w = Working::new(METHOD)
        .given(
            "x̄",
            Message::new("given-indicated"),
            found.indicated,
            decimals,
            "",
        )
        .given(
            "d",
            Message::new("given-deviation-there"),
            found.deviation,
            decimals,
            "",
        )
        .step("x", "x̄ − d", found.value, decimals, "");
    for ((symbol, what), u) in PARTS.into_iter().zip(&budget.contributions) {
        w = w.given(symbol, Message::new(what), *u, decimals, "");
    }
    w = w.step(
        "u",
        "√(u_x² + u_d² + u_c² + u_r² + u_a²)",
        budget.standard,
        decimals,
        "",
    );
    w = w.step("k", "t(95.45 %, ν)", budget.factor, 3, "").step(
        "U",
        "k · u",
        budget.expanded,
        decimals,
        "",
    );
    if found.is_inside {
        w
    } else {
        w.note(Message::new("note-outside-calibration"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const INDICATED: [f64; 11] = [
        21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511,
    ];

    fn gauge<'a>(indicated: &'a [f64], deviations: &'a [f64], curve: Curve) -> Gauge<'a> {
        Gauge {
            indicated,
            deviations,
            curve,
            certificate: 0.0,
            resolution: 0.0,
            drift: 0.0,
        }
    }

    #[test]
    fn thermometer_of_the_gum() {
        // JCGM 100:2008, H.3: the correction at 30 °C is −0.1494 °C, its standard uncertainty 0.0041 °C with 9 degrees
        // of freedom. A correction is the deviation with its sign turned.
        let corrections = [
            -0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16,
        ];
        let deviations = corrections.map(|c: f64| -c);
        let line = gauge(&INDICATED, &deviations, Curve::Fitted(1));
        let found = correct(&line, &[30.0]).expect("good");
        assert!((found.value - 29.8506).abs() <= 5e-5, "{found:?}");
        assert!((found.budget.standard - 0.0041).abs() <= 5e-5, "{found:?}");
        assert!((found.budget.dof - 9.0).abs() < 1e-9 && !found.is_inside);
        // A polynomial of degree 1 would be the same line; of degree 2 it is not.
        let curved = gauge(&INDICATED, &deviations, Curve::Fitted(2));
        assert!(correct(&curved, &[25.0]).expect("good").is_inside);
    }

    #[test]
    fn between_points_by_hand() {
        // Deviation 0.1 at 10 and 0.3 at 20: 0.15 at 12.5. u² = 0.02² + 0.1² / 12 + 0.03² / 3.
        let mut points = gauge(&[20.0, 10.0], &[0.3, 0.1], Curve::Points);
        points.certificate = 0.02;
        points.resolution = 0.1;
        points.drift = 0.03;
        let found = correct(&points, &[12.5]).expect("good");
        assert!((found.value - 12.35).abs() < 1e-12);
        let by_hand = (0.0004_f64 + 0.01 / 12.0 + 0.0003).sqrt();
        assert!((found.budget.standard - by_hand).abs() < 1e-12);
        // Several readings bring their spread: 12.4, 12.6 have s / √2 = 0.1.
        let two = correct(&points, &[12.4, 12.6]).expect("good");
        assert!((two.budget.standard - by_hand.hypot(0.1)).abs() < 1e-12);
        assert!(matches!(
            correct(&points, &[20.5]),
            Err(CalcError::OutOfRange { input: "x̄", .. })
        ));
    }

    #[test]
    fn refusals() {
        let good = gauge(&INDICATED, &INDICATED, Curve::Points);
        assert!(correct(&good, &[]).is_err());
        assert!(correct(&good, &[f64::NAN]).is_err());
        assert!(correct(&gauge(&INDICATED, &INDICATED[1..], Curve::Points), &[23.0]).is_err());
        assert!(correct(&gauge(&[1.0, 1.0], &[0.0, 0.0], Curve::Points), &[1.0]).is_err());
        assert!(correct(&gauge(&[1.0, 2.0], &[0.0, 0.0], Curve::Fitted(1)), &[1.0]).is_err());
        assert!(correct(&gauge(&INDICATED, &INDICATED, Curve::Fitted(0)), &[23.0]).is_err());
        for wrong in [
            Gauge {
                certificate: -1.0,
                ..good
            },
            Gauge {
                resolution: f64::NAN,
                ..good
            },
            Gauge {
                drift: -0.1,
                ..good
            },
        ] {
            assert!(correct(&wrong, &[23.0]).is_err());
        }
    }

    proptest! {
        #[test]
        fn a_gauge_that_is_off_by_a_constant_is_brought_back(off in -1.0..1.0f64, x in 22.0..26.0f64) {
            let deviations = [off; 11];
            for curve in [Curve::Points, Curve::Fitted(1), Curve::Fitted(3)] {
                let found = correct(&gauge(&INDICATED, &deviations, curve), &[x]).expect("good");
                prop_assert!((found.value - (x - off)).abs() < 1e-9);
            }
        }
    }
}
