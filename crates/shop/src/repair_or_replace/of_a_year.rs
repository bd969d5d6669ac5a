//! As quotes of before were compared: the year to come with the repair, a year's share of a new tool.
//!
//! Its wear parts go by the counter, those that the repair renews last the year, and a new tool has none. What a
//! customer was told stands: no new quote is compared so.

use calc::Message;
use calc::repair_or_replace::of_a_year::{self as year, Asked, COME_BACK_PERCENT, WearPart};
use calc::working::Working;
use rust_decimal::Decimal;

use super::done::Done;
use super::state::{State, pulls_a_year};
use super::{Known, money, no_history, whole_cents};
use crate::entry::EstimateMade;
use crate::estimate::hours;
use crate::job::Job;
use crate::quote::route_minutes;
use crate::sheet::Part;

/// A wear part whose life ends within the year.
#[derive(Clone, Debug, PartialEq)]
pub struct Renewal {
    /// Part.
    pub part: String,
    /// Pulls that are left of its life.
    pub left: u64,
    /// How often it is renewed within the year.
    pub times: u64,
    /// What that costs: part and hands, before tax.
    pub cost: Decimal,
}

/// Both costs of a year.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// The year to come with the repair.
    pub repair: Decimal,
    /// A year of a new tool.
    pub new: Decimal,
    /// Pulls a year by the counter's history.
    pub pulls_a_year: u64,
    /// Wear parts renewed within the year.
    pub renewals: Vec<Renewal>,
    /// How it comes about.
    pub working: Working,
}

/// Compares, where the sheet knows price and life of a new tool; `None` where it does not.
///
/// # Errors
/// Why nobody can tell: no history of the counter, or sums that no shop reaches.
pub fn compare(
    job: &Job,
    quote: &EstimateMade,
    known: &Known,
) -> Option<Result<Compared, Message>> {
    Some(compare_with(job, quote, known, known.new_tool()?))
}

fn compare_with(
    job: &Job,
    quote: &EstimateMade,
    known: &Known,
    (price, life_years): (Decimal, f64),
) -> Result<Compared, Message> {
    let state = State { job, known };
    let done = Done::repair(quote);
    let mut worn: Vec<(&Part, WearPart)> = Vec::new();
    let others = known.model.parts.iter();
    for part in others.filter(|part| !done.renews(part)) {
        let Some(life) = part.wear.iter().filter_map(|w| w.life_pulls).min() else {
            continue;
        };
        match state.used(part) {
            Ok(used) => worn.push((part, wear_part(part, life.max(1), used, known))),
            Err(unknown) => unknown.left_out()?,
        }
    }
    let day_of = |at| known.desk.day_of(at);
    let Some(pulls_a_year) = pulls_a_year(job, known.earlier, day_of) else {
        return Err(no_history());
    };
    let wear: Vec<WearPart> = worn.iter().map(|(_, wear)| *wear).collect();
    let asked = Asked {
        repair: whole_cents(done.paid(job)),
        come_back_percent: COME_BACK_PERCENT,
        wear: &wear,
        pulls_a_year,
        price_new: whole_cents(price),
        life_years,
    };
    let found = year::compare(&asked).map_err(|why| why.message())?;
    let renewals = worn.iter().zip(&found.renewals);
    let renewals = renewals.filter_map(|((part, _), renewal)| {
        let renewal = (*renewal)?;
        Some(Renewal {
            part: part.name.clone(),
            left: renewal.left,
            times: renewal.times,
            cost: money(renewal.cents),
        })
    });
    let working = year::working(&asked, &found)
        .note(Message::new("note-compare-year").with("currency", quote.currency.as_str()))
        .note(Message::new("note-compare-wear").with("pulls", pulls_a_year));
    Ok(Compared {
        repair: money(found.with_repair),
        new: money(found.new_tool),
        pulls_a_year,
        renewals: renewals.collect(),
        working,
    })
}

fn wear_part(part: &Part, life: u64, used: u64, known: &Known) -> WearPart {
    let hands = hours(route_minutes(known.model, &[part])).saturating_mul(known.per_hour);
    WearPart {
        used,
        life,
        cents: whole_cents(part.price.saturating_add(hands)),
    }
}
