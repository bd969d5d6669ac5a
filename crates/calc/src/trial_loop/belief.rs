//! What the joints say of the tool's offset and of the spread between joints.
//!
//! # Formula
//! Each joint at setting x gives v = x + b + ε: b the tool's offset, ε normal with the spread σ between
//! joints. A reading of v adds the gauge's own normal doubt u. For each σ of the prior's parts b is
//! normal with precision 1/u₀² + Σ 1/(σ² + u²); the parts are weighted by how well they foretold the
//! readings. A joint that was only looked at says on which side of a limit v lies: b is then carried on
//! a grid, each point weighted by the probability of what was seen (a censored reading).
//!
//! # Source
//! Gelman et al., Bayesian Data Analysis, 3rd ed., 2.5 (normal mean), 8.7 (censored data), from memory.

use super::{Joint, Prior, Read, Window};
use crate::normal::{self, between};

/// Points of the grid for each part of the spread.
const POINTS: usize = 101;
/// Standard deviations that the grid reaches either side.
const REACH: f64 = 6.0;

/// One part: with `weight`, the spread is `spread` and the offset is normal about `offset`; a point of the
/// grid has no doubt of its own.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Part {
    weight: f64,
    spread: f64,
    offset: f64,
    offset_sd: f64,
}

/// What is held of the offset and of the spread.
#[derive(Clone, Debug, PartialEq)]
pub struct Belief {
    parts: Vec<Part>,
}

impl Belief {
    /// What is held after `joints`, beginning with `prior` and `spreads`, its values of the spread with the logarithms of their weights.
    pub(super) fn after(
        prior: &Prior,
        spreads: &[(f64, f64)],
        window: Window,
        joints: &[Joint],
    ) -> Self {
        let mut parts: Vec<Part> = spreads
            .iter()
            .map(|(spread, weight)| Part {
                weight: *weight,
                spread: *spread,
                offset: prior.offset_mm,
                offset_sd: prior.offset_sd_mm,
            })
            .collect();
        // Weights are kept as logarithms until all joints are in.
        for joint in joints {
            if let Read::Measured {
                value_mm,
                standard_mm,
            } = joint.read
            {
                for part in &mut parts {
                    part.measured(value_mm - joint.at_mm, standard_mm);
                }
            }
        }
        // Looks of one kind at one setting count together.
        let mut looked: Vec<(&Joint, f64)> = Vec::new();
        for joint in joints {
            if matches!(joint.read, Read::Measured { .. }) {
                continue;
            }
            match looked.iter_mut().find(|(other, _)| *other == joint) {
                Some((_, count)) => *count += 1.0,
                None => looked.push((joint, 1.0)),
            }
        }
        if !looked.is_empty() {
            parts = parts
                .iter()
                .flat_map(|part| part.looked_at(window, &looked))
                .collect();
        }
        let most = parts.iter().map(|p| p.weight).fold(f64::MIN, f64::max);
        let mut sum = 0.0;
        for part in &mut parts {
            part.weight = (part.weight - most).exp();
            sum += part.weight;
        }
        for part in &mut parts {
            part.weight /= sum;
        }
        Self { parts }
    }

    fn mean_of(&self, term: impl Fn(&Part) -> f64) -> f64 {
        self.parts.iter().map(|p| p.weight * term(p)).sum()
    }

    /// Most likely offset of the tool, mm.
    pub fn offset_mm(&self) -> f64 {
        self.mean_of(|p| p.offset)
    }

    /// Its standard uncertainty, mm.
    pub fn offset_sd_mm(&self) -> f64 {
        let mean = self.offset_mm();
        self.mean_of(|p| p.offset_sd.powi(2) + (p.offset - mean).powi(2))
            .sqrt()
    }

    /// Standard deviation between joints, mm: root of the mean square.
    pub fn spread_mm(&self) -> f64 {
        self.mean_of(|p| p.spread.powi(2)).sqrt()
    }

    /// How much each part of the belief counts.
    pub(super) fn weights(&self) -> impl Iterator<Item = f64> {
        self.parts.iter().map(|part| part.weight)
    }

    /// For each part of the belief: how likely a joint set at `at_mm` lies below, inside, above.
    pub(super) fn sides(&self, window: Window, at_mm: f64) -> Vec<[f64; 3]> {
        let sides = |part: &Part| {
            let sd = part.offset_sd.hypot(part.spread);
            let middle = at_mm + part.offset;
            let below = normal::below((window.lower_mm - middle) / sd);
            let above = normal::below((middle - window.upper_mm) / sd);
            [below, 1.0 - below - above, above]
        };
        self.parts.iter().map(sides).collect()
    }

    /// The probability that a joint set at `at_mm` lies inside the window.
    pub fn inside(&self, window: Window, at_mm: f64) -> f64 {
        self.mean_of(|p| {
            let sd = p.offset_sd.hypot(p.spread);
            let middle = at_mm + p.offset;
            between(
                (window.lower_mm - middle) / sd,
                (window.upper_mm - middle) / sd,
            )
        })
    }
}

impl Part {
    fn measured(&mut self, offset: f64, standard: f64) {
        let noise = self.spread.powi(2) + standard.powi(2);
        let held = self.offset_sd.powi(2);
        let foretold = held + noise;
        let beyond = offset - self.offset;
        self.weight -= 0.5 * (foretold.ln() + beyond * beyond / foretold);
        self.offset += beyond * held / foretold;
        self.offset_sd = (held * noise / foretold).sqrt();
    }

    fn looked_at(&self, window: Window, joints: &[(&Joint, f64)]) -> impl Iterator<Item = Part> {
        let width = 2.0 * REACH / (POINTS - 1) as f64;
        (0..POINTS).map(move |i| {
            let z = width.mul_add(i as f64, -REACH);
            let offset = self.offset + z * self.offset_sd;
            let seen: f64 = joints
                .iter()
                .map(|(joint, count)| {
                    let low = (window.lower_mm - joint.at_mm - offset) / self.spread;
                    let high = (window.upper_mm - joint.at_mm - offset) / self.spread;
                    let chance = match joint.read {
                        Read::Below => between(f64::NEG_INFINITY, low),
                        Read::Above => between(high, f64::INFINITY),
                        Read::Inside | Read::Measured { .. } => between(low, high),
                    };
                    count * chance.max(f64::MIN_POSITIVE).ln()
                })
                .sum();
            Part {
                weight: self.weight - z * z / 2.0 + seen,
                spread: self.spread,
                offset,
                offset_sd: 0.0,
            }
        })
    }
}
