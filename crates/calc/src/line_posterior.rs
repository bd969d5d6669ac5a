//! A straight line that is known beforehand and corrected by points: exact, conjugate.
//!
//! # Formula
//! Prior: line (a₀, b₀) with precision P₀ = diag(s₀²/u_a², s₀²/u_b²) in points, spread s₀ of one point known
//! to ν₀ degrees of freedom. With points: P = P₀ + XᵀX; (a, b) = P⁻¹ · (P₀·(a₀, b₀) + Xᵀy); s² = (ν₀·s₀² + SS) /
//! (ν₀ + n), SS = Σ (y − a − b·x)² + (a − a₀)²·P₀₁ + (b − b₀)²·P₀₂; ν = ν₀ + n. The line at x is known to
//! s·√((1, x)·P⁻¹·(1, x)ᵀ), a point there to s·√(1 + the same), both with Student's t of ν.
//!
//! # Validity
//! Points independent, spread alike, errors in y only. The prior's doubt about the line is stated for the
//! spread s₀; if the points scatter more, it grows with them.
//!
//! # Source
//! Normal-inverse-gamma conjugate regression: Gelman et al., Bayesian Data Analysis, chapter 14 (from memory).

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "straight-line-posterior",
    version: 1,
    source: "normal-inverse-gamma conjugate regression; Gelman et al., Bayesian Data Analysis, chapter 14 (from memory)",
};

/// What is known of the line before the points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior {
    /// y at x = 0.
    pub intercept: f64,
    /// Change of y per x.
    pub slope: f64,
    /// Standard uncertainty of the intercept.
    pub intercept_se: f64,
    /// Standard uncertainty of the slope.
    pub slope_se: f64,
    /// Standard deviation of one point about the line.
    pub spread: f64,
    /// Degrees of freedom that the spread is known to; infinite if it is known.
    pub spread_dof: f64,
}

/// What is known of it after them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Posterior {
    /// y at x = 0.
    pub intercept: f64,
    /// Change of y per x.
    pub slope: f64,
    /// Standard deviation of one point about the line.
    pub spread: f64,
    /// Degrees of freedom of that, and of every interval.
    pub dof: f64,
    /// How many points.
    pub points: usize,
    /// P⁻¹: its two diagonal places and the one beside them.
    inverse: (f64, f64, f64),
}

impl Posterior {
    /// y of the line at `x`.
    pub fn at(&self, x: f64) -> f64 {
        self.intercept + self.slope * x
    }

    /// Standard uncertainty of the line at `x`.
    pub fn se_at(&self, x: f64) -> f64 {
        let (aa, bb, ab) = self.inverse;
        self.spread * (aa + 2.0 * x * ab + x * x * bb).sqrt()
    }

    /// Standard uncertainty of one more point at `x`.
    pub fn point_se_at(&self, x: f64) -> f64 {
        self.spread.hypot(self.se_at(x))
    }

    /// Standard uncertainty of the slope.
    pub fn slope_se(&self) -> f64 {
        self.spread * self.inverse.1.sqrt()
    }

    /// The x at which the line gives `y`, and its standard uncertainty, linearised; `None` without a slope.
    pub fn x_for(&self, y: f64) -> Option<(f64, f64)> {
        let x = (y - self.intercept) / self.slope;
        let se = self.se_at(x) / self.slope.abs();
        (x.is_finite() && se.is_finite()).then_some((x, se))
    }
}

/// The line after `points` (x, y).
///
/// # Errors
/// A doubt, a spread or its degrees of freedom not above 0, a value that is not finite.
pub fn posterior(prior: &Prior, points: &[(f64, f64)]) -> Result<Posterior, CalcError> {
    let any = |input, value| within(input, value, -1e12, 1e12);
    let above_zero = |input, value| within(input, value, 1e-12, 1e12);
    let (a0, b0) = (any("a₀", prior.intercept)?, any("b₀", prior.slope)?);
    let s0 = above_zero("s₀", prior.spread)?;
    let p_a = (s0 / above_zero("u_a", prior.intercept_se)?).powi(2);
    let p_b = (s0 / above_zero("u_b", prior.slope_se)?).powi(2);
    let is_known = prior.spread_dof == f64::INFINITY;
    if !is_known {
        above_zero("ν₀", prior.spread_dof)?;
    }
    for (x, y) in points {
        any("x", *x)?;
        any("y", *y)?;
    }
    let n = points.len() as f64;
    let sum =
        |term: &dyn Fn(f64, f64) -> f64| points.iter().map(|(x, y)| term(*x, *y)).sum::<f64>();
    // What the points say beyond the prior's line: differences keep their digits.
    let beyond = |x: f64, y: f64| y - a0 - b0 * x;
    let (sx, sxx) = (sum(&|x, _| x), sum(&|x, _| x * x));
    let (sy, sxy) = (sum(&beyond), sum(&|x, y| x * beyond(x, y)));
    let (aa, bb) = (p_a + n, p_b + sxx);
    let determinant = aa * bb - sx * sx;
    let inverse = (bb / determinant, aa / determinant, -sx / determinant);
    let da = inverse.0 * sy + inverse.2 * sxy;
    let db = inverse.2 * sy + inverse.1 * sxy;
    let left = sum(&|x, y| (beyond(x, y) - da - db * x).powi(2));
    let ss = left + p_a * da * da + p_b * db * db;
    let (spread, dof) = if is_known {
        (s0, f64::INFINITY)
    } else {
        let dof = prior.spread_dof + n;
        (((prior.spread_dof * s0 * s0 + ss) / dof).sqrt(), dof)
    };
    Ok(Posterior {
        intercept: a0 + da,
        slope: b0 + db,
        spread,
        dof,
        points: points.len(),
        inverse,
    })
}

/// From the prior and the points to the line.
pub fn working(prior: &Prior, line: &Posterior) -> Working {
    let few = |value: f64| figures(value, 6);
    let given = |what: &'static str| Message::new(what);
    Working::new(METHOD)
        .given(
            "a₀",
            given("given-prior-intercept"),
            prior.intercept,
            few(prior.intercept),
            "",
        )
        .given(
            "b₀",
            given("given-prior-slope"),
            prior.slope,
            few(prior.slope),
            "",
        )
        .given(
            "s₀",
            given("given-prior-spread"),
            prior.spread,
            few(prior.spread),
            "",
        )
        .given("n", given("given-points"), line.points as f64, 0, "")
        .given(
            "Δa",
            given("given-intercept-change"),
            line.intercept - prior.intercept,
            few(line.intercept),
            "",
        )
        .given(
            "Δb",
            given("given-slope-change"),
            line.slope - prior.slope,
            few(line.slope),
            "",
        )
        .given(
            "s",
            given("given-spread"),
            line.spread,
            few(line.spread),
            "",
        )
        .step("a", "a₀ + Δa", line.intercept, few(line.intercept), "")
        .step("b", "b₀ + Δb", line.slope, few(line.slope), "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const PRIOR: Prior = Prior {
        intercept: 0.0,
        slope: -1.5,
        intercept_se: 0.3,
        slope_se: 0.1,
        spread: 0.12,
        spread_dof: f64::INFINITY,
    };
    const POINTS: [(f64, f64); 4] = [(-0.5, 0.62), (-0.25, 0.31), (0.0, 0.10), (0.25, -0.22)];

    #[test]
    fn matches_numerical_integration() {
        // Prior times likelihood summed over a grid of 6001 by 4001 places, numpy 2.
        let line = posterior(&PRIOR, &POINTS).expect("good");
        for (got, wanted) in [
            (line.intercept, 0.023_135_72),
            (line.slope, -1.427_510_82),
            (line.se_at(0.0), 0.059_833_75),
            (line.slope_se(), 0.090_584_64),
            (line.at(0.5), -0.690_619_69),
            (line.se_at(0.5), 0.081_349_37),
        ] {
            assert!((got - wanted).abs() < 1e-7, "{got} {wanted}");
        }
    }

    #[test]
    fn without_points_it_is_the_prior() {
        let line = posterior(&PRIOR, &[]).expect("good");
        assert_eq!((line.intercept, line.slope), (0.0, -1.5));
        assert!((line.se_at(0.0) - 0.3).abs() < 1e-12 && (line.slope_se() - 0.1).abs() < 1e-12);
        let (x, se) = line.x_for(0.3).expect("a slope");
        assert!((x + 0.2).abs() < 1e-12 && se > 0.19);
    }

    #[test]
    fn refusals() {
        let refused = |prior: Prior, points: &[(f64, f64)]| posterior(&prior, points).is_err();
        assert!(refused(
            Prior {
                spread: 0.0,
                ..PRIOR
            },
            &[]
        ));
        assert!(refused(
            Prior {
                slope_se: f64::NAN,
                ..PRIOR
            },
            &[]
        ));
        assert!(refused(
            Prior {
                spread_dof: 0.0,
                ..PRIOR
            },
            &[]
        ));
        assert!(refused(PRIOR, &[(0.0, f64::INFINITY)]));
        let flat = posterior(
            &Prior {
                slope: 0.0,
                ..PRIOR
            },
            &[],
        )
        .expect("good");
        assert_eq!(flat.x_for(1.0), None);
    }

    fn points() -> impl Strategy<Value = Vec<(f64, f64)>> {
        prop::collection::vec((-2.0..2.0f64, -4.0..4.0f64), 0..12)
    }

    proptest! {
        #[test]
        fn with_the_spread_known_more_points_never_widen(points in points(), at in -3.0..3.0f64) {
            let mut before = f64::INFINITY;
            for n in 0..=points.len() {
                let se = posterior(&PRIOR, &points[..n]).expect("good").se_at(at);
                prop_assert!(se <= before + 1e-12);
                before = se;
            }
        }

        #[test]
        fn points_that_do_not_fit_widen_what_is_known(off in 0.5..5.0f64) {
            let prior = Prior { spread_dof: 4.0, ..PRIOR };
            let fitting = [(0.0, 0.0), (0.0, 0.0)];
            let apart = [(0.0, off), (0.0, -off)];
            let se = |points: &[_]| posterior(&prior, points).expect("good").se_at(0.0);
            prop_assert!(se(&apart) > se(&fitting));
        }

        #[test]
        fn the_order_of_the_points_is_nothing(points in points()) {
            let prior = Prior { spread_dof: 5.0, ..PRIOR };
            let turned: Vec<_> = points.iter().rev().copied().collect();
            let (one, other) = (posterior(&prior, &points), posterior(&prior, &turned));
            let (one, other) = (one.expect("good"), other.expect("good"));
            prop_assert!((one.at(1.0) - other.at(1.0)).abs() < 1e-9);
            prop_assert!((one.spread - other.spread).abs() < 1e-9);
        }
    }
}
