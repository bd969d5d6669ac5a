//! What must be bought for a fastener: the parts of a set that one does not hold yet.

use rust_decimal::Decimal;

use super::Fit;
use super::rank::{Ranked, rank};
use crate::entry::{EstimateMade, PriceLine, TaxRule};
use crate::estimate;
use crate::quote::Totals;
use crate::sheet::{Counter, FastenerFamily, NoseSet, ShopCard, ToolModel};

/// A part of a nose set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartKind {
    /// Collet, jaws or draw mandrel.
    Collet,
    /// Anvil or nosepiece.
    Anvil,
    /// Housing.
    Housing,
}

impl PartKind {
    pub(crate) const ALL: [PartKind; 3] = [PartKind::Collet, PartKind::Anvil, PartKind::Housing];

    /// As written in JSON.
    pub fn key(self) -> &'static str {
        match self {
            Self::Collet => "collet",
            Self::Anvil => "anvil",
            Self::Housing => "housing",
        }
    }

    /// Its part number; only a housing's may be missing.
    pub(crate) fn number(self, nose: &NoseSet) -> Option<&str> {
        match self {
            Self::Collet => Some(&nose.collet.number),
            Self::Anvil => Some(&nose.anvil.number),
            Self::Housing => nose.housing.number.as_deref(),
        }
    }

    fn counter(self, nose: &NoseSet) -> Counter {
        match self {
            Self::Collet => nose.collet.counter,
            Self::Anvil => nose.anvil.counter,
            Self::Housing => nose.housing.counter,
        }
    }
}

/// A part to buy.
#[derive(Clone, Debug, PartialEq)]
pub struct Line<'a> {
    /// Which part.
    pub part: PartKind,
    /// Its number; `None`: compare it with the one that is held.
    pub number: Option<&'a str>,
    /// Price without tax; `None` where no sheet says.
    pub price: Option<Decimal>,
    /// On hand over the counter; `None` where nobody has counted.
    pub on_hand: Option<u32>,
}

/// A set that would do, and what of it must be bought.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer<'a> {
    /// The set.
    pub set: Ranked<'a>,
    /// Parts to buy, one at least.
    pub buy: Vec<Line<'a>>,
    /// Sums of the prices that are known.
    pub totals: Totals,
}

impl Offer<'_> {
    /// Parts whose price no sheet knows: the sums go without them.
    pub fn without_price(&self) -> usize {
        self.buy.iter().filter(|l| l.price.is_none()).count()
    }
}

/// The counter's answer for a fastener.
#[derive(Clone, Debug, PartialEq)]
pub struct Sale<'a> {
    /// The best set that is held or can be put together, if one fits or is undecided.
    pub held: Option<Ranked<'a>>,
    /// What to buy: the best offer first. Empty if a held set fits, and if no set does.
    pub offers: Vec<Offer<'a>>,
}

/// The sets that can be put together from `held`: these, and those of `all` whose every part has the
/// number of a part of one of them.
pub fn at_hand<'a>(held: &[&'a NoseSet], all: &[&'a NoseSet]) -> Vec<&'a NoseSet> {
    let mut sets = held.to_vec();
    for nose in all {
        let known = sets.iter().any(|h| h.id == nose.id);
        if !known && PartKind::ALL.iter().all(|part| is_held(*part, nose, held)) {
            sets.push(nose);
        }
    }
    sets
}

/// Whether a part of `nose` is among those of `held`. A housing without a number may or may not be.
fn is_held(part: PartKind, nose: &NoseSet, held: &[&NoseSet]) -> bool {
    let number = part.number(nose);
    number.is_some() && held.iter().any(|h| part.number(h) == number)
}

/// What to buy so that `model` can set `fastener`, for who holds `held`. `all` is the shelf; what a
/// part costs stands in its set's sheet, else in the model's under the same number.
///
/// Offers come in this order: sets that fit before undecided ones, all prices known before others,
/// fewest parts, lowest price, then as [`rank`] has them.
pub fn sale<'a>(
    model: &'a ToolModel,
    fastener: &FastenerFamily,
    held: &[&'a NoseSet],
    all: &[&'a NoseSet],
    shop: Option<&ShopCard>,
) -> Sale<'a> {
    let sets = at_hand(held, all);
    let best = rank(model, fastener, sets.iter().copied());
    let best = best.into_iter().next();
    let best = best.filter(|r| r.found.fit() != Fit::No);
    if best.as_ref().is_some_and(|r| r.found.fit() == Fit::Yes) {
        return Sale {
            held: best,
            offers: Vec::new(),
        };
    }
    let is_whole = |nose: &NoseSet| sets.iter().any(|s| s.id == nose.id);
    let mut offers: Vec<Offer> = rank(model, fastener, all.iter().copied())
        .into_iter()
        .filter(|r| r.found.fit() != Fit::No && !is_whole(r.nose))
        .map(|set| offer(model, set, held, shop))
        .collect();
    // Stable: sets that cost the same stay as ranked.
    offers.sort_by_key(|o| {
        let open = o.set.found.fit() != Fit::Yes;
        (open, o.without_price(), o.buy.len(), o.totals.net)
    });
    Sale { held: best, offers }
}

fn offer<'a>(
    model: &'a ToolModel,
    set: Ranked<'a>,
    held: &[&NoseSet],
    shop: Option<&ShopCard>,
) -> Offer<'a> {
    let nose = set.nose;
    let buy: Vec<Line> = PartKind::ALL
        .into_iter()
        .filter(|part| !is_held(*part, nose, held))
        .map(|part| {
            let number = part.number(nose);
            let counter = part.counter(nose);
            let listed = || {
                model
                    .parts
                    .iter()
                    .find(|p| Some(p.number.as_str()) == number)
            };
            Line {
                part,
                number,
                price: counter.price.or_else(|| listed().map(|p| p.price)),
                on_hand: counter.on_hand,
            }
        })
        .collect();
    let totals = estimate::totals(&EstimateMade {
        lines: buy.iter().filter_map(priced).collect(),
        currency: shop.map_or(String::new(), |s| s.currency.clone()),
        tax_percent: shop.map_or(Decimal::ZERO, |s| s.tax_percent),
        tax_rule: TaxRule::PerLine,
        ..EstimateMade::default()
    });
    Offer { set, buy, totals }
}

fn priced(line: &Line) -> Option<PriceLine> {
    Some(PriceLine {
        count: Decimal::ONE,
        each: line.price?,
        ..PriceLine::default()
    })
}
