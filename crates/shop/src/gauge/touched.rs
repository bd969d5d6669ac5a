//! Backwards: a gauge that was found outside its limits, and which readings it took since it was last known good.

use jiff::civil::Date;

use super::{History, Written};
use crate::entry::{Body, Outcome, PinRecord, Reading, ThicknessRead, WrenchWay};
use crate::sheet::{Gauge, Shelf};

/// A gauge was found outside its limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Failure {
    /// Number of the calibration or check that found it.
    pub number: u32,
    /// Day on which it was found.
    pub found: Date,
    /// Day on which it was last known good; `None` if no day is known.
    pub good: Option<Date>,
    /// Day from which it was not known to be bad any more; `None` while it is.
    pub again: Option<Date>,
}

impl Failure {
    /// Whether a reading taken on `day` is in doubt.
    pub fn touches(&self, day: Date) -> bool {
        self.good.is_none_or(|good| day >= good) && self.again.is_none_or(|again| day <= again)
    }
}

/// What one event says of the gauge: how it came, and how it was left.
struct Look {
    number: u32,
    date: Date,
    is_bad_found: bool,
    is_good_left: bool,
    is_left_bad: bool,
    ways: Vec<WrenchWay>,
}

impl Look {
    /// Whether it says something of what `other` was about: each direction of a wrench stands for itself.
    fn is_about(&self, other: &Look) -> bool {
        let shared = self.ways.iter().any(|way| other.ways.contains(way));
        self.ways.is_empty() || other.ways.is_empty() || shared
    }
}

impl History {
    fn looks(&self) -> Vec<Look> {
        let counting = self.counting().into_iter();
        let looks = counting.filter_map(|line| match &line.what {
            Written::Calibrated(c) => Some(Look {
                number: c.number,
                date: c.date,
                is_bad_found: c.found == Some(Outcome::Reject)
                    || (c.found.is_none() && c.left == Outcome::Reject),
                is_good_left: c.left == Outcome::Accept,
                is_left_bad: c.left == Outcome::Reject,
                ways: c.ways.clone(),
            }),
            Written::Checked(c) => Some(Look {
                number: c.number,
                date: c.date,
                is_bad_found: c.outcome == Outcome::Reject,
                is_good_left: c.outcome == Outcome::Accept,
                is_left_bad: c.outcome == Outcome::Reject,
                ways: c.way().into_iter().collect(),
            }),
            Written::Studied(_) => None,
        });
        looks.collect()
    }

    /// Every time that it was found outside its limits, oldest first. `sheet` is its sheet in force, whose calibration
    /// counts as known good.
    pub fn failures(&self, sheet: Option<&Gauge>) -> Vec<Failure> {
        let looks = self.looks();
        let bad = looks
            .iter()
            .enumerate()
            .filter(|(_, look)| look.is_bad_found);
        let failure = |(at, look): (usize, &Look)| {
            let about = |other: &&Look| other.is_good_left && look.is_about(other);
            let before = looks[..at].iter().filter(about).map(|o| o.date).max();
            let of_sheet = sheet.map(|s| s.calibrated).filter(|day| *day < look.date);
            let mut after = looks[at..].iter();
            let again = after.find(|o| !o.is_left_bad && look.is_about(o));
            Failure {
                number: look.number,
                found: look.date,
                good: before.max(of_sheet),
                again: again.map(|o| o.date),
            }
        };
        bad.map(failure).collect()
    }
}

/// A reading that was taken with a gauge in doubt.
#[derive(Clone, Debug, PartialEq)]
pub struct Use {
    /// Id of the gauge.
    pub gauge: String,
    /// The failure that throws doubt on it.
    pub failure: Failure,
    /// How many readings of the entry.
    pub readings: usize,
}

impl Shelf {
    /// The gauges in doubt among those that took the readings of `body`, written on `day`.
    pub fn doubted(&self, body: &Body, day: Date) -> Vec<Use> {
        let doubt = |id: &str| {
            let history = self.gauge_history(id)?;
            let failures = history.failures(self.gauge_in_force(id));
            failures.into_iter().find(|failure| failure.touches(day))
        };
        let uses = body.gauges().into_iter().filter_map(|id| {
            Some(Use {
                gauge: id.to_owned(),
                failure: doubt(id)?,
                readings: body.readings_with(id),
            })
        });
        uses.collect()
    }
}

impl Body {
    /// Ids of the gauges that took what stands in the entry, each once: its readings, and recorded pulls that count.
    pub fn gauges(&self) -> Vec<&str> {
        let readings = self.readings().into_iter().map(|r| &r.gauge);
        let of_rig: &[PinRecord] = match self {
            Self::PullsRead(read) => &read.gauges,
            _ => &[],
        };
        let mut gauges: Vec<&str> = Vec::new();
        for pin in readings.chain(of_rig) {
            if !gauges.contains(&pin.id.as_str()) {
                gauges.push(&pin.id);
            }
        }
        gauges
    }

    /// How many readings of the entry the gauge `id` took; a recorded pull counts as one.
    pub fn readings_with(&self, id: &str) -> usize {
        let pulls = match self {
            Self::PullsRead(read) if read.gauges.iter().any(|pin| pin.id == id) => read.pulls.len(),
            _ => 0,
        };
        let readings = self.readings().into_iter();
        pulls + readings.filter(|r| r.gauge.id == id).count()
    }

    /// Every reading that stands in the entry.
    pub fn readings(&self) -> Vec<&Reading> {
        match self {
            Self::BenchTestRead(read) => read.readings.iter().collect(),
            Self::FoundJointRead(read) => read.readings.iter().map(|r| &r.reading).collect(),
            Self::TrialJointRead(read) => {
                let joint = read.readings.iter().map(|r| &r.reading);
                joint.chain(&read.pressure).collect()
            }
            Self::StepDone(done) => done.reading.iter().chain(&done.others).collect(),
            Self::StickOutRead(read) => read.readings.iter().collect(),
            Self::Fitted(fitted) => {
                let stack = fitted.stack.iter().flat_map(|stack| &stack.layers);
                let layers = stack.filter_map(|layer| match &layer.thickness {
                    ThicknessRead::Measured(reading) => Some(reading),
                    ThicknessRead::Nominal { .. } => None,
                });
                fitted.collet_mm.iter().chain(layers).collect()
            }
            _ => Vec::new(),
        }
    }
}
