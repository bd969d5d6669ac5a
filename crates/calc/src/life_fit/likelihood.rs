//! What one observation adds to the logarithm of the likelihood, with its slopes in z.

use crate::error::{CalcError, within};
use crate::normal;

/// Distribution of the logarithm of life.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Family {
    /// Weibull.
    Weibull,
    /// Lognormal.
    Lognormal,
    /// Weibull with shape 1.
    Exponential,
}

/// An observation by the logarithm of time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Place {
    At(f64),
    After(f64),
    Before(f64),
    Between(f64, f64),
}

impl Place {
    /// When it failed or had failed, where one time says it.
    pub(super) fn failure(&self) -> Option<f64> {
        match self {
            Self::At(x) | Self::Before(x) => Some(*x),
            Self::After(_) | Self::Between(..) => None,
        }
    }

    /// A time that stands for it.
    pub(super) fn middle(&self) -> f64 {
        match self {
            Self::At(x) | Self::After(x) | Self::Before(x) => *x,
            Self::Between(a, b) => f64::midpoint(*a, *b),
        }
    }
}

/// Value, slope and curvature in one or two z.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Term {
    pub(super) value: f64,
    /// Slopes in the first and second z.
    pub(super) slope: [f64; 2],
    /// Curvatures: first, mixed, second.
    pub(super) curvature: [f64; 3],
}

impl Term {
    fn one(value: f64, slope: f64, curvature: f64) -> Self {
        Self {
            value,
            slope: [slope, 0.0],
            curvature: [curvature, 0.0, 0.0],
        }
    }
}

/// 1 / (eᵈ − 1).
fn odds(d: f64) -> f64 {
    1.0 / d.exp_m1()
}

/// ln(1 − e⁻ᵈ).
fn log_of_rest(d: f64) -> f64 {
    (-(-d).exp_m1()).ln()
}

fn density(z: f64) -> f64 {
    (-z * z / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt()
}

/// φ(z) / Φ(z), which comes to −z far below.
fn inverse_mills(z: f64) -> f64 {
    if z < -30.0 {
        return -z - 1.0 / z;
    }
    density(z) / normal::below(z)
}

/// ln Φ(z).
fn log_below(z: f64) -> f64 {
    if z < -30.0 {
        // The first two terms of the series of the tail.
        return -z * z / 2.0 - (-z).ln() - 0.5 * (2.0 * std::f64::consts::PI).ln() - 1.0 / (z * z);
    }
    normal::below(z).ln()
}

impl Family {
    /// z with the share `p` below it.
    pub(super) fn quantile(self, p: f64) -> Result<f64, CalcError> {
        let p = within("p", p, 1e-12, 1.0 - 1e-12)?;
        match self {
            Self::Lognormal => normal::quantile(p),
            _ => Ok((-(-p).ln_1p()).ln()),
        }
    }

    /// What `place` adds, with z = a · x − b at its times. The density is that of z.
    pub(super) fn term(self, place: &Place, z: impl Fn(f64) -> f64) -> Term {
        match (self, place) {
            (Self::Lognormal, Place::At(x)) => {
                let z = z(*x);
                let value = -z * z / 2.0 - 0.5 * (2.0 * std::f64::consts::PI).ln();
                Term::one(value, -z, -1.0)
            }
            (Self::Lognormal, Place::After(x)) => {
                let z = z(*x);
                let h = inverse_mills(-z);
                Term::one(log_below(-z), -h, -h * (h - z))
            }
            (Self::Lognormal, Place::Before(x)) => {
                let z = z(*x);
                let h = inverse_mills(z);
                Term::one(log_below(z), h, -h * (h + z))
            }
            (Self::Lognormal, Place::Between(a, b)) => {
                let (z_a, z_b) = (z(*a), z(*b));
                let share = normal::between(z_a, z_b);
                let (d_a, d_b) = (density(z_a) / share, density(z_b) / share);
                Term {
                    value: share.ln(),
                    slope: [-d_a, d_b],
                    curvature: [z_a * d_a - d_a * d_a, d_a * d_b, -z_b * d_b - d_b * d_b],
                }
            }
            (_, Place::At(x)) => {
                let z = z(*x);
                let w = z.exp();
                Term::one(z - w, 1.0 - w, -w)
            }
            (_, Place::After(x)) => {
                let w = z(*x).exp();
                Term::one(-w, -w, -w)
            }
            (_, Place::Before(x)) => {
                let w = z(*x).exp();
                let q = odds(w);
                Term::one(log_of_rest(w), w * q, w * q - w * w * q * (1.0 + q))
            }
            (_, Place::Between(a, b)) => {
                let (w_a, w_b) = (z(*a).exp(), z(*b).exp());
                let d = w_b - w_a;
                let q = odds(d);
                // Curvature of ln(1 − e⁻ᵈ) in d.
                let bend = -q * (1.0 + q);
                Term {
                    value: -w_a + log_of_rest(d),
                    slope: [-w_a * (1.0 + q), w_b * q],
                    curvature: [
                        -w_a * (1.0 + q) + w_a * w_a * bend,
                        -w_a * w_b * bend,
                        w_b * q + w_b * w_b * bend,
                    ],
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slopes_are_those_of_the_value() {
        // Central differences of the value, and of the slope.
        let h = 1e-5;
        for family in [Family::Weibull, Family::Lognormal] {
            for place in [
                Place::At(0.3),
                Place::After(0.3),
                Place::Before(0.3),
                Place::Between(0.3, 0.9),
            ] {
                // A shift of all z: slope and curvature in the direction (1, 1).
                let at = |by: f64| family.term(&place, |x| x + by);
                let along = |t: Term| t.slope[0] + t.slope[1];
                let slope = (at(h).value - at(-h).value) / (2.0 * h);
                assert!(
                    (slope - along(at(0.0))).abs() < 1e-8,
                    "{family:?} {place:?}"
                );
                let bend = (along(at(h)) - along(at(-h))) / (2.0 * h);
                let [first, mixed, second] = at(0.0).curvature;
                let all = first + 2.0 * mixed + second;
                assert!((bend - all).abs() < 1e-7, "{family:?} {place:?}");
            }
        }
    }

    #[test]
    fn tails_join() {
        for z in [-29.99, -30.01] {
            let wanted = [log_below(-30.0), inverse_mills(-30.0)];
            assert!((log_below(z) - wanted[0]).abs() < 0.32, "{z}");
            assert!((inverse_mills(z) - wanted[1]).abs() < 0.011, "{z}");
        }
    }
}
