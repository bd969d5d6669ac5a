//! Density of the sum of two uniform quantities and a normal one.
//!
//! # Formula
//! With A(z) = z Φ(z/u) + u φ(z/u), whose second derivative is the normal density: the density of
//! X + Y + ε at s, X from a to b, Y from c to d, ε normal with standard deviation u, is
//! (A(s − a − c) − A(s − b − c) − A(s − a − d) + A(s − b − d)) / ((b − a)(d − c)). Where a uniform has no
//! width it drops out: a difference of Φ, or the normal density itself.
//!
//! # Source
//! Convolution of densities. Check values: `scipy` 1.17.1, numerical integration.

use crate::normal::{below, between};

/// From where to where a uniform quantity lies.
pub(crate) type Span = (f64, f64);

/// A width below this part of the normal's standard deviation makes no difference.
const NO_WIDTH: f64 = 1e-4;

/// The density at `s` of the sum of uniforms over `x` and `y` and a normal of standard deviation `u`,
/// which lies above 0. Spans are not reversed.
pub(crate) fn density(s: f64, x: Span, y: Span, u: f64) -> f64 {
    let wide = |span: Span| span.1 - span.0 > NO_WIDTH * u;
    match (wide(x), wide(y)) {
        (false, false) => normal(s - middle(x) - middle(y), u),
        (true, false) => one(s - middle(y), x, u),
        (false, true) => one(s - middle(x), y, u),
        (true, true) => {
            let corner = |p: f64, q: f64| area(s - p - q, u);
            let sum = corner(x.0, y.0) - corner(x.1, y.0) - corner(x.0, y.1) + corner(x.1, y.1);
            // Far from both, the corners cancel to a rounding below 0.
            sum.max(0.0) / ((x.1 - x.0) * (y.1 - y.0))
        }
    }
}

fn middle(span: Span) -> f64 {
    f64::midpoint(span.0, span.1)
}

fn one(s: f64, span: Span, u: f64) -> f64 {
    between((s - span.1) / u, (s - span.0) / u) / (span.1 - span.0)
}

fn normal(z: f64, u: f64) -> f64 {
    (-0.5 * (z / u).powi(2)).exp() / (u * (2.0 * std::f64::consts::PI).sqrt())
}

fn area(z: f64, u: f64) -> f64 {
    z * below(z / u) + u * u * normal(z, u)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn matches_numerical_integration() {
        // scipy 1.17.1, integrate.quad of the normal density over both uniforms.
        for (s, x, y, u, want) in [
            (
                24.5,
                (25.2, 26.8),
                (-3.0, -0.5),
                0.12,
                0.399_405_203_436_608_7,
            ),
            (
                26.0,
                (25.2, 26.8),
                (-1.0, -0.2),
                0.2,
                0.455_791_660_979_329_2,
            ),
            (
                28.0,
                (25.2, 26.8),
                (1.0, 2.5),
                0.15,
                0.538_486_303_063_020_7,
            ),
            (
                26.9,
                (25.2, 26.8),
                (0.0, 0.0),
                0.12,
                0.126_455_238_102_281_85,
            ),
            (
                22.1,
                (25.2, 26.8),
                (-3.0, -0.5),
                0.12,
                0.003_399_146_738_218_051_4,
            ),
        ] {
            let got = density(s, x, y, u);
            assert!(
                (got / want - 1.0).abs() < 1e-9,
                "{s} {x:?} {y:?} {u}: {got}"
            );
        }
    }

    #[test]
    fn limiting_cases_by_hand() {
        // Without width the normal density: 1/(0.5 √(2π)) = 0.797 885 at its middle.
        assert!((density(3.0, (1.0, 1.0), (2.0, 2.0), 0.5) - 0.797_885).abs() < 1e-6);
        // Without blur the triangle of two equal uniforms: 1/width at its top.
        assert!((density(2.0, (0.0, 2.0), (0.0, 2.0), 1e-4) - 0.5).abs() < 1e-3);
        // Deep inside one wide uniform: one over its width.
        assert!((density(5.0, (0.0, 10.0), (0.0, 0.0), 0.1) - 0.1).abs() < 1e-12);
        assert_eq!(density(1e6, (0.0, 1.0), (0.0, 1.0), 0.1), 0.0);
    }

    proptest! {
        #[test]
        fn never_below_nothing_and_never_above_the_narrowest(
            s in -40.0..40.0f64, a in -5.0..5.0f64, w in 0.0..4.0f64, c in -5.0..5.0f64,
            v in 0.0..4.0f64, u in 0.01..2.0f64,
        ) {
            let got = density(s, (a, a + w), (c, c + v), u);
            let most = (1.0 / w).min(1.0 / v).min(1.0 / (u * (2.0 * std::f64::consts::PI).sqrt()));
            prop_assert!(got >= 0.0 && got <= most * (1.0 + 1e-6), "{}", got);
        }
    }
}
