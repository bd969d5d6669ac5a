//! Several faults at once: exact probabilities by counting every combination.
//!
//! # Formula
//! Faults are there independently of each other with their prior. A sign is absent with probability
//! (1 − leak) · Π (1 − link) over the faults that are there. P(fault | seen) is the share of the
//! combinations with that fault in all combinations, each weighted by its prior and by what was seen.
//!
//! # Validity
//! Up to 20 faults: 2²⁰ combinations. The posteriors do not add up to 1.
//!
//! # Source
//! Noisy-OR network with two levels, exact by enumeration. Check values: the same in numpy 2.4.6.

use crate::error::{CalcError, within};
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "noisy-or-posterior",
    version: 1,
    source: "noisy-OR network of two levels, exact enumeration",
};

/// Most faults.
pub const MOST_FAULTS: usize = 20;

/// A sign that was looked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Sign {
    /// It was there.
    pub present: bool,
    /// Chance that it shows by itself.
    pub leak: f64,
    /// Chance that each fault shows it, in the order of the priors.
    pub links: Vec<f64>,
}

/// What the signs say.
#[derive(Clone, Debug, PartialEq)]
pub struct Posterior {
    /// Probability of each fault.
    pub faults: Vec<f64>,
    /// Probability of what was seen.
    pub evidence: f64,
}

/// The posterior of each fault.
///
/// # Errors
/// No fault or more than 20, a probability outside 0 to 1, a sign whose links do not fit the faults,
/// signs that no combination allows.
pub fn posterior(priors: &[f64], signs: &[Sign]) -> Result<Posterior, CalcError> {
    within("faults", priors.len() as f64, 1.0, MOST_FAULTS as f64)?;
    for p in priors {
        within("prior", *p, 0.0, 1.0)?;
    }
    for sign in signs {
        within("leak", sign.leak, 0.0, 1.0)?;
        for link in &sign.links {
            within("link", *link, 0.0, 1.0)?;
        }
        if sign.links.len() != priors.len() {
            return Err(CalcError::TooFew {
                input: "link",
                have: sign.links.len(),
                need: priors.len(),
            });
        }
    }
    let mut faults = vec![0.0; priors.len()];
    let mut evidence = 0.0;
    for combination in 0u32..1 << priors.len() {
        let has = |i: usize| combination >> i & 1 == 1;
        let prior: f64 = priors
            .iter()
            .enumerate()
            .map(|(i, p)| if has(i) { *p } else { 1.0 - p })
            .product();
        let seen: f64 = signs.iter().map(|sign| chance(sign, &has)).product();
        let weight = prior * seen;
        evidence += weight;
        for (i, fault) in faults.iter_mut().enumerate() {
            if has(i) {
                *fault += weight;
            }
        }
    }
    if evidence <= 0.0 {
        return Err(CalcError::Impossible);
    }
    for fault in &mut faults {
        *fault /= evidence;
    }
    Ok(Posterior { faults, evidence })
}

/// Chance that a sign does not show, of faults that are there and each show it with one of `links`.
pub(crate) fn absent(leak: f64, links: impl Iterator<Item = f64>) -> f64 {
    (1.0 - leak) * links.map(|link| 1.0 - link).product::<f64>()
}

fn chance(sign: &Sign, has: &impl Fn(usize) -> bool) -> f64 {
    let links = sign.links.iter().enumerate();
    let there = links.filter(|(i, _)| has(*i)).map(|(_, link)| *link);
    let absent = absent(sign.leak, there);
    if sign.present { 1.0 - absent } else { absent }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn slip_without_a_stuck_pin() {
        // Exact enumeration, numpy 2.4.6: jaws, oil, seal, dirty nose; slip seen, stuck not seen.
        let signs = [
            Sign {
                present: true,
                leak: 0.02,
                links: vec![0.8, 0.0, 0.0, 0.4],
            },
            Sign {
                present: false,
                leak: 0.02,
                links: vec![0.0, 0.0, 0.0, 0.7],
            },
        ];
        let p = posterior(&[0.1, 0.08, 0.03, 0.15], &signs).expect("possible");
        let known = [
            0.693_317_532_273_281_5,
            0.08,
            0.03,
            0.198_057_850_288_791_25,
        ];
        for (got, known) in p.faults.iter().zip(known) {
            assert!((got - known).abs() < 1e-12, "{p:?}");
        }
        assert!((p.evidence - 0.102_210_864).abs() < 1e-12);
    }

    #[test]
    fn refusals() {
        let sign = |leak: f64, links: Vec<f64>| Sign {
            present: true,
            leak,
            links,
        };
        assert!(posterior(&[], &[]).is_err());
        assert!(posterior(&[0.1; MOST_FAULTS + 1], &[]).is_err());
        assert!(posterior(&[f64::NAN], &[]).is_err());
        assert!(posterior(&[0.1], &[sign(1.5, vec![0.1])]).is_err());
        assert!(posterior(&[0.1], &[sign(0.0, vec![f64::INFINITY])]).is_err());
        assert!(posterior(&[0.1], &[sign(0.0, vec![])]).is_err());
        let impossible = posterior(&[0.1], &[sign(0.0, vec![0.0])]);
        assert_eq!(impossible, Err(CalcError::Impossible));
    }

    proptest! {
        #[test]
        fn nothing_seen_leaves_the_priors(priors in prop::collection::vec(0.0..1.0f64, 1..8)) {
            let p = posterior(&priors, &[]).expect("possible");
            for (got, prior) in p.faults.iter().zip(&priors) {
                prop_assert!((got - prior).abs() < 1e-9);
            }
        }
    }
}
