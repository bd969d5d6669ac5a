//! How often a sampling plan accepts a lot: its operating characteristic.
//!
//! # Formula
//! A sample of n, accepted with at most c bad ones. P_a = P(X ≤ c): X hypergeometric(N, D, n) for a lot of N with D bad ones;
//! binomial(n, p) for a running process or a large lot; Poisson(n · p) where p is small. Outgoing share, every rejected lot
//! sorted: P_a · p · (N − n) / N, without a lot P_a · p.
//!
//! # Validity
//! A sample drawn at random, bad ones recognised without error.
//!
//! # Source
//! NIST/SEMATECH e-Handbook 6.2.3.2 (from memory). Check values: scipy 1.17.1.

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};
use cdflib::traits::DiscreteCdf;
use cdflib::{Binomial, Poisson};

/// This method.
pub const METHOD: Method = Method {
    name: "operating-characteristic",
    version: 1,
    source: "hypergeometric, binomial or Poisson distribution; NIST/SEMATECH e-Handbook 6.2.3.2 (from memory)",
};

/// Largest sample that is reckoned with.
pub const MOST: u64 = 10_000_000;
/// Largest sample from a counted lot.
const MOST_COUNTED: u64 = 1_000_000;

/// A sampling plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Plan {
    /// Pieces in the sample.
    pub sample: u64,
    /// Bad ones with which the lot is still accepted.
    pub accept: u64,
}

/// How bad ones come into the sample.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Model {
    /// From a running process or a large lot.
    Binomial,
    /// The same for small shares, as in older tables.
    Poisson,
}

fn checked(plan: Plan, most: u64) -> Result<Plan, CalcError> {
    within("n", plan.sample as f64, 1.0, most as f64)?;
    within("c", plan.accept as f64, 0.0, plan.sample as f64)?;
    Ok(plan)
}

/// The probability that the plan accepts where the share of bad ones is `share`.
///
/// # Errors
/// No sample, one above [`MOST`], an acceptance number above the sample, a share outside 0 to 1.
pub fn accepts(plan: Plan, share: f64, model: Model) -> Result<f64, CalcError> {
    let plan = checked(plan, MOST)?;
    let share = within("p", share, 0.0, 1.0)?;
    Ok(unchecked(plan, share, model))
}

/// As [`accepts`], for a plan and a share that are known to be good.
pub(crate) fn unchecked(plan: Plan, share: f64, model: Model) -> f64 {
    if share <= 0.0 {
        return 1.0;
    }
    match model {
        Model::Binomial if plan.accept >= plan.sample => 1.0,
        Model::Binomial if share >= 1.0 => 0.0,
        Model::Binomial => Binomial::new(plan.sample, share).cdf(plan.accept),
        Model::Poisson => Poisson::new(plan.sample as f64 * share).cdf(plan.accept),
    }
}

/// The probability that the plan accepts a lot of `lot` pieces with `bad` bad ones.
///
/// # Errors
/// As [`accepts`]; a sample above the lot or above a million, more bad ones than pieces.
pub fn accepts_lot(plan: Plan, lot: u64, bad: u64) -> Result<f64, CalcError> {
    let plan = checked(plan, MOST_COUNTED)?;
    let lot_size = within("N", lot as f64, plan.sample as f64, 1e12)?;
    let bad_ones = within("D", bad as f64, 0.0, lot_size)?;
    let n = plan.sample as f64;
    let least = (n - (lot_size - bad_ones)).max(0.0);
    let most = n.min(bad_ones);
    // From the likeliest count outwards, each term by its ratio to the one before: nothing overflows,
    // and no factorial is needed.
    let mode = ((n + 1.0) * (bad_ones + 1.0) / (lot_size + 2.0))
        .floor()
        .clamp(least, most);
    let up = |k: f64| (bad_ones - k) * (n - k) / ((k + 1.0) * (lot_size - bad_ones - n + k + 1.0));
    let accept = plan.accept as f64;
    let (mut all, mut accepted) = (0.0, 0.0);
    let mut add = |k: f64, weight: f64| {
        all += weight;
        if k <= accept {
            accepted += weight;
        }
    };
    let (mut k, mut weight) = (mode, 1.0);
    while k <= most && weight > 0.0 {
        add(k, weight);
        weight *= up(k);
        k += 1.0;
    }
    (k, weight) = (mode, 1.0);
    while k > least && weight > 0.0 {
        k -= 1.0;
        weight /= up(k);
        add(k, weight);
    }
    Ok(accepted / all)
}

/// The working of a plan at one share of bad ones, in a lot or without one.
pub fn working(plan: Plan, share: f64, lot: Option<u64>, accepted: f64) -> Working {
    let n = plan.sample as f64;
    let mut w = Working::new(METHOD)
        .given("n", Message::new("given-sample-size"), n, 0, "")
        .given(
            "c",
            Message::new("given-accept-number"),
            plan.accept as f64,
            0,
            "",
        )
        .given("p", Message::new("given-bad-share"), share, 5, "")
        .step("P_a", "P(X ≤ c)", accepted, 4, "");
    w = match lot {
        Some(lot) => {
            let lot = lot as f64;
            let out = accepted * share * (lot - n) / lot;
            w.given("N", Message::new("given-lot-size"), lot, 0, "")
                .step("p_out", "P_a · p · (N − n) / N", out, 5, "")
        }
        None => w.step("p_out", "P_a · p", accepted * share, 5, ""),
    };
    w.note(Message::new("note-outgoing-sorted"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const fn plan(sample: u64, accept: u64) -> Plan {
        Plan { sample, accept }
    }

    #[test]
    fn by_hand() {
        // Two of five with two bad: none bad (3/5)(2/4) = 0.3, at most one 1 − (2/5)(1/4) = 0.9.
        assert!((accepts_lot(plan(2, 0), 5, 2).expect("good") - 0.3).abs() < 1e-15);
        assert!((accepts_lot(plan(2, 1), 5, 2).expect("good") - 0.9).abs() < 1e-15);
        // Three at 10 %: none bad 0.9³. Poisson e^−0.3.
        let none = accepts(plan(3, 0), 0.1, Model::Binomial).expect("good");
        assert!((none - 0.729).abs() < 1e-14);
        let none = accepts(plan(3, 0), 0.1, Model::Poisson).expect("good");
        assert!((none - (-0.3_f64).exp()).abs() < 1e-14);
    }

    #[test]
    fn ends() {
        for model in [Model::Binomial, Model::Poisson] {
            assert_eq!(accepts(plan(5, 1), 0.0, model), Ok(1.0));
        }
        assert_eq!(accepts(plan(5, 1), 1.0, Model::Binomial), Ok(0.0));
        assert_eq!(accepts(plan(5, 5), 1.0, Model::Binomial), Ok(1.0));
        assert_eq!(accepts_lot(plan(5, 0), 5, 1), Ok(0.0));
        assert_eq!(accepts_lot(plan(5, 0), 9, 0), Ok(1.0));
        assert_eq!(accepts_lot(plan(5, 4), 9, 9), Ok(0.0));
    }

    #[test]
    fn refusals() {
        assert!(accepts(plan(0, 0), 0.1, Model::Binomial).is_err());
        assert!(accepts(plan(5, 6), 0.1, Model::Binomial).is_err());
        assert!(accepts(plan(5, 1), 1.1, Model::Binomial).is_err());
        assert!(accepts(plan(5, 1), f64::NAN, Model::Poisson).is_err());
        assert!(accepts(plan(MOST + 1, 1), 0.1, Model::Poisson).is_err());
        assert!(accepts_lot(plan(5, 1), 4, 1).is_err());
        assert!(accepts_lot(plan(5, 1), 10, 11).is_err());
    }

    proptest! {
        #[test]
        fn worse_lots_pass_less_and_large_lots_are_binomial(n in 1u64..60, c in 0u64..6, bad in 0u64..90) {
            let plan = Plan { sample: n, accept: c.min(n) };
            let here = accepts_lot(plan, 100, bad).expect("good");
            prop_assert!(accepts_lot(plan, 100, bad + 1).expect("good") <= here + 1e-12);
            let large = accepts_lot(plan, 10_000_000, bad * 100_000).expect("good");
            let share = accepts(plan, bad as f64 / 100.0, Model::Binomial).expect("good");
            prop_assert!((large - share).abs() < 1e-3);
        }
    }
}
