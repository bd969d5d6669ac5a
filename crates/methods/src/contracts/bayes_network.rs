//! `bayes-network-posterior`

use std::collections::BTreeMap;

use calc::bayes_network::{METHOD, Node, posterior};
use calc::working::{Method, Working};

use crate::card::Contract;
use crate::shape::{Share, contract};
use crate::{MethodError, Why};

contract! {
    /// A yes/no question.
    struct NodeIn {
        /// Its name.
        name: String,
        /// Questions that it hangs on, all listed before it.
        parents: Vec<String> = Vec::new(),
        /// Chance of yes for each state of the parents: counted in binary, no as 0, the last parent
        /// changing fastest.
        yes: Vec<Share>,
    }
}

contract! {
    /// A network and what was seen.
    struct Input {
        /// The questions, each after its parents.
        nodes: Vec<NodeIn>,
        /// Answers that are known.
        seen: BTreeMap<String, bool> = BTreeMap::new(),
    }
}

contract! {
    /// What follows.
    struct Output {
        /// Probability of yes for each question.
        posteriors: BTreeMap<String, f64>,
        /// Probability of what was seen.
        evidence: f64,
    }
}

/// The contract.
pub(crate) struct BayesNetwork;

impl Contract for BayesNetwork {
    const METHOD: Method = METHOD;
    const SUMMARY: &'static str = "method-bayes-network-posterior";
    const FORMULA: &'static str = "P(all) = Π P(node | parents)";
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let place =
            |name: &str, before: usize| input.nodes[..before].iter().position(|n| n.name == name);
        let unknown = |field: String, name: &str, known: usize| {
            let names = input.nodes[..known].iter().map(|n| n.name.as_str());
            let nearest = crate::nearest(name, names).map(str::to_owned);
            MethodError::at(field, name, Why::Unknown { nearest })
        };
        for name in input.seen.keys() {
            if place(name, input.nodes.len()).is_none() {
                return Err(unknown(format!("seen.{name}"), name, input.nodes.len()));
            }
        }
        let mut nodes = Vec::with_capacity(input.nodes.len());
        for (i, node) in input.nodes.iter().enumerate() {
            let mut parents = Vec::with_capacity(node.parents.len());
            for (j, parent) in node.parents.iter().enumerate() {
                let field = || format!("nodes[{i}].parents[{j}]");
                parents.push(place(parent, i).ok_or_else(|| unknown(field(), parent, i))?);
            }
            nodes.push(Node {
                parents,
                yes: node.yes.iter().map(|p| p.0).collect(),
                seen: input.seen.get(&node.name).copied(),
            });
        }
        let p = posterior(&nodes)?;
        let names = input.nodes.iter().map(|n| n.name.clone());
        let out = Output {
            posteriors: names.zip(p.yes).collect(),
            evidence: p.evidence,
        };
        Ok((out, None))
    }
}
