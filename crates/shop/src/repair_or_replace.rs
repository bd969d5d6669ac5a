//! What the year to come costs with the repair, and what a new tool costs a year.
//!
//! With the repair: what the customer pays for it, the wear parts whose life ends within the year, and a
//! share of the repair for a come-back. A new tool: its price spread over its life. All before tax. The
//! whole repair is put on one year, so the comparison leans towards the new tool where a repair lasts
//! longer; the working says so.

use calc::Message;
use calc::working::{Method, Working};
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

/// Share of a repair that is expected to be done again, percent (common practice, no source).
pub const COME_BACK_PERCENT: u32 = 5;

/// Days that counter readings must lie apart to tell pulls a year (common practice, no source).
pub const LEAST_DAYS: i32 = 30;

/// How it is reckoned.
pub const METHOD: Method = Method {
    name: "repair-or-replace",
    version: 1,
    source: "sums of expected cost; life in pulls, price and life of a new tool: model sheet; share of come-backs: common practice, no source",
};

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
/// Why nobody can tell: no history of the counter.
pub fn compare(
    job: &Job,
    model: &ToolModel,
    quote: &EstimateMade,
    earlier: &[Job],
    per_hour: Decimal,
    day_of: impl Fn(Timestamp) -> Date,
) -> Option<Result<Compared, Message>> {
    let price = model.price_new?;
    let years = model.life_years?;
    let life = Decimal::try_from(years).ok().filter(|l| !l.is_zero())?;
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
    let renewals: Vec<Renewal> = others()
        .filter_map(|part| renewal(model, part, job, earlier, (counter, pulls_a_year), per_hour))
        .collect();
    let warranty = job.warranty.as_ref().map(|w| &w.body);
    let repair = sum_of(quote, |line| line_is_paid(quote, line, warranty)).net;
    let come_back = cents(repair.saturating_mul(Decimal::new(i64::from(COME_BACK_PERCENT), 2)));
    let wear = renewals.iter().map(|r| r.cost);
    let wear = wear.fold(Decimal::ZERO, Decimal::saturating_add);
    let with_repair = repair.saturating_add(wear).saturating_add(come_back);
    let new = cents(price.checked_div(life).unwrap_or(price));
    let plain = |d: Decimal| d.to_f64().unwrap_or(f64::NAN);
    let working = Working::new(METHOD)
        .given("Q", Message::new("given-repair-paid"), plain(repair), 2, "")
        .given("W", Message::new("given-wear-year"), plain(wear), 2, "")
        .given(
            "s",
            Message::new("given-done-again"),
            f64::from(COME_BACK_PERCENT),
            0,
            "%",
        )
        .given("P", Message::new("given-price-new"), plain(price), 2, "")
        .given("L", Message::new("given-life-years"), years, 1, "a")
        .step("C_r", "Q + W + s · Q / 100", plain(with_repair), 2, "")
        .step("C_n", "P / L", plain(new), 2, "")
        .note(Message::new("note-compare-year").with("currency", quote.currency.as_str()))
        .note(Message::new("note-compare-wear").with("pulls", pulls_a_year));
    Some(Ok(Compared {
        repair: with_repair,
        new,
        pulls_a_year,
        renewals,
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

/// When and at what cost `part` is renewed within the year; `None` if its life does not end in it, or is
/// not known.
fn renewal(
    model: &ToolModel,
    part: &Part,
    job: &Job,
    earlier: &[Job],
    (counter, pulls_a_year): (u64, u64),
    per_hour: Decimal,
) -> Option<Renewal> {
    let life = part.wear.iter().filter_map(|w| w.life_pulls).min()?.max(1);
    if age_unknown(part, job, earlier).is_some() {
        return None;
    }
    // Never renewed here: it is taken to be as old as the tool.
    let of = earlier.iter().chain([job]).rev();
    let replaced = of.flat_map(|j| j.replaced.iter().rev().map(move |r| (j, r)));
    let last = replaced.into_iter().find(|(_, r)| r.body.part == part.id);
    let since = last.map_or(Some(0), |(j, r)| r.body.counter.or(j.received.body.counter));
    let used = counter.saturating_sub(since?);
    let left = life.saturating_sub(used);
    if left > pulls_a_year {
        return None;
    }
    let times = 1 + (pulls_a_year - left) / life;
    let hands = hours(route_minutes(model, &[part])).saturating_mul(per_hour);
    let once = part.price.saturating_add(hands);
    Some(Renewal {
        part: part.name.clone(),
        left,
        times,
        cost: cents(once.saturating_mul(Decimal::from(times))),
    })
}

/// Ids of the parts whose life ends within the year to come; `None` where the counter has no history.
pub fn due_within_a_year(
    job: &Job,
    model: &ToolModel,
    earlier: &[Job],
    day_of: impl Fn(Timestamp) -> Date,
) -> Option<Vec<String>> {
    let pulls = (
        job.received.body.counter?,
        pulls_a_year(job, earlier, day_of)?,
    );
    let due = |part: &&Part| renewal(model, part, job, earlier, pulls, Decimal::ZERO).is_some();
    let parts = model.parts.iter().filter(due);
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
    let days = u64::try_from(days).ok()?;
    pulls.checked_mul(365).map(|pulls| pulls / days)
}
