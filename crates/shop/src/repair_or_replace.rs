//! What the year to come costs with the repair, and what a new tool costs a year.
//!
//! With the repair: what the customer pays for it, the wear parts whose life ends within the year, and a
//! share of the repair for a come-back. A new tool: its price spread over its life. All before tax. How
//! it is reckoned: [`calc::repair_or_replace`]; here is what counts as worn, paid and known.

use calc::Message;
use calc::repair_or_replace as year;
use calc::repair_or_replace::{Asked, COME_BACK_PERCENT, MOST_CENTS, WearPart};
use calc::working::Working;
use jiff::Timestamp;
use jiff::civil::Date;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::counter::{Anew, began_anew};
use crate::entry::EstimateMade;
use crate::estimate::{cents, hours};
use crate::job::Job;
use crate::quote::{is_covered, route_minutes, sum_of};
use crate::sheet::{Part, ToolModel};

/// Days that counter readings must lie apart to tell pulls a year (common practice, no source).
pub const LEAST_DAYS: i32 = 30;

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
    model: &ToolModel,
    quote: &EstimateMade,
    earlier: &[Job],
    per_hour: Decimal,
    day_of: impl Fn(Timestamp) -> Date,
) -> Option<Result<Compared, Message>> {
    let price = model.price_new?;
    let life_years = model.life_years?;
    let renewed = |part: &Part| {
        let mut lines = quote.lines.iter().filter(|line| line.option == 0);
        lines.any(|line| line.number.trim().eq_ignore_ascii_case(&part.number))
    };
    let others = || model.parts.iter().filter(|part| !renewed(part));
    if let Some(anew) = others().find_map(|part| age_unknown(part, job, earlier)) {
        return Some(Err(
            Message::new("compare-counter-anew").with("job", anew.job.to_string())
        ));
    }
    let (Some(pulls_a_year), Some(counter)) = (
        pulls_a_year(job, earlier, day_of),
        job.received.body.counter,
    ) else {
        return Some(Err(
            Message::new("compare-no-history").with("days", LEAST_DAYS.to_string())
        ));
    };
    let worn: Vec<(&Part, WearPart)> = others()
        .filter_map(|part| Some((part, worn(model, part, job, earlier, counter, per_hour)?)))
        .collect();
    let wear: Vec<WearPart> = worn.iter().map(|(_, wear)| *wear).collect();
    let warranty = job.warranty.as_ref().map(|w| &w.body);
    let repair = sum_of(quote, |line| line_is_paid(quote, line, warranty)).net;
    let asked = Asked {
        repair: whole_cents(repair),
        come_back_percent: COME_BACK_PERCENT,
        wear: &wear,
        pulls_a_year,
        price_new: whole_cents(price),
        life_years,
    };
    let found = match year::compare(&asked) {
        Ok(found) => found,
        Err(why) => return Some(Err(why.message())),
    };
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
    Some(Ok(Compared {
        repair: money(found.with_repair),
        new: money(found.new_tool),
        pulls_a_year,
        renewals: renewals.collect(),
        working,
    }))
}

fn line_is_paid(
    quote: &EstimateMade,
    line: &crate::entry::PriceLine,
    warranty: Option<&crate::entry::WarrantyJudged>,
) -> bool {
    line.option == 0 && !warranty.is_some_and(|w| is_covered(quote, line, w))
}

/// The beginning of the counter since which nobody knows how many pulls wear part `part` has made; `None` where
/// it is known, or the sheet states no life.
fn age_unknown<'a>(part: &Part, job: &'a Job, earlier: &'a [Job]) -> Option<Anew<'a>> {
    part.wear.iter().find_map(|wear| wear.life_pulls)?;
    let all = || earlier.iter().chain([job]);
    let renewed = all().filter(|j| j.replaced.iter().any(|r| r.body.part == part.id));
    began_anew(all(), renewed.map(|j| j.received.at).max())
}

/// An amount in cents; one beyond what a shop reaches stays beyond it, so that the method refuses.
fn whole_cents(amount: Decimal) -> u64 {
    let whole = cents(amount).checked_mul(Decimal::ONE_HUNDRED);
    whole.and_then(|c| c.to_u64()).unwrap_or(MOST_CENTS)
}

fn money(cents: u64) -> Decimal {
    Decimal::from_i128_with_scale(i128::from(cents), 2)
}

/// The life of `part`, how much of it is used at `counter`, and what its renewal costs; `None` if the
/// sheet does not know its life, or nobody when it was renewed.
fn worn(
    model: &ToolModel,
    part: &Part,
    job: &Job,
    earlier: &[Job],
    counter: u64,
    per_hour: Decimal,
) -> Option<WearPart> {
    let life = part.wear.iter().filter_map(|w| w.life_pulls).min()?.max(1);
    if age_unknown(part, job, earlier).is_some() {
        return None;
    }
    // Never renewed here: it is taken to be as old as the tool.
    let of = earlier.iter().chain([job]).rev();
    let replaced = of.flat_map(|j| j.replaced.iter().rev().map(move |r| (j, r)));
    let last = replaced.into_iter().find(|(_, r)| r.body.part == part.id);
    let since = last.map_or(Some(0), |(j, r)| r.body.counter.or(j.received.body.counter));
    let hands = hours(route_minutes(model, &[part])).saturating_mul(per_hour);
    Some(WearPart {
        used: counter.saturating_sub(since?),
        life,
        cents: whole_cents(part.price.saturating_add(hands)),
    })
}

/// Ids of the parts whose life ends within the year to come; `None` where the counter has no history.
pub fn due_within_a_year(
    job: &Job,
    model: &ToolModel,
    earlier: &[Job],
    day_of: impl Fn(Timestamp) -> Date,
) -> Option<Vec<String>> {
    let counter = job.received.body.counter?;
    let pulls_a_year = pulls_a_year(job, earlier, day_of)?;
    let ends = |part: &&Part| {
        let worn = worn(model, part, job, earlier, counter, Decimal::ZERO);
        worn.is_some_and(|worn| matches!(year::renewal(worn, pulls_a_year), Ok(Some(_))))
    };
    let parts = model.parts.iter().filter(ends);
    Some(parts.map(|part| part.id.clone()).collect())
}

/// Pulls a year from the day of sale, or the first visit with a counter, to this one.
fn pulls_a_year(job: &Job, earlier: &[Job], day_of: impl Fn(Timestamp) -> Date) -> Option<u64> {
    let now = (day_of(job.received.at), job.received.body.counter?);
    let anew = began_anew(earlier.iter().chain([job]), None).map(|anew| anew.at);
    let sold = job.received.body.sold.map(|day| (day, 0));
    // From where the counter began anew, if it did.
    let sold = sold.filter(|_| anew.is_none());
    let visits = earlier
        .iter()
        .filter(|visit| anew.is_none_or(|anew| visit.received.at >= anew))
        .filter_map(|visit| Some((day_of(visit.received.at), visit.received.body.counter?)));
    let first = sold.into_iter().chain(visits).min_by_key(|(day, _)| *day)?;
    let days = first.0.until(now.0).ok()?.get_days();
    // A counter that went back was changed or misread.
    let pulls = now.1.checked_sub(first.1)?;
    if days < LEAST_DAYS {
        return None;
    }
    year::pulls_a_year(pulls, u64::try_from(days).ok()?).ok()
}
