//! How seldom a set of causes gives answers as unlikely as those seen.
//!
//! # Formula
//! With pᵢ = P(eᵢ | S) of each answer, and the answers independent given S, D = Σ −ln pᵢ. An answer that comes
//! out the other way has −ln (1 − pᵢ), so the chance that S gives answers with D or more is at most
//! min over t ≥ 0 of Π (pᵢ + (1 − pᵢ) · (pᵢ / (1 − pᵢ))ᵗ). The sets that are named are weighed by their posterior.
//!
//! # Validity
//! A bound, so the true chance is below it. For one unlikely answer alone it is exact. Numbers handed over have no
//! chances of their own and are left out.
//!
//! # Source
//! Bound: Chernoff (1952). The chance weighed by the posterior: posterior predictive check, Rubin (1984), Meng
//! (1994) (all from memory).

/// t beyond which nothing is gained.
const MOST_T: f64 = 64.0;

/// Halvings of the range of t: to a ten-millionth.
const HALVINGS: usize = 30;

/// ln of the bound, from the probability of each answer.
pub(super) fn ln_bound(seen: &[f64]) -> f64 {
    let terms: Vec<(f64, f64)> = seen.iter().map(|p| (*p, (p / (1.0 - p)).ln())).collect();
    // Convex in t: where its slope changes sign it is least.
    let (mut low, mut high) = (0.0, MOST_T);
    for _ in 0..HALVINGS {
        let t = 0.5 * (low + high);
        if slope(&terms, t) > 0.0 {
            high = t;
        } else {
            low = t;
        }
    }
    let ln = |(p, r): &(f64, f64)| (p + (1.0 - p) * (low * r).exp()).ln();
    terms.iter().map(ln).sum::<f64>().min(0.0)
}

fn slope(terms: &[(f64, f64)], t: f64) -> f64 {
    let of = |(p, r): &(f64, f64)| {
        let other = (1.0 - p) * (t * r).exp();
        other * r / (p + other)
    };
    terms.iter().map(of).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn an_unlikely_answer_has_its_own_probability_and_a_likely_one_tells_nothing() {
        assert!((ln_bound(&[0.05]) - 0.05_f64.ln()).abs() < 1e-9);
        assert_eq!(ln_bound(&[0.95]), 0.0);
        assert_eq!(ln_bound(&[]), 0.0);
    }

    #[test]
    fn by_hand() {
        // Two of p = 0.2: both must come out so, 0.04, and the bound tends to p² as t grows.
        assert!((ln_bound(&[0.2, 0.2]) - 0.04_f64.ln()).abs() < 1e-9);
        // One of 0.2 and one of 0.8: with x = 4ᵗ, (0.2 + 0.8 / x) · (0.8 + 0.2 · x) = 0.32 + 0.04 x + 0.64 / x, least
        // at x = 4: 0.64.
        assert!((ln_bound(&[0.2, 0.8]) - 0.64_f64.ln()).abs() < 1e-9);
    }

    proptest! {
        /// The chance counted over all ways that the answers can come out is never above the bound.
        #[test]
        fn the_counted_chance_is_never_above(
            answers in prop::collection::vec((0.01..0.99f64, any::<bool>()), 1..10)
        ) {
            let p: Vec<f64> = answers.iter().map(|(p, yes)| if *yes { *p } else { 1.0 - p }).collect();
            let unlikely: f64 = p.iter().map(|p| -p.ln()).sum();
            let mut chance = 0.0;
            for way in 0..1u32 << p.len() {
                let each = p.iter().enumerate().map(|(i, p)| if way >> i & 1 == 1 { *p } else { 1.0 - p });
                let each: Vec<f64> = each.collect();
                if each.iter().map(|p| -p.ln()).sum::<f64>() >= unlikely - 1e-9 {
                    chance += each.iter().product::<f64>();
                }
            }
            prop_assert!(chance.ln() <= ln_bound(&p) + 1e-9, "{} {}", chance, ln_bound(&p).exp());
        }
    }
}
