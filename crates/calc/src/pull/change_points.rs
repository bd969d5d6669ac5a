//! Where the level of a series changes.
//!
//! # Formula
//! The ends t_1 < … < t_m that make Σ cost(segment) + β · (number of changes) smallest, cost the sum of squared deviations
//! from the segment's mean. F(t) = min_s F(s) + cost(s, t) + β; a start s is given up for good once
//! F(s) + cost(s, t) ≥ F(t), as from then on t is the better start (PELT). With a least length L that holds from
//! t + L on, so the giving up waits as long. Exact, not a search.
//!
//! # Validity
//! Levels that jump. Ends are exclusive, the last is the number of values.
//!
//! # Source
//! Killick, Fearnhead & Eckley, J. Am. Stat. Assoc. 107 (2012) 1590 (from memory); held against ruptures.

use crate::CalcError;
use crate::error::within;
use crate::filters::sound;
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "change-points",
    version: 1,
    source: "PELT: Killick, Fearnhead & Eckley, J. Am. Stat. Assoc. 107 (2012) 1590 (from memory)",
};

const LONGEST: usize = 100_000;

/// A series cut into levels.
#[derive(Clone, Debug, PartialEq)]
pub struct Segments {
    /// Where each ends, exclusive.
    pub ends: Vec<usize>,
    /// Mean of each.
    pub means: Vec<f64>,
    /// Squared deviations from the means, all together; without the penalties.
    pub total_cost: f64,
}

/// Sums from which the cost of any segment follows at once.
struct Sums {
    first: Vec<f64>,
    second: Vec<f64>,
}

impl Sums {
    fn of(values: &[f64]) -> Self {
        // About the mean, or the squares lose the digits that count.
        let mean = values.iter().sum::<f64>() / values.len().max(1) as f64;
        let (mut first, mut second) = (vec![0.0], vec![0.0]);
        let (mut s, mut q) = (0.0, 0.0);
        for value in values {
            let x = value - mean;
            s += x;
            q += x * x;
            first.push(s);
            second.push(q);
        }
        Self { first, second }
    }

    fn cost(&self, from: usize, to: usize) -> f64 {
        let s = self.first[to] - self.first[from];
        let q = self.second[to] - self.second[from];
        (q - s * s / (to - from) as f64).max(0.0)
    }
}

/// The best cut of `values` at `penalty` a change, no segment shorter than `least_length`.
///
/// # Errors
/// Fewer values than `least_length`, more than 100 000, one that is not finite, a negative penalty.
pub fn change_points(
    values: &[f64],
    penalty: f64,
    least_length: usize,
) -> Result<Segments, CalcError> {
    let penalty = within("β", penalty, 0.0, 1e30)?;
    let n = values.len();
    within("L", least_length as f64, 1.0, LONGEST as f64)?;
    if n < least_length {
        return Err(CalcError::TooFew {
            input: "x",
            have: n,
            need: least_length,
        });
    }
    within("x", n as f64, 1.0, LONGEST as f64)?;
    sound("x", values)?;
    let sums = Sums::of(values);
    let mut best = vec![f64::INFINITY; n + 1];
    let mut from = vec![0; n + 1];
    best[0] = -penalty;
    // Starts that may still win, each with the end at which it is given up.
    let mut starts: Vec<(usize, usize)> = Vec::new();
    for t in least_length..=n {
        let newest = t - least_length;
        if best[newest].is_finite() {
            starts.push((newest, usize::MAX));
        }
        starts.retain(|&(_, until)| until > t);
        let mut costs = f64::INFINITY;
        for &(s, _) in &starts {
            let cost = best[s] + sums.cost(s, t) + penalty;
            if cost < costs {
                costs = cost;
                from[t] = s;
            }
        }
        best[t] = costs;
        for (s, until) in &mut starts {
            if *until == usize::MAX && best[*s] + sums.cost(*s, t) > costs {
                *until = t + least_length;
            }
        }
    }
    let mut ends = vec![n];
    while let Some(&end) = ends.last().filter(|&&end| from[end] > 0) {
        ends.push(from[end]);
    }
    ends.reverse();
    let begins = std::iter::once(0).chain(ends.iter().copied());
    let means = begins.zip(&ends).map(|(begin, &end)| {
        let part = &values[begin..end];
        part.iter().sum::<f64>() / part.len() as f64
    });
    Ok(Segments {
        means: means.collect(),
        total_cost: best[n] - penalty * (ends.len() - 1) as f64,
        ends,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn steps_by_hand() {
        let values = [1.0, 1.0, 1.0, 5.0, 5.0, 5.0, 5.0, 2.0, 2.0];
        let found = change_points(&values, 1.0, 2).expect("enough");
        assert_eq!(found.ends, [3, 7, 9]);
        assert_eq!(found.means, [1.0, 5.0, 2.0]);
        assert!(found.total_cost.abs() < 1e-12);
    }

    #[test]
    fn refusals() {
        assert!(change_points(&[1.0], 1.0, 2).is_err());
        assert!(change_points(&[], 1.0, 1).is_err());
        assert!(change_points(&[1.0, f64::NAN], 1.0, 1).is_err());
        assert!(change_points(&[1.0, 2.0], -1.0, 1).is_err());
        assert!(change_points(&[1.0, 2.0], 1.0, 0).is_err());
    }

    /// The smallest cost over every way to cut, without giving anything up.
    fn slow(values: &[f64], penalty: f64, least: usize) -> f64 {
        let sums = Sums::of(values);
        let mut best = vec![f64::INFINITY; values.len() + 1];
        best[0] = -penalty;
        for t in least..=values.len() {
            for s in 0..=t - least {
                best[t] = best[t].min(best[s] + sums.cost(s, t) + penalty);
            }
        }
        best[values.len()]
    }

    proptest! {
        #[test]
        fn as_cheap_as_every_cut_tried(values in prop::collection::vec(-3.0..3.0f64, 5..60), penalty in 0.0..5.0f64, least in 1usize..6) {
            let found = change_points(&values, penalty, least).expect("enough");
            let wanted = slow(&values, penalty, least);
            let whole = found.total_cost + penalty * (found.ends.len() - 1) as f64;
            prop_assert!((whole - wanted).abs() < 1e-9 * (1.0 + wanted.abs()), "{found:?} {wanted}");
            let mut begin = 0;
            for end in found.ends {
                prop_assert!(end - begin >= least);
                begin = end;
            }
        }
    }
}
