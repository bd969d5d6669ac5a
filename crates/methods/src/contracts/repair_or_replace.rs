//! `repair-or-replace`

use calc::Message;
use calc::repair_or_replace::{self as years, Asked, COME_BACKS};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Money, Positive, contract};

contract! {
    /// A part that wears.
    struct WearIn {
        /// Pulls since it was new; 0 where the repair renews it.
        used: u64 = 0,
        /// Pulls that its readings leave of its life, where it was gauged: they stand before `used`.
        gauged_left: Option<u64> = None,
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
        /// Repairs that were done again.
        come_backs: u64 = COME_BACKS.0,
        /// Of how many repairs.
        of_repairs: u64 = COME_BACKS.1,
        /// All parts that wear: a new tool has them, too.
        wear: Vec<WearIn> = Vec::new(),
        /// Pulls between two readings of the counter.
        pulls: u64,
        /// Days between them.
        days: u64,
        /// Price of a new tool.
        price_new: Money,
        /// Its life, years: both are reckoned over these.
        life_years: Positive,
    }
}

contract! {
    /// Both costs of a year.
    struct Output {
        /// Pulls a year.
        pulls_a_year: u64,
        /// How often each wear part is renewed in the repaired tool over the years.
        renewed: Vec<u64>,
        /// What that costs.
        wear_cost: Money,
        /// How often each is renewed in a new tool.
        renewed_new: Vec<u64>,
        /// What that costs.
        wear_cost_new: Money,
        /// The cost of renewals that both pay alike.
        wear_cost_alike: Money,
        /// The share of the repair for a come-back.
        come_back: Money,
        /// A year of the repaired tool.
        with_repair: Money,
        /// A year of a new tool.
        new_tool: Money,
        /// A year of the repaired tool beside what both pay alike.
        repair_beside: Money,
        /// A year of a new tool beside it.
        new_beside: Money,
        /// Years that the repaired tool must last for both to cost the same; absent where no time makes them.
        even_years: Option<f64>,
    }
}

/// The contract.
pub(crate) struct RepairOrReplace;

impl Contract for RepairOrReplace {
    const METHOD: Method = years::METHOD;
    const SUMMARY: &'static str = "method-repair-or-replace";
    const FORMULA: &'static str = "N_T = ⌊⌊365 · pulls / days⌋ · T⌋; l = gauged, else max(0, L − u); r(l) = 1 + ⌊(N_T − l) / L⌋ where l ≤ N_T, else 0; C_r = (Q + a / b · Q + Σ r(l) · c) / T; C_n = (P + Σ r(L) · c) / T; W_c = Σ min(r(l), r(L)) · c; D_r = C_r − W_c / T; D_n = C_n − W_c / T; H = (Q + a / b · Q) / (C_n − Σ r(l) · c / T)";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("Q", "repair"),
        ("a", "come_backs"),
        ("b", "of_repairs"),
        ("u", "wear"),
        ("L", "wear"),
        ("c", "wear"),
        ("W_r", "wear"),
        ("W_n", "wear"),
        ("W_c", "wear"),
        ("P", "price_new"),
        ("T", "life_years"),
    ];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let wear: Vec<years::WearPart> = input
            .wear
            .iter()
            .map(|part| years::WearPart {
                used: part.used,
                gauged_left: part.gauged_left,
                life: part.life,
                cents: part.cost.cents,
            })
            .collect();
        let asked = Asked {
            repair: input.repair.cents,
            come_backs: (input.come_backs, input.of_repairs),
            wear: &wear,
            pulls_a_year: years::pulls_a_year(input.pulls, input.days)?,
            price_new: input.price_new.cents,
            life_years: input.life_years.0,
        };
        let found = years::compare(&asked)?;
        let money = |cents| Money { cents };
        let out = Output {
            pulls_a_year: asked.pulls_a_year,
            renewed: found.renewals.iter().map(|r| r.times).collect(),
            wear_cost: money(found.wear),
            renewed_new: found.renewals.iter().map(|r| r.times_new).collect(),
            wear_cost_new: money(found.wear_new),
            wear_cost_alike: money(found.wear_alike),
            come_back: money(found.come_back),
            with_repair: money(found.with_repair),
            new_tool: money(found.new_tool),
            repair_beside: money(found.repair_beside),
            new_beside: money(found.new_beside),
            even_years: found.even_years,
        };
        let of = Message::new("given-come-backs");
        Ok((out, Some(years::working(&asked, &found, of))))
    }
}
