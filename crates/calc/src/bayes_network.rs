//! A small network of yes/no questions that hang on each other: exact probabilities.
//!
//! # Formula
//! P(all nodes) = Π P(node | its parents). P(node | seen) is the share of the combinations in which
//! the node is "yes" in all combinations that agree with what was seen.
//!
//! # Validity
//! Up to 20 nodes. Each node stands after its parents, so there can be no circle.
//!
//! # Source
//! Chain rule of probability; exact enumeration. Check values: Russell & Norvig, *Artificial
//! Intelligence: A Modern Approach* (burglary); Lauritzen & Spiegelhalter (1988, "Asia").

use crate::error::{CalcError, within};
use crate::working::Method;

/// This method.
pub const METHOD: Method = Method {
    name: "bayes-network-posterior",
    version: 1,
    source: "chain rule of probability, exact enumeration",
};

/// Most nodes.
pub const MOST_NODES: usize = 20;

/// A yes/no question.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// Nodes it hangs on, by their places; all before it.
    pub parents: Vec<usize>,
    /// P(yes) for each state of the parents, counted in binary with "no" as 0 and the last parent
    /// changing fastest.
    pub yes: Vec<f64>,
    /// What was seen, if it was.
    pub seen: Option<bool>,
}

/// What the network says.
#[derive(Clone, Debug, PartialEq)]
pub struct Posterior {
    /// P(yes) of each node.
    pub yes: Vec<f64>,
    /// Probability of what was seen.
    pub evidence: f64,
}

/// The posterior of each node.
///
/// # Errors
/// No node or more than 20, a parent that does not stand before its child, a table of the wrong
/// length, a probability outside 0 to 1, evidence that cannot be.
pub fn posterior(nodes: &[Node]) -> Result<Posterior, CalcError> {
    within("nodes", nodes.len() as f64, 1.0, MOST_NODES as f64)?;
    for (i, node) in nodes.iter().enumerate() {
        for parent in &node.parents {
            within("parents", *parent as f64, 0.0, i as f64 - 1.0)?;
        }
        let need = 1usize << node.parents.len().min(MOST_NODES);
        if node.yes.len() != need {
            return Err(CalcError::TooFew {
                input: "yes",
                have: node.yes.len(),
                need,
            });
        }
        for p in &node.yes {
            within("yes", *p, 0.0, 1.0)?;
        }
    }
    let mut sums = vec![0.0; nodes.len()];
    let mut states = Vec::with_capacity(nodes.len());
    let evidence = walk(nodes, &mut states, 1.0, &mut sums);
    if evidence <= 0.0 {
        return Err(CalcError::Impossible);
    }
    Ok(Posterior {
        yes: sums.into_iter().map(|s| s / evidence).collect(),
        evidence,
    })
}

/// Adds up every way to go on from `states`; branches that cannot be are not walked.
fn walk(nodes: &[Node], states: &mut Vec<bool>, weight: f64, sums: &mut [f64]) -> f64 {
    let Some(node) = nodes.get(states.len()) else {
        for (sum, state) in sums.iter_mut().zip(states.iter()) {
            if *state {
                *sum += weight;
            }
        }
        return weight;
    };
    let row = node
        .parents
        .iter()
        .fold(0, |row, parent| row * 2 + usize::from(states[*parent]));
    let mut total = 0.0;
    for state in [false, true] {
        let chance = if state {
            node.yes[row]
        } else {
            1.0 - node.yes[row]
        };
        if chance > 0.0 && node.seen.is_none_or(|seen| seen == state) {
            states.push(state);
            total += walk(nodes, states, weight * chance, sums);
            states.pop();
        }
    }
    total
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn node(parents: &[usize], yes: &[f64], seen: Option<bool>) -> Node {
        Node {
            parents: parents.to_vec(),
            yes: yes.to_vec(),
            seen,
        }
    }

    #[test]
    fn burglary() {
        // Russell & Norvig, burglary network: P(burglary | both call) = 0.284.
        let p = posterior(&[
            node(&[], &[0.001], None),
            node(&[], &[0.002], None),
            node(&[0, 1], &[0.001, 0.29, 0.94, 0.95], None),
            node(&[2], &[0.05, 0.9], Some(true)),
            node(&[2], &[0.01, 0.7], Some(true)),
        ])
        .expect("possible");
        assert!((p.yes[0] - 0.284).abs() <= 0.0005, "{p:?}");
    }

    #[test]
    fn refusals() {
        assert!(posterior(&[]).is_err());
        assert!(posterior(&vec![node(&[], &[0.5], None); MOST_NODES + 1]).is_err());
        assert!(posterior(&[node(&[0], &[0.5, 0.5], None)]).is_err());
        assert!(posterior(&[node(&[], &[0.5, 0.5], None)]).is_err());
        assert!(posterior(&[node(&[], &[f64::NAN], None)]).is_err());
        let impossible = posterior(&[node(&[], &[0.0], Some(true))]);
        assert_eq!(impossible, Err(CalcError::Impossible));
    }

    proptest! {
        #[test]
        fn two_nodes_follow_bayes(a in 0.01..0.99f64, no in 0.01..0.99f64, yes in 0.01..0.99f64) {
            let p = posterior(&[node(&[], &[a], None), node(&[0], &[no, yes], Some(true))]);
            let p = p.expect("possible");
            let evidence = a * yes + (1.0 - a) * no;
            prop_assert!((p.yes[0] - a * yes / evidence).abs() < 1e-12);
            prop_assert!((p.evidence - evidence).abs() < 1e-12);
        }
    }
}
