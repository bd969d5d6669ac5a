//! Whether what was seen contradicts itself.
//!
//! # Formula
//! conf = ln (Π P(eᵢ) / P(e)): above 0 the observations are less likely together than they would be if
//! each had nothing to do with the others. Five that agree can hide in it one that does not, so each has
//! its own measure, too: surprise = ln (P(eᵢ) / P(eᵢ | the others)), which is what its removal takes off
//! conf. A sign is not odd for being rare, only for being made unlikely by the others.
//!
//! They are said to contradict each other when conf reaches ln 10 ([`CONTRADICT`]) or one surprise ln 20
//! ([`SURPRISES`]); the odd one is the one with the greatest surprise.
//!
//! # Validity
//! A rare cause that explains all of it can have a conf above 0, too: the number asks for a second
//! look, it does not say that an answer is wrong. The two bounds are our own choice.
//!
//! # Source
//! Conflict measure: Jensen, Chamberlain, Nordahl & Jensen (1991), *Analysis in HUGIN of data conflict*
//! (from memory).

/// From this conf on, observations contradict each other: ten times less likely together than apart.
pub const CONTRADICT: f64 = std::f64::consts::LN_10;

/// From this surprise on, one contradicts the others, which make it twenty times less likely: ln 20.
pub const SURPRISES: f64 = std::f64::consts::LN_10 + std::f64::consts::LN_2;

/// How well observations go together. Natural logarithms.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// ln (Π P(eᵢ) / P(e)).
    pub conf: f64,
    /// For each observation, ln (P(eᵢ) / P(eᵢ | the others)): above 0 the others make it unlikely.
    pub surprise: Vec<f64>,
}

impl Conflict {
    /// The odd observation, if they contradict each other: its place.
    pub fn odd(&self) -> Option<usize> {
        let by_surprise = |a: &usize, b: &usize| self.surprise[*a].total_cmp(&self.surprise[*b]);
        let odd = (0..self.surprise.len()).max_by(by_surprise)?;
        (self.conf >= CONTRADICT || self.surprise[odd] >= SURPRISES).then_some(odd)
    }
}

/// From ln P(e), ln P(eᵢ) of each alone and ln P(e without eᵢ).
pub(super) fn conflict(
    all: f64,
    alone: impl Iterator<Item = f64>,
    without: impl Iterator<Item = f64>,
) -> Conflict {
    let mut conf = 0.0 - all;
    let surprise = alone
        .zip(without)
        .map(|(alone, without)| {
            conf += alone;
            alone - (all - without)
        })
        .collect();
    Conflict { conf, surprise }
}
