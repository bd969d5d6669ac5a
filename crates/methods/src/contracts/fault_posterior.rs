//! `single-fault-posterior`, `noisy-or-posterior`

use std::collections::BTreeMap;

use calc::working::{Method, Working};
use calc::{bayes, noisy_or};

use crate::card::Contract;
use crate::shape::{NotNegative, Share, contract};
use crate::{MethodError, Why};

type Chances = BTreeMap<String, Share>;

contract! {
    /// Rival faults, of which exactly one is there, and what was seen.
    struct SingleInput {
        /// Weight of each fault beforehand, on any scale.
        priors: BTreeMap<String, NotNegative>,
        /// For each fault, the chance of each sign if that fault is there.
        likelihoods: BTreeMap<String, Chances>,
        /// Signs that were looked for: there or not. Others say nothing.
        seen: BTreeMap<String, bool>,
    }
}

contract! {
    /// What the signs say.
    struct SingleOutput {
        /// Probability of each fault.
        posteriors: BTreeMap<String, f64>,
        /// Prior weight times likelihoods of each fault; 0 where that is too small for a number.
        joint: BTreeMap<String, f64>,
        /// The likeliest fault.
        likeliest: String,
    }
}

/// The contract.
pub(crate) struct SingleFault;

impl Contract for SingleFault {
    const METHOD: Method = bayes::METHOD;
    const SUMMARY: &'static str = "method-single-fault-posterior";
    const FORMULA: &'static str = "P(f | seen) ∝ P(f) · Π P(sign | f), summed in logarithms";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("prior", "priors"), ("hypotheses", "priors")];
    type In = SingleInput;
    type Out = SingleOutput;

    fn compute(input: &SingleInput) -> Result<(SingleOutput, Option<Working>), MethodError> {
        no_strangers("likelihoods", input.likelihoods.keys(), &input.priors)?;
        let priors: Vec<f64> = input.priors.values().map(|p| p.0).collect();
        let mut logs = Vec::with_capacity(priors.len());
        for fault in input.priors.keys() {
            let mut sum = 0.0;
            for (sign, there) in &input.seen {
                let chance = input.likelihoods.get(fault).and_then(|c| c.get(sign));
                let Some(chance) = chance else {
                    let field = format!("likelihoods.{fault}.{sign}");
                    return Err(MethodError::at(field, "", Why::Missing));
                };
                sum += (if *there { chance.0 } else { 1.0 - chance.0 }).ln();
            }
            logs.push(sum);
        }
        let posterior = bayes::posterior(&priors, &logs)?;
        let joint = priors.iter().zip(&logs).map(|(p, l)| (p.ln() + l).exp());
        let names = || input.priors.keys().cloned();
        let likeliest = names()
            .zip(&posterior)
            .max_by(|a, b| a.1.total_cmp(b.1))
            .map(|(name, _)| name);
        let out = SingleOutput {
            joint: names().zip(joint).collect(),
            likeliest: likeliest.unwrap_or_default(),
            posteriors: names().zip(posterior).collect(),
        };
        Ok((out, None))
    }
}

contract! {
    /// Faults that may be there together, and what was seen.
    struct NoisyInput {
        /// Chance of each fault beforehand.
        priors: Chances,
        /// For each fault, the chance that it shows a sign; signs left out it never shows.
        links: BTreeMap<String, Chances>,
        /// Chance that each sign shows by itself.
        leaks: Chances,
        /// Signs that were looked for: there or not.
        seen: BTreeMap<String, bool>,
    }
}

contract! {
    /// What the signs say.
    struct NoisyOutput {
        /// Probability of each fault; they do not add up to 1.
        posteriors: BTreeMap<String, f64>,
        /// Probability of what was seen.
        evidence: f64,
    }
}

/// The contract.
pub(crate) struct NoisyOr;

impl Contract for NoisyOr {
    const METHOD: Method = noisy_or::METHOD;
    const SUMMARY: &'static str = "method-noisy-or-posterior";
    const FORMULA: &'static str = "P(sign absent | faults) = (1 − leak) · Π (1 − link)";
    const NAMES: &'static [(&'static str, &'static str)] = &[("faults", "priors")];
    type In = NoisyInput;
    type Out = NoisyOutput;

    fn compute(input: &NoisyInput) -> Result<(NoisyOutput, Option<Working>), MethodError> {
        no_strangers("links", input.links.keys(), &input.priors)?;
        let link = |fault: &String, sign: &String| {
            let chance = input.links.get(fault).and_then(|c| c.get(sign));
            chance.map_or(0.0, |c| c.0)
        };
        let mut signs = Vec::with_capacity(input.seen.len());
        for (sign, present) in &input.seen {
            let Some(leak) = input.leaks.get(sign) else {
                return Err(MethodError::at(format!("leaks.{sign}"), "", Why::Missing));
            };
            signs.push(noisy_or::Sign {
                present: *present,
                leak: leak.0,
                links: input.priors.keys().map(|f| link(f, sign)).collect(),
            });
        }
        let priors: Vec<f64> = input.priors.values().map(|p| p.0).collect();
        let p = noisy_or::posterior(&priors, &signs)?;
        let out = NoisyOutput {
            posteriors: input.priors.keys().cloned().zip(p.faults).collect(),
            evidence: p.evidence,
        };
        Ok((out, None))
    }
}

/// Refuses a fault under `field` that has no prior: most likely a slip of the pen.
pub(crate) fn no_strangers<'a, T>(
    field: &str,
    names: impl Iterator<Item = &'a String>,
    priors: &BTreeMap<String, T>,
) -> Result<(), MethodError> {
    let mut strangers = names.filter(|name| !priors.contains_key(*name));
    if let Some(name) = strangers.next() {
        let nearest = crate::nearest(name, priors.keys().map(String::as_str));
        let nearest = nearest.map(str::to_owned);
        return Err(MethodError::at(name, "", Why::Unknown { nearest }).under(field));
    }
    Ok(())
}
