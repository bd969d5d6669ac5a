//! All sets in order, and what a tool can set with the sets at hand.

use std::cmp::Ordering;

use super::criteria::{bears_kn, compare};
use super::{Fit, Match};
use crate::sheet::{FastenerFamily, NoseSet, ToolModel};

/// A nose set in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Ranked<'a> {
    /// The set.
    pub nose: &'a NoseSet,
    /// Its criteria.
    pub found: Match,
    /// Pull that tool and set bear beyond what setting takes, kN; below zero if it is too little,
    /// `None` where the set's sheet does not say.
    pub margin_kn: Option<f64>,
}

impl Ranked<'_> {
    /// Which of two comes first: what fits, then what is undecided, then what does not fit; among
    /// these the fewest criteria not met, the fewest undecided, the largest margin of pull (none
    /// known comes last), and the id.
    pub(super) fn before(&self, other: &Self) -> Ordering {
        let place = |fit| match fit {
            Fit::Yes => 0,
            Fit::Unknown => 1,
            Fit::No => 2,
        };
        let key = |r: &Self| {
            let found = &r.found;
            (
                place(found.fit()),
                found.of(Fit::No),
                found.of(Fit::Unknown),
            )
        };
        let margin = |r: &Self| r.margin_kn.unwrap_or(f64::NEG_INFINITY);
        key(self)
            .cmp(&key(other))
            .then_with(|| margin(other).total_cmp(&margin(self)))
            .then_with(|| self.nose.id.cmp(&other.nose.id))
    }
}

/// Every one of `noses` for `fastener` on `model`, the best first.
pub fn rank<'a>(
    model: &ToolModel,
    fastener: &FastenerFamily,
    noses: impl IntoIterator<Item = &'a NoseSet>,
) -> Vec<Ranked<'a>> {
    let mut ranked: Vec<Ranked> = noses
        .into_iter()
        .map(|nose| Ranked {
            nose,
            found: compare(model, fastener, nose),
            margin_kn: bears_kn(model, nose).map(|bears| bears - fastener.force_kn.1),
        })
        .collect();
    ranked.sort_by(Ranked::before);
    ranked
}

/// A fastener that a tool can set, or may be able to.
#[derive(Clone, Debug, PartialEq)]
pub struct Settable<'a> {
    /// The fastener.
    pub fastener: &'a FastenerFamily,
    /// The best set for it: it fits, or it is undecided.
    pub best: Ranked<'a>,
}

/// Which of `fasteners` the tool can set with `noses`: sure ones first, then undecided ones, each in
/// order of id. Fasteners that no set fits are left out.
pub fn settable<'a>(
    model: &ToolModel,
    fasteners: impl IntoIterator<Item = &'a FastenerFamily>,
    noses: &[&'a NoseSet],
) -> Vec<Settable<'a>> {
    let mut found: Vec<Settable> = fasteners
        .into_iter()
        .filter_map(|fastener| {
            let best = rank(model, fastener, noses.iter().copied());
            let best = best.into_iter().next()?;
            (best.found.fit() != Fit::No).then_some(Settable { fastener, best })
        })
        .collect();
    found.sort_by(|a, b| {
        let open = |s: &Settable| s.best.found.fit() != Fit::Yes;
        (open(a), &a.fastener.id).cmp(&(open(b), &b.fastener.id))
    });
    found
}
