//! What a check lets through and what it throws away, over a whole production.
//!
//! # Formula
//! Values x are normal with mean μ₀ and standard deviation u₀; a reading of x is normal around x
//! with u_m. False accept: ∫ φ(x) · P(read inside A | x) over x outside the tolerance. False reject:
//! ∫ φ(x) · P(read outside A | x) over x inside it. Both are shares of all pieces (joint), not of the
//! accepted or rejected ones.
//!
//! # Validity
//! Both distributions normal and known.
//!
//! # Source
//! JCGM 106:2012, clause 9. Integrals by Gauss–Legendre on pieces that end wherever the integrand
//! bends.

use crate::decision::Limits;
use crate::error::{CalcError, within};
use crate::normal::between;
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "conformity-global-risk",
    version: 1,
    source: "JCGM 106:2012, clause 9",
};

/// The production and the check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inspection {
    /// Mean of the pieces.
    pub mean: f64,
    /// Standard deviation of the pieces.
    pub spread: f64,
    /// Standard uncertainty of a reading.
    pub measuring: f64,
    /// What a piece must keep.
    pub tolerance: Limits,
    /// Readings that are accepted.
    pub acceptance: Limits,
}

/// Shares of all pieces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Risks {
    /// Bad and accepted.
    pub false_accept: f64,
    /// Good and rejected.
    pub false_reject: f64,
    /// Good.
    pub conforming: f64,
    /// Accepted.
    pub accepted: f64,
}

/// The risks of an inspection.
///
/// # Errors
/// A mean that is not finite, a spread or uncertainty that is not above 0.
pub fn risks(inspection: &Inspection) -> Result<Risks, CalcError> {
    let mean = within("μ₀", inspection.mean, f64::MIN, f64::MAX)?;
    let spread = within("u₀", inspection.spread, f64::MIN_POSITIVE, f64::MAX)?;
    let measuring = within("u_m", inspection.measuring, f64::MIN_POSITIVE, f64::MAX)?;
    let (low, high) = open(inspection.tolerance);
    let (accept_low, accept_high) = open(inspection.acceptance);
    // In units of the spread, around the mean.
    let z = |x: f64| (x - mean) / spread;
    let ratio = measuring / spread;
    let read_inside = |x: f64| between((z(accept_low) - x) / ratio, (z(accept_high) - x) / ratio);
    let read_outside = |x: f64| {
        between(f64::NEG_INFINITY, (z(accept_low) - x) / ratio)
            + between((z(accept_high) - x) / ratio, f64::INFINITY)
    };
    let mut bends = vec![-REACH, REACH, z(low), z(high)];
    for step in [0.0, 1.0, 2.0, 3.0, 4.0, 6.0, 8.0] {
        for sign in [-1.0, 1.0] {
            bends.push(sign * step);
            bends.push(z(accept_low) + sign * step * ratio);
            bends.push(z(accept_high) + sign * step * ratio);
        }
    }
    bends.retain(|x| (-REACH..=REACH).contains(x));
    bends.sort_by(f64::total_cmp);
    let (mut false_accept, mut false_reject) = (0.0, 0.0);
    for piece in bends.windows(2) {
        let middle = f64::midpoint(piece[0], piece[1]);
        if middle > z(low) && middle < z(high) {
            false_reject += integral(piece[0], piece[1], |x| density(x) * read_outside(x));
        } else {
            false_accept += integral(piece[0], piece[1], |x| density(x) * read_inside(x));
        }
    }
    let all = 1.0_f64.hypot(ratio);
    Ok(Risks {
        false_accept,
        false_reject,
        conforming: between(z(low), z(high)),
        accepted: between(z(accept_low) / all, z(accept_high) / all),
    })
}

/// Standard deviations beyond which nothing counts.
const REACH: f64 = 12.0;

fn open(limits: Limits) -> (f64, f64) {
    (
        limits.lower().unwrap_or(f64::NEG_INFINITY),
        limits.upper().unwrap_or(f64::INFINITY),
    )
}

fn density(z: f64) -> f64 {
    (-z * z / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt()
}

/// Gauss–Legendre with ten points.
fn integral(a: f64, b: f64, f: impl Fn(f64) -> f64) -> f64 {
    // Abramowitz & Stegun, Table 25.4, n = 10.
    const POINTS: [(f64, f64); 5] = [
        (0.148_874_338_981_631_22, 0.295_524_224_714_752_87),
        (0.433_395_394_129_247_2, 0.269_266_719_309_996_35),
        (0.679_409_568_299_024_4, 0.219_086_362_515_982_04),
        (0.865_063_366_688_984_5, 0.149_451_349_150_580_6),
        (0.973_906_528_517_171_7, 0.066_671_344_308_688_14),
    ];
    let (middle, half) = (f64::midpoint(a, b), (b - a) / 2.0);
    let sum: f64 = POINTS
        .iter()
        .map(|(x, weight)| weight * (f(middle - half * x) + f(middle + half * x)))
        .sum();
    half * sum
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn limits(lower: f64, upper: f64) -> Limits {
        Limits::new(Some(lower), Some(upper)).expect("good limits")
    }

    fn resistors(guard: f64) -> Inspection {
        Inspection {
            mean: 1500.0,
            spread: 0.12,
            measuring: 0.04,
            tolerance: limits(1499.8, 1500.2),
            acceptance: limits(1499.8 + guard, 1500.2 - guard),
        }
    }

    #[test]
    fn resistors_with_and_without_guard_band() {
        // scipy 1.17.1 integrate.quad on the integrals of JCGM 106:2012 clause 9.
        for (guard, accept, reject) in [
            (0.0, 0.018_942_206_717_021_77, 0.037_207_800_178_135_53),
            (0.02, 0.009_878_291_521_774_324, 0.069_026_510_461_564_8),
        ] {
            let r = risks(&resistors(guard)).expect("good");
            assert!((r.false_accept / accept - 1.0).abs() < 1e-9, "{r:?}");
            assert!((r.false_reject / reject - 1.0).abs() < 1e-9, "{r:?}");
            assert!((r.conforming - 0.904_419_295_454_446_1).abs() < 1e-12);
        }
    }

    #[test]
    fn refusals() {
        let good = resistors(0.0);
        for bad in [
            Inspection {
                mean: f64::NAN,
                ..good
            },
            Inspection {
                spread: 0.0,
                ..good
            },
            Inspection {
                measuring: f64::INFINITY,
                ..good
            },
            Inspection {
                measuring: -1.0,
                ..good
            },
        ] {
            assert!(risks(&bad).is_err(), "{bad:?}");
        }
    }

    proptest! {
        #[test]
        fn accepted_is_good_and_accepted_plus_bad_and_accepted(
            mean in -1.0..1.0f64, measuring in 0.001..2.0f64, guard in -0.3..0.8f64,
        ) {
            let r = risks(&Inspection {
                mean,
                spread: 1.0,
                measuring,
                tolerance: limits(-1.5, 1.0),
                acceptance: limits(-1.5 + guard, 1.0 - guard),
            }).expect("good");
            let balance = r.conforming - r.false_reject + r.false_accept;
            prop_assert!((r.accepted - balance).abs() < 1e-9, "{:?}", r);
        }
    }
}
