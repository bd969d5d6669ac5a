//! When a gauge was outside its limits: each time that it was found so, and whether it is on a day.
//!
//! Only what is good beyond doubt ends a failure: a calibration or check that is undecided leaves the gauge failed.

use jiff::civil::Date;

use super::{History, Written};
use crate::entry::{Outcome, WrenchWay};
use crate::sheet::Gauge;

/// A gauge was found outside its limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Failure {
    /// Number of the calibration or check that found it.
    pub number: u32,
    /// Day on which it was found.
    pub found: Date,
    /// Day on which it was last known good; `None` if no day is known.
    pub good: Option<Date>,
    /// Day from which it was known to be good again; `None` while it is not.
    pub again: Option<Date>,
    /// Number of the calibration or check by which it was; `None` while it is not, and where its sheet says so.
    pub again_by: Option<u32>,
    /// The direction of a torque wrench, where only one failed.
    pub way: Option<WrenchWay>,
}

impl Failure {
    /// Whether a reading taken on `day` in `way` is in doubt. A reading whose direction nobody noted is, in either.
    pub fn touches(&self, day: Date, way: Option<WrenchWay>) -> bool {
        let is_other_way = self
            .way
            .is_some_and(|failed| way.is_some_and(|w| w != failed));
        let from = self.good.is_none_or(|good| day >= good);
        !is_other_way && from && self.again.is_none_or(|again| day <= again)
    }
}

/// What one event says of the gauge: how it came, and how it was left.
struct Look {
    number: u32,
    date: Date,
    is_calibration: bool,
    is_bad_found: bool,
    is_good_left: bool,
    is_left_bad: bool,
    ways: Vec<WrenchWay>,
}

impl Look {
    /// Whether it says something of `way`: each direction of a wrench stands for itself.
    fn is_about(&self, way: Option<WrenchWay>) -> bool {
        self.ways.is_empty() || way.is_none_or(|way| self.ways.contains(&way))
    }

    /// Whether it ends what `failed` found: a check in the shop does not undo what a calibration says.
    fn ends(&self, failed: &Self) -> bool {
        self.is_good_left && (self.is_calibration || !failed.is_calibration)
    }
}

const BOTH: [Option<WrenchWay>; 2] = [
    Some(WrenchWay::Clockwise),
    Some(WrenchWay::CounterClockwise),
];

impl History {
    fn looks(&self) -> Vec<Look> {
        let counting = self.counting().into_iter();
        let looks = counting.filter_map(|line| match &line.what {
            Written::Calibrated(c) => Some(Look {
                number: c.number,
                date: c.date,
                is_calibration: true,
                is_bad_found: c.found == Some(Outcome::Reject)
                    || (c.found.is_none() && c.left == Outcome::Reject),
                is_good_left: c.left == Outcome::Accept,
                is_left_bad: c.left == Outcome::Reject,
                ways: c.ways.clone(),
            }),
            Written::Checked(c) => Some(Look {
                number: c.number,
                date: c.date,
                is_calibration: false,
                is_bad_found: c.outcome == Outcome::Reject,
                is_good_left: c.outcome == Outcome::Accept,
                is_left_bad: c.outcome == Outcome::Reject,
                ways: c.way().into_iter().collect(),
            }),
            Written::Studied(_) => None,
        });
        looks.collect()
    }

    /// Whether what calibration `used` corrected was taken after `failure` had ended: that calibration ended it, or came
    /// later. What was written of a gauge is ordered by day, and on one day by number.
    pub(super) fn is_after(&self, used: u32, failure: &Failure) -> bool {
        let end = failure.again.zip(failure.again_by);
        let used = self.line(used).map(|line| (line.date(), line.number()));
        end.is_some_and(|end| used.is_some_and(|used| used >= end))
    }

    /// Every time that it was found outside its limits, oldest first. `sheet` is its sheet in force, whose calibration
    /// counts as known good.
    pub fn failures(&self, sheet: Option<&Gauge>) -> Vec<Failure> {
        let looks = self.looks();
        let mut all: Vec<Failure> = Vec::new();
        for way in ways(&looks, None) {
            for failure in failures_of(&looks, sheet.map(|s| s.calibrated), way) {
                let same = |f: &&mut Failure| Failure { way, ..**f } == failure;
                // Both directions alike: one failure of the wrench.
                match all.iter_mut().find(same) {
                    Some(known) => known.way = None,
                    None => all.push(failure),
                }
            }
        }
        all.sort_by_key(|f| (f.found, f.number));
        all
    }

    /// Whether it was outside its limits at the end of `day`, turned in `way` (in either, if `None`), by what was
    /// written of it since the calibration of its sheet.
    pub fn is_failed(&self, sheet: &Gauge, day: Date, way: Option<WrenchWay>) -> bool {
        let mut looks = self.looks();
        looks.retain(|look| (sheet.calibrated..=day).contains(&look.date));
        ways(&looks, way).into_iter().any(|way| {
            let mut failed: Option<&Look> = None;
            for look in looks.iter().filter(|look| look.is_about(way)) {
                let is_bad = look.is_left_bad || (look.is_bad_found && !look.is_good_left);
                if is_bad && failed.is_none_or(|f| !f.is_calibration) {
                    failed = Some(look);
                } else if failed.is_some_and(|f| look.ends(f)) {
                    failed = None;
                }
            }
            failed.is_some()
        })
    }
}

/// The directions to be looked at one by one: `way` alone, or both where any was noted.
fn ways(looks: &[Look], way: Option<WrenchWay>) -> Vec<Option<WrenchWay>> {
    let is_turned = looks.iter().any(|look| !look.ways.is_empty());
    match way {
        None if is_turned => BOTH.to_vec(),
        way => vec![way],
    }
}

fn failures_of(looks: &[Look], of_sheet: Option<Date>, way: Option<WrenchWay>) -> Vec<Failure> {
    let looks: Vec<&Look> = looks.iter().filter(|look| look.is_about(way)).collect();
    let bad = looks.iter().enumerate();
    let bad = bad.filter(|(_, look)| look.is_bad_found);
    let failure = |(at, look): (usize, &&Look)| {
        let good = looks[..at].iter().filter(|o| o.is_good_left);
        let before = of_sheet.filter(|day| *day < look.date);
        let since = of_sheet.filter(|day| *day > look.date);
        let end = looks[at..].iter().find(|o| o.ends(look));
        let end = end.map(|o| (o.date, Some(o.number)));
        let end = end.into_iter().chain(since.map(|day| (day, None)));
        let end = end.min_by_key(|(day, number)| (*day, number.is_none()));
        Failure {
            number: look.number,
            found: look.date,
            good: good.map(|o| o.date).max().max(before),
            again: end.map(|(day, _)| day),
            again_by: end.and_then(|(_, number)| number),
            way,
        }
    };
    bad.map(failure).collect()
}
