//! The straight line of least squares through points, and what it predicts.
//!
//! # Formula
//! b = S_xy / S_xx, a = ȳ − b · (x̄ − x₀), with sums about the weighted means; s² = Σ w·(y − ŷ)² / ν,
//! ν = n − 2; u(b) = s / √S_xx, u(a) = s · √(1/Σw + (x̄ − x₀)² / S_xx). Through the origin: b = Σ w·x·y /
//! Σ w·x², ν = n − 1. x₀ is the origin of x that the intercept stands at.
//!
//! # Validity
//! Errors in y only, independent, of one variance (or of variances as the weights say); x at least at two
//! places.
//!
//! # Source
//! JCGM 100:2008, H.3; Draper and Smith, Applied Regression Analysis. Check values: NIST StRD.

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "straight-line-calibration",
    version: 1,
    source: "JCGM 100:2008, H.3; least squares",
};

/// Points to fit.
#[derive(Clone, Copy, Debug)]
pub struct Points<'a> {
    /// Where it was measured.
    pub x: &'a [f64],
    /// What was measured.
    pub y: &'a [f64],
    /// Inverse variances of `y` on any scale; `None` if all are alike.
    pub weights: Option<&'a [f64]>,
    /// The x that the intercept stands at.
    pub origin: f64,
    /// Whether the line goes through (`origin`, 0).
    pub through_origin: bool,
}

/// A fitted line, y = `intercept` + `slope` · (x − origin).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// y at the origin of x; 0 for a line through it.
    pub intercept: f64,
    /// Change of y per x.
    pub slope: f64,
    /// Standard uncertainty of the intercept.
    pub intercept_se: f64,
    /// Standard uncertainty of the slope.
    pub slope_se: f64,
    /// Standard deviation of the points about the line.
    pub residual_sd: f64,
    /// Degrees of freedom of that.
    pub dof: f64,
    /// Sum of squares that the line explains; about zero for a line through the origin.
    pub ss_regression: f64,
    /// Sum of squares that it leaves.
    pub ss_residual: f64,
    /// Where x stands at: the weighted mean, or the origin for a line through it.
    pub center: f64,
    /// Sum of squares of x about there.
    pub sxx: f64,
    /// Σ of the weights; infinite for a line through the origin, which has no intercept to be unsure of.
    pub weight: f64,
    /// How many points.
    pub points: usize,
    origin: f64,
}

impl Line {
    /// y of the line at `x`.
    pub fn at(&self, x: f64) -> f64 {
        self.intercept + self.slope * (x - self.origin)
    }

    /// Standard uncertainty of that y.
    pub fn se_at(&self, x: f64) -> f64 {
        let off = x - self.center;
        self.residual_sd * (1.0 / self.weight + off * off / self.sxx).sqrt()
    }

    /// Correlation of intercept and slope.
    pub fn correlation(&self) -> f64 {
        let off = self.center - self.origin;
        -off / (self.sxx / self.weight + off * off).sqrt()
    }

    /// Share of the sum of squares that the line explains; `None` where there is nothing to explain.
    pub fn r_squared(&self) -> Option<f64> {
        let all = self.ss_regression + self.ss_residual;
        (all > 0.0).then(|| self.ss_regression / all)
    }

    /// Explained against left mean square.
    pub fn f_statistic(&self) -> f64 {
        self.ss_regression / (self.residual_sd * self.residual_sd)
    }
}

/// The line through `points`.
///
/// # Errors
/// Fewer points than unknowns and one more, columns of different length, all x at one place, a weight
/// that is not above 0, a value that is not finite.
pub fn fit(points: &Points) -> Result<Line, CalcError> {
    let n = points.x.len();
    let unknowns = if points.through_origin { 1 } else { 2 };
    let too_few = |have, need| {
        Err(CalcError::TooFew {
            input: "x",
            have,
            need,
        })
    };
    if n < unknowns + 1 {
        return too_few(n, unknowns + 1);
    }
    if points.y.len() != n {
        return Err(CalcError::Uneven {
            input: "y",
            have: points.y.len(),
            need: n,
        });
    }
    let weights = match points.weights {
        Some(weights) if weights.len() != n => {
            return Err(CalcError::Uneven {
                input: "w",
                have: weights.len(),
                need: n,
            });
        }
        Some(weights) => weights.to_vec(),
        None => vec![1.0; n],
    };
    let origin = within("x₀", points.origin, -1e15, 1e15)?;
    for ((x, y), weight) in points.x.iter().zip(points.y).zip(&weights) {
        within("x", *x, -1e15, 1e15)?;
        within("y", *y, -1e15, 1e15)?;
        within("w", *weight, f64::MIN_POSITIVE, 1e15)?;
    }
    let sum = |term: &dyn Fn(usize) -> f64| (0..n).map(|i| weights[i] * term(i)).sum::<f64>();
    let weight = sum(&|_| 1.0);
    // About the means: sums of raw squares lose every digit far from zero.
    let (center, level) = if points.through_origin {
        (origin, 0.0)
    } else {
        (
            sum(&|i| points.x[i]) / weight,
            sum(&|i| points.y[i]) / weight,
        )
    };
    let sxx = sum(&|i| (points.x[i] - center).powi(2));
    // The mean is rounded, so a sum of squares about it can be above zero where nothing differs.
    let is_one_place = if points.through_origin {
        sxx <= 0.0
    } else {
        points.x.iter().all(|x| *x == points.x[0])
    };
    if is_one_place {
        return too_few(1, 2);
    }
    let sxy = sum(&|i| (points.x[i] - center) * (points.y[i] - level));
    let slope = sxy / sxx;
    let left = |i: usize| points.y[i] - level - slope * (points.x[i] - center);
    let ss_residual = sum(&|i| left(i).powi(2));
    let dof = (n - unknowns) as f64;
    let residual_sd = (ss_residual / dof).sqrt();
    let weight = if points.through_origin {
        f64::INFINITY
    } else {
        weight
    };
    let off = center - origin;
    Ok(Line {
        intercept: level - slope * off,
        slope,
        intercept_se: residual_sd * (1.0 / weight + off * off / sxx).sqrt(),
        slope_se: residual_sd / sxx.sqrt(),
        residual_sd,
        dof,
        ss_regression: slope * sxy,
        ss_residual,
        center,
        sxx,
        weight,
        points: n,
        origin,
    })
}

/// From the sums to the line.
pub fn working(line: &Line) -> Working {
    let few = |value: f64| figures(value, 6);
    Working::new(METHOD)
        .given("n", Message::new("given-points"), line.points as f64, 0, "")
        .given(
            "x̄",
            Message::new("given-center"),
            line.center,
            few(line.center),
            "",
        )
        .given(
            "S_xx",
            Message::new("given-sxx"),
            line.sxx,
            few(line.sxx),
            "",
        )
        .given(
            "b",
            Message::new("given-slope"),
            line.slope,
            few(line.slope),
            "",
        )
        .given(
            "SS",
            Message::new("given-ss-residual"),
            line.ss_residual,
            few(line.ss_residual),
            "",
        )
        .given("ν", Message::new("given-dof"), line.dof, 0, "")
        .step(
            "s",
            "√(SS / ν)",
            line.residual_sd,
            few(line.residual_sd),
            "",
        )
        .step("u_b", "s / √S_xx", line.slope_se, few(line.slope_se), "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn points<'a>(x: &'a [f64], y: &'a [f64]) -> Points<'a> {
        Points {
            x,
            y,
            weights: None,
            origin: 0.0,
            through_origin: false,
        }
    }

    #[test]
    fn a_line_by_hand() {
        // x̄ = 2, ȳ = 3; S_xx = 10, S_xy = 9; residuals −0.2, 0.9 … by hand: SS = 1.9.
        let line = fit(&points(
            &[0.0, 1.0, 2.0, 3.0, 4.0],
            &[1.0, 3.0, 2.0, 4.0, 5.0],
        ))
        .expect("five");
        assert!((line.slope - 0.9).abs() < 1e-12);
        assert!((line.intercept - 1.2).abs() < 1e-12);
        assert!((line.ss_residual - 1.9).abs() < 1e-12);
        assert!((line.residual_sd - (1.9_f64 / 3.0).sqrt()).abs() < 1e-12);
        assert!((line.at(2.0) - 3.0).abs() < 1e-12);
    }

    #[test]
    fn refusals() {
        let is = |x: &[f64], y: &[f64]| fit(&points(x, y)).expect_err("refused");
        assert_eq!(
            is(&[0.0, 1.0], &[0.0, 1.0]),
            CalcError::TooFew {
                input: "x",
                have: 2,
                need: 3
            }
        );
        assert_eq!(
            is(&[0.0, 1.0, 2.0], &[0.0, 1.0]),
            CalcError::Uneven {
                input: "y",
                have: 2,
                need: 3
            }
        );
        assert_eq!(
            is(&[1.0; 3], &[0.0, 1.0, 2.0]),
            CalcError::TooFew {
                input: "x",
                have: 1,
                need: 2
            }
        );
        // The mean of these is rounded away from them.
        for (x, n) in [(0.1, 3), (0.7, 6), (2.3, 7), (26.2, 7)] {
            let y: Vec<f64> = (0..n).map(f64::from).collect();
            assert!(
                matches!(is(&vec![x; y.len()], &y), CalcError::TooFew { .. }),
                "{x}"
            );
        }
        assert_eq!(
            is(&[0.0, f64::NAN, 2.0], &[0.0; 3]),
            CalcError::NotFinite { input: "x" }
        );
        let weighted = Points {
            weights: Some(&[1.0, 0.0, 1.0]),
            ..points(&[0.0, 1.0, 2.0], &[0.0; 3])
        };
        assert!(matches!(
            fit(&weighted),
            Err(CalcError::OutOfRange { input: "w", .. })
        ));
    }

    proptest! {
        #[test]
        fn points_on_a_line_give_it_back(a in -50.0..50.0f64, b in -5.0..5.0f64, x0 in -20.0..20.0f64) {
            let x = [1.0, 2.5, 4.0, 7.0];
            let y = x.map(|x| a + b * (x - x0));
            let line = fit(&Points { origin: x0, ..points(&x, &y) }).expect("fits");
            prop_assert!((line.intercept - a).abs() < 1e-9 && (line.slope - b).abs() < 1e-10);
            prop_assert!(line.residual_sd < 1e-9);
        }

        #[test]
        fn the_line_is_surest_at_the_mean(y in prop::collection::vec(-9.0..9.0, 5), x in -9.0..9.0) {
            let line = fit(&points(&[0.0, 1.0, 2.0, 3.0, 4.0], &y)).expect("fits");
            prop_assert!(line.se_at(x) >= line.se_at(line.center));
        }
    }
}
