//! What a yes/no look is expected to tell.
//!
//! # Formula
//! Entropy H(p) = −Σ p·log2 p, bits. A look is worth what it is expected to take off it:
//! H(p) − P(yes)·H(p | yes) − P(no)·H(p | no).
//!
//! # Source
//! Shannon, *A Mathematical Theory of Communication* (1948). Check values there and in MacKay,
//! *Information Theory, Inference, and Learning Algorithms* (2003), 9 (from memory).

use crate::Message;
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "expected-information",
    version: 1,
    source: "expected reduction of Shannon entropy (Shannon, 1948)",
};

/// The worth of a look, and what it is made of. Entropies in bits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Information {
    /// How open the question is now.
    pub open: f64,
    /// Chance of a yes.
    pub yes: f64,
    /// How open it is after a yes; 0 if there can be none.
    pub after_yes: f64,
    /// How open it is after a no; 0 if there can be none.
    pub after_no: f64,
    /// What the look is expected to tell.
    pub bits: f64,
}

/// Shannon entropy of `p`, bits.
pub fn entropy(p: &[f64]) -> f64 {
    p.iter().filter(|x| **x > 0.0).map(|x| -x * x.log2()).sum()
}

/// What a yes/no look is expected to tell, from the present probabilities `p` of the rivals and the
/// chance of a yes under each.
pub fn expected(p: &[f64], yes: &[f64]) -> Information {
    let branch = |likelihood: &dyn Fn(f64) -> f64| {
        let joint: Vec<f64> = p.iter().zip(yes).map(|(p, y)| p * likelihood(*y)).collect();
        let chance: f64 = joint.iter().sum();
        let rest: Vec<f64> = joint.iter().map(|j| j / chance).collect();
        (chance, if chance > 0.0 { entropy(&rest) } else { 0.0 })
    };
    let (chance, after_yes) = branch(&|y| y);
    let (against, after_no) = branch(&|y| 1.0 - y);
    let open = entropy(p);
    Information {
        open,
        yes: chance,
        after_yes,
        after_no,
        bits: (open - chance * after_yes - against * after_no).max(0.0),
    }
}

impl Information {
    /// The working of [`expected`].
    pub fn working(&self) -> Working {
        Working::new(METHOD)
            .given("H", Message::new("given-open-now"), self.open, 4, "bit")
            .given("P", Message::new("given-chance-of-yes"), self.yes, 4, "")
            .given(
                "H_y",
                Message::new("given-open-after-yes"),
                self.after_yes,
                4,
                "bit",
            )
            .given(
                "H_n",
                Message::new("given-open-after-no"),
                self.after_no,
                4,
                "bit",
            )
            .step("I", "H − P · H_y − (1 − P) · H_n", self.bits, 3, "bit")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_fair_coin_is_one_bit_and_a_perfect_test_tells_it() {
        // Shannon (1948): H(1/2, 1/2) = 1 bit; H(1/2, 1/3, 1/6) = 1.459 bits.
        assert!((entropy(&[0.5, 0.5]) - 1.0).abs() < 1e-15);
        assert!((entropy(&[0.5, 1.0 / 3.0, 1.0 / 6.0]) - 1.459).abs() <= 0.0005);
        assert!((expected(&[0.5, 0.5], &[1.0, 0.0]).bits - 1.0).abs() < 1e-15);
    }

    #[test]
    fn the_working_shows_the_parts_of_the_noisy_channel() {
        // MacKay (2003), 9 (from memory): f = 0.15, P(1) = 0.1 gives P(y = 1) = 0.22, H(X) = 0.47
        // bit and I = 0.15 bit.
        let worth = expected(&[0.9, 0.1], &[0.15, 0.85]);
        let w = worth.working();
        assert_eq!(w.given[1].value, "0.2200");
        assert!((worth.open - 0.47).abs() <= 0.005, "{worth:?}");
        assert!((worth.bits - 0.15).abs() <= 0.005, "{worth:?}");
        assert_eq!(w.steps[0].value, crate::working::fixed(worth.bits, 3));
    }

    proptest! {
        #[test]
        fn a_look_never_tells_less_than_nothing_nor_more_than_a_bit(
            weights in prop::collection::vec(0.01..1.0f64, 2..6), seed in prop::collection::vec(0.0..1.0f64, 6),
        ) {
            let sum: f64 = weights.iter().sum();
            let p: Vec<f64> = weights.iter().map(|w| w / sum).collect();
            let bits = expected(&p, &seed[..p.len()]).bits;
            prop_assert!((0.0..=1.0 + 1e-9).contains(&bits));
            let same = vec![seed[0]; p.len()];
            prop_assert!(expected(&p, &same).bits < 1e-9);
        }
    }
}
