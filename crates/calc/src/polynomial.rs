//! The polynomial of least squares through points, and what it predicts.
//!
//! # Formula
//! y = b₀ + b₁ · X + … + b_m · X^m with X = x − x₀. Fitted as Σ c_k · p_k(t) on polynomials p_k that are
//! orthogonal over the points, t = (x − mid) / half of the range: p_{k+1} = (t − α_k) · p_k − β_k · p_{k−1},
//! α_k = Σ w t p_k² / γ_k, β_k = γ_k / γ_{k−1}, γ_k = Σ w p_k², c_k = Σ w r p_k / γ_k with r what is left. The b
//! follow by multiplying out. s² = Σ w r² / (n − m − 1); u(b_j)² = s² · Σ_k (share of p_k in X^j)² / γ_k;
//! u(y)² = s² · Σ p_k² / γ_k; a new reading u² = u(y)² + s².
//!
//! # Validity
//! Errors in y only, independent, of one variance (or of variances as the weights say). Outside the points
//! a polynomial says nothing.
//!
//! # Source
//! Forsythe, J. SIAM 5(2), 1957: orthogonal polynomials by recurrence. Check values: NIST StRD.

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working, figures};

/// This method.
pub const METHOD: Method = Method {
    name: "polynomial-calibration",
    version: 1,
    source: "least squares on orthogonal polynomials (Forsythe, J. SIAM 5(2), 1957)",
};

/// No calibration asks for more.
pub const HIGHEST_DEGREE: usize = 15;

/// Points to fit.
#[derive(Clone, Copy, Debug)]
pub struct Points<'a> {
    /// Where it was measured.
    pub x: &'a [f64],
    /// What was measured.
    pub y: &'a [f64],
    /// Inverse variances of `y` on any scale; `None` if all are alike.
    pub weights: Option<&'a [f64]>,
    /// The x that the powers are counted from.
    pub origin: f64,
    /// The highest power.
    pub degree: usize,
}

/// A fitted polynomial.
#[derive(Clone, Debug, PartialEq)]
pub struct Polynomial {
    /// b₀ … b_m.
    pub coefficients: Vec<f64>,
    /// Their standard uncertainties.
    pub coefficients_se: Vec<f64>,
    /// Standard deviation of the points about the curve.
    pub residual_sd: f64,
    /// Degrees of freedom of that.
    pub dof: f64,
    /// Sum of squares about the mean that the curve explains.
    pub ss_regression: f64,
    /// Sum of squares that it leaves.
    pub ss_residual: f64,
    /// How many points.
    pub points: usize,
    basis: Basis,
    /// c_k.
    shares: Vec<f64>,
}

/// Orthogonal polynomials over the points.
#[derive(Clone, Debug, PartialEq)]
struct Basis {
    middle: f64,
    half: f64,
    alpha: Vec<f64>,
    beta: Vec<f64>,
    /// γ_k.
    norms: Vec<f64>,
}

impl Basis {
    /// p_{k+1} from p_k and p_{k−1}, at t.
    fn next(&self, k: usize, t: f64, this: f64, last: f64) -> f64 {
        (t - self.alpha[k]) * this - self.beta[k] * last
    }

    /// p_0 … p_m at `x`.
    fn at(&self, x: f64) -> Vec<f64> {
        let t = (x - self.middle) / self.half;
        let mut found = vec![1.0];
        let (mut this, mut last) = (1.0, 0.0);
        for k in 0..self.alpha.len() {
            (this, last) = (self.next(k, t, this, last), this);
            found.push(this);
        }
        found
    }

    /// The factors of the powers of x − `origin` in each p_k.
    fn powers(&self, origin: f64) -> Vec<Vec<f64>> {
        let terms = self.alpha.len() + 1;
        let shift = (origin - self.middle) / self.half;
        let mut found = vec![one_with(terms)];
        for k in 0..self.alpha.len() {
            let this = &found[k];
            // (t − α) · p, with t = X / half + shift.
            let next = (0..terms).map(|j| {
                let raised = if j == 0 { 0.0 } else { this[j - 1] / self.half };
                let last = if k == 0 { 0.0 } else { found[k - 1][j] };
                raised + (shift - self.alpha[k]) * this[j] - self.beta[k] * last
            });
            let next = next.collect();
            found.push(next);
        }
        found
    }
}

/// The polynomial 1, with room for `terms` powers.
fn one_with(terms: usize) -> Vec<f64> {
    let mut one = vec![0.0; terms];
    one[0] = 1.0;
    one
}

impl Polynomial {
    /// y of the curve at `x`.
    pub fn at(&self, x: f64) -> f64 {
        let values = self.basis.at(x);
        values.iter().zip(&self.shares).map(|(p, c)| p * c).sum()
    }

    /// Standard uncertainty of that y.
    pub fn se_at(&self, x: f64) -> f64 {
        let values = self.basis.at(x);
        let sum: f64 = values
            .iter()
            .zip(&self.basis.norms)
            .map(|(p, g)| p * p / g)
            .sum();
        self.residual_sd * sum.sqrt()
    }

    /// Share of the sum of squares about the mean that the curve explains; `None` where there is
    /// nothing to explain.
    pub fn r_squared(&self) -> Option<f64> {
        let all = self.ss_regression + self.ss_residual;
        (all > 0.0).then(|| self.ss_regression / all)
    }

    /// Explained against left mean square.
    pub fn f_statistic(&self) -> f64 {
        let degree = (self.coefficients.len() - 1) as f64;
        self.ss_regression / degree / (self.residual_sd * self.residual_sd)
    }
}

/// The polynomial through `points`.
///
/// # Errors
/// A degree of 0 or over [`HIGHEST_DEGREE`], fewer points than unknowns and one more, fewer places of x
/// than unknowns, columns of different length, a weight that is not above 0, a value that is not finite.
pub fn fit(points: &Points) -> Result<Polynomial, CalcError> {
    let (x, y, n) = (points.x, points.y, points.x.len());
    within("m", points.degree as f64, 1.0, HIGHEST_DEGREE as f64)?;
    let unknowns = points.degree + 1;
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
    let uneven = |input, have| {
        Err(CalcError::Uneven {
            input,
            have,
            need: n,
        })
    };
    if y.len() != n {
        return uneven("y", y.len());
    }
    let weights = match points.weights {
        Some(weights) if weights.len() != n => return uneven("w", weights.len()),
        Some(weights) => weights.to_vec(),
        None => vec![1.0; n],
    };
    let origin = within("x₀", points.origin, -1e15, 1e15)?;
    for ((x, y), weight) in x.iter().zip(y).zip(&weights) {
        within("x", *x, -1e15, 1e15)?;
        within("y", *y, -1e15, 1e15)?;
        within("w", *weight, 1e-15, 1e15)?;
    }
    let mut places = x.to_vec();
    places.sort_by(f64::total_cmp);
    places.dedup();
    if places.len() < unknowns {
        return too_few(places.len(), unknowns);
    }
    let (low, high) = (places[0], places[places.len() - 1]);
    let mut basis = Basis {
        middle: f64::midpoint(low, high),
        half: (high - low) / 2.0,
        alpha: Vec::new(),
        beta: Vec::new(),
        norms: Vec::new(),
    };
    let t: Vec<f64> = x.iter().map(|x| (x - basis.middle) / basis.half).collect();
    let sum = |term: &dyn Fn(usize) -> f64| (0..n).map(|i| weights[i] * term(i)).sum::<f64>();
    let mut left = y.to_vec();
    let mut shares = Vec::new();
    let (mut this, mut last) = (vec![1.0; n], vec![0.0; n]);
    for k in 0..unknowns {
        let norm = sum(&|i| this[i] * this[i]);
        // Places so close together that the next power cannot be told from the ones before.
        if norm < f64::MIN_POSITIVE {
            return too_few(k, unknowns);
        }
        // Twice: what rounding leaves of p_k in the rest is taken out, too.
        let mut share = 0.0;
        for _ in 0..2 {
            let more = sum(&|i| left[i] * this[i]) / norm;
            share += more;
            for (left, p) in left.iter_mut().zip(&this) {
                *left -= more * p;
            }
        }
        shares.push(share);
        if k < points.degree {
            basis.alpha.push(sum(&|i| t[i] * this[i] * this[i]) / norm);
            basis
                .beta
                .push(basis.norms.last().map_or(0.0, |g| norm / g));
            let next = (0..n).map(|i| basis.next(k, t[i], this[i], last[i]));
            let next = next.collect();
            last = std::mem::replace(&mut this, next);
        }
        basis.norms.push(norm);
    }
    let ss_residual = sum(&|i| left[i] * left[i]);
    let explained = shares.iter().zip(&basis.norms).skip(1);
    let ss_regression = explained.map(|(c, g)| c * c * g).sum();
    let dof = (n - unknowns) as f64;
    let residual_sd = (ss_residual / dof).sqrt();
    let powers = basis.powers(origin);
    let of_power = |j: usize, term: &dyn Fn(usize, f64) -> f64| -> f64 {
        let each = powers.iter().enumerate();
        each.map(|(k, p)| term(k, p[j])).sum()
    };
    let each = 0..unknowns;
    Ok(Polynomial {
        coefficients: each
            .clone()
            .map(|j| of_power(j, &|k, p| shares[k] * p))
            .collect(),
        coefficients_se: each
            .map(|j| residual_sd * of_power(j, &|k, p| p * p / basis.norms[k]).sqrt())
            .collect(),
        residual_sd,
        dof,
        ss_regression,
        ss_residual,
        points: n,
        basis,
        shares,
    })
}

/// From the sums to the spread about the curve.
pub fn working(found: &Polynomial) -> Working {
    let few = |value: f64| figures(value, 6);
    let given = |id: &'static str| Message::new(id);
    let degree = (found.coefficients.len() - 1) as f64;
    let mut working = Working::new(METHOD)
        .given("n", given("given-points"), found.points as f64, 0, "")
        .given("m", given("given-degree"), degree, 0, "")
        .given(
            "SS",
            given("given-ss-residual"),
            found.ss_residual,
            few(found.ss_residual),
            "",
        )
        .given(
            "SR",
            given("given-ss-regression"),
            found.ss_regression,
            few(found.ss_regression),
            "",
        )
        .step("ν", "n − m − 1", found.dof, 0, "")
        .step(
            "s",
            "√(SS / ν)",
            found.residual_sd,
            few(found.residual_sd),
            "",
        );
    if let Some(r) = found.r_squared() {
        working = working.step("R", "SR / (SR + SS)", r, 9, "");
    }
    working.note(given("note-polynomial-inside"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::straight_line;
    use proptest::prelude::*;

    fn points<'a>(x: &'a [f64], y: &'a [f64], degree: usize) -> Points<'a> {
        Points {
            x,
            y,
            weights: None,
            origin: 0.0,
            degree,
        }
    }

    /// NIST StRD, Wampler4: certified values; the noise is a hundred thousand times the least term.
    #[test]
    fn wampler4_of_the_nist_reference_sets() {
        let x: Vec<f64> = (0..21).map(f64::from).collect();
        let y = [
            75901.0, -204794.0, 204863.0, -204436.0, 253665.0, -200894.0, 214131.0, -185192.0,
            221249.0, -138370.0, 315911.0, -27644.0, 455253.0, 197434.0, 783995.0, 608816.0,
            1370781.0, 1303798.0, 2205519.0, 2408860.0, 3444321.0,
        ];
        let found = fit(&points(&x, &y, 5)).expect("fits");
        for (b, digits) in found.coefficients.iter().zip([9, 9, 9, 10, 11, 13]) {
            assert!((b - 1.0).abs() < 10_f64.powi(-digits), "{b}");
        }
        let near = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-12, "{a} {b}");
        near(found.coefficients_se[0], 215_232.624_678_170);
        near(found.coefficients_se[5], 11.232_485_467_931_2);
        near(found.residual_sd, 236_014.502_379_268);
        near(found.r_squared().expect("something"), 0.957_478_440_825_662);
        near(found.f_statistic(), 67.552_445_824_012_2);
    }

    #[test]
    fn refusals() {
        let x = [0.0, 1.0, 2.0, 3.0];
        let is =
            |x: &[f64], y: &[f64], degree| fit(&points(x, y, degree)).expect_err("must be refused");
        let few = |have, need| CalcError::TooFew {
            input: "x",
            have,
            need,
        };
        assert_eq!(is(&x, &x, 3), few(4, 5));
        assert_eq!(is(&[1.0, 1.0, 2.0, 2.0], &x, 2), few(2, 3));
        assert_eq!(is(&[0.1; 4], &x, 1), few(1, 2));
        assert!(matches!(
            is(&x, &x, 0),
            CalcError::OutOfRange { input: "m", .. }
        ));
        assert!(matches!(
            is(&x, &x, 16),
            CalcError::OutOfRange { input: "m", .. }
        ));
        assert!(matches!(
            is(&x, &x[..3], 1),
            CalcError::Uneven { input: "y", .. }
        ));
        let nan = [0.0, 1.0, f64::NAN, 3.0];
        assert_eq!(is(&x, &nan, 1), CalcError::NotFinite { input: "y" });
        assert_eq!(is(&nan, &x, 1), CalcError::NotFinite { input: "x" });
        for (weights, input) in [(&x[..], "w"), (&x[1..], "w")] {
            let weights = Some(weights);
            let weighted = Points {
                weights,
                ..points(&x, &x, 1)
            };
            let error = fit(&weighted).expect_err("refused");
            assert!(format!("{error:?}").contains(input), "{error:?}");
        }
    }

    proptest! {
        #[test]
        fn points_on_a_parabola_give_it_back(
            b in prop::array::uniform3(-5.0..5.0f64), x0 in -20.0..20.0f64, at in -9.0..9.0f64,
        ) {
            let x = [-3.0, -1.0, 0.5, 2.0, 4.0, 7.0];
            let curve = |x: f64| b[0] + (x - x0) * (b[1] + (x - x0) * b[2]);
            let y = x.map(curve);
            let found = fit(&Points { origin: x0, ..points(&x, &y, 2) }).expect("fits");
            for (got, b) in found.coefficients.iter().zip(b) {
                prop_assert!((got - b).abs() < 1e-8, "{got} {b}");
            }
            prop_assert!((found.at(at) - curve(at)).abs() < 1e-8);
            prop_assert!(found.residual_sd < 1e-9);
        }

        #[test]
        fn of_first_degree_it_is_the_straight_line(
            y in prop::collection::vec(-9.0..9.0, 6), w in prop::collection::vec(0.1..9.0, 6), at in -9.0..9.0f64,
        ) {
            let x = [0.0, 1.0, 2.5, 3.0, 4.0, 8.0];
            let found = fit(&Points { weights: Some(&w), origin: 2.0, ..points(&x, &y, 1) }).expect("fits");
            let line = straight_line::fit(&straight_line::Points {
                x: &x, y: &y, weights: Some(&w), origin: 2.0, through_origin: false,
            }).expect("fits");
            let near = |a: f64, b: f64| (a - b).abs() < 1e-9 * (1.0 + b.abs());
            prop_assert!(near(found.coefficients[0], line.intercept));
            prop_assert!(near(found.coefficients[1], line.slope));
            prop_assert!(near(found.coefficients_se[0], line.intercept_se));
            prop_assert!(near(found.coefficients_se[1], line.slope_se));
            prop_assert!(near(found.residual_sd, line.residual_sd));
            prop_assert!(near(found.at(at), line.at(at)) && near(found.se_at(at), line.se_at(at)));
        }

        #[test]
        fn a_higher_degree_never_leaves_more(y in prop::collection::vec(-9.0..9.0, 9)) {
            let x: Vec<f64> = (0..9).map(f64::from).collect();
            let left = |degree| fit(&points(&x, &y, degree)).expect("fits").ss_residual;
            for degree in 1..7 {
                prop_assert!(left(degree + 1) <= left(degree) + 1e-9);
            }
        }
    }
}
