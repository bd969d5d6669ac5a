//! How far each wear part of the tool is: by its own readings where it was gauged, else by the counter.

use calc::Message;
use calc::repair_or_replace::{self as years, WearPart};
use jiff::Timestamp;
use jiff::civil::Date;

use super::{Known, LEAST_DAYS, whole_cents};
use crate::counter::{Anew, began_anew};
use crate::estimate::hours;
use crate::job::Job;
use crate::quote::route_minutes;
use crate::sheet::{Part, Wear};
use crate::wear;

/// Pulls that no counter shows: a part on which no wear is to be seen has as many left.
const MOST_PULLS: f64 = 1e9;

/// Why nobody knows how far a part is.
pub(super) enum Unknown {
    /// The counter began anew in the job with this number.
    Anew(u32),
    /// Nobody read the counter when it was renewed.
    Renewal,
}

impl Unknown {
    /// Why nothing can be compared; nothing where the part alone is left out.
    pub(super) fn left_out(self) -> Result<(), Message> {
        match self {
            Self::Renewal => Ok(()),
            Self::Anew(job) => {
                Err(Message::new("compare-counter-anew").with("job", job.to_string()))
            }
        }
    }
}

/// The wear parts of the tool of a job.
pub(super) struct State<'a> {
    pub job: &'a Job,
    pub known: &'a Known<'a>,
}

impl State<'_> {
    /// How far `part` is after the repair, which `renews` it or not; `None` where the sheet states no life.
    pub(super) fn of(&self, part: &Part, renews: bool) -> Result<Option<WearPart>, Unknown> {
        let lives = part.wear.iter().filter_map(|wear| wear.life_pulls);
        let Some(life) = lives.min().map(|life| life.max(1)) else {
            return Ok(None);
        };
        let (used, gauged_left) = match (renews, self.gauged_left(part)) {
            (true, _) => (0, None),
            (false, None) => (self.used(part)?, None),
            (false, Some(left)) => (0, Some(left)),
        };
        let hands = hours(route_minutes(self.known.model, &[part]));
        let hands = hands.saturating_mul(self.known.per_hour);
        Ok(Some(WearPart {
            used,
            gauged_left,
            life,
            cents: whole_cents(part.price.saturating_add(hands)),
        }))
    }

    /// Pulls left of what wears out first on `part`; `None` where nothing of it was gauged. What of it was not gauged
    /// goes by the counter, as far as that is known.
    fn gauged_left(&self, part: &Part) -> Option<u64> {
        let gauged = |wear| {
            wear::left_by_readings(self.known.earlier, self.job, part, wear, self.known.desk)
        };
        let lefts: Vec<(&Wear, Option<f64>)> = part.wear.iter().map(|w| (w, gauged(w))).collect();
        let by_readings = lefts
            .iter()
            .filter_map(|(_, left)| *left)
            .reduce(f64::min)?;
        let by_readings = by_readings.min(MOST_PULLS) as u64;
        let others = lefts.iter().filter(|(_, left)| left.is_none());
        let lives = others.filter_map(|(wear, _)| wear.life_pulls);
        let used = self.used(part).ok();
        let by_counter = lives
            .zip(std::iter::repeat(used))
            .filter_map(|(life, used)| Some(life.saturating_sub(used?)));
        Some(by_counter.fold(by_readings, u64::min))
    }

    /// Pulls of `part` by the counter. One that was never renewed here is taken to be as old as the tool.
    pub(super) fn used(&self, part: &Part) -> Result<u64, Unknown> {
        let all = || self.known.earlier.iter().chain([self.job]);
        let mut replaced = all().flat_map(|j| j.replaced.iter().map(move |r| (j, r)));
        let last = replaced.rfind(|(_, r)| r.body.part == part.id);
        if let Some(Anew { job, .. }) = began_anew(all(), last.map(|(j, _)| j.received.at)) {
            return Err(Unknown::Anew(job));
        }
        let since = last.map_or(Some(0), |(j, r)| r.body.counter.or(j.received.body.counter));
        let counter = self.job.received.body.counter;
        let used = counter
            .zip(since)
            .map(|(now, since)| now.saturating_sub(since));
        used.ok_or(Unknown::Renewal)
    }
}

/// Pulls a year from the day of sale, or the first visit with a counter, to this one.
pub(super) fn pulls_a_year(
    job: &Job,
    earlier: &[Job],
    day_of: impl Fn(Timestamp) -> Date,
) -> Option<u64> {
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
    years::pulls_a_year(pulls, u64::try_from(days).ok()?).ok()
}
