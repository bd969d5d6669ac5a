//! Repeatability and reproducibility: parts × people × trials.

use calc::Message;
use calc::decision::Verdict;
use calc::error::CalcError;
use calc::{gauge_rr, gauge_rr_range};
use jiff::civil::Date;

use super::History;
use crate::entry::{Body, GaugeStudied, PersonKey, PinRecord};
use crate::job::refusal::needed;
use crate::job::{Desk, Refusals, method_of, refuse};
use crate::sheet::Gauge;

/// Most readings of a study.
const MOST: usize = 2000;
/// A gauge whose share of all spread is below this, percent, is good (AIAG, Measurement Systems Analysis, 4th edition,
/// 2010, from memory; common practice).
const GOOD_PCT: f64 = 10.0;
/// Above this, percent, it is not good enough. Source as above.
const BAD_PCT: f64 = 30.0;

/// A study, as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct StudyIn {
    /// Day.
    pub date: Date,
    /// What was measured.
    pub what: String,
    /// Who measured.
    pub people: Vec<PersonKey>,
    /// Readings by person, trial, part.
    pub readings: Vec<Vec<Vec<f64>>>,
    /// Remark.
    pub note: String,
}

/// A study, both ways.
#[derive(Clone, Debug, PartialEq)]
pub struct Reckoned {
    /// By analysis of variance.
    pub anova: gauge_rr::Study,
    /// By averages and ranges; why not, where there is no factor for so many.
    pub range: Result<gauge_rr_range::Study, CalcError>,
}

impl Reckoned {
    /// Share of the gauge in all spread by analysis of variance, percent.
    pub fn anova_pct(&self) -> f64 {
        100.0 * (self.anova.gauge() / self.anova.total()).sqrt()
    }

    /// The same by ranges.
    pub fn range_pct(&self) -> Option<f64> {
        let study = self.range.as_ref().ok()?;
        Some(100.0 * study.gauge() / study.total())
    }
}

/// The study of `readings` by person, trial, part, both ways.
///
/// # Errors
/// As [`gauge_rr::study`].
pub fn reckon(readings: &[Vec<Vec<f64>>]) -> Result<Reckoned, CalcError> {
    Ok(Reckoned {
        anova: gauge_rr::study(readings, gauge_rr::Interaction::Tested)?,
        range: gauge_rr_range::study(readings, gauge_rr_range::Factors::default()),
    })
}

/// Good below 10 %, not good enough above 30 %, between them it depends on what it is used for.
pub fn verdict_on_share(share_pct: f64) -> Verdict {
    if share_pct < GOOD_PCT {
        Verdict::Accept
    } else if share_pct > BAD_PCT {
        Verdict::Reject
    } else {
        Verdict::Undecided
    }
}

pub(super) fn study(
    gauge: &Gauge,
    pin: PinRecord,
    history: &History,
    input: &StudyIn,
    desk: &Desk,
) -> Result<Vec<Body>, Refusals> {
    let mut wrong = Refusals::new();
    let what = needed("what", &input.what, "refuse-study-what");
    let what = what.map_err(|refusal| wrong.push(refusal));
    if input.date > desk.today {
        wrong.push(refuse("date", Message::new("refuse-calibration-future")));
    }
    let all = input.readings.iter().flatten().flatten();
    if all.clone().count() > MOST {
        wrong.push(refuse(
            "table",
            Message::new("refuse-study-many").with("most", MOST),
        ));
    }
    let (low, high) = gauge.range;
    if let Some(value) = all.clone().find(|x| !(low..=high).contains(*x)) {
        let decimals = gauge.decimals();
        let message = Message::new("gauge-out-of-range")
            .with("gauge", gauge.name.as_str())
            .with("unit", gauge.unit.symbol())
            .number("value", *value, decimals)
            .number("min", low, decimals)
            .number("max", high, decimals);
        wrong.push(refuse("table", message));
    }
    let reckoned = reckon(&input.readings).map_err(|error| {
        let id = match error {
            CalcError::Alike { .. } => "refuse-study-alike",
            CalcError::Uneven { .. } => "refuse-study-uneven",
            _ => "refuse-study-few",
        };
        wrong.push(refuse("table", Message::new(id)));
    });
    let (true, Ok(what), Ok(reckoned)) = (wrong.is_empty(), what, reckoned) else {
        return Err(wrong);
    };
    let share = reckoned.anova_pct();
    let methods = [gauge_rr::METHOD, gauge_rr_range::METHOD].map(method_of);
    let studied = GaugeStudied {
        gauge: pin,
        number: history.next_number(),
        date: input.date,
        unit: gauge.unit.symbol().to_owned(),
        what,
        people: input.people.clone(),
        readings: input.readings.clone(),
        anova_pct: share,
        range_pct: reckoned.range_pct(),
        categories: reckoned.anova.categories(),
        outcome: verdict_on_share(share).into(),
        method: methods.join(", "),
        note: input.note.trim().to_owned(),
    };
    Ok(vec![studied.into()])
}
