//! `several-fault-posterior`

use std::collections::BTreeMap;

use calc::fault_finder::{
    Faults, Link, Model, Observation, Question, posterior, posterior_working,
};
use calc::working::{Method, Working};

use super::fault_posterior::no_strangers;
use crate::card::Contract;
use crate::shape::{Share, contract};
use crate::{MethodError, Why};

type Chances = BTreeMap<String, Share>;

contract! {
    /// Faults of which some may be there together, and what was seen.
    struct Input {
        /// Chance of each fault beforehand; something not in the list is one of them.
        priors: Chances,
        /// For each fault, the chance that it shows a sign; signs left out it never shows.
        links: BTreeMap<String, Chances>,
        /// Chance that each sign shows by itself.
        leaks: Chances,
        /// Signs that were looked for: there or not. Others say nothing.
        seen: BTreeMap<String, bool>,
        /// Faults at once, at most: 1, 2 or 3. At least one is there.
        faults_at_once: u64 = 3,
    }
}

contract! {
    /// What the signs say.
    struct Output {
        /// Probability of each fault; they add up to more than 1 where several may be there.
        posteriors: BTreeMap<String, f64>,
        /// The likeliest set of faults.
        likeliest: Vec<String>,
        /// Probability that these and no others are there.
        likeliest_probability: f64,
        /// Probability of one, two, three faults at once.
        number: Vec<f64>,
        /// Probability of what was seen.
        evidence: f64,
        /// For each fault and sign, what the sign adds: log odds with it less log odds without it.
        why: BTreeMap<String, BTreeMap<String, f64>>,
        /// ln (Π P(sign) / P(all signs)): above 0 the signs go together badly.
        conflict: f64,
        /// At most how often the likeliest faults give signs as unlikely as these.
        fit: f64,
        /// The sign that goes with the others least, where the signs contradict each other.
        odd: Option<String>,
    }
}

/// The contract.
pub(crate) struct SeveralFaults;

impl Contract for SeveralFaults {
    const METHOD: Method = posterior::METHOD;
    const SUMMARY: &'static str = "method-several-fault-posterior";
    const FORMULA: &'static str = "w(S) = Π p / (1 − p) · Π P(sign | S), 1 ≤ |S| ≤ 3; P(f) = Σ w(S with f) / Σ w(S); P(absent | S) = (1 − leak) · Π (1 − link)";
    const NAMES: &'static [(&'static str, &'static str)] = &[("p", "priors"), ("leak", "leaks")];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        no_strangers("links", input.links.keys(), &input.priors)?;
        let faults = match input.faults_at_once {
            1 => Faults::One,
            2 => Faults::Two,
            3 => Faults::Three,
            other => {
                let allowed = "1 | 2 | 3".to_owned();
                let why = Why::NotAllowed { allowed };
                return Err(MethodError::at("faults_at_once", other, why));
            }
        };
        let mut questions = Vec::with_capacity(input.seen.len());
        for sign in input.seen.keys() {
            let Some(leak) = input.leaks.get(sign) else {
                return Err(MethodError::at(format!("leaks.{sign}"), "", Why::Missing));
            };
            let link = |(cause, fault): (usize, &String)| {
                let chance = input.links.get(fault)?.get(sign)?.0;
                Some(Link { cause, chance })
            };
            questions.push(Question {
                leak: leak.0,
                links: input.priors.keys().enumerate().filter_map(link).collect(),
            });
        }
        let answers = input.seen.values().enumerate();
        let seen: Vec<Observation> = answers
            .map(|(question, yes)| Observation::Answer {
                question,
                yes: *yes,
            })
            .collect();
        let priors = input.priors.values().map(|p| p.0).collect();
        let model = Model::new(priors, questions)?;
        let found = posterior(&model, &seen, faults)?;
        let faults: Vec<&String> = input.priors.keys().collect();
        let signs: Vec<&String> = input.seen.keys().collect();
        let first = found.sets.first();
        let named = |values: &[f64]| {
            let names = signs.iter().map(|sign| (*sign).clone());
            names.zip(values.iter().copied()).collect()
        };
        let out = Output {
            likeliest: first.map_or_else(Vec::new, |set| {
                set.causes.iter().map(|i| faults[*i].clone()).collect()
            }),
            likeliest_probability: first.map_or(0.0, |set| set.probability),
            number: found.number.clone(),
            evidence: found.ln_evidence.exp(),
            why: faults
                .iter()
                .zip(&found.why)
                .map(|(fault, row)| ((*fault).clone(), named(row)))
                .collect(),
            conflict: found.conflict.conf,
            fit: found.conflict.fit.exp(),
            odd: found.conflict.odd().map(|i| signs[i].clone()),
            posteriors: faults
                .iter()
                .map(|fault| (*fault).clone())
                .zip(found.causes.iter().copied())
                .collect(),
        };
        let first = found.ranked().first().copied().unwrap_or(0);
        Ok((out, Some(posterior_working(&model, &found, first))))
    }
}
