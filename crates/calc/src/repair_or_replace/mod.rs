//! What a tool costs a year over the years that a new one lasts: repaired, and bought new.
//!
//! # Formula
//! Pulls a year N = ⌊365 · pulls / days⌋ between two readings of the counter. The horizon is T years, the life of
//! a new tool, the same for both: N_T = ⌊N · T⌋ pulls. A wear part of life L with l pulls left is renewed
//! r(l) = 1 + ⌊(N_T − l) / L⌋ times within it where l ≤ N_T, else never. In the repaired tool l is what its
//! readings leave of it, where it was gauged, else max(0, L − u) after u pulls, and L where the repair renews it. In a
//! new tool every part begins new: l = L. Renewals cost W_r = Σ r(l) · c and W_n = Σ r(L) · c.
//!
//! With the repair Q, of which a in b come back: C_r = (Q + a / b · Q + W_r) / T a year. With a new tool of price P:
//! C_n = (P + W_n) / T. Both cost the same where the repaired tool lasts H = (Q + a / b · Q) / (C_n − W_r / T)
//! years; nowhere if that is not above 0.
//!
//! Where the wear of both is large, it hides what differs. What both pay alike is W_c = Σ min(r(l), r(L)) · c; left
//! aside, a year costs D_r = (Q + a / b · Q + W_r − W_c) / T and D_n = (P + W_n − W_c) / T.
//!
//! Money is whole cents, so nothing is lost in a sum; a share of it is rounded half up to the cent.
//!
//! # Validity
//! Pulls go on as they did, prices stay, no interest. Beside its wear parts the repaired tool is taken to last the
//! horizon, as the new one does; H says how much of it it must last.
//!
//! # Errors
//! A counter that stood for 0 days, a life of no pulls or no years, more come-backs than repairs or no repairs,
//! sums of [`MOST_CENTS`] or more.
//!
//! # Source
//! Expected cost a year over one horizon without interest; the share of repairs that come back: common practice,
//! no source.

pub mod of_a_year;

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// This method.
pub const METHOD: Method = Method {
    name: "repair-or-replace",
    version: 3,
    source: "expected cost a year over the life of a new tool, without interest: common practice, no source; life in pulls, price and life of a new tool: model sheet; share of come-backs: the shop's own closed jobs, else common practice, no source",
};

/// Come-backs, and of how many repairs, where nobody counted them: 5 % (common practice, no source).
pub const COME_BACKS: (u64, u64) = (5, 100);

/// Money that a shop does not reach: below it every sum is exact.
pub const MOST_CENTS: u64 = 1_000_000_000_000;

/// Pulls that no counter shows.
const MOST_PULLS: f64 = 1e9;

/// Repairs that no shop makes: below it every share is exact.
const MOST_REPAIRS: f64 = 1e6;

/// A part that wears.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WearPart {
    /// Pulls since it was new; 0 where the repair renews it.
    pub used: u64,
    /// Pulls that its readings leave of its life; `None` where it was not gauged.
    pub gauged_left: Option<u64>,
    /// Its life, pulls.
    pub life: u64,
    /// What it costs to renew it once, part and hands, cents.
    pub cents: u64,
}

impl WearPart {
    /// Pulls that are left of its life.
    pub fn left(&self) -> u64 {
        self.gauged_left
            .unwrap_or_else(|| self.life.saturating_sub(self.used))
    }

    /// How often it is renewed within `pulls`, with `left` pulls left at their beginning.
    ///
    /// # Errors
    /// A life of no pulls.
    fn times(&self, left: u64, pulls: u64) -> Result<u64, CalcError> {
        within("L", self.life as f64, 1.0, MOST_PULLS)?;
        Ok(pulls
            .checked_sub(left)
            .map_or(0, |over| 1 + over / self.life))
    }
}

/// How often a wear part is renewed within the horizon, and what that costs in cents.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Renewals {
    /// Pulls that are left of its life in the repaired tool.
    pub left: u64,
    /// Times in the repaired tool.
    pub times: u64,
    /// What they cost.
    pub cents: u64,
    /// Times in a new tool.
    pub times_new: u64,
    /// What they cost.
    pub cents_new: u64,
}

/// What is compared.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asked<'a> {
    /// What the repair costs, cents.
    pub repair: u64,
    /// Come-backs, and of how many repairs.
    pub come_backs: (u64, u64),
    /// All parts that wear.
    pub wear: &'a [WearPart],
    /// Pulls a year.
    pub pulls_a_year: u64,
    /// Price of a new tool, cents.
    pub price_new: u64,
    /// Its life, years: the horizon.
    pub life_years: f64,
}

/// Both costs, cents.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// Pulls within the horizon.
    pub pulls: u64,
    /// For each wear part, its renewals.
    pub renewals: Vec<Renewals>,
    /// What they cost in the repaired tool.
    pub wear: u64,
    /// What they cost in a new tool.
    pub wear_new: u64,
    /// Renewals that both pay alike.
    pub wear_alike: u64,
    /// The share of the repair for a come-back.
    pub come_back: u64,
    /// A year of the repaired tool.
    pub with_repair: u64,
    /// A year of a new tool.
    pub new_tool: u64,
    /// A year of the repaired tool beside what both pay alike.
    pub repair_beside: u64,
    /// A year of a new tool beside it.
    pub new_beside: u64,
    /// Years that the repaired tool must last for both to cost the same; `None` where no time makes them.
    pub even_years: Option<f64>,
}

/// Pulls a year, from `pulls` in `days`; a part of a pull is none.
///
/// # Errors
/// 0 days; more pulls than a counter shows.
pub fn pulls_a_year(pulls: u64, days: u64) -> Result<u64, CalcError> {
    within("pulls", pulls as f64, 0.0, MOST_PULLS)?;
    within("days", days as f64, 1.0, 1e6)?;
    Ok(pulls * 365 / days)
}

/// Both costs of a year.
///
/// # Errors
/// As the head of this module says.
pub fn compare(asked: &Asked) -> Result<Compared, CalcError> {
    let repair = money("Q", asked.repair)?;
    let price = money("P", asked.price_new)?;
    let (back, of) = asked.come_backs;
    within("b", of as f64, 1.0, MOST_REPAIRS)?;
    within("a", back as f64, 0.0, of as f64)?;
    let years = within("T", asked.life_years, 0.1, 1000.0)?;
    within("N", asked.pulls_a_year as f64, 0.0, MOST_PULLS * 365.0)?;
    let pulls = (asked.pulls_a_year as f64 * years).floor() as u64;
    let renewals = |part: &WearPart| {
        let (left, times_new) = (part.left(), part.times(part.life, pulls)?);
        let times = part.times(left, pulls)?;
        Ok(Renewals {
            left,
            times,
            cents: money("c", part.cents.saturating_mul(times))?,
            times_new,
            cents_new: money("c", part.cents.saturating_mul(times_new))?,
        })
    };
    let renewals: Vec<Renewals> = asked
        .wear
        .iter()
        .map(renewals)
        .collect::<Result<_, CalcError>>()?;
    let sum = |cents: fn(&Renewals) -> u64| renewals.iter().map(cents).fold(0, u64::saturating_add);
    let wear = money("W_r", sum(|r| r.cents))?;
    let wear_new = money("W_n", sum(|r| r.cents_new))?;
    let wear_alike = sum(|r| r.cents.min(r.cents_new));
    let come_back = (2 * repair * back + of) / (2 * of);
    let once = repair + come_back;
    let a_year = |cents: u64| cents as f64 / years;
    let for_it = a_year(price + wear_new) - a_year(wear);
    Ok(Compared {
        pulls,
        wear,
        wear_new,
        wear_alike,
        come_back,
        with_repair: a_year(once + wear).round() as u64,
        new_tool: a_year(price + wear_new).round() as u64,
        repair_beside: a_year(once + wear - wear_alike).round() as u64,
        new_beside: a_year(price + wear_new - wear_alike).round() as u64,
        even_years: (for_it > 0.0).then(|| once as f64 / for_it),
        renewals,
    })
}

fn money(input: &'static str, cents: u64) -> Result<u64, CalcError> {
    if cents < MOST_CENTS {
        return Ok(cents);
    }
    Err(CalcError::OutOfRange {
        input,
        value: cents as f64 / 100.0,
        min: 0.0,
        max: MOST_CENTS as f64 / 100.0,
    })
}

/// From the prices to both costs. `come_back` says where the share of come-backs is from.
pub fn working(asked: &Asked, found: &Compared, come_back: Message) -> Working {
    let plain = |cents: u64| cents as f64 / 100.0;
    let given =
        |w: Working, symbol, what, cents| w.given(symbol, Message::new(what), plain(cents), 2, "");
    let count = |w: Working, symbol, what, count| w.given(symbol, what, count as f64, 0, "");
    let (back, of) = asked.come_backs;
    let working = given(Working::new(METHOD), "Q", "given-repair-paid", asked.repair);
    let working = count(working, "a", come_back, back);
    let working = count(working, "b", Message::new("given-of-repairs"), of);
    let working = given(working, "P", "given-price-new", asked.price_new).given(
        "T",
        Message::new("given-horizon-years"),
        asked.life_years,
        1,
        "a",
    );
    let pulls = Message::new("given-pulls-a-year");
    let working = count(working, "N", pulls, asked.pulls_a_year);
    let working = given(working, "W_r", "given-renewals-repaired", found.wear);
    let working = given(working, "W_n", "given-renewals-new", found.wear_new);
    let working = given(working, "W_c", "given-renewals-alike", found.wear_alike)
        .step("N_T", "⌊N · T⌋", found.pulls as f64, 0, "")
        .step(
            "C_r",
            "(Q + a / b · Q + W_r) / T",
            plain(found.with_repair),
            2,
            "",
        )
        .step("C_n", "(P + W_n) / T", plain(found.new_tool), 2, "")
        .step(
            "D_r",
            "(Q + a / b · Q + W_r − W_c) / T",
            plain(found.repair_beside),
            2,
            "",
        )
        .step("D_n", "(P + W_n − W_c) / T", plain(found.new_beside), 2, "");
    // A repair that costs nothing pays from the first day.
    match found.even_years.filter(|years| *years > 0.0) {
        Some(years) => working.step("H", "(Q + a / b · Q) / (C_n − W_r / T)", years, 1, "a"),
        None => working,
    }
}

#[cfg(test)]
mod tests;
