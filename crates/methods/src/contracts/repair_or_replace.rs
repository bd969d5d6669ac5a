//! `repair-or-replace`

use calc::repair_or_replace::{self as year, Asked, COME_BACK_PERCENT};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Money, Positive, contract};

contract! {
    /// A part that wears and that the repair does not renew.
    struct WearIn {
        /// Pulls since it was new.
        used: u64,
        /// Its life, pulls.
        life: u64,
        /// What it costs to renew it once, part and hands.
        cost: Money,
    }
}

contract! {
    /// A repair and a new tool. Money in any currency, the same throughout, to the cent.
    struct Input {
        /// What the repair costs.
        repair: Money,
        /// Share of repairs that are done again, percent.
        come_back_percent: u64 = COME_BACK_PERCENT,
        /// Parts that wear and that the repair does not renew.
        wear: Vec<WearIn> = Vec::new(),
        /// Pulls between two readings of the counter.
        pulls: u64,
        /// Days between them.
        days: u64,
        /// Price of a new tool.
        price_new: Money,
        /// Its life, years.
        life_years: Positive,
    }
}

contract! {
    /// Both costs of a year.
    struct Output {
        /// Pulls a year.
        pulls_a_year: u64,
        /// How often each wear part is renewed within the year.
        renewed: Vec<u64>,
        /// What that costs.
        wear_cost: Money,
        /// The share of the repair for a come-back.
        come_back: Money,
        /// The year to come with the repair.
        with_repair: Money,
        /// A year of a new tool.
        new_tool: Money,
    }
}

/// The contract.
pub(crate) struct RepairOrReplace;

impl Contract for RepairOrReplace {
    const METHOD: Method = year::METHOD;
    const SUMMARY: &'static str = "method-repair-or-replace";
    const FORMULA: &'static str = "N = ⌊365 · pulls / days⌋; l = max(0, L − u) ≤ N: r = 1 + ⌊(N − l) / L⌋; C_r = Q + Σ r · c + s · Q / 100; C_n = P / T";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("Q", "repair"),
        ("s", "come_back_percent"),
        ("u", "wear"),
        ("L", "wear"),
        ("c", "wear"),
        ("P", "price_new"),
        ("T", "life_years"),
    ];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let wear: Vec<year::WearPart> = input
            .wear
            .iter()
            .map(|part| year::WearPart {
                used: part.used,
                life: part.life,
                cents: part.cost.cents,
            })
            .collect();
        let asked = Asked {
            repair: input.repair.cents,
            come_back_percent: input.come_back_percent,
            wear: &wear,
            pulls_a_year: year::pulls_a_year(input.pulls, input.days)?,
            price_new: input.price_new.cents,
            life_years: input.life_years.0,
        };
        let found = year::compare(&asked)?;
        let money = |cents| Money { cents };
        let renewed = found.renewals.iter().map(|r| r.map_or(0, |r| r.times));
        let out = Output {
            pulls_a_year: asked.pulls_a_year,
            renewed: renewed.collect(),
            wear_cost: money(found.wear),
            come_back: money(found.come_back),
            with_repair: money(found.with_repair),
            new_tool: money(found.new_tool),
        };
        Ok((out, Some(year::working(&asked, &found))))
    }
}
