//! What a shop's own counts make of a share that a sheet states.
//!
//! # Formula
//! The sheet's share p₀ counts as w cases: Beta(w·p₀, w·(1 − p₀)). With k of n own cases the share is
//! Beta(w·p₀ + k, w·(1 − p₀) + n − k), whose mean is (w·p₀ + k) / (w + n) and whose variance is
//! p·(1 − p) / (w + n + 1).
//!
//! # Source
//! Conjugate prior of the binomial: Gelman, Carlin, Stern, Dunson, Vehtari, Rubin: Bayesian Data Analysis, 3rd
//! ed., section 2.4 (from memory).

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "learned-share",
    version: 1,
    source: "beta prior of the binomial: Gelman et al., Bayesian Data Analysis, section 2.4",
};

/// Own cases: how many, and in how many it was so.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cases {
    /// In which it was so.
    pub yes: u32,
    /// All.
    pub all: u32,
}

/// A share that was learned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Learned {
    /// Mean of the share.
    pub share: f64,
    /// Standard deviation of the share.
    pub deviation: f64,
}

/// The share after `own` cases, where the sheet's `prior` counts as `weight` cases.
///
/// # Errors
/// A prior outside 0 to 1, a weight below 0.1 or above a million, more cases with a yes than cases.
pub fn learned_share(prior: f64, weight: f64, own: Cases) -> Result<Learned, CalcError> {
    let prior = within("prior", prior, 0.0, 1.0)?;
    let weight = within("weight", weight, 0.1, 1e6)?;
    let all = f64::from(own.all);
    let yes = within("yes", f64::from(own.yes), 0.0, all)?;
    let share = (weight * prior + yes) / (weight + all);
    Ok(Learned {
        share,
        deviation: (share * (1.0 - share) / (weight + all + 1.0)).sqrt(),
    })
}

/// The working of [`learned_share`].
///
/// # Errors
/// As [`learned_share`].
pub fn working(prior: f64, weight: f64, own: Cases) -> Result<Working, CalcError> {
    let learned = learned_share(prior, weight, own)?;
    let (yes, all) = (f64::from(own.yes), f64::from(own.all));
    Ok(Working::new(METHOD)
        .given("p0", Message::new("given-share-of-sheet"), prior, 4, "")
        .given("w", Message::new("given-sheet-counts-as"), weight, 0, "")
        .given("k", Message::new("given-own-yes"), yes, 0, "")
        .given("n", Message::new("given-own-cases"), all, 0, "")
        .step("p", "(w · p0 + k) / (w + n)", learned.share, 4, "")
        .step(
            "s",
            "√(p · (1 − p) / (w + n + 1))",
            learned.deviation,
            4,
            "",
        ))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_rule_of_succession() {
        // Laplace's rule: a flat prior counts as two cases, and s of n gives (s + 1) / (n + 2).
        let own = Cases { yes: 9, all: 10 };
        let learned = learned_share(0.5, 2.0, own).expect("fits");
        assert!((learned.share - 10.0 / 12.0).abs() < 1e-15);
        // Variance of Beta(10, 2): 10·2 / (12²·13).
        assert!((learned.deviation.powi(2) - 20.0 / 1872.0).abs() < 1e-15);
    }

    #[test]
    fn what_cannot_be_is_refused() {
        assert!(learned_share(1.1, 10.0, Cases::default()).is_err());
        assert!(learned_share(0.1, 0.0, Cases::default()).is_err());
        assert!(learned_share(0.1, 10.0, Cases { yes: 2, all: 1 }).is_err());
    }

    proptest! {
        #[test]
        fn it_lies_between_the_sheet_and_the_own_share(
            prior in 0.0..=1.0f64, weight in 0.1..1e4f64, all in 1u32..1000, part in 0.0..=1.0f64,
        ) {
            let own = Cases { yes: (f64::from(all) * part) as u32, all };
            let share = learned_share(prior, weight, own).expect("fits").share;
            let counted = f64::from(own.yes) / f64::from(all);
            prop_assert!(share >= prior.min(counted) - 1e-12 && share <= prior.max(counted) + 1e-12);
        }

        #[test]
        fn it_does_not_matter_in_how_many_lots_the_cases_come(
            prior in 0.0..=1.0f64, weight in 0.1..1e3f64, first in (0u32..50, 50u32..99), second in (0u32..50, 50u32..99),
        ) {
            let cases = |(yes, all): (u32, u32)| Cases { yes, all };
            let one = learned_share(prior, weight, cases(first)).expect("fits").share;
            let two = learned_share(one, weight + f64::from(first.1), cases(second)).expect("fits").share;
            let both = Cases { yes: first.0 + second.0, all: first.1 + second.1 };
            let at_once = learned_share(prior, weight, both).expect("fits").share;
            prop_assert!((two - at_once).abs() < 1e-12);
        }
    }
}
