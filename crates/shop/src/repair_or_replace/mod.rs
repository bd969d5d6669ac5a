//! What a tool costs a year over the years that a new one lasts: with the repair, and bought new.
//!
//! With the repair: what the customer pays for it, a share of it for a come-back, and the wear parts as they wear
//! out. A new tool: its price, as the quote offers it where it does, and the same parts, which begin new. All before
//! tax. How it is reckoned: [`calc::repair_or_replace`]; here is what counts as worn, paid and known. A quote keeps
//! the rule by which it was made ([`CompareRule`]): those of before are reckoned as [`of_a_year`] says, or with the
//! new tool at the price of the sheet.

mod done;
pub mod of_a_year;
mod state;

use calc::Message;
use calc::learned_share::Cases;
use calc::repair_or_replace as years;
use calc::repair_or_replace::{Asked, COME_BACKS, MOST_CENTS, WearPart};
use calc::working::Working;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::entry::{CompareRule, EstimateMade};
use crate::estimate::cents;
use crate::job::{Desk, Job};
use crate::sheet::{Part, ToolModel};
use done::{Done, offered};
use state::{State, pulls_a_year};

/// Days that counter readings must lie apart to tell pulls a year (common practice, no source).
pub const LEAST_DAYS: i32 = 30;

/// Closed jobs from which on their come-backs are counted on (common practice, no source).
pub const LEAST_REPAIRS: u32 = 20;

/// What a comparison stands on beside job and quote.
#[derive(Clone, Copy, Debug)]
pub struct Known<'a> {
    /// The tool's sheet.
    pub model: &'a ToolModel,
    /// Ended jobs of the same tool, oldest first.
    pub earlier: &'a [Job],
    /// Price of an hour of labour.
    pub per_hour: Decimal,
    /// Mended jobs of the shop that are closed, and after how many of them the tool came back.
    pub come_backs: Cases,
    /// Sheets and days.
    pub desk: &'a Desk<'a>,
}

impl Known<'_> {
    /// Price and life, years, of a new tool; `None` where the sheet does not know them.
    fn new_tool(&self) -> Option<(Decimal, f64)> {
        Some((self.model.price_new?, self.model.life_years?))
    }
}

/// A wear part that is renewed within the horizon, in one tool or the other.
#[derive(Clone, Debug, PartialEq)]
pub struct Renewals {
    /// Part.
    pub part: String,
    /// Pulls that are left of its life in the repaired tool.
    pub left: u64,
    /// Whether its readings say so; else the counter does.
    pub gauged: bool,
    /// How often it is renewed in the repaired tool.
    pub times: u64,
    /// What that costs: part and hands, before tax.
    pub cost: Decimal,
    /// How often it is renewed in a new tool.
    pub times_new: u64,
    /// What that costs.
    pub cost_new: Decimal,
}

/// Both costs of a year.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// A year of the repaired tool.
    pub repair: Decimal,
    /// A year of a new tool.
    pub new: Decimal,
    /// A year of the repaired tool beside what both cost alike.
    pub repair_beside: Decimal,
    /// A year of a new tool beside it.
    pub new_beside: Decimal,
    /// What both cost alike, a year: renewals.
    pub alike: Decimal,
    /// What the customer pays for the repair, once.
    pub paid: Decimal,
    /// The price of a new tool.
    pub price: Decimal,
    /// Whether the quote offers it at that price; else it is the sheet's.
    pub is_offered: bool,
    /// The horizon, years: the life of a new tool.
    pub years: f64,
    /// Years that the repaired tool must last for both to cost the same; `None` where no time makes them, and where
    /// the repair costs nothing.
    pub even_years: Option<f64>,
    /// Pulls a year by the counter's history.
    pub pulls_a_year: u64,
    /// Wear parts renewed within the horizon.
    pub renewals: Vec<Renewals>,
    /// How it comes about.
    pub working: Working,
}

/// Compares, where the sheet knows life and price of a new tool, or the quote the price; `None` where neither does.
///
/// # Errors
/// Why nobody can tell: no history of the counter, or sums that no shop reaches.
pub fn compare(
    job: &Job,
    quote: &EstimateMade,
    known: &Known,
) -> Option<Result<Compared, Message>> {
    let as_offered = quote.compare_rule == CompareRule::AsOffered;
    let done = if as_offered {
        Done::by_now(job, quote, known.model)
    } else {
        Done::repair(quote)
    };
    let offered = offered(quote).filter(|_| as_offered);
    let new = NewTool {
        price: offered.or(known.model.price_new)?,
        is_offered: offered.is_some(),
        life_years: known.model.life_years?,
    };
    Some(compare_with(job, &done, known, &new))
}

/// What is compared with.
struct NewTool {
    price: Decimal,
    is_offered: bool,
    life_years: f64,
}

fn compare_with(job: &Job, done: &Done, known: &Known, new: &NewTool) -> Result<Compared, Message> {
    let state = State { job, known };
    let mut wear: Vec<(&Part, WearPart)> = Vec::new();
    for part in &known.model.parts {
        match state.of(part, done.renews(part)) {
            Ok(Some(worn)) => wear.push((part, worn)),
            Ok(None) => {}
            Err(unknown) => unknown.left_out()?,
        }
    }
    let day_of = |at| known.desk.day_of(at);
    let Some(pulls_a_year) = pulls_a_year(job, known.earlier, day_of) else {
        return Err(no_history());
    };
    let parts: Vec<WearPart> = wear.iter().map(|(_, worn)| *worn).collect();
    let (come_backs, come_back) = come_backs(known.come_backs);
    let paid = done.paid(job);
    let asked = Asked {
        repair: whole_cents(paid),
        come_backs,
        wear: &parts,
        pulls_a_year,
        price_new: whole_cents(new.price),
        life_years: new.life_years,
    };
    let found = years::compare(&asked).map_err(|why| why.message())?;
    let renewals = wear.iter().zip(&found.renewals);
    let renewals = renewals.filter(|(_, of)| of.times > 0 || of.times_new > 0);
    let renewals = renewals.map(|((part, worn), of)| Renewals {
        part: part.name.clone(),
        left: of.left,
        gauged: worn.gauged_left.is_some(),
        times: of.times,
        cost: money(of.cents),
        times_new: of.times_new,
        cost_new: money(of.cents_new),
    });
    let working = years::working(&asked, &found, come_back)
        .note(Message::new("note-compare-years").with("currency", done.currency()))
        .note(Message::new("note-compare-parts"));
    Ok(Compared {
        repair: money(found.with_repair),
        new: money(found.new_tool),
        repair_beside: money(found.repair_beside),
        new_beside: money(found.new_beside),
        alike: money(found.with_repair.saturating_sub(found.repair_beside)),
        paid,
        price: new.price,
        is_offered: new.is_offered,
        years: new.life_years,
        even_years: found.even_years.filter(|_| asked.repair > 0),
        pulls_a_year,
        renewals: renewals.collect(),
        working,
    })
}

/// Come-backs and of how many repairs: the shop's own where they are enough to tell, and what says so.
fn come_backs(own: Cases) -> ((u64, u64), Message) {
    if own.all < LEAST_REPAIRS {
        let stated = Message::new("given-come-backs-stated").with("jobs", LEAST_REPAIRS);
        return (COME_BACKS, stated);
    }
    let own_said = Message::new("given-come-backs-own");
    ((own.yes.into(), own.all.into()), own_said)
}

/// Ids of the parts whose life ends within the year to come; `None` where the counter has no history.
pub fn due_within_a_year(job: &Job, known: &Known) -> Option<Vec<String>> {
    let pulls_a_year = pulls_a_year(job, known.earlier, |at| known.desk.day_of(at))?;
    let state = State { job, known };
    let ends = |part: &&Part| {
        let worn = state.of(part, false);
        matches!(worn, Ok(Some(worn)) if worn.left() <= pulls_a_year)
    };
    let parts = known.model.parts.iter().filter(ends);
    Some(parts.map(|part| part.id.clone()).collect())
}

fn no_history() -> Message {
    Message::new("compare-no-history").with("days", LEAST_DAYS.to_string())
}

/// An amount in cents; one beyond what a shop reaches stays beyond it, so that the method refuses.
fn whole_cents(amount: Decimal) -> u64 {
    let whole = cents(amount).checked_mul(Decimal::ONE_HUNDRED);
    whole.and_then(|c| c.to_u64()).unwrap_or(MOST_CENTS)
}

fn money(cents: u64) -> Decimal {
    Decimal::from_i128_with_scale(i128::from(cents), 2)
}
